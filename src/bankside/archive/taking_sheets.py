"""The gaugings of a sheet or a record, taken in as journals of which every entry is a copy.

Where a sheet would now be read otherwise than before, or a record differs from the gauging that the
archive has under its id, it is refused with the reason, so that no gauging is there twice.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping, Sequence

import attrs
from sqlalchemy import Connection, insert, select

from bankside.archive.clock import now
from bankside.archive.entries import entries_of_gauging, take_entries
from bankside.archive.plain import plain
from bankside.archive.tables import source_gaugings, sources
from bankside.archive.taken import TakenFile
from bankside.gauging.faults import Fault
from bankside.gauging.journal.entry import Entry
from bankside.gauging.journal.fold import fold
from bankside.gauging.journal.from_record import entries_of
from bankside.gauging.journal.record import recorded
from bankside.gauging.records import Gauging
from bankside.gauging.structure import unstructured
from bankside.intake.source import Source
from bankside.sheets.answers import Answers
from bankside.sheets.read import SheetGauging

__all__ = ["COPIER", "is_copied", "take_sheets"]

COPIER = "sheet-"
"""How the devices are called from which copied entries are said to be."""
_READ_OTHERWISE = (
    "this file was taken in before and read otherwise; a correction of that gauging would be "
    "right, or the answers that were given then"
)
_HAS_OTHER_READINGS = (
    "the archive has other readings of this gauging; its journal would be right, not its record"
)
# When a gauging was written down, where its sheet does not say: a moment nobody takes for a time.
_UNKNOWN_MOMENT = "1970-01-01T00:00:00Z"


@attrs.frozen
class _Taken:
    """What became of one gauging: its id, how many entries are new, what there is to tell.

    `item` is the gauging as it was read, refused where it was not taken in.
    """

    item: SheetGauging
    id: str | None = None
    entries: int = 0
    note: str | None = None


def take_sheets(
    connection: Connection, found: Source, sha256: str, answers: Answers, by: str | None, who: str
) -> TakenFile:
    """Take in the gaugings of a file, which is kept under its SHA-256, and say what became of each.

    by: who hands it in; who: what stands for them in entries.
    """
    before = _gaugings_before(connection, sha256)
    seen: dict[str, str] = {}
    taken = [_one(connection, item, found.file, before, seen, who) for item in found.items]
    items = tuple(one.item for one in taken)
    read = attrs.evolve(found, items=items, counts=_counts(found, items))
    if any(one.entries for one in taken) or not before:
        _keep_source(connection, read, sha256, answers, by, taken)
    notes = (note for one in taken for note in _notes(one))
    return TakenFile(
        found.file,
        sha256,
        gaugings=tuple(seen),
        added=tuple(dict.fromkeys(one.id for one in taken if one.id and one.entries)),
        entries=sum(one.entries for one in taken),
        rows=read.counts,
        faults=tuple(fault for item in items for fault in item.faults),
        notes=(*found.notes, *notes),
        read=read,
    )


def _one(
    connection: Connection,
    item: SheetGauging,
    file: str,
    before: Mapping[str, Sequence[str]],
    seen: dict[str, str],
    who: str,
) -> _Taken:
    """Take in one gauging; `seen` are the ids of those of the same file, each with its label."""
    if item.gauging is None:
        return _Taken(item)
    id_ = item.gauging.id or _id_of(item.gauging)
    others = before.get(plain(item.label), ())
    if others and id_ not in others:
        return _Taken(_refused(item, file, _READ_OTHERWISE))
    new = _entries(item.gauging, id_)
    there = entries_of_gauging(connection, id_)
    known = {entry.id for entry in there} >= {entry.id for entry in new}
    if there and not known and not _says_the_same(there, item.gauging, id_):
        return _Taken(_refused(item, file, _HAS_OTHER_READINGS))
    first = seen.get(id_)
    seen.setdefault(id_, item.label)
    if not there:
        return _Taken(item, id_, len(take_entries(connection, new, who).added))
    if id_ in others:
        return _Taken(item, id_)
    where = "the archive has" if first is None else f"{first} on the same file is"
    return _Taken(item, id_, note=f"{where} the very same gauging, which is kept once")


def _says_the_same(there: Sequence[Entry], gauging: Gauging, id_: str) -> bool:
    """Return whether the archive's entries come to this very record."""
    return recorded(fold(there)).gauging == attrs.evolve(gauging, id=id_)


