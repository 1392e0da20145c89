"""Workbooks as grids: XLSX and XLSM, ODS, and the old XLS.

The cells are read by python-calamine. It leaves a cell empty when the cell holds an error or a
formula without a computed value, and it believes whatever sizes a file claims. So each workbook is
gone through once beforehand: how large every sheet is, which cells are not what they seem, and
whether the file is fit to be read at all. Of an archive only the parts that were checked are
handed on.
"""

from __future__ import annotations

import contextlib
import io
import math
import posixpath
import re
import struct
import zipfile
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from datetime import date, datetime, time, timedelta
from xml.parsers import expat

import attrs
import python_calamine

from bankside.gauging.faults import InputRefused
from bankside.sheets.grid import (
    MAX_COLUMNS,
    CellValue,
    Grid,
    error_literal,
    padded_rows,
    quoted,
    refusal,
    size_fault,
)

__all__ = ["read_ole2", "read_zip"]

_MAX_UNPACKED_BYTES = 256 * 1024 * 1024
_MAX_RATIO = 250
_RATIO_COUNTS_FROM = 1024 * 1024
_MAX_ENTRIES = 10_000
_MAX_TEXT = 256 * 1024 * 1024
_CHUNK = 1024 * 1024
_LAST_ROW = 1_048_576

_SAVE_AS = "the table saved as XLSX or CSV would be right"
_PASSWORD = "found a workbook protected by a password; one saved without it would be right"
_DAMAGED = "found a damaged or incomplete workbook"

Position = tuple[int, int]


class _Unfit(Exception):
    """The workbook cannot be read; the text is the sentence to give."""


class _Damaged(_Unfit):
    """The workbook contradicts itself or ends too early; the reason goes into the sentence."""

    def __init__(self, reason: str) -> None:
        super().__init__(f"{_DAMAGED} ({reason}); {_SAVE_AS}")


@attrs.define
class _Marks:
    """What is known of one sheet before its values are read; positions count from 0."""

    rows: int = 0
    columns: int = 0
    unvalued: set[Position] = attrs.field(factory=set)
    errors: dict[Position, str] = attrs.field(factory=dict)
    merged: list[tuple[int, int, int, int]] = attrs.field(factory=list)

    def reach(self, row: int, col: int) -> None:
        """Take note that the sheet extends at least to this cell; refuse it when too large."""
        if row < self.rows and col < self.columns:
            return
        self.rows = max(self.rows, row + 1)
        self.columns = max(self.columns, col + 1)
        _check_size([self])


def _check_size(marks: Iterable[_Marks]) -> None:
    """Refuse sheets that are too large, each by itself or all together."""
    cells = 0
    for mark in marks:
        cells += mark.rows * mark.columns
        fault = size_fault(mark.rows, mark.columns, cells)
        if fault is not None:
            raise _Unfit(fault)


def read_zip(data: bytes, file: str, sheet: str | None) -> tuple[Grid, ...]:
    """Read the sheets of a workbook that is a ZIP archive (XLSX, XLSM or ODS).

    `sheet` picks one by name. Raises InputRefused.
    """
    with _one_sentence_for_every_error(file):
        parts = _checked_parts(data)
        content = parts.get("content.xml")
        marks = _xlsx_marks(parts) if content is None else _ods_marks(content)
        return _grids(_packed(parts), file, sheet, marks)


def read_ole2(data: bytes, file: str, sheet: str | None) -> tuple[Grid, ...]:
    """Read the sheets of an old binary workbook (XLS). `sheet` picks one by name.

    Raises InputRefused.
    """
    with _one_sentence_for_every_error(file):
        streams = _Ole2(data)
        if "EncryptedPackage" in streams.names:
            raise _Unfit(_PASSWORD)
        name = next((name for name in ("Workbook", "Book") if name in streams.names), None)
        if name is None:
            kind = "a Word document" if "WordDocument" in streams.names else "an Office file"
            raise _Unfit(f"found {kind} that is no workbook; {_SAVE_AS}")
        return _grids(data, file, sheet, _xls_marks(streams.read(name)))


