"""The values of a workbook as grids, as python-calamine reads them.

It leaves a cell empty when the cell holds an error or a formula without a computed value; the
marks made beforehand say which cells these are.
"""

from __future__ import annotations

import io
import math
from collections.abc import Iterable, Iterator, Sequence
from datetime import date, datetime, time, timedelta

import python_calamine

from bankside.sheets.files.grid import (
    MAX_COLUMNS,
    CellValue,
    Grid,
    error_literal,
    padded_rows,
    quoted,
    refusal,
)
from bankside.sheets.files.sheet_marks import SheetMarks, check_sizes
from bankside.sheets.files.workbook_faults import Damaged

__all__ = ["grids_of_workbook"]


def grids_of_workbook(
    data: bytes, file: str, sheet: str | None, marks: Sequence[SheetMarks]
) -> tuple[Grid, ...]:
    """Return the grids of a workbook that was gone through: `marks` has one entry a sheet.

    Raises Unfit, InputRefused, and whatever python-calamine raises.
    """
    check_sizes(marks)
    with python_calamine.CalamineWorkbook.from_filelike(io.BytesIO(data)) as book:
        return _grids_of_book(book, file, sheet, marks)


def _grids_of_book(
    book: python_calamine.CalamineWorkbook,
    file: str,
    sheet: str | None,
    marks: Sequence[SheetMarks],
) -> tuple[Grid, ...]:
    sheets = [
        (index, meta)
        for index, meta in enumerate(book.sheets_metadata)
        if meta.typ == python_calamine.SheetTypeEnum.WorkSheet
    ]
    if len(book.sheets_metadata) != len(marks):
        raise Damaged("it names sheets it does not hold")
    if sheet is not None:
        named = _named_sheet([meta.name for _, meta in sheets], sheet, file)
        sheets = [(index, meta) for index, meta in sheets if meta.name == named]
    grids = tuple(
        _grid(book.get_sheet_by_index(index), file, _is_hidden(meta), marks[index])
        for index, meta in sheets
    )
    if not any(grid.rows for grid in grids):
        raise refusal(file, "found a workbook without a filled cell; a table would be right")
    return grids


def _named_sheet(names: Sequence[str], asked: str, file: str) -> str:
    """Return the sheet name that is meant; upper and lower case and blanks around do not count."""
    if asked in names:
        return asked
    alike = [name for name in names if name.strip().casefold() == asked.strip().casefold()]
    if len(alike) != 1:
        listed = ", ".join(quoted(name) for name in names)
        raise refusal(file, f"found no sheet {quoted(asked)}; its sheets are {listed}")
    return alike[0]


def _is_hidden(meta: python_calamine.SheetMetadata) -> bool:
    return meta.visible != python_calamine.SheetVisibleEnum.Visible


def _grid(sheet: python_calamine.CalamineSheet, file: str, hidden: bool, marks: SheetMarks) -> Grid:
    errors = dict(marks.errors)
    rows: list[list[CellValue]] = []
    for row, raw_cells in enumerate(sheet.to_python(skip_empty_area=False)):
        values = [_value(raw) for raw in raw_cells]
        for col, value in enumerate(values):
            error = _error_in(value)
            if error is not None or (row, col) in errors:
                errors.setdefault((row, col), error or "")
                values[col] = None
        rows.append(values)
    padded = padded_rows(rows, marks.unvalued | set(errors))
    end = len(padded)
    while end and not padded[end - 1]:
        end -= 1
    filled = padded[:end]
    ranges = [(*start, *end) for start, end in sheet.merged_cell_ranges or ()]
    return Grid(
        file=file,
        sheet=sheet.name,
        rows=filled,
        row_numbers=tuple(range(1, len(filled) + 1)),
        merged=tuple(_clipped(ranges or marks.merged, len(filled))),
        unvalued_formulas=frozenset(marks.unvalued),
        cell_errors=errors,
        hidden=hidden,
    )


def _value(raw: str | int | float | bool | datetime | date | time | timedelta) -> CellValue:
    if isinstance(raw, str):
        return raw.strip() or None
    if isinstance(raw, int) and not isinstance(raw, bool):
        return float(raw)
    return raw


def _error_in(value: CellValue) -> str | None:
    """Return the error a value stands for: an error kept as text, or a number that is none."""
    if isinstance(value, str):
        return error_literal(value)
    if isinstance(value, float) and not math.isfinite(value):
        return "#NUM!"
    return None


def _clipped(
    ranges: Iterable[tuple[int, int, int, int]], rows: int
) -> Iterator[tuple[int, int, int, int]]:
    """Yield merged ranges without the parts outside the grid, and only if two cells are left."""
    for top, left, bottom, right in ranges:
        bottom, right = min(bottom, rows - 1), min(right, MAX_COLUMNS - 1)
        if top <= bottom and left <= right and (top, left) != (bottom, right):
            yield top, left, bottom, right
