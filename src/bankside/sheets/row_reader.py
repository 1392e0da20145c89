"""The cells of one row, each read strictly, with the faults found on the way."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from bankside.gauging.faults import Fault
from bankside.sheets.column import Column
from bankside.sheets.files.grid import CellValue, cell
from bankside.sheets.table import Table
from bankside.sheets.values import ValueFault, as_number, show
from bankside.sheets.written import Written

__all__ = ["RowReader"]

T = TypeVar("T")


class RowReader:
    """Reads the cells of one row and gathers the faults found on the way."""

    def __init__(self, table: Table, index: int, how: Written) -> None:
        self.table, self.index, self.how = table, index, how
        self.faults: list[Fault] = []
        self.unread: list[str] = []

    def fault(self, column: Column | None, message: str) -> None:
        """Note a fault in a column of this row."""
        self.faults.append(
            Fault(
                message,
                file=self.table.grid.file,
                sheet=self.table.grid.sheet,
                row=self.table.grid.row_numbers[self.index],
                column=None if column is None else column.name,
            )
        )

    def read(self, column: Column | None, parse: Callable[[CellValue], T | None]) -> T | None:
        """Return a cell through `parse`, None when it is absent, empty or faulty."""
        if column is None:
            return None
        place = (self.index, column.index)
        if place in self.table.grid.unvalued_formulas:
            self.fault(
                column,
                "found a formula of which the file keeps no value; a file saved "
                "again by a spreadsheet program, or the value itself, is right",
            )
            return None
        if place in self.table.grid.cell_errors:
            error = self.table.grid.cell_errors[place]
            self.fault(column, f"found the spreadsheet error {error}; a value would be right")
            return None
        try:
            return parse(cell(self.table.grid, *place))
        except ValueFault as problem:
            self.fault(column, str(problem))
            return None

    def number(self, column: Column | None, wanted: str) -> float | None:
        """Return the number in a cell of this row."""
        return self.read(column, lambda value: as_number(value, self.how.decimal, wanted))

    def filed(self, role: str) -> float | None:
        """Return a filed number; what is no number there is only noted, for nothing hangs on it."""
        column = self.table.column(role)
        if column is None:
            return None
        place = (self.index, column.index)
        value = cell(self.table.grid, *place)
        error = self.table.grid.cell_errors.get(place)
        if error is not None or place in self.table.grid.unvalued_formulas:
            self.unread.append(f"{column.name}: {error or 'a formula without a stored value'}")
            return None
        try:
            return as_number(value, self.how.decimal, "")
        except ValueFault:
            self.unread.append(f"{column.name}: {show(value)}")
            return None
