"""How a file writes its numbers and dates, decided from all of them at once."""

from __future__ import annotations

from collections.abc import Sequence

import attrs

from bankside.gauging.faults import Fault
from bankside.sheets.answers import Answers
from bankside.sheets.column import Column
from bankside.sheets.dates import DateStyle, date_orders
from bankside.sheets.files.grid import CellValue, cell
from bankside.sheets.preface import read_preface
from bankside.sheets.table import Table
from bankside.sheets.values import decimal_marks, show

__all__ = ["Written", "how_written"]

NUMBERS = (
    "tape",
    "depth",
    "velocity",
    "mean_velocity",
    "seconds",
    "counts",
    "angle",
    "angle_coefficient",
    "wall_factor",
    "rod_setting",
)


@attrs.frozen
class Written:
    """How the numbers and dates of a file are written."""

    decimal: str
    dates: DateStyle


def how_written(tables: Sequence[Table], answers: Answers) -> tuple[Written, list[Fault]]:
    """Decide how the file writes decimals and dates, from all its numbers and dates at once."""
    numbers: set[str] = set()
    days: list[CellValue] = []
    for table in tables:
        for column in table.columns:
            values = [cell(table.grid, row, column.index) for row in table.body]
            if column.role in NUMBERS:
                numbers |= decimal_marks(values)
            elif column.role == "date":
                days.extend(values)
        days.extend(read_preface(table.grid, table.above).values("date"))
    orders = date_orders(days)
    order = answers.date_order or (next(iter(orders)) if len(orders) == 1 else None)
    dates = DateStyle(order, answers.century)
    if answers.decimal is not None or len(numbers) < 2:
        decimal = answers.decimal or next(iter(numbers), "point")
        return Written(decimal, dates), []
    return Written("point", dates), [_mixed_decimals(tables)]


def _mixed_decimals(tables: Sequence[Table]) -> Fault:
    """Return the question about decimal points and commas, placed at the rarer kind."""
    seen: dict[str, list[tuple[Table, int, Column]]] = {"point": [], "comma": []}
    for table in tables:
        for row in table.body:
            for column in table.columns:
                if column.role in NUMBERS:
                    for mark in decimal_marks([cell(table.grid, row, column.index)]):
                        seen[mark].append((table, row, column))
    usual, rare = sorted(seen.values(), key=len, reverse=True)
    (other, other_row, other_column), (table, row, column) = usual[0], rare[0]
    found = cell(table.grid, row, column.index)
    elsewhere = cell(other.grid, other_row, other_column.index)
    return Fault(
        f"found {show(found)} where row {other.grid.row_numbers[other_row]} has {show(elsewhere)}; "
        "a decimal point or a decimal comma throughout would be right",
        table.grid.file,
        table.grid.sheet,
        table.grid.row_numbers[row],
        column.name,
    )
