"""Tables as CSV text by RFC 4180, and back: each column of the kind that its form says."""

from __future__ import annotations

import csv
import io
import math
import re
import sys
from collections.abc import Iterator

from bankside.exchange.columns import columns_found
from bankside.exchange.forms import Column, Table, TableForm, Value
from bankside.exchange.members import MAX_CELLS, too_many_cells
from bankside.exchange.table_rows import Row
from bankside.exchange.text_lists import list_of, text_of
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.fields import shown
from bankside.gauging.text_guard import guarded, unguarded

__all__ = ["csv_text", "rows_of_csv"]

_NUMBER = re.compile(r"[+-]?(\d+(\.\d*)?|\.\d+)([eE][+-]?\d+)?", re.ASCII)
_INTEGER = re.compile(r"\d{1,15}", re.ASCII)
# What Table Schema takes for true and false by default.
_FLAGS = {
    **dict.fromkeys(("true", "True", "TRUE", "1"), True),
    **dict.fromkeys(("false", "False", "FALSE", "0"), False),
}
_WANTED = {
    "number": "a number with a decimal point",
    "integer": "a whole number of at least 0",
    "boolean": "true or false",
    "texts": 'a JSON list of texts such as ["a", "b"]',
}


def csv_text(table: Table) -> str:
    """Return a table as CSV: a row of heads, numbers with every digit, nothing for what is missing.

    Texts that a spreadsheet would take for formulas are guarded.
    """
    lines = [",".join(column.name for column in table.form.columns)]
    lines += [
        ",".join(_cell(column, row[column.name]) for column in table.form.columns)
        for row in table.rows
    ]
    return "".join(f"{line}\n" for line in lines)


def rows_of_csv(text: str, form: TableForm) -> list[Row]:
    """Return the rows of a table in CSV text; the heads are row 1.

    InputRefused with every cell that is not of the kind of its column, and its place.
    """
    if sum(map(text.count, ",\n\r")) > MAX_CELLS:
        raise InputRefused([too_many_cells()])
    lines = _lines(text)
    if not lines:
        raise InputRefused([Fault("found an empty file; a row of heads would be right", row=1)])
    columns = columns_found(form, lines[0])
    rows: list[Row] = []
    faults: list[Fault] = []
    for number, cells in enumerate(lines[1:], 2):
        if not cells:
            continue
        if len(cells) != len(columns):
            message = f"found {len(cells)} cells under {len(columns)} heads; as many would be right"
            faults.append(Fault(message, row=number))
            continue
        values: dict[str, Value] = {}
        for column, cell in zip(columns, cells, strict=True):
            try:
                values[column.name] = _value(column, cell)
            except ValueError:
                wanted = _WANTED[column.kind]
                message = f"found {shown(cell)}; {wanted} would be right"
                faults.append(Fault(message, row=number, column=column.name))
        rows.append(Row(number, values))
    if faults:
        raise InputRefused(faults)
    return rows


def _cell(column: Column, value: Value) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, float):
        return repr(value).removesuffix(".0")
    if isinstance(value, tuple):
        return _quoted(text_of(value))
    return _quoted(guarded(value)) if column.kind == "text" else f"{value}"


def _quoted(text: str) -> str:
    if any(sign in text for sign in ',"\r\n') or text != text.strip():
        return '"' + text.replace('"', '""') + '"'
    return text


def _lines(text: str) -> list[list[str]]:
    limit = csv.field_size_limit(sys.maxsize)
    try:
        return list(_numbered(csv.reader(io.StringIO(text, newline=""), strict=True)))
    finally:
        csv.field_size_limit(limit)


def _numbered(reader: Iterator[list[str]]) -> Iterator[list[str]]:
    number = 0
    while True:
        number += 1
        try:
            yield next(reader)
        except StopIteration:
            return
        except csv.Error as error:
            message = f"found no CSV ({error}); quoted cells that end would be right"
            raise InputRefused([Fault(message, row=number)]) from None


def _value(column: Column, cell: str) -> Value:
    """Return what a cell says; ValueError where it is not of the kind of its column."""
    if cell == "" or column.kind == "utc":
        return None
    if column.kind == "number":
        return _number(cell)
    if column.kind == "integer":
        if not _INTEGER.fullmatch(cell):
            raise ValueError
        return int(cell)
    if column.kind == "boolean":
        if cell not in _FLAGS:
            raise ValueError
        return _FLAGS[cell]
    if column.kind == "texts":
        return _texts(cell)
    return unguarded(cell) if column.kind == "text" else cell


def _number(cell: str) -> float:
    if not _NUMBER.fullmatch(cell):
        raise ValueError
    number = float(cell)
    if not math.isfinite(number):
        raise ValueError
    return number


def _texts(cell: str) -> tuple[str, ...]:
    texts = list_of(cell)
    if texts is None:
        raise ValueError
    return texts
