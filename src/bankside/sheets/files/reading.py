"""The one way from a file to grids of cells.

What a file is, is decided by its content and never by its name. Files that are no tables, or that
are larger than any table of gaugings can be, are refused here in one sentence.
"""

from __future__ import annotations

import os
import stat
from pathlib import Path

from bankside.gauging.faults import InputRefused
from bankside.sheets.files.grid import MAX_FILE_BYTES, Grid, quoted, refusal
from bankside.sheets.files.text import read_text
from bankside.sheets.files.workbook import read_ole2, read_zip

__all__ = ["read_grids", "shown_name"]

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
_JSON = "a JSON text"
_OLE2 = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_TABLE_IS_RIGHT = "a table saved as XLSX, XLS, ODS or CSV would be right"


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
    name = shown_name(Path(path))
    data = _read_bytes(Path(path), name)
    if data.startswith((b"PK\x03\x04", b"PK\x05\x06", b"PK\x07\x08")):
        return read_zip(data, name, sheet)
    if data.startswith(_OLE2):
        return read_ole2(data, name, sheet)
    kind = _kind_of_no_table(data)
    if kind == _JSON:
        raise refusal(name, "found a JSON text that is not in UTF-8; one in UTF-8 would be right")
    if kind is not None:
        raise refusal(name, f"found {kind}; {_TABLE_IS_RIGHT}")
    if sheet is not None:
        raise refusal(name, f"found a text file, which has no sheet {quoted(sheet)}")
    return (read_text(data, name, separator, encoding),)


def shown_name(path: Path) -> str:
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
        raise refusal(
            name,
            "found a file that you have no permission to read; one open to reading would be right",
        ) from error
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
        return "found a folder; the tables in it, such as those of FOLDER/*.csv, would be right"
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
        return _JSON
    return None
