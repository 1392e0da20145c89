"""The record that a journal makes, in its wire form."""

from __future__ import annotations

from typing import Any

from bankside.bank.journal import faults_as_json, read_journal
from bankside.bank.look import record_as_json
from bankside.bank.request import Request
from bankside.gauging.faults import Fault, InputRefused

__all__ = ["record"]


def record(request: Request) -> dict[str, Any]:
    """Return the record of a journal, and what of the journal cannot enter it."""
    entries = request.entries("entries")
    request.done("entries")
    journal = read_journal(entries or [])
    gauging = journal.recorded.gauging
    if gauging is None:
        raise InputRefused(
            [Fault(fault.message, path=fault.path) for fault in journal.faults]
            or [Fault("the journal must have entries (got none)", path="entries")]
        )
    return {"record": record_as_json(gauging), "faults": faults_as_json(journal.faults)}
