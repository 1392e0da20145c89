"""Files that are handed to an archive: kept byte for byte, and their gaugings made journals.

Whatever is handed in again changes nothing. What is kept is what was read, though others may be
writing to the file.
"""

from __future__ import annotations

import mimetypes
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import attrs
from sqlalchemy import Connection

from bankside.archive.archive import Archive
from bankside.archive.entries import entries_of_gauging, take_entries
from bankside.archive.files import files_there, keep_file, sha256_of
from bankside.archive.plain import plain
from bankside.archive.refresh import change_survey
from bankside.archive.taken import TakenFile
from bankside.archive.taking_sheets import is_copied, take_sheets
from bankside.archive.trouble import ArchiveTrouble
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.journal.document import Journal
from bankside.intake.journals import JournalFile
from bankside.intake.open_formats import DESCRIPTOR
from bankside.intake.read import read_file
from bankside.intake.source import Source, SurveyFile
from bankside.sheets.answers import Answers
from bankside.survey.records import Survey

__all__ = ["TakenFile", "take_file"]

_UNKNOWN = "application/octet-stream"
_MOST_LETTERS = 200


def take_file(
    archive: Archive, path: Path, answers: Answers | None = None, by: str | None = None
) -> TakenFile:
    """Take in a file with all that is in it, or say why not; what can be taken in is.

    answers: what a person said about a sheet; by: who hands the file in. Raises ArchiveTrouble if
    the archive cannot be written, InputRefused for a name of a person that cannot be one.
    """
    who = _who(by)
    answers = answers or Answers()
    if path.name.lower() == DESCRIPTOR:
        return TakenFile(path.name, "", faults=(_no_file(path.name),))
    with _still(path) as (still, content):
        found = read_file(still, answers)
    if content is None:
        faults = _faults(found) if isinstance(found, Source) else ()
        return TakenFile(found.file, "", faults=faults or (_no_file(found.file),))
    if isinstance(found, Source) and not any(item.gauging for item in found.items):
        refused = _faults(found)
        return TakenFile(found.file, sha256_of(content), faults=refused, rows=found.counts)
    with archive.writing() as connection:
        sha256 = keep_file(connection, _type_of(found.file), content, who)
        if isinstance(found, JournalFile):
            return _journal(connection, found, sha256, who)
        if isinstance(found, SurveyFile):
            taken = TakenFile(found.file, sha256, notes=found.notes)
        else:
            taken = take_sheets(connection, found, sha256, answers, by, who)
        return _with_survey(connection, taken, found.survey, by)


@contextmanager
def _still(path: Path) -> Iterator[tuple[Path, bytes | None]]:
    """Give a copy of a file to which nobody else writes, and the bytes in it.

    What cannot be copied is given as it is, without bytes: its reader says why.
    """
    try:
        content = path.read_bytes() if path.is_file() else None
    except (OSError, ValueError):
        content = None
    if content is None:
        yield path, None
        return
    with tempfile.TemporaryDirectory(prefix="bankside-") as folder:
        still = Path(folder) / path.name
        try:
            still.write_bytes(content)
        except OSError as error:
            raise ArchiveTrouble(
                f"{path}: a copy of it to be read cannot be written to {folder} "
                f"({error.strerror or error}); room there, or another folder named by TMPDIR, is "
                "right. Nothing of it was taken in."
            ) from error
        yield still, content


def _no_file(name: str) -> Fault:
    message = "found a folder of tables; a ZIP archive of it, which can be kept whole, is right"
    return Fault(message, file=name)


def _type_of(name: str) -> str:
    return mimetypes.guess_type(name)[0] or _UNKNOWN


def _with_survey(
    connection: Connection, taken: TakenFile, survey: Survey | None, by: str | None
) -> TakenFile:
    if survey is None:
        return taken
    put = change_survey(connection, survey, by)
    return attrs.evolve(taken, survey=survey.id, survey_put=put)


def _journal(connection: Connection, found: JournalFile, sha256: str, who: str) -> TakenFile:
    journal = found.journal
    if _is_there_as_copy(connection, journal):
        message = (
            "the archive has this gauging as a sheet or record that was taken in before: its "
            "readings would be there twice; the journal is right before the record is"
        )
        return TakenFile(found.file, sha256, faults=(Fault(message, file=found.file),))
    there = files_there(connection, journal.files)
    for photo in journal.files.values():
        type_ = photo.type if len(photo.type) <= _MOST_LETTERS else _UNKNOWN
        keep_file(connection, type_, photo.content, who)
    taken = take_entries(connection, journal.entries, who)
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
        photos=len(journal.files.keys() - there),
        faults=tuple(faults),
    )


def _is_there_as_copy(connection: Connection, journal: Journal) -> bool:
    """Return whether the archive has copies of a gauging's readings, which the journal has not."""
    there = entries_of_gauging(connection, journal.gauging)
    copies = {entry.id for entry in there if is_copied(entry)}
    return bool(copies) and copies.isdisjoint(entry.id for entry in journal.entries)


def _faults(found: Source) -> tuple[Fault, ...]:
    return tuple(fault for item in found.items for fault in item.faults)


def _who(by: str | None) -> str:
    if by is None:
        return "an import"
    if not by.strip() or len(by) > _MOST_LETTERS or by != plain(by):
        message = f"found a name of {len(by)} signs; one of at most {_MOST_LETTERS} is right"
        raise InputRefused([Fault(message, path="by")])
    return by
