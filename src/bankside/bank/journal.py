"""A journal as a page hands it over: its entries, or as many of them as can be read."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

import attrs

from bankside.gauging.faults import InputRefused
from bankside.gauging.fields import shown
from bankside.gauging.journal.entry import Entry, entries_from_json
from bankside.gauging.journal.fold import fold
from bankside.gauging.journal.making import EntryFault
from bankside.gauging.journal.record import Recorded, recorded

__all__ = ["JournalRead", "faults_as_json", "read_journal"]


@attrs.frozen
class JournalRead:
    """What a journal comes to, and all that cannot enter the record, malformed entries first."""

    recorded: Recorded
    faults: tuple[EntryFault, ...]


def read_journal(items: Sequence[object]) -> JournalRead:
    """Return what entries come to; what is wrong with one does not keep the others out.

    An entry that is none is left out, and so are all with an id that stands for two contents. Of
    entries of several gaugings none is read, as nobody can tell which was meant.
    """
    faults: list[EntryFault] = []
    entries = list(_without_torn(list(_readable(items, faults)), faults))
    gaugings = sorted({entry.gauging for entry in entries})
    if len(gaugings) > 1:
        listed = ", ".join(shown(gauging) for gauging in gaugings)
        message = f"the entries of a journal must be of one gauging (got {listed})"
        faults.append(EntryFault(message, "gauging"))
        entries = []
    made = recorded(fold(entries))
    return JournalRead(made, (*faults, *made.faults))


def faults_as_json(faults: Sequence[EntryFault]) -> list[dict[str, Any]]:
    """Return faults as JSON takes them."""
    return [
        {"message": fault.message, "path": fault.path, "entries": list(fault.entries)}
        for fault in faults
    ]


def _readable(items: Sequence[object], faults: list[EntryFault]) -> Iterator[Entry]:
    for index, item in enumerate(items):
        try:
            yield entries_from_json([item])[0]
        except InputRefused as refused:
            # Read alone, each was at the place 0.
            faults += [
                EntryFault(
                    fault.message, (fault.path or "").replace("[0]", f"[{index}]", 1), _ids(item)
                )
                for fault in refused.faults
            ]


def _ids(item: object) -> tuple[str, ...]:
    found = item.get("id") if isinstance(item, Mapping) else None
    return (found,) if isinstance(found, str) else ()


def _without_torn(entries: Sequence[Entry], faults: list[EntryFault]) -> Iterator[Entry]:
    first: dict[str, Entry] = {}
    torn: dict[str, Entry] = {}
    for entry in entries:
        found = first.setdefault(entry.id, entry)
        if found is not entry and found != entry:
            torn.setdefault(entry.id, entry)
    for id_, entry in torn.items():
        message = "an entry must have one content (got two different ones with the same id)"
        faults.append(EntryFault(message, entry.what, (id_,)))
    yield from (entry for entry in first.values() if entry.id not in torn)
