"""Records on their way into a table: from files, or from an archive."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from bankside.archive.giving import gauging_ids
from bankside.archive.listing import gauging_rows, record_in
from bankside.bulk.gather import row_of
from bankside.cli.archive_looking import looked_at
from bankside.cli.inputs import load
from bankside.cli.progress import tracked
from bankside.gauging.faults import InputRefused
from bankside.gauging.records import Gauging
from bankside.sheets.answers import Answers

__all__ = ["rows_of_archive", "rows_of_files"]


def rows_of_files(
    paths: Sequence[Path], answers: Answers, refused: list[str]
) -> Iterator[dict[str, Any]]:
    """Yield the row of each gauging of these files; what has none is told in `refused`."""
    for source in load(paths, answers):
        for item in source.items:
            name = f"{source.file}, {item.label}"
            if item.gauging is None:
                why = "; ".join(str(fault) for fault in item.faults) or item.reason
                refused.append(f"{name}: {why}")
            else:
                yield from _row(item.gauging, item.gauging.id or name, refused)


def rows_of_archive(place: str, refused: list[str]) -> Iterator[dict[str, Any]]:
    """Yield the row of each gauging of an archive; what has none is told in `refused`."""
    with looked_at(place) as archive, archive.reading() as connection:
        for id_ in tracked(gauging_ids(connection), "gathering"):
            (row,) = gauging_rows(connection, [id_])
            record = record_in(row)
            if record is None:
                refused.append(f"{id_}: its journal makes no record")
            else:
                yield from _row(record, id_, refused)


def _row(gauging: Gauging, name: str, refused: list[str]) -> Iterator[dict[str, Any]]:
    try:
        yield row_of(gauging, name)
    except InputRefused as error:
        refused.append(f"{name}: {'; '.join(map(str, error.faults))}")