@contextlib.contextmanager
def _one_sentence_for_every_error(file: str) -> Iterator[None]:
    """Turn whatever goes wrong with a workbook into InputRefused with one sentence."""
    try:
        yield
    except InputRefused:
        raise
    except _Unfit as error:
        raise refusal(file, str(error)) from error
    except python_calamine.PasswordError as error:
        raise refusal(file, _PASSWORD) from error
    except MemoryError as error:
        raise refusal(file, f"found a workbook too large for this machine; {_SAVE_AS}") from error
    except BaseException as error:
        # A broken file can make three foreign readers (archive, XML, cells) fail in ways that they
        # do not list. A panic inside the compiled one is no Exception, so it is told by its name.
        if not isinstance(error, Exception) and type(error).__name__ != "PanicException":
            raise
        raise refusal(file, str(_Damaged(quoted(str(error))))) from error


# Values, by calamine


def _grids(data: bytes, file: str, sheet: str | None, marks: Sequence[_Marks]) -> tuple[Grid, ...]:
    """Return the grids of a checked workbook."""
    _check_size(marks)
    with python_calamine.CalamineWorkbook.from_filelike(io.BytesIO(data)) as book:
        return _grids_of_book(book, file, sheet, marks)


def _grids_of_book(
    book: python_calamine.CalamineWorkbook,
    file: str,
    sheet: str | None,
    marks: Sequence[_Marks],
) -> tuple[Grid, ...]:
    sheets = [
        (index, meta)
        for index, meta in enumerate(book.sheets_metadata)
        if meta.typ == python_calamine.SheetTypeEnum.WorkSheet
    ]
    if len(book.sheets_metadata) != len(marks):
        raise _Damaged("it names sheets it does not hold")
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


def _grid(sheet: python_calamine.CalamineSheet, file: str, hidden: bool, marks: _Marks) -> Grid:
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
    filled = padded_rows(rows, marks.unvalued | set(errors))
    while filled and not filled[-1]:
        filled = filled[:-1]
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


# ZIP archives


def _checked_parts(data: bytes) -> dict[str, bytes]:
    """Return the XML parts of a workbook, unpacked under a limit and free of document types."""
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        entries = archive.infolist()
        if len(entries) > _MAX_ENTRIES:
            raise _Unfit(f"found an archive of more than {_MAX_ENTRIES:,} parts; {_SAVE_AS}")
        names = [entry.filename.casefold() for entry in entries]
        if len(set(names)) < len(names):
            raise _Damaged("a part is there twice")
        if any(entry.flag_bits & 1 for entry in entries):
            raise _Unfit(_PASSWORD)
        kind = _kind_of_no_workbook(archive, set(names))
        if kind is not None:
            raise _Unfit(f"found {kind}; {_SAVE_AS}")
        parts: dict[str, bytes] = {}
        left = _MAX_UNPACKED_BYTES
        for entry in entries:
            if _is_needed(entry.filename):
                parts[entry.filename] = _unpacked(archive, entry, left)
                left -= len(parts[entry.filename])
    for name, part in parts.items():
        if name != "mimetype":
            _parse(part, {}, name)
    return parts


def _kind_of_no_workbook(archive: zipfile.ZipFile, names: set[str]) -> str | None:
    """Return what an archive is when it is no workbook that can be read, or None."""
    if "xl/workbook.xml" in names:
        return None
    if "mimetype" in names and "content.xml" in names:
        with archive.open("mimetype") as stream:
            kind = stream.read(100).decode("ascii", "replace")
        is_sheet = kind.startswith("application/vnd.oasis.opendocument.spreadsheet")
        return None if is_sheet else "an OpenDocument file that is no spreadsheet"
    for start, kind in (
        ("xl/workbook.bin", "a binary workbook (XLSB)"),
        ("word/", "a Word document"),
        ("ppt/", "a presentation"),
        ("index/", "a Numbers workbook"),
    ):
        if any(name.startswith(start) for name in names):
            return kind
    return "a ZIP archive that is no workbook"


def _is_needed(name: str) -> bool:
    """Return whether a part is handed on; pictures, macros and links to other files are not."""
    lowered = name.casefold()
    if "externallinks/" in lowered:
        return False
    return lowered.endswith((".xml", ".rels")) or name == "mimetype"


