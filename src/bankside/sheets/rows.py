"""Every row of a table, one by one: what it holds, or why it cannot be used.

No row is passed over. A row becomes a `SheetRow` (readings of a vertical), or it gets its fate at
once: kept as a remark (blank rows, repeated heads, totals, notes) or refused with a reason.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import attrs

from bankside.gauging.faults import Fault
from bankside.sheets.dates import as_date
from bankside.sheets.files.grid import CellValue, Grid, cell
from bankside.sheets.head_meaning import parse_unit, read_head
from bankside.sheets.preface import read_preface
from bankside.sheets.row import READINGS, read_row
from bankside.sheets.sheet_row import FiledTotal, RowFate, SheetRow
from bankside.sheets.table import Table
from bankside.sheets.values import (
    ValueFault,
    as_label,
    as_number,
    figure_of,
    is_empty,
    looks_numeric,
)
from bankside.sheets.words import WORDS
from bankside.sheets.written import Written

__all__ = ["TableRows", "read_rows"]


_FILED = ("width", "area", "discharge", "total", "share", "number")


_GROUPS = ("site", "stream", "date", "channel")
_TOTAL_WORDS = frozenset((*WORDS["total"], "totals", "sums"))
_MEAN_WORDS = frozenset(
    (*WORDS["mean"], "means", "max", "maximum", "min", "minimum", "largest", "smallest")
)


@attrs.frozen
class TableRows:
    """All rows of one table's body: the readings, and everything else with its fate.

    notes: the indexes of the rows that tell something about the gauging around them; totals:
    those on total rows.
    """

    rows: tuple[SheetRow, ...]
    fates: tuple[RowFate, ...]
    notes: tuple[int, ...]
    totals: tuple[FiledTotal, ...]
    faults: tuple[Fault, ...]


def read_rows(table: Table, how: Written) -> TableRows:
    """Return what every row of a table's body holds."""
    rows: list[SheetRow] = []
    fates: list[RowFate] = []
    remarks: list[int] = []
    totals: list[FiledTotal] = []
    faults: list[Fault] = list(_merged_readings(table))
    carried: dict[str, Any] = {}
    for index in table.body:
        aside = _aside(table, index)
        number = table.grid.row_numbers[index]
        if aside is None:
            row, found = read_row(table, index, how, carried)
            faults.extend(found)
            rows.append(row)
            continue
        fates.append(RowFate(table.grid.sheet, number, "remark", aside))
        if aside == "note":
            remarks.append(index)
            carried.update(_names_told(table, index, how))
        elif aside == "total row":
            total = _total_on(table, index, how)
            if total is not None:
                totals.append(total)
            else:
                remarks.append(index)
    return TableRows(tuple(rows), tuple(fates), tuple(remarks), tuple(totals), tuple(faults))


def _names_told(table: Table, index: int, how: Written) -> dict[str, object]:
    """Return site, stream, date or channel as a line between rows tells them of those below."""
    preface = read_preface(table.grid, [index])
    told: dict[str, object] = {}
    for key in ("stream", "site", "channel"):
        value = as_label(preface.first(key))
        if value is not None:
            told[key] = value
    try:
        day = as_date(preface.first("date"), how.dates)
    except ValueFault:
        day = None  # told as a fault of the gauging that the line belongs to
    return told if day is None else {**told, "date": day}


def _aside(table: Table, index: int) -> str | None:
    """Return why a row holds no readings ("blank row", …), or None when it does."""
    row = table.grid.rows[index]
    filled = [value for value in row if not is_empty(value)]
    errors_or_formulas = any(
        (index, c) in table.grid.unvalued_formulas or (index, c) in table.grid.cell_errors
        for c in range(len(row))
    )
    if not filled and not errors_or_formulas:
        return "blank row"
    if _repeats_heads(table, index):
        return "heads repeated"
    if _is_measured(table, index):
        return None
    if filled and str(filled[0]).startswith("#"):
        return "note"
    quantity = _named_aside(table, index)
    if quantity is not None:
        return quantity
    words = _words(table, index)
    if words & _TOTAL_WORDS:
        return "total row"
    if words & _MEAN_WORDS:
        return "row of means or extremes"
    if errors_or_formulas:
        return None
    if not any(not is_empty(value) for value in _cells(table, index, READINGS)):
        if any(looks_numeric(value) for value in _cells(table, index, _FILED)):
            return "total row"
        # A row that names a site and holds nothing else says that nothing was measured there.
        named = any(not is_empty(value) for value in _cells(table, index, _GROUPS))
        return None if named else "note"
    return "note" if len(filled) == 1 and not looks_numeric(filled[0]) else None


