"""A record that an office handed over, as entries: laid beside like a visit of the device's own."""

from __future__ import annotations

from typing import Any

from bankside.bank.request import Request
from bankside.gauging.journal.entry import to_members
from bankside.gauging.journal.from_record import entries_of
from bankside.gauging.wire import from_document

__all__ = ["entries"]

_OFFICE = "office"


def entries(request: Request) -> dict[str, Any]:
    """Return entries that say what a record says; the record is kept nowhere else by them."""
    document, gauging = request.document("record"), request.text("gauging")
    moment = request.moment("at")
    request.done("record", "gauging", "at")
    assert gauging is not None and moment is not None
    said = entries_of(
        from_document(document), gauging_id=gauging, device=_OFFICE, at=moment.isoformat()
    )
    return {"entries": [to_members(entry) for entry in said]}