def _unpacked(archive: zipfile.ZipFile, entry: zipfile.ZipInfo, left: int) -> bytes:
    """Return one part, counting the bytes that really come out."""
    if entry.compress_type not in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED):
        raise _Damaged("a part is packed in a way that workbooks do not use")
    chunks: list[bytes] = []
    size = 0
    with archive.open(entry) as stream:
        while chunk := stream.read(_CHUNK):
            size += len(chunk)
            bloated = size > _RATIO_COUNTS_FROM and size > _MAX_RATIO * entry.compress_size
            if size > left or bloated:
                limit = _MAX_UNPACKED_BYTES // (1024 * 1024)
                raise _Unfit(
                    f"found a workbook that unpacks to far more than it should; at most {limit} "
                    f"MB, and {_MAX_RATIO} times its packed size, are read: {_SAVE_AS}"
                )
            chunks.append(chunk)
    return b"".join(chunks)


def _packed(parts: Mapping[str, bytes]) -> bytes:
    """Return an archive of exactly these parts, so that what is read is what was checked."""
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_STORED) as archive:
        for name, part in parts.items():
            archive.writestr(zipfile.ZipInfo(name), part)
    return packed.getvalue()


def _parse(part: bytes, handlers: Mapping[str, object], name: str) -> None:
    """Run an XML part through handlers; refuse document types, and so every entity of its own."""

    def refuse_document_type(*_: object) -> None:
        raise _Damaged(f"{name} declares a document type, which no workbook does")

    parser = expat.ParserCreate(namespace_separator=" ")
    parser.buffer_text = True
    parser.StartDoctypeDeclHandler = refuse_document_type
    for handler, function in handlers.items():
        setattr(parser, handler, function)
    parser.Parse(part, True)


def _local(name: str) -> str:
    """Return an XML name without its namespace."""
    return name.rpartition(" ")[2]


# XLSX

_REFERENCE = re.compile(r"([A-Z]{1,3})([1-9]\d{0,6})")


def _xlsx_marks(parts: Mapping[str, bytes]) -> list[_Marks]:
    """Return what is known of each sheet, in the workbook's order."""
    by_name = {name.casefold(): part for name, part in parts.items()}
    lengths = _shared_text_lengths(by_name.get("xl/sharedstrings.xml"))
    budget = _TextBudget()
    marks: list[_Marks] = []
    for target in _sheet_targets(by_name):
        part = by_name.get(target.casefold())
        if part is None:
            raise _Damaged(f"{target} is missing")
        scan = _XlsxScan(lengths, budget)
        _parse(part, scan.handlers(), target)
        marks.append(scan.marks)
    return marks


def _sheet_targets(by_name: Mapping[str, bytes]) -> list[str]:
    """Return the part of each sheet, in the workbook's order."""
    relations: dict[str, str] = {}
    sheets: list[str] = []

    def relation(name: str, attributes: dict[str, str]) -> None:
        if _local(name) == "Relationship":
            target = attributes.get("Target", "")
            inside = target[1:] if target.startswith("/") else f"xl/{target}"
            relations[attributes.get("Id", "")] = posixpath.normpath(inside)

    def sheet(name: str, attributes: dict[str, str]) -> None:
        if _local(name) == "sheet":
            ids = [value for key, value in attributes.items() if key.endswith(" id")]
            sheets.append(ids[0] if ids else "")

    for part, handler in (("xl/_rels/workbook.xml.rels", relation), ("xl/workbook.xml", sheet)):
        if part not in by_name:
            raise _Damaged(f"{part} is missing")
        _parse(by_name[part], {"StartElementHandler": handler}, part)
    missing = [name for name in sheets if name not in relations]
    if missing or not sheets:
        raise _Damaged("it names no sheet, or one it does not hold")
    return [relations[name] for name in sheets]


def _shared_text_lengths(part: bytes | None) -> list[int]:
    """Return the length of each text that cells refer to by number."""
    lengths: list[int] = []
    if part is None:
        return lengths

    def start(name: str, _: object) -> None:
        if _local(name) == "si":
            lengths.append(0)

    def text(data: str) -> None:
        if lengths:
            lengths[-1] += len(data)

    _parse(part, {"StartElementHandler": start, "CharacterDataHandler": text}, "sharedStrings.xml")
    return lengths


