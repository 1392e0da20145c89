"""Grids of cells: what any table is read into, and how large one may be."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime, time, timedelta
from types import MappingProxyType

import attrs

from bankside.gauging.faults import Fault, InputRefused

__all__ = [
    "MAX_CELLS",
    "MAX_COLUMNS",
    "MAX_FILE_BYTES",
    "MAX_ROWS",
    "CellValue",
    "Grid",
    "cell",
    "column_letter",
    "error_literal",
    "padded_rows",
    "quoted",
    "refusal",
    "size_fault",
]

CellValue = str | float | bool | datetime | date | time | timedelta | None
"""What one cell holds; None is an empty cell."""

MAX_FILE_BYTES = 64 * 1024 * 1024
MAX_ROWS = 200_000
MAX_COLUMNS = 500
MAX_CELLS = 5_000_000

_ERROR_LITERALS = frozenset(
    "#DIV/0! #N/A #NAME? #NULL! #NUM! #REF! #VALUE! #SPILL! #CALC! #GETTING_DATA".split()
)

_NO_ERRORS: Mapping[tuple[int, int], str] = MappingProxyType({})


@attrs.frozen
class Grid:
    """The cells of one text file or of one sheet of a workbook, as they stand there.

    file: the file's name as shown to people, without its folder.
    sheet: the sheet's name; None for text files.
    rows: the cells, row by row. Rows may differ in length; a row without anything in it is an
        empty tuple, so that every row can be accounted for.
    row_numbers: for each of `rows`, its number in the file, from 1. For text files this is the
        line on which the row begins.
    merged: merged ranges as (first row, first column, last row, last column), indexes of `rows`
        from 0, inclusive; ranges of one cell and parts below the last row are left out.
    unvalued_formulas: (row, column) of formulas for which the file keeps no computed value; the
        value there is None.
    cell_errors: (row, column) → the error that stands in the cell, such as "#DIV/0!"; the value
        there is None.
    separator: text files: what separates the cells; " " stands for runs of blanks.
    encoding: text files: the character set by which the bytes were read, a name that
        `read_grids` takes.
    hidden: workbooks: whether the sheet is hidden.
    """

    file: str
    sheet: str | None
    rows: tuple[tuple[CellValue, ...], ...]
    row_numbers: tuple[int, ...]
    merged: tuple[tuple[int, int, int, int], ...] = ()
    unvalued_formulas: frozenset[tuple[int, int]] = frozenset()
    cell_errors: Mapping[tuple[int, int], str] = _NO_ERRORS
    separator: str | None = None
    encoding: str | None = None
    hidden: bool = False


def column_letter(index: int) -> str:
    """Return the letters of a column counted from 0: "A" for 0, "AA" for 26.

    Raises ValueError for a negative index.
    """
    if index < 0:
        raise ValueError("a column index must be 0 or more")
    letters = ""
    rest = index + 1
    while rest:
        rest, digit = divmod(rest - 1, 26)
        letters = chr(ord("A") + digit) + letters
    return letters


def cell(grid: Grid, row: int, col: int) -> CellValue:
    """Return the value at `row` and `col`, indexes from 0; None when there is no such cell."""
    if not 0 <= row < len(grid.rows) or not 0 <= col < len(grid.rows[row]):
        return None
    return grid.rows[row][col]


def refusal(
    file: str,
    message: str,
    sheet: str | None = None,
    row: int | None = None,
    column: str | None = None,
) -> InputRefused:
    """Return the error that says one thing about a file."""
    return InputRefused([Fault(message, file=file, sheet=sheet, row=row, column=column)])


def quoted(text: str) -> str:
    """Return a text from a file in quotation marks, on one line and at most 40 characters."""
    shown = "".join(char if char.isprintable() else " " for char in text)
    return f'"{shown if len(shown) <= 40 else shown[:37] + "…"}"'


def error_literal(text: str) -> str | None:
    """Return the error that a spreadsheet program writes into a failed cell, if `text` is one."""
    if not text.startswith("#"):
        return None
    upper = text.upper()
    return upper if upper in _ERROR_LITERALS else None


def size_fault(rows: int, columns: int, cells: int) -> str | None:
    """Return what is wrong with a table of this size, or None when it is not too large."""
    if rows > MAX_ROWS:
        return f"found more than {MAX_ROWS:,} rows; at most {MAX_ROWS:,} are read: split the file"
    if columns > MAX_COLUMNS:
        return f"found {columns:,} columns; at most {MAX_COLUMNS} are read: leave the others out"
    if cells > MAX_CELLS:
        return f"found {cells:,} cells or more; at most {MAX_CELLS:,} are read: split the file"
    return None


def padded_rows(
    rows: list[list[CellValue]], marked: set[tuple[int, int]]
) -> tuple[tuple[CellValue, ...], ...]:
    """Return rows cut after their last value, and long enough for every marked cell.

    A marked cell has no value and is still not empty, so its row must not look empty.
    """
    least = [0] * len(rows)
    for row, col in marked:
        if row >= len(least):
            least.extend([0] * (row + 1 - len(least)))
        least[row] = max(least[row], col + 1)
    padded: list[tuple[CellValue, ...]] = []
    for index, length in enumerate(least):
        values = rows[index] if index < len(rows) else []
        end = len(values)
        while end > length and values[end - 1] is None:
            end -= 1
        padded.append(tuple(values[:end]) + (None,) * (length - end))
    return tuple(padded)
