"""Gaugings that were left out of a run: a row each in the table `refused`, and in sentences."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

import attrs
import pyarrow as pa
import pyarrow.parquet as pq

from bankside.bulk.given import Refused
from bankside.bulk.rows import Rows
from bankside.gauging.faults import Fault, InputRefused

__all__ = ["REFUSED", "Refusals", "refusals_in", "refused_table", "sentences"]

REFUSED = "refused"
"""The name of the table."""


@attrs.frozen
class Refusals:
    """How many gaugings a run left out, and sentences on the first of them."""

    count: int
    first: tuple[str, ...]


def refused_table(refused: Sequence[Refused], rows: Rows) -> pa.Table:
    """Return the table of what was left out of a part."""
    places = [rows.place(one.row) for one in refused]
    return pa.table(
        {
            "file": [Path(file).name for file, _ in places],
            "row": pa.array([number + 1 for _, number in places], pa.int64()),
            "gauging": pa.array([one.gauging for one in refused], pa.string()),
            "why": [one.why for one in refused],
        }
    )


def sentences(table: pa.Table) -> tuple[str, ...]:
    """Return what the rows of such a table say: file, row, gauging and why."""
    return tuple(_sentence(row) for row in table.to_pylist())


def refusals_in(folder: Path, most: int) -> Refusals:
    """Return what all parts left out that are in a run's folder, whenever they were worked out.

    At most so many of them are put in sentences. InputRefused where a file cannot be read.
    """
    count = 0
    first: list[str] = []
    for file in sorted((folder / REFUSED).glob("*.parquet")):
        try:
            with pq.ParquetFile(file) as opened:
                count += opened.metadata.num_rows
                if len(first) < most:
                    first += sentences(opened.read())
        except (pa.ArrowException, OSError) as error:
            message = f"must be readable to its end ({' '.join(str(error).split())})"
            raise InputRefused([Fault(message, file=str(file))]) from None
    return Refusals(count, tuple(first[:most]))


def _sentence(row: dict[str, Any]) -> str:
    gauging = "" if row["gauging"] is None else f", gauging {row['gauging']}"
    return f"{row['file']}, row {row['row']}{gauging}: {row['why']}"