class _TextBudget:
    """Counts texts that many cells refer to: a long one, repeated, would fill the memory."""

    def __init__(self) -> None:
        self._left = _MAX_TEXT

    def spend(self, length: int) -> None:
        self._left -= length
        if self._left < 0:
            raise _Damaged(f"its cells repeat more than {_MAX_TEXT // 1_000_000} MB of text")


class _XlsxScan:
    """Goes through one sheet's XML: how far it extends, its errors, its formulas without value."""

    def __init__(self, lengths: Sequence[int], budget: _TextBudget) -> None:
        self.marks = _Marks()
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
        local = _local(name)
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
        if self._in_value:
            self._text += data

    def _end(self, name: str) -> None:
        local = _local(name)
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
            self.marks.errors[position] = self._text.strip() or "#VALUE!"
        elif self._type == "s":
            self._budget.spend(self._shared_length())
        elif self._formula and not self._text and not self._is_empty_text():
            self.marks.unvalued.add(position)

    def _is_empty_text(self) -> bool:
        """Return whether the value is there and is a text without characters."""
        return self._type == "str" and self._has_value

    def _shared_length(self) -> int:
        number = self._text.strip()
        if not number.isdecimal() or int(number[:9]) >= len(self._lengths):
            raise _Damaged(f"a cell in row {self._row + 1} refers to a text that is not there")
        return self._lengths[int(number[:9])]


def _row_index(number: str) -> int:
    if not number.isdecimal() or not 0 < int(number[:8]) <= _LAST_ROW:
        raise _Damaged(f"{quoted(number)} is no row number")
    return int(number) - 1


def _position(reference: str) -> Position:
    """Return the indexes of a cell reference such as B3."""
    match = _REFERENCE.fullmatch(reference)
    if match is None:
        raise _Damaged(f"{quoted(reference)} is no cell reference")
    col = 0
    for letter in match[1]:
        col = 26 * col + ord(letter) - ord("A") + 1
    return _row_index(match[2]), col - 1


# ODS


def _ods_marks(content: bytes) -> list[_Marks]:
    """Return what is known of each sheet of an OpenDocument workbook, in its order."""
    scan = _OdsScan()
    handlers = {
        "StartElementHandler": scan.start,
        "EndElementHandler": scan.end,
        "CharacterDataHandler": scan.characters,
    }
    _parse(content, handlers, "content.xml")
    return scan.sheets


class _OdsScan:
    """Goes through the sheets' XML, in which rows and cells carry how often they are repeated."""

    def __init__(self) -> None:
        self.sheets: list[_Marks] = []
        self._row = self._col = 0
        self._row_repeat = self._col_repeat = 1
        self._cell: dict[str, str] | None = None
        self._text: list[str] = []
        self._budget = _TextBudget()

    def start(self, name: str, attributes: dict[str, str]) -> None:
        local = _local(name)
        if local == "table" and ":table:" in name:
            _check_size(self.sheets)
            self.sheets.append(_Marks())
            self._row = 0
        elif local == "table-row":
            self._row_repeat = _repeat(attributes, "number-rows-repeated")
            self._col = 0
        elif local in ("table-cell", "covered-table-cell"):
            self._cell = {_local(key): value for key, value in attributes.items()}
            self._col_repeat = _repeat(attributes, "number-columns-repeated")
            self._text = []

    def characters(self, data: str) -> None:
        if self._cell is not None:
            self._text.append(data)

    def end(self, name: str) -> None:
        local = _local(name)
        if local == "table-row":
            self._row += self._row_repeat
        elif local in ("table-cell", "covered-table-cell") and self._cell is not None:
            self._end_cell(self._cell)
            self._col += self._col_repeat
            self._cell = None

    def _end_cell(self, cell: Mapping[str, str]) -> None:
        if not self.sheets:
            raise _Damaged("a cell stands outside any sheet")
        marks = self.sheets[-1]
        text = "".join(self._text).strip()
        kind = cell.get("value-type")
        formula = "formula" in cell
        if kind is None and not text and not formula:
            self._note_merged(cell, marks)
            return
        last_row = self._row + self._row_repeat - 1
        last_col = self._col + self._col_repeat - 1
        marks.reach(last_row, last_col)
        self._budget.spend(len(text) * self._row_repeat * self._col_repeat)
        self._note_merged(cell, marks)
        error = error_literal(text) or (text if text.startswith("Err:") else None)
        if not formula or (error is None and (kind is not None or text)):
            return
        for row in range(self._row, last_row + 1):
            for col in range(self._col, last_col + 1):
                if error is None:
                    marks.unvalued.add((row, col))
                else:
                    marks.errors[row, col] = error

    def _note_merged(self, cell: Mapping[str, str], marks: _Marks) -> None:
        down = _repeat(cell, "number-rows-spanned")
        across = _repeat(cell, "number-columns-spanned")
        if (down, across) != (1, 1):
            marks.merged.append(
                (self._row, self._col, self._row + down - 1, self._col + across - 1)
            )


