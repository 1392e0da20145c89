"""Gaugings in every state, as the files in which they are handed over: to be shown."""

from __future__ import annotations

import json
from typing import Any

from playwright.sync_api import FilePayload, Page, expect

from ..bank.entering import Entry, Pad, demo, said_of

UNDER_WAY = "0a1de2f1-0000-4000-8000-000000000001"
LAST_VISIT = "0a1de2f2-0000-4000-8000-000000000002"
CLOSED = "0b1de2f0-0000-4000-8000-000000000003"
NOT_WADED = "0c1de2f0-0000-4000-8000-000000000004"

READ_SO_FAR = 14
"""Verticals of the gauging that is under way, of 25."""

Files = dict[str, list[Entry]]


def kept_gaugings() -> Files:
    """The entries of each gauging by its id."""
    return {
        UNDER_WAY: _under_way(),
        LAST_VISIT: _closed(LAST_VISIT, "alder_fork.csv", "29.8 ft³/s"),
        CLOSED: _closed(CLOSED, "quill_brook.xlsx", "0.61 m³/s"),
        NOT_WADED: _not_waded(),
    }


def bring_in(page: Page, files: Files) -> None:
    """Import the gaugings on the list of gaugings, as a person does."""
    payloads = [
        FilePayload(
            name=f"{gauging}.bankside.json",
            mimeType="application/json",
            buffer=json.dumps(
                {"format": "bankside.journal/1", "gauging": gauging, "entries": entries}
            ).encode("utf-8"),
        )
        for gauging, entries in files.items()
    ]
    with page.expect_file_chooser() as chooser:
        page.get_by_role("button", name="Import files").click()
    chooser.value.set_files(payloads)
    expect(page.get_by_text("entries are new here")).to_have_count(len(files))


def _under_way() -> list[Entry]:
    """Alder Fork, half read: one depth ten times too much, one on which two devices differ."""
    pad = Pad(UNDER_WAY[:8], UNDER_WAY)
    # 25 verticals between two edges; the second one is read when the crew is there.
    said = list(said_of(demo("alder_fork.csv")))
    positions = [value for what, value in said if what.endswith("/tape")][1:-1]
    far = [f"channels/1/verticals/v{number}/" for number in range(READ_SO_FAR + 2, 27)]
    for what, value in said:
        unread = what.startswith(tuple(far)) or what in {"ended", "quality"}
        if not unread and not what.startswith("channels/1/verticals/v27/"):
            pad.say(what, value, by="J. Ostrander")
    pad.say("zero_bank", "left").say("start_bank", "left").say("whole_flow", True)
    pad.say("meter/checks/m9", {"kind": "zero", "when": "before", "value": "0.00"})
    pad.say("wading/w1", {"safe": True, "by": "I. Marrow", "cold": False, "alone": False})
    plan: dict[str, Any] = {"rule": "equal", "verticals": 25, "resolution": "0.1"}
    pad.say("plan", {**plan, "positions": positions})
    pad.say("channels/1/verticals/v9/remark", "boulder beside it")
    depths = [one for one in pad.entries if one["what"].endswith("/depth")]
    pad.say(depths[6]["what"], "1.71", reason="misheard", by="J. Ostrander")
    pad.say(depths[10]["what"], "14.3", by="J. Ostrander")
    own = pad.say(depths[4]["what"], "0.60", by="J. Ostrander").entries
    other = {**own[-1], "id": "tablet-0001", "device": "tablet", "value": "0.90", "by": "I. Marrow"}
    return [*own, other]


def _closed(gauging: str, sheet: str, shown: str) -> list[Entry]:
    pad = Pad(gauging[:8], gauging)
    for what, value in said_of(demo(sheet)):
        pad.say(what, value, by="J. Ostrander")
    return pad.say("closed", {"by": "I. Marrow", "discharge": shown}).entries


def _not_waded() -> list[Entry]:
    pad = Pad(NOT_WADED[:8], NOT_WADED)
    pad.say("site/stream", "Tansy Run").say("site/name", "below the mill")
    pad.say("units/length", "ft").say("units/velocity", "ft/s").say("rule_set", "common-practice")
    pad.say("crew/c1", {"name": "J. Ostrander", "role": "recorder"})
    why = "brown and rising"
    return pad.say("wading/w1", {"safe": False, "by": "I. Marrow", "why": why}).entries
