"""What the cells of a GeoPackage really hold, before GDAL makes them what their column says.

SQLite lets any cell hold anything, and GDAL reads a word in a column of numbers as 0. No reading
may come about that way.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Collection, Iterator, Mapping
from contextlib import closing
from pathlib import Path
from urllib.parse import quote

from bankside.exchange.forms import Column, ColumnKind
from bankside.exchange.layouts import FORMS
from bankside.gauging.faults import Fault
from bankside.gauging.fields import shown

__all__ = ["faults_of_cells"]

_NUMBERS = ("integer", "real")
_STORED: Mapping[ColumnKind, tuple[str, ...]] = {
    "number": _NUMBERS,
    "integer": ("integer",),
    "boolean": ("integer",),
}


def faults_of_cells(path: Path, tables: Collection[str]) -> list[tuple[str, Fault]]:
    """Return the cells of these tables that hold what is no value of their column, with the table.

    sqlite3.Error where the file is no database that can be read.
    """
    address = f"file:{quote(str(path.absolute()))}?mode=ro"
    with closing(sqlite3.connect(address, uri=True)) as database:
        return [(table, fault) for table in tables for fault in _of_table(database, table)]


def _of_table(database: sqlite3.Connection, table: str) -> Iterator[Fault]:
    there = {row[1] for row in database.execute(f'pragma table_info("{table}")')}
    columns = [c for c in FORMS[table].columns if c.name in there and c.kind != "utc"]
    if not columns:
        return
    cells = ", ".join(f'"{column.name}", typeof("{column.name}")' for column in columns)
    for number, row in enumerate(
        database.execute(f'select {cells} from "{table}" order by rowid'), 1
    ):
        for place, column in enumerate(columns):
            value, stored = row[2 * place], row[2 * place + 1]
            if stored != "null" and not _fits(column, value, stored):
                yield Fault(
                    f"found {shown(value)}, stored as {stored}, which is no value of this column",
                    row=number,
                    column=column.name,
                )


def _fits(column: Column, value: object, stored: str) -> bool:
    if column.kind == "boolean" and value not in (0, 1):
        return False
    return stored in _STORED.get(column.kind, ("text",))