def _repeat(attributes: Mapping[str, str], local: str) -> int:
    """Return the number in an attribute; 1 when it is absent."""
    for name, value in attributes.items():
        if _local(name) == local:
            if not value.isdecimal() or not 0 < int(value[:8]) <= _LAST_ROW:
                raise _Damaged(f"{quoted(value)} is no number of rows or columns")
            return int(value)
    return 1


# XLS: streams inside OLE2, records (BIFF) inside a stream

_END_OF_CHAIN = 0xFFFFFFFA  # this and above: no further sector
_ERROR_CODES = {
    0x00: "#NULL!",
    0x07: "#DIV/0!",
    0x0F: "#VALUE!",
    0x17: "#REF!",
    0x1D: "#NAME?",
    0x24: "#NUM!",
    0x2A: "#N/A",
}
_BOF, _EOF, _BOUNDSHEET, _FILEPASS, _DIMENSIONS = 0x0809, 0x000A, 0x0085, 0x002F, 0x0200
_FORMULA, _BOOL_OR_ERROR, _SEVERAL_NUMBERS = 0x0006, 0x0205, 0x00BD
_ONE_VALUE = frozenset({0x0203, 0x0204, 0x00D6, 0x00FD, 0x027E, _FORMULA, _BOOL_OR_ERROR})
_LAST_OLD_ROW = 65_536
_NO_RESULT = 3
_RESULT_IS_ERROR = 2


