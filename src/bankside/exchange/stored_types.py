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

import attrs

from bankside.exchange.forms import Column, ColumnKind
from bankside.exchange.layouts import FORMS
from bankside.exchange.members import MAX_CELLS, too_many_cells
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.fields import shown

__all__ = ["faults_of_cells", "require_plain_tables"]

# Where SQLite says of a column whether it is hidden, or generated from others.
_HIDDEN = 6
_NUMBERS = ("integer", "real")
_STORED: Mapping[ColumnKind, tuple[str, ...]] = {
    "number": _NUMBERS,
    "integer": ("integer",),
    "boolean": ("integer",),
}


def require_plain_tables(path: Path, tables: Collection[str]) -> None:
    """Refuse a database in which one of these tables, or of those that describe them, is none.

    A view, a generated column or a virtual table is worked out when it is read, and may be worked
    out without end. InputRefused also for more cells than are read; sqlite3.Error where the file is
    no database that can be read.
    """
    with closing(_looking(path)) as database:
        for name, kind, made in database.execute("select name, type, sql from sqlite_master"):
            ours = name in tables or name.lower().startswith("gpkg_")
            if ours and kind in ("view", "table"):
                _require_plain(database, name, kind, made)


def _require_plain(database: sqlite3.Connection, name: str, kind: str, made: str) -> None:
    quoted = name.replace('"', '""')
    is_made = kind == "view" or made.lower().startswith("create virtual")
    columns = [] if is_made else database.execute(f'pragma table_xinfo("{quoted}")').fetchall()
    if is_made or any(column[_HIDDEN] for column in columns):
        message = "found what is worked out when it is read; a table with its values is right"
        raise InputRefused([Fault(message, file=f"layer {name}")])
    (rows,) = database.execute(f'select count(*) from "{quoted}"').fetchone()
    if rows * len(columns) > MAX_CELLS:
        raise InputRefused([attrs.evolve(too_many_cells(), file=f"layer {name}")])


def _looking(path: Path) -> sqlite3.Connection:
    address = f"file:{quote(str(path.absolute()))}?mode=ro"
    return sqlite3.connect(address, uri=True)


def faults_of_cells(path: Path, tables: Collection[str]) -> list[tuple[str, Fault]]:
    """Return the cells of these tables that hold what is no value of their column, with the table.

    sqlite3.Error where the file is no database that can be read.
    """
    with closing(_looking(path)) as database:
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
