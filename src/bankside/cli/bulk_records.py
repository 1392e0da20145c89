"""Records on their way into a table: from files, or from an archive."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

import attrs

from bankside.archive.giving import gauging_ids
from bankside.archive.listing import gauging_rows, record_in
from bankside.bulk.gather import row_of
from bankside.bulk.layout import is_table
from bankside.cli.archive_looking import looked_at
from bankside.cli.inputs import Source, load, placed
from bankside.cli.progress import tracked
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.practice_mark import refuse_practice
from bankside.gauging.records import Gauging
from bankside.sheets.answers import Answers
from bankside.sheets.read import SheetGauging

__all__ = ["rows_of_archive", "rows_of_files"]


def rows_of_files(
    paths: Sequence[Path], answers: Answers, refused: list[Fault]
) -> Iterator[dict[str, Any]]:
    """Yield the row of each gauging of these files; what has none is told in `refused`."""
    seen: set[str] = set()
    tables = [path for path in paths if is_table(path)]
    refused += (_gathered_already(path) for path in tables)
    for source in load([path for path in paths if path not in tables], answers):
        for item in source.items:
            refused += _faults(source, item)
            if item.gauging is None:
                continue
            name = item.gauging.id or f"{source.file}, {item.label}"
            if name in seen:
                refused.append(_twice(name, source.file))
                continue
            seen.add(name)
            try:
                yield _row(item.gauging, name)
            except InputRefused as error:
                refused += (placed(fault, source, item) for fault in error.faults)


def _faults(source: Source, item: SheetGauging) -> Iterator[Fault]:
    """Yield what is wrong with an item, each with its file."""
    for fault in item.faults:
        yield fault if fault.file is not None else attrs.evolve(fault, file=source.file)
    if item.gauging is None and not item.faults:
        yield Fault(f"{item.label}: {item.reason}", file=source.file)


def _gathered_already(table: Path) -> Fault:
    message = (
        "found a table as `bankside bulk gather` writes it, which is gathered already; "
        f"`bankside bulk compute {table} FOLDER` would be right"
    )
    return Fault(message, file=str(table))


def _twice(name: str, file: str) -> Fault:
    return Fault(
        f'found a second gauging by the name of "{name}", which is left out; each gauging once, '
        "or files of different names, would be right",
        file=file,
    )


def rows_of_archive(place: str, refused: list[Fault]) -> Iterator[dict[str, Any]]:
    """Yield the row of each gauging of an archive as it stands now; `refused` tells the others."""
    with looked_at(place) as archive, archive.reading() as connection:
        for id_ in tracked(gauging_ids(connection), "gathering"):
            (row,) = gauging_rows(connection, [id_])
            try:
                record = record_in(row)
                if record is None:
                    why = row["trouble"] or "its journal makes no record"
                    refused.append(Fault(why, path=f"gauging {id_}"))
                else:
                    yield _row(record, id_)
            except InputRefused as error:
                refused += (_of_gauging(fault, id_) for fault in error.faults)


def _of_gauging(fault: Fault, id_: str) -> Fault:
    where = f"gauging {id_}" if fault.path is None else f"gauging {id_}, {fault.path}"
    return attrs.evolve(fault, path=where)


def _row(gauging: Gauging, name: str) -> dict[str, Any]:
    refuse_practice(gauging)
    return row_of(gauging, name)
