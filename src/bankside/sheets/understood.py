"""How the columns of a sheet are understood, whether or not everything on it can be read."""

from __future__ import annotations

from pathlib import Path

import attrs

from bankside.gauging.faults import InputRefused
from bankside.sheets.answers import Answers
from bankside.sheets.column import Column
from bankside.sheets.files.grid import column_letter
from bankside.sheets.files.reading import read_grids
from bankside.sheets.table import Table, find_tables

__all__ = ["UnderstoodColumn", "understood_columns"]

# What a column holds where its head said nothing that is known.
_NOTHING = ("ignore", "")


@attrs.frozen
class UnderstoodColumn:
    """A column of a table: where it stands, its head, and what it is taken for.

    `means` is a name of COLUMN_NAMES, None where the column is passed over; `unit` is what the
    head says, or an answer.
    """

    sheet: str | None
    letter: str
    head: str
    means: str | None
    unit: str | None


def understood_columns(path: Path, answers: Answers) -> tuple[UnderstoodColumn, ...]:
    """Return the columns of all tables of a file; none where the file is no table at all."""
    try:
        grids = read_grids(path, answers.separator, answers.encoding, answers.sheet)
    except InputRefused:
        return ()
    shown = [grid for grid in grids if not grid.hidden or answers.sheet is not None]
    tables = [table for grid in shown for table in find_tables(grid, answers)[0]]
    return tuple(_column(table, column, answers) for table in tables for column in table.columns)


def _column(table: Table, column: Column, answers: Answers) -> UnderstoodColumn:
    means = column.role
    if column.role == "velocity" and column.fraction is not None:
        means = f"velocity@{column.fraction:g}"
    unit = column.unit.name if column.unit is not None else answers.units.get(column.role)
    return UnderstoodColumn(
        sheet=table.grid.sheet,
        letter=column_letter(column.index),
        head=column.head,
        means=None if column.role in _NOTHING else means,
        unit=unit,
    )
