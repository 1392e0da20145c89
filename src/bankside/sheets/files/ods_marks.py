"""ODS: how large each sheet is, and where its merges, errors and unvalued formulas are."""

from __future__ import annotations

from collections.abc import Mapping

from bankside.sheets.files.grid import error_literal, quoted
from bankside.sheets.files.sheet_marks import (
    SheetMarks,
    TextBudget,
    check_sizes,
    counted,
    require_few_sheets,
)
from bankside.sheets.files.workbook_faults import Damaged
from bankside.sheets.files.xml_parts import local_name, parse_part

__all__ = ["ods_marks"]


def ods_marks(content: bytes) -> list[SheetMarks]:
    """Return what is known of each sheet of an OpenDocument workbook, in its order.

    Raises Unfit.
    """
    scan = _OdsScan()
    parse_part(content, scan.handlers(), "content.xml")
    return scan.sheets


class _OdsScan:
    """Goes through the sheets' XML, in which rows and cells carry how often they are repeated."""

    def __init__(self) -> None:
        self.sheets: list[SheetMarks] = []
        self._row = self._col = 0
        self._row_repeat = self._col_repeat = 1
        self._cell: dict[str, str] | None = None
        self._text: list[str] = []
        self._budget = TextBudget()

    def handlers(self) -> dict[str, object]:
        """Return the functions that the XML parser calls."""
        return {
            "StartElementHandler": self._start,
            "EndElementHandler": self._end,
            "CharacterDataHandler": self._characters,
        }

    def _start(self, name: str, attributes: dict[str, str]) -> None:
        local = local_name(name)
        if local == "table" and ":table:" in name:
            require_few_sheets(len(self.sheets) + 1)
            check_sizes(self.sheets)
            self.sheets.append(SheetMarks())
            self._row = 0
        elif local == "table-row":
            self._row_repeat = _repeat(attributes, "number-rows-repeated")
            self._col = 0
        elif local in ("table-cell", "covered-table-cell"):
            self._cell = {local_name(key): value for key, value in attributes.items()}
            self._col_repeat = _repeat(attributes, "number-columns-repeated")
            self._text = []

    def _characters(self, data: str) -> None:
        if self._cell is not None:
            self._text.append(data)

    def _end(self, name: str) -> None:
        local = local_name(name)
        if local == "table-row":
            self._row += self._row_repeat
        elif local in ("table-cell", "covered-table-cell") and self._cell is not None:
            self._end_cell(self._cell)
            self._col += self._col_repeat
            self._cell = None

    def _end_cell(self, cell: Mapping[str, str]) -> None:
        if not self.sheets:
            raise Damaged("a cell stands outside any sheet")
        marks = self.sheets[-1]
        text = "".join(self._text).strip()
        kind = cell.get("value-type")
        formula = "formula" in cell
        if kind is None and not text and not formula:
            self._note_merged(cell, marks)
            return
        marks.reach(self._row + self._row_repeat - 1, self._col + self._col_repeat - 1)
        self._budget.spend(len(text) * self._row_repeat * self._col_repeat)
        self._note_merged(cell, marks)
        error = error_literal(text) or (text if text.startswith("Err:") else None)
        if not formula or (error is None and (kind is not None or text)):
            return
        self._note_repeated(error, marks)

    def _note_repeated(self, error: str | None, marks: SheetMarks) -> None:
        """Note for every cell that this one stands for an error, or a formula without value."""
        for row in range(self._row, self._row + self._row_repeat):
            for col in range(self._col, self._col + self._col_repeat):
                if error is None:
                    marks.mark_unvalued((row, col))
                else:
                    marks.mark_error((row, col), error)

    def _note_merged(self, cell: Mapping[str, str], marks: SheetMarks) -> None:
        down = _repeat(cell, "number-rows-spanned")
        across = _repeat(cell, "number-columns-spanned")
        if (down, across) != (1, 1):
            marks.mark_merged((self._row, self._col, self._row + down - 1, self._col + across - 1))


def _repeat(attributes: Mapping[str, str], local: str) -> int:
    """Return the number in an attribute; 1 when it is absent."""
    for name, value in attributes.items():
        if local_name(name) == local:
            number = counted(value)
            if number is None:
                raise Damaged(f"{quoted(value)} is no number of rows or columns")
            return number
    return 1
