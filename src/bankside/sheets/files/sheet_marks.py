"""What is known of a sheet before its values are read: its size and its peculiar cells."""

from __future__ import annotations

from collections.abc import Iterable, Sized

import attrs

from bankside.sheets.files.grid import size_fault
from bankside.sheets.files.workbook_faults import SAVE_AS, Damaged, Unfit

__all__ = [
    "CellPosition",
    "SheetMarks",
    "TextBudget",
    "check_sizes",
    "counted",
    "require_few_sheets",
]

_MAX_TEXT = 256 * 1024 * 1024
_LAST_ROW = 1_048_576
_MAX_MARKED = 100_000
_MAX_SHEETS = 1_000

CellPosition = tuple[int, int]
"""Row and column of a cell, each counted from 0."""


@attrs.define
class SheetMarks:
    """What is known of one sheet before its values are read; positions count from 0."""

    name: str | None = None
    rows: int = 0
    columns: int = 0
    unvalued: set[CellPosition] = attrs.field(factory=set)
    errors: dict[CellPosition, str] = attrs.field(factory=dict)
    merged: list[tuple[int, int, int, int]] = attrs.field(factory=list)

    def reach(self, row: int, col: int) -> None:
        """Take note that the sheet extends at least to this cell; raise Unfit when too large."""
        if row < self.rows and col < self.columns:
            return
        self.rows = max(self.rows, row + 1)
        self.columns = max(self.columns, col + 1)
        check_sizes([self])

    def mark_unvalued(self, position: CellPosition) -> None:
        """Take note of a formula without its value; raise Unfit when there are too many."""
        self._require_few(self.unvalued, "formulas without their values")
        self.unvalued.add(position)

    def mark_error(self, position: CellPosition, text: str) -> None:
        """Take note of an error that stands in a cell; raise Unfit when there are too many."""
        self._require_few(self.errors, "cells with an error")
        self.errors[position] = text

    def mark_merged(self, span: tuple[int, int, int, int]) -> None:
        """Take note of merged cells; raise Unfit when there are too many."""
        self._require_few(self.merged, "merged cells")
        self.merged.append(span)

    def _require_few(self, marked: Sized, what: str) -> None:
        if len(marked) >= _MAX_MARKED:
            raise Unfit(f"found more than {_MAX_MARKED:,} {what}; {SAVE_AS}", self.name)


def require_few_sheets(count: int) -> None:
    """Refuse a workbook of very many sheets. Raises Unfit."""
    if count > _MAX_SHEETS:
        raise Unfit(f"found more than {_MAX_SHEETS:,} sheets; at most {_MAX_SHEETS:,} are read")


def check_sizes(marks: Iterable[SheetMarks]) -> None:
    """Refuse sheets that are too large, each by itself or all together. Raises Unfit."""
    cells = 0
    for mark in marks:
        cells += mark.rows * mark.columns
        fault = size_fault(mark.rows, mark.columns, cells)
        if fault is not None:
            raise Unfit(fault, mark.name)


class TextBudget:
    """Counts texts that many cells refer to: a long one, repeated, would fill the memory."""

    def __init__(self) -> None:
        self._left = _MAX_TEXT

    def spend(self, length: int) -> None:
        """Count one more text of this length. Raises Damaged when it is too much."""
        self._left -= length
        if self._left < 0:
            raise Damaged(f"its cells repeat more than {_MAX_TEXT // 1_000_000} MB of text")


def counted(number: str) -> int | None:
    """Return a number from 1 to the last row a sheet can have; None for any other text."""
    if not number.isdecimal() or not 0 < int(number[:8]) <= _LAST_ROW:
        return None
    return int(number)