class _Ole2:
    """The streams of an OLE2 file, read with every chain of sectors kept finite."""

    def __init__(self, data: bytes) -> None:
        self._data = data
        if len(data) < 512:
            raise _Damaged("its header is cut off")
        shift, mini_shift = struct.unpack_from("<HH", data, 30)
        if shift not in (9, 12) or mini_shift != 6:
            raise _Damaged("its header is wrong")
        self._size, self._mini_size = 1 << shift, 1 << mini_shift
        first, _, self._cutoff, first_mini = struct.unpack_from("<4I", data, 48)
        self._fat = self._allocation_table()
        self._mini_fat = _numbers(self._chain(first_mini, self._fat, self._sector))
        self.names: dict[str, tuple[int, int]] = {}
        directory = self._chain(first, self._fat, self._sector)
        if len(directory) % 128:
            raise _Damaged("it ends too early")
        for start in range(0, len(directory), 128):
            entry = directory[start : start + 128]
            length, kind = struct.unpack_from("<HB", entry, 64)
            sector, size = struct.unpack_from("<II", entry, 116)
            name = entry[: max(min(length, 64) - 2, 0)].decode("utf-16-le", "replace")
            if kind in (2, 5):
                self.names.setdefault("" if kind == 5 else name, (sector, size))

    def read(self, name: str) -> bytes:
        """Return the content of one stream."""
        first, size = self.names[name]
        if size >= self._cutoff:
            content = self._chain(first, self._fat, self._sector)
        else:
            root = self._chain(self.names.get("", (_END_OF_CHAIN, 0))[0], self._fat, self._sector)
            step = self._mini_size
            content = self._chain(
                first, self._mini_fat, lambda number: root[number * step : (number + 1) * step]
            )
        if len(content) < size:
            raise _Damaged("it ends too early")
        return content[:size]

    def _allocation_table(self) -> list[int]:
        """Return for each sector the number of the one that follows it."""
        count, _, _, _, _, _, following, _ = struct.unpack_from("<8I", self._data, 44)
        sectors = list(struct.unpack_from("<109I", self._data, 76))
        for _ in range(len(self._data) // self._size):
            if following >= _END_OF_CHAIN:
                break
            *more, following = _numbers(self._sector(following))
            sectors.extend(more)
        used = [number for number in sectors[:count] if number < _END_OF_CHAIN]
        return _numbers(b"".join(self._sector(number) for number in used))

    def _sector(self, number: int) -> bytes:
        start = (number + 1) * self._size
        if start >= len(self._data):
            raise _Damaged("it ends too early")
        return self._data[start : start + self._size]

    def _chain(self, first: int, table: Sequence[int], sector: Callable[[int], bytes]) -> bytes:
        """Return the sectors of a chain, one after the other."""
        content: list[bytes] = []
        number = first
        while number < _END_OF_CHAIN:
            if number >= len(table) or len(content) > len(table):
                raise _Damaged("a chain of sectors leads nowhere")
            content.append(sector(number))
            number = table[number]
        return b"".join(content)


def _numbers(data: bytes) -> list[int]:
    count = len(data) // 4
    return list(struct.unpack_from(f"<{count}I", data))


def _xls_marks(stream: bytes) -> list[_Marks]:
    """Return what is known of each sheet of an old workbook, in its order."""
    offsets: list[int] = []
    for kind, payload in _records_from(stream, 0):
        if kind == _FILEPASS:
            raise _Unfit(_PASSWORD)
        if kind == _BOUNDSHEET:
            offsets.append(struct.unpack_from("<I", payload)[0])
    blanks: list[tuple[_Marks, Position]] = []
    computed = False
    sheets: list[_Marks] = []
    for offset in offsets:
        marks = _Marks()
        for kind, payload in _records_from(stream, offset):
            result = _note_record(marks, kind, payload)
            if result == _NO_RESULT:
                blanks.append((marks, struct.unpack_from("<HH", payload)))
            computed = computed or result not in (None, _NO_RESULT)
        sheets.append(marks)
    if not computed:
        # "No result" is also how an empty text is kept. Only where no formula at all has a result
        # was the workbook written by a program that computes nothing.
        for marks, position in blanks:
            marks.unvalued.add(position)
    return sheets


def _records_from(stream: bytes, offset: int) -> Iterator[tuple[int, bytes]]:
    """Yield the records of one part of the workbook stream; of charts inside it only extents."""
    depth = 0
    while True:
        if offset + 4 > len(stream):
            raise _Damaged("it ends too early")
        kind, length = struct.unpack_from("<HH", stream, offset)
        payload = stream[offset + 4 : offset + 4 + length]
        offset += 4 + length
        if kind == _BOF:
            depth += 1
        elif kind == _EOF:
            depth -= 1
        elif depth == 1 or kind == _DIMENSIONS:
            yield kind, payload
        if depth < 1:
            return


def _check_claim(payload: bytes) -> None:
    """Refuse an impossible extent: memory is set aside for it before any cell is read."""
    layout = "<IIHH" if len(payload) == 14 else "<HHHH"
    first_row, end_row, _, end_col = struct.unpack_from(layout, payload)
    backwards = end_row > 0 and end_col > 0 and first_row >= end_row
    if backwards or first_row > _LAST_OLD_ROW or end_row > _LAST_OLD_ROW or end_col > 256:
        raise _Damaged("a sheet claims more cells than there can be")


def _note_record(marks: _Marks, kind: int, payload: bytes) -> int | None:
    """Note what one record says; return what kind of result a formula keeps, None for others."""
    if kind == _DIMENSIONS:
        _check_claim(payload)
        return None
    if kind == _SEVERAL_NUMBERS:
        row, last_col = struct.unpack_from("<H", payload)[0], struct.unpack("<H", payload[-2:])[0]
        marks.reach(row, last_col)
    if kind not in _ONE_VALUE:
        return None
    row, col = struct.unpack_from("<HH", payload)
    marks.reach(row, col)
    if kind == _BOOL_OR_ERROR and payload[7:8] == b"\x01":
        marks.errors[row, col] = _ERROR_CODES.get(payload[6], "#VALUE!")
    if kind != _FORMULA:
        return None
    if payload[12:14] != b"\xff\xff":
        return 0
    if payload[6] == _RESULT_IS_ERROR:
        marks.errors[row, col] = _ERROR_CODES.get(payload[8], "#VALUE!")
    return payload[6]
