"""What an archive holds, as files in a folder."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path
from typing import Literal

import attrs
from sqlalchemy import Connection, RowMapping

from bankside.archive.files import file_of
from bankside.archive.giving import gauging_ids, journal_of, original_sheets, what_was_refused
from bankside.archive.listing import every_survey, gauging_rows, record_in
from bankside.archive.register import survey_of
from bankside.archive.telling import told
from bankside.archive.trouble import ArchiveDamaged
from bankside.cli.archive_named import require_survey
from bankside.cli.output import make_folder, require_free, write_file
from bankside.gauging.journal.document import journal_to_json
from bankside.gauging.wire import to_json
from bankside.survey.document import survey_to_json
from bankside.survey.site_names import folded_name

__all__ = ["Exported", "What", "export"]

What = Literal["journals", "records", "sheets", "surveys", "refused"]

_MOST_LETTERS = 60
# A name may have 255 bytes: a key of 64, a number and an ending go with these.
_MOST_BYTES = 120


@attrs.frozen
class Exported:
    """How many files were written, and the ids of gaugings that gave none.

    `damaged` are sentences on what could not be written, as the archive is damaged there.
    """

    files: int
    left_out: tuple[str, ...]
    damaged: tuple[str, ...]


@attrs.frozen
class _File:
    name: str
    content: Callable[[], bytes]


def export(connection: Connection, folder: Path, what: What, survey: str | None) -> Exported:
    """Write files to a folder, each whole or not at all; what is damaged holds up no other.

    InputRefused, before anything is written, if one is there already or if the survey is not known.
    """
    if survey is not None:
        require_survey(connection, survey)
    make_folder(folder)
    left_out: list[str] = []
    damaged: list[str] = []
    files = list(_files(connection, what, survey, left_out))
    require_free([folder / file.name for file in files], "another folder would be right")
    for file in files:
        try:
            with told("what it is made from"):
                write_file(folder / file.name, False, partial(_write, file))
        except ArchiveDamaged as trouble:
            damaged.append(f"{file.name} was left out: {trouble}")
    written = len(files) - len(damaged)
    return Exported(written, tuple(left_out), tuple(damaged))


def _write(file: _File, path: Path) -> None:
    path.write_bytes(file.content())


def _files(
    connection: Connection, what: What, survey: str | None, left_out: list[str]
) -> Iterator[_File]:
    if what == "sheets":
        for sheet in original_sheets(connection, survey):
            name = f"{sheet.number:04d}-{_safe(sheet.name)}"
            yield _File(name, partial(_sheet, connection, sheet.sha256))
    elif what == "surveys":
        for id_ in [one.id for one in every_survey(connection)]:
            if survey in (None, id_):
                yield _File(f"{id_}.json", partial(_survey, connection, id_))
    elif what == "refused":
        for row in what_was_refused(connection):
            yield _File(f"{row['number']:06d}.json", partial(_refused, row))
    else:
        yield from _of_gaugings(connection, what, survey, left_out)


def _of_gaugings(
    connection: Connection, what: What, survey: str | None, left_out: list[str]
) -> Iterator[_File]:
    for id_ in gauging_ids(connection, survey):
        (row,) = gauging_rows(connection, [id_])
        if what == "records" and row["record"] is None:
            left_out.append(id_)
            continue
        make = _record if what == "records" else _journal
        yield _File(_name(row), partial(make, connection, id_))


def _sheet(connection: Connection, sha256: str) -> bytes:
    kept = file_of(connection, sha256)
    assert kept is not None  # its row names it
    return kept.content


def _survey(connection: Connection, id_: str) -> bytes:
    survey = survey_of(connection, id_)
    assert survey is not None  # it was listed
    return survey_to_json(survey).encode("utf-8")


def _refused(row: RowMapping) -> bytes:
    return f"{json.dumps(dict(row), indent=2)}\n".encode()


def _record(connection: Connection, id_: str) -> bytes:
    (row,) = gauging_rows(connection, [id_])
    record = record_in(row)
    assert record is not None  # it was asked for before
    return to_json(record).encode("utf-8")


def _journal(connection: Connection, id_: str) -> bytes:
    journal = journal_of(connection, id_)
    assert journal is not None  # it has a row, and so it has entries
    return journal_to_json(journal).encode("utf-8")


def _name(row: RowMapping) -> str:
    parts = (row["day"], row["stream"], row["place"])
    words = "-".join(folded_name(part).replace(" ", "-") for part in parts if part)
    short = _short(words[:_MOST_LETTERS])
    return f"{short}-{row['id']}.json" if short else f"{row['id']}.json"


def _safe(name: str) -> str:
    """Return a name that no system takes for a path, or for anything but a plain name."""
    plain = re.sub(r"[^\w.() -]", "_", name).lstrip(".")
    return _short(plain[-_MOST_LETTERS:]) or "sheet"


def _short(name: str) -> str:
    """Return a name, or the end of it, in as many bytes as a folder takes."""
    return name.encode("utf-8")[-_MOST_BYTES:].decode("utf-8", "ignore")
