"""Ids that stand on several rows of what goes in: each row is worked out, and that is told."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
import pyarrow as pa
import pyarrow.parquet as pq

from bankside.bulk.rows import Input, Rows
from bankside.gauging.faults import Fault

__all__ = ["repeated_ids"]

_FEW = 3
_BATCH = 65_536


def repeated_ids(inputs: Sequence[Input]) -> Fault | None:
    """Return how many ids stand on more than one row, and where the first do; None for none.

    Of every id eight bytes are held, however many rows there are. None as well where a file cannot
    be read to its end: the run itself says where.
    """
    try:
        marks = np.fromiter(_marks(inputs), np.int64)
        _, firsts, counts = np.unique(marks, return_index=True, return_counts=True)
        again = np.sort(firsts[counts > 1])
        if not len(again):
            return None
        rows = Rows(inputs)
        told = "; ".join(
            _told(rows, np.flatnonzero(marks == marks[row]).tolist()) for row in again[:_FEW]
        )
    except (pa.ArrowException, OSError):
        return None
    several = "1 id" if len(again) == 1 else f"{len(again)} ids"
    more = f"; and {len(again) - _FEW} more" if len(again) > _FEW else ""
    return Fault(
        f"found {several} on more than one row ({told}{more}); every row is worked out, but "
        "`bankside bulk compare` cannot tell them apart: each gauging once would be right"
    )


def _marks(inputs: Sequence[Input]) -> Iterator[int]:
    """Yield a number for every row, by its id; a row without one is like no other."""
    row = 0
    for one in inputs:
        with pq.ParquetFile(one.path) as opened:
            for batch in opened.iter_batches(_BATCH, columns=["gauging"]):
                for id_ in batch.column(0).to_pylist():
                    yield hash(("", row) if id_ is None else id_)
                    row += 1


def _told(rows: Rows, places: Sequence[int]) -> str:
    """Return an id with the first two of its rows, the first of a file being row 1."""
    (id_,) = rows.take(places[0], places[0] + 1).column("gauging").to_pylist()
    (file, first), (other, second) = (rows.place(row) for row in places[:2])
    where = f"row {first + 1} of {file} and row {second + 1}"
    return f'"{id_}", {where}{"" if file == other else f" of {other}"}'
