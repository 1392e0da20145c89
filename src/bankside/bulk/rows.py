"""Rows of many Parquet files as one long table, read in parts of any size.

What is held in memory is a part and the pages that it is decoded from, whatever the size of files
and of their row groups. Parts in their order are read in one go; any other is sought by the row
groups.
"""

from __future__ import annotations

import hashlib
from bisect import bisect_right
from collections.abc import Iterator, Sequence
from pathlib import Path

import attrs
import numpy as np
import pyarrow as pa
import pyarrow.parquet as pq

from bankside.bulk.layout import SCHEMA, require_layout
from bankside.bulk.no_table import is_named_as_table, no_table_in_file, no_table_in_folder
from bankside.gauging.faults import Fault, InputRefused

__all__ = ["Input", "Rows", "inputs_of"]

_BATCH = 8192
_BUFFER = 1 << 20


@attrs.frozen
class Input:
    """A file that is read: where it is, its rows and columns, and a digest of its footer.

    The footer tells size, place and extremes of every piece of the file: another content has
    another one.
    """

    path: str
    rows: int
    digest: str
    columns: tuple[str, ...]


def inputs_of(path: Path) -> tuple[Input, ...]:
    """Return the file, or all Parquet files of a folder by their names.

    InputRefused, with what was found there, where there is none, or one is no Parquet file of the
    layout.
    """
    if not path.exists():
        message = (
            "found nothing there; the path of a table, or of a folder of tables, would be right"
        )
        raise InputRefused([Fault(message, file=str(path))])
    files = sorted(filter(is_named_as_table, path.iterdir())) if path.is_dir() else [path]
    if not files:
        raise InputRefused([no_table_in_folder(path)])
    return tuple(_input(file) for file in files)


def _input(file: Path) -> Input:
    try:
        with pq.ParquetFile(file) as opened:
            require_layout(opened.schema_arrow, file)
            rows, names = opened.metadata.num_rows, opened.schema_arrow.names
    except (pa.ArrowException, OSError) as error:
        reason = " ".join(str(error).split())
        raise InputRefused([no_table_in_file(file, reason)]) from None
    return Input(str(file), rows, _footer_digest(file), tuple(names))


def _footer_digest(file: Path) -> str:
    with file.open("rb") as stream:
        stream.seek(-8, 2)
        length = int.from_bytes(stream.read(4), "little")
        stream.seek(-8 - length, 2)
        return hashlib.sha256(stream.read(length)).hexdigest()[:16]


class Rows:
    """The rows of all inputs, one after the other."""

    def __init__(self, inputs: Sequence[Input]) -> None:
        self._inputs = inputs
        self._firsts = np.concatenate([[0], np.cumsum([one.rows for one in inputs])])
        known = {name for one in inputs for name in one.columns}
        self._schema = pa.schema([field for field in SCHEMA if field.name in known])
        self._at = -1
        self._batches: Iterator[pa.RecordBatch] = iter(())
        self._left: pa.RecordBatch | None = None

    def __len__(self) -> int:
        return int(self._firsts[-1])

    def place(self, row: int) -> tuple[str, int]:
        """Return the file of a row, and the number of the row in it."""
        file = bisect_right(self._firsts, row) - 1
        return self._inputs[file].path, row - int(self._firsts[file])

    def take(self, start: int, stop: int) -> pa.Table:
        """Return the rows from `start` up to `stop`."""
        if start != self._at:
            self._seek(start)
        taken: list[pa.RecordBatch] = []
        wanted = stop - start
        while wanted:
            batch = self._left or next(self._batches, None)
            if batch is None:
                raise InputRefused([Fault("the input must not change (it has fewer rows now)")])
            taken.append(batch.slice(0, wanted))
            self._left = batch.slice(len(taken[-1])) if len(taken[-1]) < len(batch) else None
            wanted -= len(taken[-1])
        self._at = stop
        return pa.Table.from_batches(taken, self._schema)

    def _seek(self, row: int) -> None:
        file, before = 0, row
        while file < len(self._inputs) - 1 and before >= self._inputs[file].rows:
            before -= self._inputs[file].rows
            file += 1
        self._left = None
        self._batches = self._from(file, before)

    def _from(self, file: int, skip: int) -> Iterator[pa.RecordBatch]:
        """Yield the rows of a file but for the first `skip`, and those of all files after it."""
        for one in self._inputs[file:]:
            try:
                yield from self._of(one, skip)
            except (pa.ArrowException, OSError) as error:
                reason = " ".join(str(error).split())
                raise InputRefused(
                    [Fault(f"must be readable to its end ({reason})", file=one.path)]
                ) from None
            skip = 0

    def _of(self, one: Input, skip: int) -> Iterator[pa.RecordBatch]:
        with pq.ParquetFile(one.path, buffer_size=_BUFFER, pre_buffer=False) as opened:
            group = 0
            while group < opened.num_row_groups:
                here = opened.metadata.row_group(group).num_rows
                if skip < here:
                    break
                skip -= here
                group += 1
            names = [name for name in self._schema.names if name in one.columns]
            groups = range(group, opened.num_row_groups)
            for batch in opened.iter_batches(_BATCH, row_groups=groups, columns=names):
                passed = min(skip, len(batch))
                skip -= passed
                if passed < len(batch):
                    yield self._in_layout(batch.slice(passed))

    def _in_layout(self, batch: pa.RecordBatch) -> pa.RecordBatch:
        """Return the rows with every column that any file has, nothing where this one has none."""
        there = set(batch.schema.names)
        return pa.RecordBatch.from_arrays(
            [
                batch.column(field.name).cast(field.type, safe=False)
                if field.name in there
                else pa.nulls(len(batch), field.type)
                for field in self._schema
            ],
            schema=self._schema,
        )
