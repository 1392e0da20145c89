"""Entries that would double a gauging which is in the archive as a copy of its record already.

A record may have come before the journal that it was made from, under the same id. The journal
calls its verticals otherwise than the copy, so that both together would be twice the stream. The
copy stands; what the device said is kept aside, whole.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

import attrs
from sqlalchemy import Connection, select

from bankside.archive.entries import entry_of
from bankside.archive.tables import entries as table
from bankside.archive.tables import refused
from bankside.archive.taking_sheets import COPIER, is_copied
from bankside.gauging.journal.entry import Entry

__all__ = ["BESIDE_A_COPY", "beside_copies", "kept_aside_of"]

BESIDE_A_COPY: Final = (
    "The archive has this gauging as a record that was imported before, and with the entries of "
    "the device every reading would be there twice: the record stands, and what the device said is "
    "kept aside."
)


@attrs.frozen
class _Copy:
    """A copied gauging: its highest number in sequence, and the devices that do not know of it."""

    highest: int
    apart: frozenset[str]


def beside_copies(connection: Connection, entries: Sequence[Entry]) -> frozenset[str]:
    """Return the ids of entries that were said by devices which did not know of a copy.

    Whoever knows of the copied entries numbers what is said about them higher than all of them: a
    correction, a verdict, a vertical that was left out. A device that once numbered lower wrote a
    journal of its own, and all that it says belongs to that.
    """
    copies = _copies(connection, {entry.gauging for entry in entries if not is_copied(entry)})
    apart = {
        (entry.gauging, entry.device)
        for entry in entries
        if entry.gauging in copies and entry.sequence <= copies[entry.gauging].highest
    }
    apart |= {(gauging, device) for gauging, copy in copies.items() for device in copy.apart}
    return frozenset(
        entry.id
        for entry in entries
        if (entry.gauging, entry.device) in apart and not is_copied(entry)
    )


def kept_aside_of(connection: Connection, sender: str) -> frozenset[str]:
    """Return the gaugings of which entries of a sender are kept aside: their copies stay here."""
    found = connection.execute(
        select(refused.c.gauging).where(
            refused.c.received_from == sender, refused.c.why == BESIDE_A_COPY
        )
    ).scalars()
    return frozenset(id_ for id_ in found if id_ is not None)


def _copies(connection: Connection, gaugings: set[str]) -> Mapping[str, _Copy]:
    copied = connection.execute(
        select(table.c.content).where(
            table.c.gauging.in_(gaugings), table.c.content.contains(f'"device":"{COPIER}')
        )
    ).scalars()
    highest: dict[str, int] = {}
    for entry in map(entry_of, copied):
        highest[entry.gauging] = max(entry.sequence, highest.get(entry.gauging, 0))
    held = connection.execute(
        select(refused.c.content).where(
            refused.c.gauging.in_(list(highest)), refused.c.why == BESIDE_A_COPY
        )
    ).scalars()
    apart: dict[str, set[str]] = {}
    for entry in map(entry_of, held):
        apart.setdefault(entry.gauging, set()).add(entry.device)
    return {id_: _Copy(top, frozenset(apart.get(id_, ()))) for id_, top in highest.items()}
