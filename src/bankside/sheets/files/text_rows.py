"""The lines of a text file as rows of cells, once the separator is known."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator, Sequence

from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.text_guard import unguarded
from bankside.sheets.files.grid import CellValue, error_literal, refusal, size_fault
from bankside.sheets.files.text_lines import BLANKS, csv_line, is_comment, is_key_line, is_number

__all__ = ["RowReader"]

_MOST_FAULTS = 20
_WIDE_BLANKS = re.compile(r"\t+|\s{2,}")


class RowReader:
    """Reads lines into rows of stripped cells, and knows on which line each row began."""

    def __init__(self, lines: Sequence[str], mark: str, width: int, file: str) -> None:
        self.rows: list[list[CellValue]] = []
        self.numbers: list[int] = []
        self.errors: dict[tuple[int, int], str] = {}
        self.widest = 0
        self._lines, self._mark, self._width, self._file = lines, mark, width, file
        self._next = 0  # index of the next line to be taken
        self._begun = 0  # index of the line on which the current row began
        self._between_rows = True
        self._in_table = False
        self._cells = 0
        self._short: list[Fault] = []

    def take_whole_line(self) -> None:
        """Take the next line as a row of one cell."""
        self._add(self._next, [self._lines[self._next]])
        self._next += 1

    def read(self) -> None:
        """Take all lines that are left."""
        reader = csv.reader(
            self._feed(),
            delimiter=self._mark,
            skipinitialspace=self._mark == BLANKS,
            strict=True,
        )
        while True:
            self._between_rows = True
            try:
                fields = next(reader, None)
            except csv.Error as error:
                raise self._refused_quotes(error) from error
            if fields is None:
                break
            self._take(fields)
        if self._short:
            raise InputRefused(self._short)

    def _feed(self) -> Iterator[str]:
        """Yield lines to the CSV reader, keeping comment lines between rows from it."""
        while self._next < len(self._lines):
            line = self._lines[self._next]
            if self._between_rows and line.lstrip()[:1] == "#" and self._is_whole_comment(line):
                self.take_whole_line()
                continue
            if self._between_rows:
                self._begun = self._next
                self._between_rows = False
            self._next += 1
            yield csv_line(line, self._mark)

    def _is_whole_comment(self, line: str) -> bool:
        """A comment of as many cells as the table, without a colon, is the table's own head."""
        if not is_comment(line):
            return False
        cells = csv_line(line, self._mark).split(None if self._mark == BLANKS else self._mark)
        return ":" in line or len(cells) != self._width

    def _take(self, fields: list[str]) -> None:
        if self._mark == BLANKS and len(fields) != self._width:
            fields = self._split_at_wide_blanks() or fields
        if self._is_whole_key_line(fields):
            fields = [self._lines[self._begun]]
        elif len(fields) == self._width:
            self._in_table = True
        elif self._mark == BLANKS and self._in_table and len(fields) < self._width:
            self._note_short_row(fields)
        self._add(self._begun, fields)

    def _split_at_wide_blanks(self) -> list[str] | None:
        """Return the cells of a line such as a head of several words, if they are as many."""
        fields = _WIDE_BLANKS.split(self._lines[self._begun].strip())
        return fields if len(fields) == self._width else None

    def _is_whole_key_line(self, fields: list[str]) -> bool:
        """Return whether separators in this line belong to the value of a key."""
        if self._next > self._begun + 1 or not is_key_line(self._lines[self._begun]):
            return False
        if self._mark == BLANKS:
            return True
        rest = fields[1:]
        filled = any(field.strip() for field in rest)
        # Inside a table a line as wide as the table is a row of it, whatever it begins with.
        apart = not self._in_table or len(fields) < self._width
        return apart and filled and not any(":" in field for field in rest)

    def _note_short_row(self, fields: list[str]) -> None:
        """Between blanks an empty cell leaves no trace, so which one is missing is unknown."""
        if len(self._short) < _MOST_FAULTS and fields and is_number(fields[0]):
            self._short.append(
                Fault(
                    f"found {len(fields)} values where the table has {self._width}, and blanks do "
                    "not tell which is missing; separators such as semicolons would be right",
                    file=self._file,
                    row=self._begun + 1,
                )
            )

    def _add(self, line_index: int, fields: list[str]) -> None:
        row = len(self.rows)
        values: list[CellValue] = []
        for col, field in enumerate(fields):
            value = field.strip()
            plain = unguarded(value)
            # A figure behind an apostrophe was none for whoever wrote it: it is asked about.
            value = value if is_number(plain) else plain
            error = error_literal(value)
            if error is not None:
                self.errors[row, col] = error
            values.append(value if value and error is None else None)
        self._cells += len(values)
        self.widest = max(self.widest, len(values))
        fault = size_fault(row + 1, len(values), self._cells)
        if fault is not None:
            raise refusal(self._file, fault, row=line_index + 1)
        self.rows.append(values)
        self.numbers.append(line_index + 1)

    def _refused_quotes(self, error: csv.Error) -> InputRefused:
        said = str(error)
        if "end of data" in said:
            message = "found a quotation mark that is never closed; one at the cell's end is right"
        elif "field larger" in said:
            message = (
                "found a cell of more than 100,000 characters; is a quotation mark not closed?"
            )
        else:
            message = (
                "found text after a closing quotation mark; a separator, or the quotation mark "
                "written twice inside the cell, would be right"
            )
        return refusal(self._file, message, row=self._begun + 1)
