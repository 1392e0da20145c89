"""Files that are handed to an archive: kept byte for byte, and their gaugings made journals.

Whatever is handed in again changes nothing. Where a sheet would now be read otherwise than before,
or a record differs from the gaugings that the archive has under its id, it is refused with the
reason, so that no gauging is there twice.
"""

from __future__ import annotations

import hashlib
import json
import mimetypes
from collections.abc import Iterator, Sequence
from pathlib import Path

import attrs
from sqlalchemy import Connection, insert, select

from bankside.archive.archive import Archive
from bankside.archive.clock import now
from bankside.archive.entries import entries_of_gauging, take_entries
from bankside.archive.files import keep_file, sha256_of
from bankside.archive.refresh import seek_sites
from bankside.archive.register import put_survey
from bankside.archive.tables import source_gaugings, sources
from bankside.gauging.faults import Fault
from bankside.gauging.journal.entry import Entry
from bankside.gauging.journal.from_record import entries_of
from bankside.gauging.records import Gauging
from bankside.gauging.structure import unstructured
from bankside.intake.journals import JournalFile
from bankside.intake.open_formats import DESCRIPTOR
from bankside.intake.read import read_file
from bankside.intake.source import Source, SurveyFile
from bankside.sheets.answers import Answers
from bankside.sheets.read import SheetGauging, count_fates

__all__ = ["TakenFile", "take_file"]

_JSON = "application/json"
_UNKNOWN = "application/octet-stream"
# When a gauging was written down, where its sheet does not say: a moment nobody takes for a time.
_UNKNOWN_MOMENT = "1970-01-01T00:00:00Z"


@attrs.frozen
class TakenFile:
    """What became of a file.

    `gaugings` are the ids of all gaugings in it, `added` of those that were not there before or
    got new entries; `rows` counts the rows of a sheet by their fate; `faults` say what could not be
    taken in, and `notes` what else there is to know. `survey` is the id of a survey that was put
    down, `read` what was read from a sheet or a record.
    """

    file: str
    sha256: str
    gaugings: tuple[str, ...] = ()
    added: tuple[str, ...] = ()
    entries: int = 0
    photos: int = 0
    rows: dict[str, int] = attrs.field(factory=lambda: count_fates(()))
    faults: tuple[Fault, ...] = ()
    notes: tuple[str, ...] = ()
    survey: str | None = None
    read: Source | None = None


def take_file(
    archive: Archive, path: Path, answers: Answers | None = None, by: str | None = None
) -> TakenFile:
    """Take in a file with all that is in it, or say why not; what can be taken in is.

    answers: what a person said about a sheet; by: who hands the file in. Raises ArchiveTrouble if
    the archive cannot be written.
    """
    answers = answers or Answers()
    if path.name == DESCRIPTOR:
        return TakenFile(path.name, "", faults=(_no_file(path.name),))
    found = read_file(path, answers)
    try:
        content = path.read_bytes()
    except OSError:
        faults = _faults(found) if isinstance(found, Source) else ()
        return TakenFile(found.file, "", faults=faults or (_no_file(found.file),))
    with archive.writing() as connection:
        if isinstance(found, SurveyFile):
            sha256 = keep_file(connection, _type_of(found.file), content, _who(by))
            if put_survey(connection, found.survey, by):
                seek_sites(connection)
            return TakenFile(found.file, sha256, survey=found.survey.id, notes=found.notes)
        if isinstance(found, JournalFile):
            return _journal(connection, found, content, by)
        if not any(item.gauging for item in found.items):
            return TakenFile(
                found.file, sha256_of(content), faults=_faults(found), rows=found.counts
            )
        taken = _gaugings(connection, found, content, answers, by)
        if found.survey is None:
            return taken
        if put_survey(connection, found.survey, by):
            seek_sites(connection)
        return attrs.evolve(taken, survey=found.survey.id)


def _no_file(name: str) -> Fault:
    message = "found a folder of tables; a ZIP archive of it, which can be kept whole, is right"
    return Fault(message, file=name)


def _type_of(name: str) -> str:
    return mimetypes.guess_type(name)[0] or _UNKNOWN


def _journal(
    connection: Connection, found: JournalFile, content: bytes, by: str | None
) -> TakenFile:
    sha256 = keep_file(connection, _JSON, content, _who(by))
    journal = found.journal
    for photo in journal.files.values():
        keep_file(connection, photo.type, photo.content, _who(by))
    taken = take_entries(connection, journal.entries, _who(by))
    faults = [
        Fault(
            f'an entry must have one content (the archive holds another one under the id "{id_}"); '
            "both are kept, the archive's stands",
            file=found.file,
        )
        for id_ in taken.differing
    ]
    return TakenFile(
        found.file,
        sha256,
        gaugings=(journal.gauging,),
        added=(journal.gauging,) if taken.added else (),
        entries=len(taken.added),
        photos=len(journal.files),
        faults=tuple(faults),
    )


