"""Which entries travel between devices: those of gaugings that came from devices, or are held.

Sheets that an office takes in do not travel by themselves: there may be thousands of them.
"""

from __future__ import annotations

from collections.abc import Sequence

import attrs
from sqlalchemy import Connection, exists, or_, select

from bankside.archive.entries import Arrived, arrivals, kept_entry
from bankside.archive.tables import entries, source_gaugings

__all__ = ["Travelling", "arrivals_that_travel"]

# As many arrivals are looked at for one answer, so that a large import holds up nobody.
_LOOKED_AT = 50_000


@attrs.frozen
class Travelling:
    """What came after a number: `after` is the number to go on from, `more` whether to do so."""

    arrived: tuple[Arrived, ...]
    after: int
    more: bool


def arrivals_that_travel(
    connection: Connection, after: int, held: Sequence[str], most: int
) -> Travelling:
    """Return what came after an arrival number for whoever holds some gaugings, most at most.

    Of a gauging that is held everything that came, and of all others what came of those that were
    not taken in from sheets.
    """
    last = arrivals(connection)
    upper = min(after + _LOOKED_AT, last)
    from_sheet = exists().where(source_gaugings.c.gauging == entries.c.gauging)
    rows = connection.execute(
        select(entries.c.number, entries.c.id, entries.c.content)
        .where(entries.c.number > after, entries.c.number <= upper)
        .where(or_(~from_sheet, entries.c.gauging.in_(_few_lengths(held))))
        .order_by(entries.c.number)
        .limit(most)
    ).all()
    found = tuple(Arrived(int(number), kept_entry(id_, content)) for number, id_, content in rows)
    until = found[-1].number if len(found) == most else max(after, upper)
    return Travelling(found, until, until < last)


def _few_lengths(ids: Sequence[str]) -> list[str]:
    """Return ids, some of them again, in one of few lengths.

    A statement of another length is another statement, and each connection of SQLite keeps the last
    128 of them, with all their parameters: a season of gaugings held would fill the memory.
    """
    length = 1 << (len(ids) - 1).bit_length() if ids else 0
    return [*ids, *(ids[0] for _ in range(length - len(ids)))]
