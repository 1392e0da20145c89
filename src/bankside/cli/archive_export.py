"""What an archive holds, as files in a folder."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Literal

from sqlalchemy import Connection

from bankside.archive.giving import gauging_ids, journal_of, original_sheets
from bankside.archive.listing import gauging_rows, record_in, survey_counts
from bankside.archive.register import survey_of
from bankside.cli.output import write_file
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.journal.document import journal_to_json
from bankside.gauging.wire import to_json
from bankside.survey.document import survey_to_json
from bankside.survey.site_names import folded_name

__all__ = ["What", "export"]

What = Literal["journals", "records", "sheets", "surveys"]

_MOST_LETTERS = 60


def export(connection: Connection, folder: Path, what: What, survey: str | None) -> int:
    """Write files to a folder, each whole or not at all; return how many.

    InputRefused if one is there already or cannot be written, or if the survey is not known.
    """
    if survey is not None and survey_of(connection, survey) is None:
        known = ", ".join(one.id for one in survey_counts(connection)) or "none"
        raise InputRefused(
            [Fault(f'--survey: found "{survey}"; one of the archive would be right ({known})')]
        )
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        message = f"cannot be made ({error.strerror or error}); the name of a folder is right"
        raise InputRefused([Fault(message, file=str(folder))]) from error
    count = 0
    for name, content in _files(connection, what, survey):
        _write(folder / name, content)
        count += 1
    return count


def _write(file: Path, content: bytes) -> None:
    write_file(file, False, lambda path: path.write_bytes(content))


def _files(connection: Connection, what: What, survey: str | None) -> Iterator[tuple[str, bytes]]:
    if what == "sheets":
        for sheet in original_sheets(connection):
            yield f"{sheet.number:04d}-{_safe(sheet.name)}", sheet.content
    elif what == "surveys":
        for one in survey_counts(connection):
            known = survey_of(connection, one.id)
            if known is not None and survey in (None, one.id):
                yield f"{one.id}.json", survey_to_json(known).encode("utf-8")
    else:
        for id_ in gauging_ids(connection, survey):
            yield from _of_gauging(connection, what, id_)


def _of_gauging(connection: Connection, what: What, id_: str) -> Iterator[tuple[str, bytes]]:
    row = gauging_rows(connection, [id_])[0]
    parts = (row["day"], row["stream"], row["place"])
    words = "-".join(folded_name(part).replace(" ", "-") for part in parts if part)
    name = f"{words[:_MOST_LETTERS]}-{id_}.json" if words else f"{id_}.json"
    if what == "records":
        record = record_in(row)
        if record is not None:
            yield name, to_json(record).encode("utf-8")
        return
    journal = journal_of(connection, id_)
    if journal is not None:
        yield name, journal_to_json(journal).encode("utf-8")


def _safe(name: str) -> str:
    """Return a name that no system takes for a path, or for anything but a plain name."""
    return re.sub(r"[^\w.() -]", "_", name).lstrip(".")[-_MOST_LETTERS:] or "sheet"