def _gaugings(
    connection: Connection, found: Source, content: bytes, answers: Answers, by: str | None
) -> TakenFile:
    sha256 = keep_file(connection, _type_of(found.file), content, _who(by))
    before = _gaugings_before(connection, sha256)
    faults = list(_faults(found))
    placed: list[tuple[int, str, str]] = []
    added: list[str] = []
    entries = 0
    for place, item in enumerate(found.items):
        if item.gauging is None:
            continue
        id_ = item.gauging.id or _id_of(item.gauging)
        new = _entries(item.gauging, id_)
        fault = _otherwise(connection, found.file, item, new, before.get(item.label))
        if fault is not None:
            faults.append(fault)
            continue
        placed.append((place, id_, item.label))
        taken = take_entries(connection, new, _who(by))
        entries += len(taken.added)
        if taken.added:
            added.append(id_)
    if added or not before:
        _keep_source(connection, found, sha256, answers, by, placed)
    return TakenFile(
        found.file,
        sha256,
        gaugings=tuple(id_ for _, id_, _ in placed),
        added=tuple(added),
        entries=entries,
        rows=found.counts,
        faults=tuple(faults),
        notes=(*found.notes, *_notes(found.items)),
        read=found,
    )


def _entries(gauging: Gauging, id_: str) -> tuple[Entry, ...]:
    """Return a gauging from a sheet as a journal: the same one from whatever file it comes."""
    return entries_of(gauging, gauging_id=id_, device=f"sheet-{id_[:58]}", at=_moment(gauging))


def _id_of(gauging: Gauging) -> str:
    """Return an id that depends on what the record says and on nothing else."""
    text = json.dumps(unstructured(gauging), sort_keys=True)
    return f"s{hashlib.sha256(text.encode()).hexdigest()[:31]}"


def _moment(gauging: Gauging) -> str:
    for moment in (gauging.ended, gauging.started):
        if moment is not None:
            return moment.isoformat()
    return _UNKNOWN_MOMENT if gauging.date is None else f"{gauging.date.isoformat()}T00:00:00Z"


def _otherwise(
    connection: Connection,
    file: str,
    item: SheetGauging,
    new: Sequence[Entry],
    before: str | None,
) -> Fault | None:
    """Return why a gauging is not taken in though it could be read, None where it is."""
    id_ = new[0].gauging
    if before is not None and before != id_:
        return Fault(
            f"{item.label}: this file was taken in before and read otherwise (gauging {before}); "
            "a correction of that gauging would be right, or the answers that were given then",
            file=file,
        )
    there = {entry.id for entry in entries_of_gauging(connection, id_)}
    if not there or there >= {entry.id for entry in new}:
        return None
    return Fault(
        f"{item.label}: the archive has other readings under the id {id_}; the journal of that "
        "gauging would be right, not its record",
        file=file,
    )


def _gaugings_before(connection: Connection, sha256: str) -> dict[str, str]:
    """Return which gauging each label of a file stood for when it was taken in before."""
    rows = connection.execute(
        select(source_gaugings.c.label, source_gaugings.c.gauging)
        .join(sources, sources.c.number == source_gaugings.c.source)
        .where(sources.c.sha256 == sha256)
        .order_by(sources.c.number)
    )
    return {label: gauging for label, gauging in rows}


def _keep_source(
    connection: Connection,
    found: Source,
    sha256: str,
    answers: Answers,
    by: str | None,
    placed: Sequence[tuple[int, str, str]],
) -> None:
    number = connection.execute(
        insert(sources)
        .values(
            sha256=sha256,
            name=found.file,
            taken_at=now(),
            taken_by=by,
            answers=json.dumps(attrs.asdict(answers), default=list, sort_keys=True),
            report=json.dumps(_report(found)),
        )
        .returning(sources.c.number)
    ).scalar_one()
    rows = [
        {"source": number, "place": place, "gauging": id_, "label": label.replace("\0", "")}
        for place, id_, label in placed
    ]
    if rows:
        connection.execute(insert(source_gaugings), rows)


def _report(found: Source) -> dict[str, object]:
    """Return what became of every row of a file, for whoever asks in ten years."""
    return {
        "counts": found.counts,
        "notes": list(found.notes),
        "gaugings": [
            {
                "label": item.label,
                "reason": item.reason,
                "notes": list(item.notes),
                "faults": [str(fault) for fault in item.faults],
                "rows": [[fate.sheet, fate.row, fate.fate, fate.reason] for fate in item.rows],
            }
            for item in found.items
        ],
    }


def _faults(found: Source) -> tuple[Fault, ...]:
    return tuple(fault for item in found.items for fault in item.faults)


def _notes(items: Sequence[SheetGauging]) -> Iterator[str]:
    for item in items:
        if item.reason is not None and item.gauging is None and not item.faults:
            yield f"{item.label}: {item.reason}"


def _who(by: str | None) -> str:
    return by or "an import"
