"""Text files as grids: character set, separator, rows.

Nothing is guessed between two readings that fit equally well: then the sentence names both and the
option that settles it. Lines above a table ("# key: value", "key: value", a title) neither decide
the separator nor are cut up by it.
"""

from __future__ import annotations

import codecs
import contextlib
import csv
import io
import re
from collections import Counter
from collections.abc import Iterator, Sequence

from bankside.gauging.faults import Fault, InputRefused
from bankside.sheets.grid import (
    CellValue,
    Grid,
    error_literal,
    padded_rows,
    quoted,
    refusal,
    size_fault,
)

__all__ = ["SEPARATOR_NAMES", "read_text"]

SEPARATOR_NAMES: dict[str, str] = {
    ",": "comma",
    ";": "semicolon",
    "\t": "tab",
    "|": "pipe",
    " ": "blank",
}
"""Separator → the name by which it is offered and asked for."""

_MARKS = (",", ";", "\t", "|")
_BLANKS = " "
_SAMPLE_LINES = 2000
_MOST_FAULTS = 20
_BLANKS_OUTWEIGH = 10  # times the best other separator: a few commas in prose above a table
_SEPARATOR_LINE = re.compile(r'"?sep=(.)"?[ \t]*', re.IGNORECASE)
_KEY_LINE = re.compile(r'\s*[^\W\d][^,;|\t:"]{0,60}:( |$)')
_HEAD_OF_NUMBERS = re.compile(r"#\s*[,;|\t]")
_DECIMAL_COMMA = re.compile(r"(?:(?<=\d)|(?<![^\s+-])),(?=\d)")
_NUMBER = re.compile(r"[+-]?(\d+([.,]\d*)?|[.,]\d+)")
_CONTROL = re.compile("[\x00-\x08\x0b\x0e-\x1f\x7f]")
_WIDE_BLANKS = re.compile(r"\t+|\s{2,}")
_ALL_NAMES = ", ".join(SEPARATOR_NAMES.values())


def read_text(data: bytes, file: str, separator: str | None, encoding: str | None) -> Grid:
    """Read the bytes of a text file as one grid of texts.

    `separator` (a sign, or one of SEPARATOR_NAMES) and `encoding` settle what else is found from
    the content. Cells are stripped of white space around them and never turned into numbers.
    Raises InputRefused.
    """
    text, found_encoding = _decoded(data, file, encoding)
    lines = list(io.StringIO(text, newline=""))
    mark = _separator_asked_for(separator, file)
    written = _SEPARATOR_LINE.fullmatch(lines[0].rstrip("\r\n")) if lines else None
    if written is not None and mark is None:
        mark = _separator_written(written[1], file)
    sample = _sample(lines[1 if written else 0 :])
    if not sample:
        raise refusal(file, "found no line with a table; a head and rows of values would be right")
    if mark is None:
        mark = _separator_found(sample, file)
    counts = Counter(len(record) for record in _records(sample, mark))
    counts.pop(1, None)
    if not counts:
        raise refusal(
            file,
            f"found no {SEPARATOR_NAMES[mark]} that separates cells; another of {_ALL_NAMES} by "
            "`--separator` would be right",
        )
    width = max(counts, key=lambda count: (counts[count], count))
    reader = _Reader(lines, mark, width, file)
    if written is not None:
        reader.take_whole_line()
    reader.read()
    return Grid(
        file=file,
        sheet=None,
        rows=padded_rows(reader.rows, set(reader.errors)),
        row_numbers=tuple(reader.numbers),
        cell_errors=reader.errors,
        separator=mark,
        encoding=found_encoding,
    )


# Character set


def _decoded(data: bytes, file: str, encoding: str | None) -> tuple[str, str]:
    """Return the text of the file and the name of its character set."""
    name = _encoding_of(data) if encoding is None else _encoding_asked_for(encoding, file)
    try:
        text = data.decode(name)
    except UnicodeDecodeError as error:
        row = data.count(b"\n", 0, error.start) + 1
        raise refusal(
            file,
            f"found a byte (number {error.start + 1}, near row {row}) that is no text in {name}; "
            "a text file, or its character set by `--encoding`, would be right",
        ) from error
    except (LookupError, ValueError) as error:
        raise refusal(file, f"could not be read as {name} ({error})") from error
    text = text.removeprefix("\ufeff").rstrip("\x1a")  # the end mark of old DOS programs
    control = _CONTROL.search(text)
    if control is not None:
        row = text.count("\n", 0, control.start()) + 1
        raise refusal(
            file, "found binary data; a text file (CSV), XLSX, XLS or ODS would be right", row=row
        )
    return text, name


