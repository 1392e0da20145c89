"""Grids of cells: what any table is read into, and the one way in.

What a file is, is decided by its content and never by its name. Files that are no tables, or that
are larger than any table of gaugings can be, are refused here in one sentence.
"""

from __future__ import annotations

import os
import stat
from collections.abc import Mapping
from datetime import date, datetime, time, timedelta
from pathlib import Path
from types import MappingProxyType

import attrs

from bankside.gauging.faults import Fault, InputRefused

__all__ = [
    "MAX_CELLS",
    "MAX_COLUMNS",
    "MAX_FILE_BYTES",
    "MAX_ROWS",
    "CellValue",
    "Grid",
    "cell",
    "column_letter",
    "error_literal",
    "padded_rows",
    "quoted",
    "read_grids",
    "refusal",
    "size_fault",
]

CellValue = str | float | bool | datetime | date | time | timedelta | None
"""What one cell holds; None is an empty cell."""

MAX_FILE_BYTES = 64 * 1024 * 1024
MAX_ROWS = 200_000
MAX_COLUMNS = 500
MAX_CELLS = 5_000_000

_ERROR_LITERALS = frozenset(
    "#DIV/0! #N/A #NAME? #NULL! #NUM! #REF! #VALUE! #SPILL! #CALC! #GETTING_DATA".split()
)

_SIGNATURES: tuple[tuple[bytes, str], ...] = (
    (b"%PDF", "a PDF document"),
    (b"\x89PNG", "a PNG image"),
    (b"\xff\xd8\xff", "a JPEG image"),
    (b"GIF8", "a GIF image"),
    (b"II*\x00", "a TIFF image"),
    (b"MM\x00*", "a TIFF image"),
    (b"RIFF", "an image or a sound recording"),
    (b"\x1f\x8b", "a gzip archive"),
    (b"7z\xbc\xaf\x27\x1c", "a 7z archive"),
    (b"Rar!", "a RAR archive"),
    (b"SQLite format 3\x00", "a SQLite database"),
    (b"PAR1", "a Parquet file"),
    (b"{\\rtf", "a Rich Text document"),
)
_MARKUP: tuple[tuple[bytes, str], ...] = (
    (b"<!doctype html", "a web page (HTML)"),
    (b"<html", "a web page (HTML)"),
    (b"<table", "a web page (HTML)"),
    (b"<meta", "a web page (HTML)"),
    (b"<?xml", "an XML file"),
    (b"<!doctype", "an XML file"),
)
_OLE2 = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_TABLE_IS_RIGHT = "a table saved as XLSX, XLS, ODS or CSV would be right"
_NO_ERRORS: Mapping[tuple[int, int], str] = MappingProxyType({})


@attrs.frozen
class Grid:
    """The cells of one text file or of one sheet of a workbook, as they stand there.

    file: the file's name as shown to people, without its folder.
    sheet: the sheet's name; None for text files.
    rows: the cells, row by row. Rows may differ in length; a row without anything in it is an
        empty tuple, so that every row can be accounted for.
    row_numbers: for each of `rows`, its number in the file, from 1. For text files this is the
        line on which the row begins.
    merged: merged ranges as (first row, first column, last row, last column), indexes of `rows`
        from 0, inclusive; ranges of one cell and parts below the last row are left out.
    unvalued_formulas: (row, column) of formulas for which the file keeps no computed value; the
        value there is None.
    cell_errors: (row, column) → the error that stands in the cell, such as "#DIV/0!"; the value
        there is None.
    separator: text files: what separates the cells; " " stands for runs of blanks.
    encoding: text files: the character set by which the bytes were read, a name that
        `read_grids` takes.
    hidden: workbooks: whether the sheet is hidden.
    """

    file: str
    sheet: str | None
    rows: tuple[tuple[CellValue, ...], ...]
    row_numbers: tuple[int, ...]
    merged: tuple[tuple[int, int, int, int], ...] = ()
    unvalued_formulas: frozenset[tuple[int, int]] = frozenset()
    cell_errors: Mapping[tuple[int, int], str] = _NO_ERRORS
    separator: str | None = None
    encoding: str | None = None
    hidden: bool = False


def column_letter(index: int) -> str:
    """Return the letters of a column counted from 0: "A" for 0, "AA" for 26.

    Raises ValueError for a negative index.
    """
    if index < 0:
        raise ValueError("a column index must be 0 or more")
    letters = ""
    rest = index + 1
    while rest:
        rest, digit = divmod(rest - 1, 26)
        letters = chr(ord("A") + digit) + letters
    return letters


def cell(grid: Grid, row: int, col: int) -> CellValue:
    """Return the value at `row` and `col`, indexes from 0; None when there is no such cell."""
    if not 0 <= row < len(grid.rows) or not 0 <= col < len(grid.rows[row]):
        return None
    return grid.rows[row][col]


