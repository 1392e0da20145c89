"""Cells of the workbook: texts that stay texts, numbers with all their digits, live formulas."""

from __future__ import annotations

import textwrap
from collections.abc import Mapping, Sequence
from typing import Literal

import attrs
from xlsxwriter.format import Format
from xlsxwriter.utility import xl_col_to_name
from xlsxwriter.workbook import Workbook
from xlsxwriter.worksheet import Worksheet

from bankside.gauging.faults import Fault, InputRefused

__all__ = ["Cell", "Column", "Formula", "Look", "Looks", "Table"]

Look = Literal[
    "as called", "text", "length", "factor", "velocity", "area", "discharge", "percent", "seconds"
]

# How a figure is shown; the cell keeps every digit whatever is shown.
_SHOWN: Mapping[Look, str] = {
    "as called": "General",
    "text": "General",
    "length": "0.0000",
    "factor": "0.00000",
    "velocity": "0.00000",
    "area": "0.000000",
    "discharge": "0.0000000",
    "percent": "0.000",
    "seconds": "General",
}
_SHADE = {"bg_color": "#E7EEF3"}
# A text stands off the figure before it.
_TEXT = {"align": "left", "indent": 1}
_PAPER_A4 = 9
_LINE_HEIGHT = 15  # points
_MOST_LINES = 27  # a row is at most 409 points high
_LETTERS = 1.15  # of a text in the width of a digit
_BOLD = 0.85


class _Exact(float):
    """A number that a workbook gets with all its digits, not with the 16 of XlsxWriter."""

    def __format__(self, spec: str) -> str:
        return repr(float(self))


@attrs.frozen
class Formula:
    """A live formula, with the value that it has for viewers that do not work it out."""

    text: str
    value: float | str | None


Cell = str | float | Formula | None


class Looks:
    """The formats of a workbook, each made once."""

    def __init__(self, book: Workbook) -> None:
        self.title: Format = book.add_format({"bold": True, "font_size": 14})
        self.note: Format = book.add_format({"font_color": "#444444"})
        head = {"bold": True, "bottom": 1, "text_wrap": True, "valign": "bottom", **_SHADE}
        self.head: Format = book.add_format({**head, "align": "right"})
        self.text_head: Format = book.add_format({**head, **_TEXT})
        self.part: Format = book.add_format({"bold": True, "bottom": 1})
        self._plain = {look: _format(book, look, {}) for look in _SHOWN}
        self._total = {look: _format(book, look, {"bold": True, "top": 1}) for look in _SHOWN}

    def of(self, look: Look, total: bool = False) -> Format:
        """Return the format of a kind of figure, in a row of totals or not."""
        return (self._total if total else self._plain)[look]


def _format(book: Workbook, look: Look, more: Mapping[str, object]) -> Format:
    wrapped = {"text_wrap": True, **_TEXT} if look == "text" else {}
    return book.add_format({"num_format": _SHOWN[look], "valign": "top", **wrapped, **more})


@attrs.frozen
class Column:
    """A column of a table: how formulas find it, its head, how wide it is, how figures look."""

    key: str
    head: str
    width: float
    look: Look = "as called"