def _is_measured(table: Table, index: int) -> bool:
    """Return whether a row has a tape position and a depth, so that no word makes it an aside."""
    return all(
        any(looks_numeric(value) for value in _cells(table, index, (role,)))
        for role in ("tape", "depth")
    )


def _cells(table: Table, index: int, roles: Sequence[str]) -> list[CellValue]:
    return [cell(table.grid, index, c.index) for c in table.columns if c.role in roles]


def _repeats_heads(table: Table, index: int) -> bool:
    """Return whether a row says again what a head row of its table says."""
    texts = _texts(table.grid, index)
    return bool(texts) and any(texts == _texts(table.grid, head) for head in table.heads)


def _texts(grid: Grid, index: int) -> list[str]:
    return [
        " ".join(value.split()).casefold() if isinstance(value, str) else str(value)
        for value in grid.rows[index]
        if value is not None
    ]


def _named_aside(table: Table, index: int) -> str | None:
    """Return what a row is that begins with the name of a quantity ("Q =", "Area (m2)").

    The name stands in the tape cell, or where that is empty in the one of depth or velocity. None
    begins with a figure, and none but a total's has a depth and a velocity beside it: there a
    letter slipped into a tape position ("2.A", "w").
    """
    read = all(
        any(looks_numeric(value) for value in _cells(table, index, roles))
        for roles in (("depth",), ("velocity", "counts"))
    )
    tape = [value for value in _cells(table, index, ("tape",)) if not is_empty(value)]
    for value in tape or _cells(table, index, ("depth", "velocity")):
        if isinstance(value, str) and not looks_numeric(value) and not value.strip()[:1].isdigit():
            role = read_head(value.strip(" =:")).roles[:1]
            if role == ("total",) or (role == ("discharge",) and not read):
                return "total row"
            if role in (("area",), ("width",)) and not read:
                return "note"
    return None


def _words(table: Table, index: int) -> set[str]:
    """Return the words of a row's short texts, where they can call it a total or a mean."""
    names: tuple[str, ...] = ()
    if not all(is_empty(value) for value in _cells(table, index, ("tape",))):
        names = ("site", "stream")
    if not all(is_empty(value) for value in _cells(table, index, ("depth", "velocity", "counts"))):
        names += ("remark",)
    labels = {c.index for c in table.columns if c.role in names}
    found = set()
    for position, value in enumerate(table.grid.rows[index]):
        if not isinstance(value, str) or looks_numeric(value) or position in labels:
            continue
        words = value.casefold().strip(" :=").replace(":", " ").split()
        if len(words) <= 4:
            found.update(words)
    return found


def _total_on(table: Table, index: int, how: Written) -> FiledTotal | None:
    """Return the filed discharge on a total row: in the total or the product column.

    Its unit is the one behind the figure ("79.3 L/s"), else the one in the row's own words
    ("Total (m3/s)"); None where neither says one.
    """
    number = table.grid.row_numbers[index]
    words = [v for v in table.grid.rows[index] if isinstance(v, str) and not looks_numeric(v)]
    labels = (read_head(text.strip(" :=")).unit for text in words)
    label = next((unit.name for unit in labels if unit and unit.kind == "discharge"), None)
    for value in (*_cells(table, index, ("total",)), *_cells(table, index, ("discharge",))):
        try:
            total, unit = as_number(value, how.decimal, "a number"), None
        except ValueFault:
            text = value if isinstance(value, str) else ""
            total, unit = figure_of(text), parse_unit(text.strip().partition(" ")[2])
        if total is not None:
            return FiledTotal(total, number, unit.name if unit else label)
    return None


def _merged_readings(table: Table) -> list[Fault]:
    """Return a fault for every merged block of cells that swallows rows of readings."""
    faults = []
    body = set(table.body)
    reading_columns = {c.index: c for c in table.columns if c.role in READINGS}
    for first_row, first_col, last_row, last_col in table.grid.merged:
        covered = [c for c in range(first_col, last_col + 1) if c in reading_columns]
        rows = [r for r in range(first_row, last_row + 1) if r in body]
        several = len(rows) > 1 or len(covered) > 1
        if not covered or not rows or not several:
            continue
        if is_empty(cell(table.grid, first_row, first_col)):
            continue
        value = cell(table.grid, first_row, first_col)
        if isinstance(value, str) and not looks_numeric(value):
            continue
        numbers = [table.grid.row_numbers[r] for r in (rows[0], rows[-1])]
        where = f"rows {numbers[0]} to {numbers[1]}" if len(rows) > 1 else f"row {numbers[0]}"
        faults.append(
            Fault(
                f"found cells merged over {where}; a cell for every reading would be right",
                file=table.grid.file,
                sheet=table.grid.sheet,
                row=numbers[0],
                column=reading_columns[covered[0]].name,
            )
        )
    return faults
