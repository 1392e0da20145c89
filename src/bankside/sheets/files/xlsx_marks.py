"""XLSX and XLSM: how large each sheet is, and where its errors and unvalued formulas are."""

from __future__ import annotations

import posixpath
import re
from collections.abc import Mapping, Sequence

from bankside.sheets.files.grid import quoted
from bankside.sheets.files.sheet_marks import (
    CellPosition,
    SheetMarks,
    TextBudget,
    counted,
    require_few_sheets,
)
from bankside.sheets.files.workbook_faults import Damaged
from bankside.sheets.files.xml_parts import local_name, parse_part

__all__ = ["xlsx_marks"]

_ENOUGH = 100
_REFERENCE = re.compile(r"([A-Z]{1,3})([1-9]\d{0,6})")


def xlsx_marks(parts: Mapping[str, bytes]) -> list[SheetMarks]:
    """Return what is known of each sheet, in the workbook's order. Raises Unfit."""
    by_name = {name.casefold(): part for name, part in parts.items()}
    lengths = _shared_text_lengths(by_name.get("xl/sharedstrings.xml"))
    budget = TextBudget()
    marks: list[SheetMarks] = []
    for sheet, target in _sheet_targets(by_name):
        part = by_name.get(target.casefold())
        if part is None:
            raise Damaged(f"{target} is missing")
        scan = _XlsxScan(lengths, budget)
        scan.marks.name = sheet
        parse_part(part, scan.handlers(), target)
        marks.append(scan.marks)
    return marks


def _sheet_targets(by_name: Mapping[str, bytes]) -> list[tuple[str, str]]:
    """Return name and part of each sheet, in the workbook's order."""
    relations: dict[str, str] = {}
    sheets: list[tuple[str, str]] = []

    def relation(name: str, attributes: dict[str, str]) -> None:
        if local_name(name) == "Relationship":
            target = attributes.get("Target", "")
            inside = target[1:] if target.startswith("/") else f"xl/{target}"
            relations[attributes.get("Id", "")] = posixpath.normpath(inside)

    def sheet(name: str, attributes: dict[str, str]) -> None:
        if local_name(name) == "sheet":
            ids = [value for key, value in attributes.items() if key.endswith(" id")]
            sheets.append((attributes.get("name", ""), ids[0] if ids else ""))

    for part, handler in (("xl/_rels/workbook.xml.rels", relation), ("xl/workbook.xml", sheet)):
        if part not in by_name:
            raise Damaged(f"{part} is missing")
        parse_part(by_name[part], {"StartElementHandler": handler}, part)
    require_few_sheets(len(sheets))
    missing = [key for _, key in sheets if key not in relations]
    if missing or not sheets:
        raise Damaged("it names no sheet, or one it does not hold")
    targets = [relations[key] for _, key in sheets]
    # Each would be gone through by itself: one large part could stand for very many.
    if len({target.casefold() for target in targets}) < len(targets):
        raise Damaged("two of its sheets are one")
    return [(name, target) for (name, _), target in zip(sheets, targets, strict=True)]


def _shared_text_lengths(part: bytes | None) -> list[int]:
    """Return the length of each text that cells refer to by number."""
    lengths: list[int] = []
    if part is None:
        return lengths

    def start(name: str, _: object) -> None:
        if local_name(name) == "si":
            lengths.append(0)

    def text(data: str) -> None:
        if lengths:
            lengths[-1] += len(data)

    parse_part(
        part, {"StartElementHandler": start, "CharacterDataHandler": text}, "sharedStrings.xml"
    )
    return lengths


class _XlsxScan:
    """Goes through one sheet's XML: how far it extends, its errors, its formulas without value."""

    def __init__(self, lengths: Sequence[int], budget: TextBudget) -> None:
        self.marks = SheetMarks()
        self._lengths, self._budget = lengths, budget
        self._row = self._col = -1
        self._type: str | None = None
        self._formula = self._has_value = self._in_value = False
        self._text = ""

    def handlers(self) -> dict[str, object]:
        """Return the functions that the XML parser calls."""
        return {
            "StartElementHandler": self._start,
            "EndElementHandler": self._end,
            "CharacterDataHandler": self._characters,
        }

    def _start(self, name: str, attributes: dict[str, str]) -> None:
        local = local_name(name)
        if local == "v":
            self._has_value = self._in_value = True
        elif local == "c":
            self._start_cell(attributes)
        elif local == "row":
            number = attributes.get("r")
            self._row = self._row + 1 if number is None else _row_index(number)
            self._col = -1
        elif local == "f":
            self._formula = True
        elif local == "is":
            self._has_value = True
            self._text = "inline"

    def _start_cell(self, attributes: dict[str, str]) -> None:
        reference = attributes.get("r")
        if reference is None:
            self._col += 1
        else:
            self._row, self._col = _position(reference)
        self._type = attributes.get("t")
        self._formula = self._has_value = False
        self._text = ""

    def _characters(self, data: str) -> None:
        # Of a long text its beginning is enough: it is no number of a text, and no error.
        if self._in_value and len(self._text) < _ENOUGH:
            self._text += data[:_ENOUGH]

    def _end(self, name: str) -> None:
        local = local_name(name)
        if local == "v":
            self._in_value = False
        elif local == "c":
            self._end_cell()

    def _end_cell(self) -> None:
        if not (self._has_value or self._formula):
            return
        position = (self._row, self._col)
        self.marks.reach(*position)
        if self._type == "e":
            self.marks.mark_error(position, self._text.strip() or "#VALUE!")
        elif self._type == "s":
            self._budget.spend(self._shared_length())
        elif self._formula and not self._text and not self._is_empty_text():
            self.marks.mark_unvalued(position)

    def _is_empty_text(self) -> bool:
        """Return whether the value is there and is a text without characters."""
        return self._type == "str" and self._has_value

    def _shared_length(self) -> int:
        number = self._text.strip()
        if not number.isdecimal() or int(number[:9]) >= len(self._lengths):
            raise Damaged(f"a cell in row {self._row + 1} refers to a text that is not there")
        return self._lengths[int(number[:9])]


def _row_index(number: str) -> int:
    row = counted(number)
    if row is None:
        raise Damaged(f"{quoted(number)} is no row number")
    return row - 1


def _position(reference: str) -> CellPosition:
    """Return the indexes of a cell reference such as B3."""
    match = _REFERENCE.fullmatch(reference)
    if match is None:
        raise Damaged(f"{quoted(reference)} is no cell reference")
    col = 0
    for letter in match[1]:
        col = 26 * col + ord(letter) - ord("A") + 1
    return _row_index(match[2]), col - 1
