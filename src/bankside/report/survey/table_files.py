"""The tables of a survey as files: a CSV each, and all of them in one workbook."""

from __future__ import annotations

import datetime
import io
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Final

from bankside.gauging.csv_row import csv_row
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.text_guard import guarded
from bankside.report.survey.data_tables import DataColumn, DataTable, Value

if TYPE_CHECKING:
    from xlsxwriter.format import Format
    from xlsxwriter.worksheet import Worksheet

__all__ = ["table_files", "tables_workbook"]

_NO_DAY: Final = datetime.date(1980, 1, 1)
_WIDEST: Final = 48


def table_files(tables: Sequence[DataTable], day: datetime.date | None) -> Mapping[str, bytes]:
    """Return file name → its bytes: each table as CSV, what its columns hold, and a workbook."""
    every = (*tables, _columns_table(tables))
    files = {f"{table.name}.csv": _csv(table) for table in every}
    return {**files, "survey.xlsx": tables_workbook(every, day)}


def _columns_table(tables: Sequence[DataTable]) -> DataTable:
    """Return a table that says what each column of the others holds."""
    heads = ("table", "which table"), ("column", "which column"), ("holds", "what it holds")
    return DataTable(
        "columns",
        "What each column holds",
        tuple(DataColumn(name, about) for name, about in heads),
        tuple((t.name, column.name, column.about) for t in tables for column in t.columns),
    )


def _csv(table: DataTable) -> bytes:
    """Return a table as CSV: UTF-8, figures with all their digits, empty where nothing is known."""
    rows = ([column.name for column in table.columns], *(map(_text, row) for row in table.rows))
    return "".join(map(csv_row, rows)).encode("utf-8")


def _text(value: Value) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, datetime.date):
        return value.isoformat()
    return repr(value) if isinstance(value, float | int) else guarded(value)


def tables_workbook(tables: Sequence[DataTable], day: datetime.date | None) -> bytes:
    """Return tables as the bytes of an XLSX workbook, a sheet each, dated by the survey.

    InputRefused for a text that is too long for a cell.
    """
    from xlsxwriter import Workbook

    out = io.BytesIO()
    with Workbook(out, {"in_memory": True}) as book:
        created = datetime.datetime.combine(day or _NO_DAY, datetime.time())
        book.set_properties({"title": "Tables of a survey", "created": created})
        head = book.add_format({"bold": True, "bottom": 1})
        date = book.add_format({"num_format": "yyyy-mm-dd", "align": "left"})
        for table in tables:
            sheet = book.add_worksheet(table.name)
            for place, column in enumerate(table.columns):
                sheet.write_string(0, place, column.name, head)
                sheet.set_column(place, place, _width(table, place))
            for row, values in enumerate(table.rows, 1):
                for place, value in enumerate(values):
                    _put(sheet, row, place, value, date)
            sheet.freeze_panes(1, 0)
            sheet.autofilter(0, 0, max(1, len(table.rows)), len(table.columns) - 1)
    return out.getvalue()


def _width(table: DataTable, place: int) -> int:
    texts = [table.columns[place].name, *(_text(row[place])[:_WIDEST] for row in table.rows)]
    return min(_WIDEST, max(map(len, texts)) + 2)


def _put(sheet: Worksheet, row: int, place: int, value: Value, date: Format) -> None:
    """Write a value as what it is: a text stays one, whatever it begins with."""
    code = 0
    if isinstance(value, bool):
        code = sheet.write_boolean(row, place, value)
    elif isinstance(value, datetime.date):
        moment = datetime.datetime.combine(value, datetime.time())
        code = sheet.write_datetime(row, place, moment, date)
    elif isinstance(value, float | int):
        code = sheet.write_number(row, place, value)
    elif value is not None:
        code = sheet.write_string(row, place, value)
    if code != 0:
        message = f"a text of {len(str(value)):,} characters does not fit into a cell of a workbook"
        raise InputRefused([Fault(message)])