def read_grids(
    path: Path,
    separator: str | None = None,
    encoding: str | None = None,
    sheet: str | None = None,
) -> tuple[Grid, ...]:
    """Read every table in a file: one grid for a text file, one for each sheet of a workbook.

    Hidden sheets are among them, marked `hidden`; `sheet` picks one sheet by name, hidden or not.
    `separator` and `encoding` settle how a text file is read; workbooks have no use for them.
    Raises InputRefused, with one sentence, for everything that cannot be read as a table.
    """
    # These two import this module, so they are imported when the first file is read.
    from bankside.sheets.text import read_text
    from bankside.sheets.workbook import read_ole2, read_zip

    name = _shown_name(Path(path))
    data = _read_bytes(Path(path), name)
    if data.startswith((b"PK\x03\x04", b"PK\x05\x06", b"PK\x07\x08")):
        return read_zip(data, name, sheet)
    if data.startswith(_OLE2):
        return read_ole2(data, name, sheet)
    kind = _kind_of_no_table(data)
    if kind is not None:
        raise refusal(name, f"found {kind}; {_TABLE_IS_RIGHT}")
    if sheet is not None:
        raise refusal(name, f"found a text file, which has no sheet {quoted(sheet)}")
    return (read_text(data, name, separator, encoding),)


def refusal(
    file: str,
    message: str,
    sheet: str | None = None,
    row: int | None = None,
    column: str | None = None,
) -> InputRefused:
    """Return the error that says one thing about a file."""
    return InputRefused([Fault(message, file=file, sheet=sheet, row=row, column=column)])


def quoted(text: str) -> str:
    """Return a text from a file in quotation marks, on one line and at most 40 characters."""
    shown = "".join(char if char.isprintable() else " " for char in text)
    return f'"{shown if len(shown) <= 40 else shown[:37] + "…"}"'


def error_literal(text: str) -> str | None:
    """Return the error that a spreadsheet program writes into a failed cell, if `text` is one."""
    if not text.startswith("#"):
        return None
    upper = text.upper()
    return upper if upper in _ERROR_LITERALS else None


def size_fault(rows: int, columns: int, cells: int) -> str | None:
    """Return what is wrong with a table of this size, or None when it is not too large."""
    if rows > MAX_ROWS:
        return f"found more than {MAX_ROWS:,} rows; at most {MAX_ROWS:,} are read: split the file"
    if columns > MAX_COLUMNS:
        return f"found {columns:,} columns; at most {MAX_COLUMNS} are read: leave the others out"
    if cells > MAX_CELLS:
        return f"found {cells:,} cells or more; at most {MAX_CELLS:,} are read: split the file"
    return None


def padded_rows(
    rows: list[list[CellValue]], marked: set[tuple[int, int]]
) -> tuple[tuple[CellValue, ...], ...]:
    """Return rows cut after their last value, and long enough for every marked cell.

    A marked cell has no value and is still not empty, so its row must not look empty.
    """
    least = [0] * len(rows)
    for row, col in marked:
        if row >= len(least):
            least.extend([0] * (row + 1 - len(least)))
        least[row] = max(least[row], col + 1)
    padded: list[tuple[CellValue, ...]] = []
    for index, length in enumerate(least):
        values = rows[index] if index < len(rows) else []
        end = len(values)
        while end > length and values[end - 1] is None:
            end -= 1
        padded.append(tuple(values[:end]) + (None,) * (length - end))
    return tuple(padded)


def _shown_name(path: Path) -> str:
    """Return the file's name such that it can be printed on one line of any terminal."""
    name = path.name or str(path)
    readable = os.fsencode(name).decode("utf-8", "replace")
    return "".join(char if char.isprintable() else "?" for char in readable)


def _read_bytes(path: Path, name: str) -> bytes:
    """Return the content of an ordinary file that is neither empty nor too large."""
    try:
        status = path.stat()
        fault = _fault_in_status(status)
        if fault is not None:
            raise refusal(name, fault)
        with path.open("rb") as stream:
            data = stream.read(MAX_FILE_BYTES + 1)
    except FileNotFoundError as error:
        raise refusal(name, "found no such file; the path of a table would be right") from error
    except PermissionError as error:
        raise refusal(name, "found a file that you have no permission to read") from error
    except (OSError, ValueError) as error:  # ValueError: a NUL in the path
        if isinstance(error, InputRefused):
            raise
        reason = getattr(error, "strerror", None) or str(error)
        raise refusal(name, f"could not be opened ({reason})") from error
    fault = _fault_in_size(len(data))
    if fault is not None:
        raise refusal(name, fault)
    return data


def _fault_in_status(status: os.stat_result) -> str | None:
    if stat.S_ISDIR(status.st_mode):
        return f"found a folder; {_TABLE_IS_RIGHT}"
    if not stat.S_ISREG(status.st_mode):
        return "found a device or a pipe; an ordinary file would be right"
    return _fault_in_size(status.st_size)


def _fault_in_size(size: int) -> str | None:
    if size == 0:
        return f"found an empty file; {_TABLE_IS_RIGHT}"
    if size > MAX_FILE_BYTES:
        limit = MAX_FILE_BYTES // (1024 * 1024)
        return f"found more than {limit} MB; at most {limit} MB are read: split the file"
    return None


def _kind_of_no_table(data: bytes) -> str | None:
    """Return what a file is that is certainly no table, or None."""
    for signature, kind in _SIGNATURES:
        if data.startswith(signature):
            return kind
    head = (
        data[:4096].removeprefix(b"\xef\xbb\xbf").replace(b"\x00", b"").lstrip(b"\xff\xfe \t\r\n")
    )
    lowered = head.lower()
    for signature, kind in _MARKUP:
        if lowered.startswith(signature):
            return kind
    squeezed = b"".join(head[:200].split())
    if squeezed.startswith((b'{"', b"[{", b"[[", b"{}")):
        return "a JSON text"
    return None