def _encoding_of(data: bytes) -> str:
    """Return the character set by the first of these that fits: BOM, NULs, valid UTF-8, cp1252."""
    if data.startswith(codecs.BOM_UTF8):
        return "utf-8-sig"
    if data.startswith(codecs.BOM_UTF16_LE):
        return "utf-16-le"
    if data.startswith(codecs.BOM_UTF16_BE):
        return "utf-16-be"
    head = data[:4096]
    even, odd = head[0::2].count(0), head[1::2].count(0)
    half = len(head) // 2
    if odd > 0.6 * half and even < 0.1 * half:
        return "utf-16-le"
    if even > 0.6 * half and odd < 0.1 * half:
        return "utf-16-be"
    try:
        data.decode("utf-8")
    except UnicodeDecodeError:
        return "windows-1252"
    return "utf-8"


def _encoding_asked_for(encoding: str, file: str) -> str:
    try:
        codecs.lookup(encoding)
    except (LookupError, ValueError) as error:
        raise refusal(
            file,
            f"found {quoted(encoding)} for `--encoding`; a character set such as utf-8, "
            "windows-1252 or utf-16 would be right",
        ) from error
    return encoding


# Separator


def _separator_asked_for(separator: str | None, file: str) -> str | None:
    """Return the sign for a separator given as a sign or by name; None when none is given."""
    if separator is None or separator in SEPARATOR_NAMES:
        return separator
    asked = separator.strip().casefold().removesuffix("s")
    aliases = {name: mark for mark, name in SEPARATOR_NAMES.items()}
    aliases |= {"\\t": "\t", "space": _BLANKS}
    if asked not in aliases:
        raise refusal(
            file,
            f"found {quoted(separator)} for `--separator`; one of {_ALL_NAMES} would be right",
        )
    return aliases[asked]


def _separator_written(mark: str, file: str) -> str:
    if mark not in SEPARATOR_NAMES:
        raise refusal(
            file,
            f"found {quoted('sep=' + mark)}; the sign for one of {_ALL_NAMES} would be right",
            row=1,
        )
    return mark


def _sample(lines: Sequence[str]) -> list[str]:
    """Return the first lines that can belong to a table; all that say something if none can."""
    said = [line for line in lines[:_SAMPLE_LINES] if line.strip() and not _is_comment(line)]
    return [line for line in said if not _KEY_LINE.match(line)] or said


def _is_comment(line: str) -> bool:
    start = line.lstrip()
    return (
        start.startswith("#")
        and _HEAD_OF_NUMBERS.match(start) is None
        and error_literal(re.split(r"[,;|\s]", start, maxsplit=1)[0]) is None
    )


def _separator_found(sample: Sequence[str], file: str) -> str:
    """Return the separator by which most lines fall into as many cells as a line next to them.

    Lines count with their separators, and only while no cell holds another separator: a comma
    between digits is a decimal comma and may stand in a cell.
    """
    records = {mark: _records(sample, mark) for mark in _MARKS}
    blank_records = _records(sample, _BLANKS)
    blanks = _weight(blank_records, _BLANKS) if _holds_number(blank_records) else 0
    clean = {mark: _weight(records[mark], mark) for mark in _MARKS}
    if blanks > _BLANKS_OUTWEIGH * max(clean.values()):
        return _BLANKS
    if not any(clean.values()):
        clean = {mark: _weight(records[mark], mark, alone=True) for mark in _MARKS}
    if not any(clean.values()):
        clean = {mark: max(map(len, records[mark]), default=1) > 1 for mark in _MARKS}
    most = max(clean.values())
    if not most:
        raise refusal(
            file,
            "found a single column, or no separator that can be told; a table with a comma, "
            "semicolon, tab or pipe between its cells, or `--separator`, would be right",
        )
    # More than half as good is too good to be chance.
    return _only([mark for mark in _MARKS if 2 * clean[mark] > most], file)


