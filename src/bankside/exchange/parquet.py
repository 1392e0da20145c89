"""A survey and its gaugings as Parquet files, one a table, and back.

The schema of each file has meaning and unit of every column. Equal input gives equal bytes by one
version of Arrow, whose name the files carry.
"""

from __future__ import annotations

import io
from pathlib import Path
from typing import Any

import attrs
import pyarrow as pa
import pyarrow.compute as pc
import pyarrow.parquet as pq

from bankside.exchange.arrow_tables import arrow_table, rows_of_arrow
from bankside.exchange.data import ReadData, SurveyData
from bankside.exchange.forms import FORMAT, require_format
from bankside.exchange.layouts import FORMS
from bankside.exchange.members import MAX_CELLS, read_members, require_size, too_many_cells
from bankside.exchange.read_tables import from_tables
from bankside.exchange.result_tables import RESULT_FORMS
from bankside.exchange.table_rows import Row
from bankside.exchange.tables import to_tables
from bankside.gauging.faults import Fault, InputRefused

__all__ = ["parquet_files", "read_parquet_files"]

_ENDING = ".parquet"
_FORMAT_KEY = b"bankside_format"


def parquet_files(data: SurveyData) -> dict[str, bytes]:
    """Return the Parquet files of a survey by their names."""
    files = {}
    for table in to_tables(data):
        made = arrow_table(table, data.gaugings)
        told = {**made.schema.metadata, _FORMAT_KEY: FORMAT.encode()}
        out = io.BytesIO()
        pq.write_table(made.replace_schema_metadata(told), out, compression="zstd")
        files[f"{table.form.name}{_ENDING}"] = out.getvalue()
    return files


def read_parquet_files(path: Path, name: str | None = None) -> ReadData:
    """Return what a folder or a ZIP archive of Parquet files holds.

    `name`, the file as people know it, goes into every fault. InputRefused with every fault, each
    with the file, its row and column.
    """
    known = name or path.name
    try:
        files = read_members(path, (_ENDING,))
        data = from_tables(_rows(files), _in_file)
    except InputRefused as error:
        raise InputRefused(
            attrs.evolve(f, file=known if f.file is None else f"{known}, {f.file}")
            for f in error.faults
        ) from None
    others = [name for name in files if _table(name) not in {*FORMS, *RESULT_FORMS}]
    return ReadData(
        data, tuple(f"{n} is no table that is known, and was not read." for n in others)
    )


def _in_file(table: str, fault: Fault) -> Fault:
    return attrs.evolve(fault, file=f"{table}{_ENDING}")


def _table(file: str) -> str:
    return file.removesuffix(_ENDING)


def _rows(files: dict[str, bytes]) -> dict[str, list[Row]]:
    rows: dict[str, list[Row]] = {}
    faults: list[Fault] = []
    for name, content in files.items():
        table = _table(name)
        if table not in FORMS:
            continue
        try:
            rows[table] = _rows_of_file(content, table)
        except InputRefused as error:
            faults += [_in_file(table, fault) for fault in error.faults]
    if not rows and not faults:
        known = "surveys, gaugings and readings are some of those that are known"
        faults.append(Fault(f"found no Parquet file of a known table; {known}"))
    if faults:
        raise InputRefused(faults)
    return rows


def _rows_of_file(content: bytes, table: str) -> list[Row]:
    try:
        file = pq.ParquetFile(io.BytesIO(content))
        _require_readable(file.metadata)
        # A text that stands in many rows stands here once, so that its size can be told first.
        found = pq.read_table(io.BytesIO(content), read_dictionary=_texts(file))
        _require_few_letters(found)
    except (pa.ArrowException, OSError) as error:
        reason = " ".join(str(error).split())
        raise InputRefused([Fault(f"found no Parquet file that can be read ({reason})")]) from None
    told = (found.schema.metadata or {}).get(_FORMAT_KEY, b"")
    require_format(told.decode("utf-8", "replace"))
    return rows_of_arrow(found, FORMS[table])


def _require_readable(metadata: Any) -> None:
    """Refuse more than a table of a survey has, by what the file says of itself."""
    groups = range(metadata.num_row_groups)
    require_size(sum(metadata.row_group(group).total_byte_size for group in groups))
    if metadata.num_rows * metadata.num_columns > MAX_CELLS:
        raise InputRefused([too_many_cells()])


def _texts(file: Any) -> list[str]:
    """Return the paths of the columns of texts."""
    columns = [file.schema.column(place) for place in range(len(file.schema))]
    return [column.path for column in columns if column.physical_type == "BYTE_ARRAY"]


def _require_few_letters(found: Any) -> None:
    """Refuse texts that are few in the file and very many in its rows."""
    require_size(sum(_letters(chunk) for column in found.columns for chunk in column.chunks))


def _letters(values: Any) -> int:
    """Return how many bytes the texts of an array have, each as often as it stands there."""
    while pa.types.is_list(values.type) or pa.types.is_large_list(values.type):
        values = values.flatten()
    if not pa.types.is_dictionary(values.type):
        return int(values.nbytes)
    lengths = pc.binary_length(values.dictionary).cast(pa.int64())
    return int(pc.sum(lengths.take(values.indices)).as_py() or 0)
