"""Tables as Arrow tables, each column with its type, meaning and unit, and back."""

from __future__ import annotations

import datetime
import math
from collections.abc import Mapping, Sequence
from typing import Any

import pyarrow as pa

from bankside.exchange.columns import columns_found
from bankside.exchange.field_units import UNIT_COLUMNS, common_unit
from bankside.exchange.forms import Column, ColumnKind, Table, TableForm, Value
from bankside.exchange.table_rows import Row
from bankside.exchange.text_lists import list_of
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.fields import shown
from bankside.gauging.records import Gauging

__all__ = ["arrow_table", "rows_of_arrow"]

_TYPES: Mapping[ColumnKind, Any] = {
    "text": pa.string(),
    "number": pa.float64(),
    "integer": pa.int64(),
    "boolean": pa.bool_(),
    "date": pa.date32(),
    "moment": pa.string(),
    "utc": pa.timestamp("us", "UTC"),
    "texts": pa.list_(pa.string()),
}
_WANTED = {
    "text": "texts",
    "number": "numbers",
    "integer": "whole numbers of at least 0",
    "boolean": "true and false",
    "date": "dates",
    "moment": "texts such as 2026-07-14T10:05:00-07:00",
    "texts": "lists of texts",
}


def arrow_table(table: Table, gaugings: Sequence[Gauging]) -> Any:
    """Return a table for Arrow; `gaugings` are those whose units its numbers may have.

    The metadata of a column have its meaning, and its unit as a code of UCUM where it is the same
    in all rows; `unit_column` says where it stands where gaugings name it.
    """
    fields = [
        pa.field(
            column.name,
            _TYPES[column.kind],
            nullable=not column.required,
            metadata=_metadata(column, gaugings),
        )
        for column in table.form.columns
    ]
    arrays = [
        pa.array([_written(column, row[column.name]) for row in table.rows], field.type)
        for column, field in zip(table.form.columns, fields, strict=True)
    ]
    schema = pa.schema(fields, metadata={"description": table.form.meaning})
    return pa.Table.from_arrays(arrays, schema=schema)


def rows_of_arrow(found: Any, form: TableForm) -> list[Row]:
    """Return the rows of a table of Arrow, the first of them row 1.

    InputRefused with every column that is not of the kind that its form says.
    """
    columns = columns_found(form, found.column_names)
    faults: list[Fault] = []
    read: dict[str, list[Value]] = {}
    for column in columns:
        if column.kind == "utc":
            continue
        try:
            read[column.name] = _values(column, found.column(column.name))
        except InputRefused as refused:
            faults += refused.faults
    if faults:
        raise InputRefused(faults)
    return [
        Row(number + 1, {name: values[number] for name, values in read.items()})
        for number in range(found.num_rows)
    ]


def _metadata(column: Column, gaugings: Sequence[Gauging]) -> dict[str, str]:
    told = {"description": column.meaning}
    if column.unit is not None:
        told["unit"] = column.unit
    if column.quantity is not None:
        told["unit_column"] = UNIT_COLUMNS[column.quantity]
        unit = common_unit(column.quantity, gaugings)
        if unit is not None:
            told["unit"] = unit
    return told


def _written(column: Column, value: Value) -> object:
    if column.kind == "date" and value is not None:
        return datetime.date.fromisoformat(str(value))
    if column.kind == "utc" and value is not None:
        return datetime.datetime.fromisoformat(str(value))
    return value


def _values(column: Column, found: Any) -> list[Value]:
    values: list[Value] = []
    for number, value in enumerate(found.to_pylist(), 1):
        read = _read(column, value)
        if value is not None and read is None:
            message = f"found {shown(value)}; {_WANTED[column.kind]} would be right"
            raise InputRefused([Fault(message, row=number, column=column.name)])
        values.append(read)
    return values


def _read(column: Column, value: Any) -> Value:
    """Return a value as its column has it, None where it is of another kind."""
    if column.kind in ("text", "moment"):
        return value if isinstance(value, str) else None
    if column.kind == "boolean":
        return value if isinstance(value, bool) else None
    if column.kind == "number":
        is_number = isinstance(value, int | float) and not isinstance(value, bool)
        return float(value) if is_number and math.isfinite(value) else None
    if column.kind == "integer":
        is_place = isinstance(value, int) and not isinstance(value, bool) and value >= 0
        return value if is_place else None
    if column.kind == "date":
        is_day = isinstance(value, datetime.date) and not isinstance(value, datetime.datetime)
        return value.isoformat() if is_day else None
    if isinstance(value, str):
        return list_of(value)
    texts = isinstance(value, list) and all(isinstance(text, str) for text in value)
    return tuple(value) if texts else None