def _only(marks: Sequence[str], file: str) -> str:
    if len(marks) == 1:
        return marks[0]
    names = [SEPARATOR_NAMES[mark] for mark in marks]
    options = " or ".join(f"`--separator {name}`" for name in names)
    raise refusal(
        file, f"found {' and '.join(names)} to fit equally well as separator; say which: {options}"
    )


def _records(lines: Sequence[str], mark: str) -> list[list[str]]:
    """Return the cells of sample lines, with no demand on quotation marks yet."""
    prepared = (_prepared(line, mark) for line in lines)
    reader = csv.reader(prepared, delimiter=mark, skipinitialspace=mark == _BLANKS)
    records: list[list[str]] = []
    with contextlib.suppress(csv.Error):  # a cell too long to be one; the reading proper says so
        records.extend(reader)
    return [record for record in records if record]


def _prepared(line: str, mark: str) -> str:
    return line.replace("\t", " ").strip() if mark == _BLANKS else line


def _weight(records: Sequence[Sequence[str]], mark: str, alone: bool = False) -> int:
    """Return how many separators stand in clean lines that have as many as a neighbour.

    With `alone`, the neighbours do not matter.
    """
    counts = [len(record) for record in records]
    weight = 0
    for index, record in enumerate(records):
        beside = counts[max(index - 1, 0) : index] + counts[index + 1 : index + 2]
        if (alone or counts[index] in beside) and all(_is_clean(cell, mark) for cell in record):
            weight += counts[index] - 1
    return weight


def _is_clean(cell: str, mark: str) -> bool:
    """Return whether a cell holds neither another separator nor two numbers."""
    if any(other in cell for other in ";\t|" if other != mark):
        return False
    if mark != "," and "," in cell and "," in _DECIMAL_COMMA.sub("", cell):
        return False
    parts = cell.split()
    return len(parts) < 2 or not all(_NUMBER.fullmatch(part) for part in parts)


def _holds_number(records: Sequence[Sequence[str]]) -> bool:
    return any(_NUMBER.fullmatch(cell) for record in records for cell in record)


# Rows


class _Reader:
    """Reads lines into rows of stripped cells, and knows on which line each row began."""

    def __init__(self, lines: Sequence[str], mark: str, width: int, file: str) -> None:
        self.rows: list[list[CellValue]] = []
        self.numbers: list[int] = []
        self.errors: dict[tuple[int, int], str] = {}
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
            skipinitialspace=self._mark == _BLANKS,
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
            yield _prepared(line, self._mark)

    def _is_whole_comment(self, line: str) -> bool:
        """A comment of as many cells as the table, without a colon, is the table's own head."""
        if not _is_comment(line):
            return False
        cells = _prepared(line, self._mark).split(None if self._mark == _BLANKS else self._mark)
        return ":" in line or len(cells) != self._width

    def _take(self, fields: list[str]) -> None:
        if self._mark == _BLANKS and len(fields) != self._width:
            fields = self._split_at_wide_blanks() or fields
        if self._is_whole_key_line(fields):
            fields = [self._lines[self._begun]]
        elif len(fields) == self._width:
            self._in_table = True
        elif self._mark == _BLANKS and self._in_table and len(fields) < self._width:
            self._note_short_row(fields)
        self._add(self._begun, fields)

    def _split_at_wide_blanks(self) -> list[str] | None:
        """Return the cells of a line such as a head of several words, if they are as many."""
        fields = _WIDE_BLANKS.split(self._lines[self._begun].strip())
        return fields if len(fields) == self._width else None

    def _is_whole_key_line(self, fields: list[str]) -> bool:
        """Return whether separators in this line belong to the value of a key."""
        if self._next > self._begun + 1 or not _KEY_LINE.match(self._lines[self._begun]):
            return False
        if self._mark == _BLANKS:
            return True
        rest = fields[1:]
        filled = any(field.strip() for field in rest)
        return not self._in_table and filled and not any(":" in field for field in rest)

    def _note_short_row(self, fields: list[str]) -> None:
        """Between blanks an empty cell leaves no trace, so which one is missing is unknown."""
        if len(self._short) < _MOST_FAULTS and fields and _NUMBER.fullmatch(fields[0]):
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
            error = error_literal(value)
            if error is not None:
                self.errors[row, col] = error
            values.append(value if value and error is None else None)
        self._cells += len(values)
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