class Table:
    """A sheet with a title, a sentence on what it holds, heads that stay, and rows below."""

    def __init__(
        self,
        sheet: Worksheet,
        looks: Looks,
        title: str,
        about: str,
        columns: Sequence[Column],
        frozen_columns: int = 0,
    ) -> None:
        self.sheet = sheet
        self.looks = looks
        self._columns = columns
        self._place = {column.key: place for place, column in enumerate(columns)}
        self.row = _HEAD_ROW + 1
        """The next row, counted from 0 as XlsxWriter does."""
        self._write(0, 0, title, looks.title)
        self._write(1, 0, about, looks.note)
        for place, column in enumerate(columns):
            head = looks.text_head if column.look == "text" else looks.head
            sheet.write_string(_HEAD_ROW, place, column.head, head)
            sheet.set_column(place, place, column.width)
        heads = max(_lines(column.head, column.width * _BOLD) for column in columns)
        sheet.set_row(_HEAD_ROW, _LINE_HEIGHT * heads)
        sheet.freeze_panes(_HEAD_ROW + 1, frozen_columns)
        sheet.repeat_rows(_HEAD_ROW)
        sheet.set_landscape()
        sheet.set_paper(_PAPER_A4)
        sheet.set_margins(left=0.4, right=0.4)
        sheet.fit_to_pages(1, 0)
        sheet.set_footer("&L&A&RPage &P of &N")

    def add(
        self,
        cells: Mapping[str, Cell],
        total: bool = False,
        looks: Mapping[str, Look] | None = None,
    ) -> int:
        """Write the next row from cells by column key, and return its number as formulas say it.

        `looks` are by column key, for cells that do not look as their column does.
        """
        for column in self._columns:
            cell = cells.get(column.key)
            if cell is not None or total:
                form = self.looks.of((looks or {}).get(column.key, column.look), total)
                self._write(self.row, self._place[column.key], cell, form)
        lines = 1
        for column in self._columns:
            cell = cells.get(column.key)
            if column.look == "text" and isinstance(cell, str):
                lines = max(lines, _lines(cell, column.width))
        if lines > 1:
            self.sheet.set_row(self.row, _LINE_HEIGHT * lines)
        self.row += 1
        return self.row

    def part(self, text: str, gap: bool = True) -> None:
        """Write a heading for the rows that follow, after an empty row if there is a gap."""
        self.row += gap
        for place in range(len(self._columns)):
            self._write(self.row, place, text if place == 0 else None, self.looks.part)
        self.row += 1

    def sentence(self, text: str) -> None:
        """Write a sentence over the whole width of the table, as high as it needs."""
        last = len(self._columns) - 1
        form = self.looks.of("text")
        # The cell is written apart: merging would take a text that begins with = for a formula.
        self.sheet.merge_range(self.row, 0, self.row, last, None, form)
        self._write(self.row, 0, text, form)
        room = sum(column.width for column in self._columns)
        self.sheet.set_row(self.row, _LINE_HEIGHT * _lines(text, room))
        self.row += 1

    @property
    def is_empty(self) -> bool:
        """Whether nothing stands below the heads yet."""
        return self.row == _HEAD_ROW + 1

    @property
    def next(self) -> int:
        """The number of the next row as formulas say it."""
        return self.row + 1

    def at(self, key: str, row: int) -> str:
        """Return the reference to a cell from the same sheet."""
        return f"{xl_col_to_name(self._place[key])}{row}"

    def ref(self, key: str, row: int) -> str:
        """Return the reference to a cell from any sheet."""
        return f"{self.sheet.get_name()}!{self.at(key, row)}"

    def fixed(self, key: str, row: int) -> str:
        """Return the reference that a defined name needs."""
        return f"={self.sheet.get_name()}!${xl_col_to_name(self._place[key])}${row}"

    def span(self, key: str, first: int, last: int) -> str:
        """Return the reference to cells of one column, both rows included."""
        return f"{self.at(key, first)}:{self.at(key, last)}"

    def _write(self, row: int, place: int, cell: Cell, form: Format) -> None:
        if cell is None:
            self.sheet.write_blank(row, place, None, form)
        elif isinstance(cell, Formula):
            value = "" if cell.value is None else cell.value
            self.sheet.write_formula(row, place, f"={cell.text}", form, value)
        elif isinstance(cell, str):
            # write() would take a text that begins with = for a formula, and a link for a link.
            _require_written(self.sheet.write_string(row, place, cell, form), cell)
        else:
            self.sheet.write_number(row, place, _Exact(cell), form)


_HEAD_ROW = 3


def _lines(text: str, width: float) -> int:
    """Return how many lines a text takes in a column: not every program counts them itself."""
    room = max(1, int(width * _LETTERS) - 1)
    lines = sum(len(textwrap.wrap(line, room)) or 1 for line in text.splitlines())
    return max(1, min(_MOST_LINES, lines))


def _require_written(code: int, text: str) -> None:
    if code != 0:
        raise InputRefused(
            [
                Fault(
                    f"a text of {len(text):,} characters ({text[:30]}…) does not fit into a cell "
                    "of a workbook, which holds 32,767"
                )
            ]
        )
