"""From a request in JSON text to its reply in JSON text; whatever comes in, a reply goes out."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from importlib import import_module
from typing import Any, Final

from bankside.bank.about import about
from bankside.bank.entries import entries
from bankside.bank.look import look
from bankside.bank.note import note
from bankside.bank.plan import plan
from bankside.bank.record import record
from bankside.bank.request import Request
from bankside.bank.rod import rod
from bankside.bank.wade import wade
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.fields import shown
from bankside.gauging.json_text import parsed
from bankside.gauging.structure import JsonObject

__all__ = ["ASKS", "answer"]

Ask = Callable[[Request], dict[str, Any]]


def _later(module: str, name: str) -> Ask:
    """Return an ask whose module is imported when it is first asked.

    So nobody at a real stream waits for simulated ones.
    """

    def ask(request: Request) -> dict[str, Any]:
        found: Ask = getattr(import_module(f"bankside.bank.{module}"), name)
        return found(request)

    return ask


ASKS: Final[Mapping[str, Ask]] = {
    "about": about,
    "look": look,
    "plan": plan,
    "rod": rod,
    "wade": wade,
    "note": note,
    "record": record,
    "entries": entries,
    "why": _later("why", "why"),
    "practice streams": _later("practise", "practice_streams"),
    "practise": _later("practise", "practise"),
    "debrief": _later("debrief", "debrief"),
    "drill": _later("drill", "drill"),
    "drill answer": _later("drill", "drill_answer"),
    "readiness": _later("readiness", "readiness"),
}
"""Every ask by its name: docs/bank.md."""


def answer(text: str) -> str:
    """Return the reply to a request, both as JSON text.

    A reply has `ok` and what was asked for, or `ok` false and `faults`, each with a sentence and as
    much of its place as is known. It never raises and never holds a number that JSON has not.
    """
    try:
        reply = {"ok": True, **_reply(text)}
        # In ASCII, as half a surrogate pair in what somebody typed fits into no other text.
        return json.dumps(reply, allow_nan=False)
    except InputRefused as refused:
        faults = [_as_json(fault) for fault in refused.faults]
    except Exception as error:
        # A page must go on: it says so, and keeps every entry.
        faults = [{"message": f"a fault of Bankside itself: {type(error).__name__}: {error}"}]
    return json.dumps({"ok": False, "faults": faults})


def _reply(text: str) -> dict[str, Any]:
    members = parsed(text)
    if not isinstance(members, JsonObject):
        raise InputRefused([Fault(f"a request must be a JSON object (got {shown(members)})")])
    asked = members.get("ask")
    if not isinstance(asked, str) or asked not in ASKS:
        listed = ", ".join(f'"{name}"' for name in ASKS)
        raise InputRefused([Fault(f"ask must be one of {listed} (got {shown(asked)})", path="ask")])
    return ASKS[asked](Request(members))


def _as_json(fault: Fault) -> dict[str, Any]:
    place = {} if fault.path is None else {"path": fault.path}
    return {"message": fault.message, **place}
