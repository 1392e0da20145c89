"""The entries of all journals: taken in once each, given out in the order in which they came."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Sequence

import attrs
from sqlalchemy import Connection, func, insert, select

from bankside.archive.archive import next_numbers
from bankside.archive.clock import now
from bankside.archive.tables import counters, refused, stale
from bankside.archive.tables import entries as table
from bankside.archive.trouble import GO_ON_WITH, ArchiveDamaged
from bankside.archive.upsert import upsert
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.journal.entry import Entry, entries_from_json, to_members
from bankside.gauging.json_text import parsed
from bankside.gauging.practice_mark import PRACTICE_REFUSED, is_practice_id

__all__ = [
    "Arrived",
    "Taken",
    "arrivals",
    "arrivals_after",
    "content_of",
    "entries_of_gauging",
    "entry_of",
    "keep_refused",
    "kept_entry",
    "last_arrival",
    "take_entries",
]

# The number of values that one statement may name is limited, in SQLite to 32,766.
_AT_ONCE = 500


@attrs.frozen
class Taken:
    """What became of entries that were handed in: the ids of the new, the known and the differing.

    One differs where the archive holds other content under its id; what is there stays, and what
    was handed in is kept beside it for a person to look at.
    """

    added: tuple[str, ...] = ()
    known: tuple[str, ...] = ()
    differing: tuple[str, ...] = ()


@attrs.frozen
class Arrived:
    """An entry, and the number under which it arrived."""

    number: int
    entry: Entry


def content_of(entry: Entry) -> str:
    """Return an entry as JSON in ASCII, the same text for the same entry."""
    return json.dumps(to_members(entry), sort_keys=True, separators=(",", ":"))


def entry_of(content: str) -> Entry:
    """Return the entry that a text of the archive holds."""
    return entries_from_json([parsed(content)])[0]


def kept_entry(id_: str, content: str) -> Entry:
    """Return the entry that a text of the archive holds; ArchiveDamaged where it is none any more.

    id_: under which it is kept, by which the sentence names it.
    """
    try:
        return entry_of(content)
    except InputRefused as refused:
        raise ArchiveDamaged(
            f"The archive is damaged: its entry {id_} cannot be read any more; {GO_ON_WITH}"
        ) from refused


def take_entries(connection: Connection, entries: Sequence[Entry], received_from: str) -> Taken:
    """Take in entries, each once however often it comes, and note whose gaugings changed.

    received_from: who or what handed them in. They are kept when the transaction ends, all of them.
    InputRefused where one is of practice: whoever hands in entries refuses these before, and this
    is the last gate.
    """
    if any(is_practice_id(entry.gauging) for entry in entries):
        raise InputRefused([Fault(PRACTICE_REFUSED)])
    by_id: dict[str, Entry] = {}
    differing: list[Entry] = []
    for entry in entries:
        if by_id.setdefault(entry.id, entry) != entry:
            differing.append(entry)
    there = _there(connection, list(by_id))
    new = [entry for entry in by_id.values() if entry.id not in there]
    known = [entry for entry in by_id.values() if entry.id in there]
    differing += [entry for entry in known if _differs(entry, there[entry.id])]
    _write(connection, new, received_from)
    for entry in differing:
        why = "The archive holds another content under the id of this entry."
        keep_refused(connection, content_of(entry), why, received_from, entry.gauging)
    odd = {entry.id for entry in differing}
    return Taken(
        added=tuple(entry.id for entry in new),
        known=tuple(entry.id for entry in known if entry.id not in odd),
        differing=tuple(dict.fromkeys(entry.id for entry in differing)),
    )


def keep_refused(
    connection: Connection, content: str, why: str, received_from: str, gauging: str | None = None
) -> None:
    """Keep what could not be taken in, as it came, once."""
    seen = connection.execute(
        select(refused.c.number).where(
            refused.c.gauging == gauging, refused.c.content == content, refused.c.why == why
        )
    ).first()
    if seen is None:
        connection.execute(
            insert(refused).values(
                gauging=gauging,
                content=content,
                why=why,
                received_at=now(),
                received_from=received_from,
            )
        )


def entries_of_gauging(connection: Connection, gauging: str) -> tuple[Entry, ...]:
    """Return the entries of one gauging, in the order in which they came.

    Raises ArchiveDamaged where one cannot be read any more.
    """
    rows = connection.execute(
        select(table.c.id, table.c.content)
        .where(table.c.gauging == gauging)
        .order_by(table.c.number)
    )
    return tuple(kept_entry(id_, content) for id_, content in rows)


def arrivals_after(
    connection: Connection, number: int, most: int, gaugings: Iterable[str] | None = None
) -> tuple[Arrived, ...]:
    """Return the entries that came after an arrival number, the first of them, at most so many.

    gaugings: only those of these gaugings, of all if it is None.
    """
    query = select(table.c.number, table.c.id, table.c.content).where(table.c.number > number)
    if gaugings is not None:
        query = query.where(table.c.gauging.in_(list(gaugings)))
    rows = connection.execute(query.order_by(table.c.number).limit(most))
    return tuple(Arrived(int(number), kept_entry(id_, content)) for number, id_, content in rows)


def arrivals(connection: Connection) -> int:
    """Return the highest number that was given out, also to what is no entry."""
    return int(connection.execute(select(counters.c.arrivals)).scalar_one())


def last_arrival(connection: Connection) -> int:
    """Return the number of the last entry that came, 0 where none did."""
    return int(connection.execute(select(func.max(table.c.number))).scalar_one() or 0)


def _there(connection: Connection, ids: Sequence[str]) -> dict[str, str]:
    """Return the contents that the archive holds under these ids."""
    found: dict[str, str] = {}
    for some in _parts(ids):
        rows = connection.execute(select(table.c.id, table.c.content).where(table.c.id.in_(some)))
        found |= {id_: content for id_, content in rows}
    return found


def _parts(ids: Sequence[str]) -> Iterator[Sequence[str]]:
    for start in range(0, len(ids), _AT_ONCE):
        yield ids[start : start + _AT_ONCE]


def _differs(entry: Entry, content: str) -> bool:
    # Equal texts are equal entries; others may still be, as 1 is 1.0.
    if content_of(entry) == content:
        return False
    try:
        return entry_of(content) != entry
    except InputRefused:
        return True  # what is kept was damaged: that the device's is another is kept beside it


def _write(connection: Connection, entries: Sequence[Entry], received_from: str) -> None:
    if not entries:
        return
    numbers = next_numbers(connection, len(entries))
    at = now()
    connection.execute(
        insert(table),
        [
            {
                "number": number,
                "id": entry.id,
                "gauging": entry.gauging,
                "content": content_of(entry),
                "received_at": at,
                "received_from": received_from,
            }
            for number, entry in zip(numbers, entries, strict=True)
        ],
    )
    changed = dict(zip((entry.gauging for entry in entries), numbers, strict=True))
    upsert(connection, stale, [{"gauging": g, "number": n} for g, n in changed.items()])