def _refused(item: SheetGauging, file: str, why: str) -> SheetGauging:
    """Return a gauging as refused: none of its rows was of use."""
    rows = tuple(
        attrs.evolve(fate, fate="refused", reason="its gauging was not taken in")
        if fate.fate == "used"
        else fate
        for fate in item.rows
    )
    fault = Fault(f"{item.label}: {why}", file=file)
    return attrs.evolve(item, gauging=None, rows=rows, faults=(*item.faults, fault))


def _counts(found: Source, items: Sequence[SheetGauging]) -> dict[str, int]:
    """Return the counts of a file's rows with those that were refused here."""
    newly = sum(item.counts["refused"] for item in items)
    newly -= sum(item.counts["refused"] for item in found.items)
    counts = found.counts
    return {**counts, "used": counts["used"] - newly, "refused": counts["refused"] + newly}


def is_copied(entry: Entry) -> bool:
    """Return whether an entry is a copy from a sheet or a record."""
    return entry.device.startswith(COPIER)


def _entries(gauging: Gauging, id_: str) -> tuple[Entry, ...]:
    """Return a gauging from a sheet as a journal: the same one from whatever file it comes."""
    device = f"{COPIER}{id_[:58]}"
    return entries_of(gauging, gauging_id=id_, device=device, at=_moment(gauging))


def _id_of(gauging: Gauging) -> str:
    """Return an id that depends on what the record says and on nothing else."""
    text = json.dumps(unstructured(gauging), sort_keys=True)
    return f"s{hashlib.sha256(text.encode()).hexdigest()[:31]}"


def _moment(gauging: Gauging) -> str:
    for moment in (gauging.ended, gauging.started):
        if moment is not None:
            return moment.isoformat()
    return _UNKNOWN_MOMENT if gauging.date is None else f"{gauging.date.isoformat()}T00:00:00Z"


def _gaugings_before(connection: Connection, sha256: str) -> dict[str, list[str]]:
    """Return which gaugings each label of a file stood for when it was taken in before."""
    rows = connection.execute(
        select(source_gaugings.c.label, source_gaugings.c.gauging)
        .join(sources, sources.c.number == source_gaugings.c.source)
        .where(sources.c.sha256 == sha256)
        .order_by(sources.c.number, source_gaugings.c.place)
    )
    found: dict[str, list[str]] = {}
    for label, gauging in rows:
        found.setdefault(label, []).append(gauging)
    return found


def _keep_source(
    connection: Connection,
    read: Source,
    sha256: str,
    answers: Answers,
    by: str | None,
    taken: Sequence[_Taken],
) -> None:
    number = connection.execute(
        insert(sources)
        .values(
            sha256=sha256,
            name=plain(read.file),
            taken_at=now(),
            taken_by=by,
            answers=json.dumps(attrs.asdict(answers), default=list, sort_keys=True),
            report=json.dumps(_report(read)),
        )
        .returning(sources.c.number)
    ).scalar_one()
    rows = [
        {"source": number, "place": place, "gauging": one.id, "label": plain(one.item.label)}
        for place, one in enumerate(taken)
        if one.id is not None
    ]
    if rows:
        connection.execute(insert(source_gaugings), rows)


def _report(read: Source) -> dict[str, object]:
    """Return what became of every row of a file, for whoever asks in ten years."""
    return {
        "counts": read.counts,
        "notes": list(read.notes),
        "gaugings": [
            {
                "label": item.label,
                "reason": item.reason,
                "notes": list(item.notes),
                "faults": [str(fault) for fault in item.faults],
                "rows": [[fate.sheet, fate.row, fate.fate, fate.reason] for fate in item.rows],
            }
            for item in read.items
        ],
    }


def _notes(taken: _Taken) -> list[str]:
    item = taken.item
    nothing = item.reason if item.gauging is None and not item.faults else None
    return [f"{item.label}: {note}" for note in (nothing, taken.note) if note is not None]
