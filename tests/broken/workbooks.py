"""Broken workbooks, made byte by byte where no honest program would write them."""

import io
import struct
import zipfile
from collections.abc import Callable, Mapping
from typing import Any

import openpyxl
import xlwt

__all__ = ["MAIN", "SHEET", "archive", "lying", "ods", "old_workbook", "repacked", "workbook"]

MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
SHEET = "xl/worksheets/sheet1.xml"
HEADS = ("tape (m)", "depth (m)", "velocity (m/s)")
ROWS: tuple[tuple[Any, ...], ...] = ((0, 0, None), (1, 0.3, 0.2), (2, 0.5, 0.4), (3, 0, None))

Change = Callable[[Any], object]


def workbook(change: Change | None = None, title: str = "June") -> bytes:
    """A sound workbook of one sheet with heads on row 1, and what `change` does to the sheet."""
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title = title
    for row in (HEADS, *ROWS):
        sheet.append(row)
    if change is not None:
        change(sheet)
    stream = io.BytesIO()
    book.save(stream)
    return stream.getvalue()


def old_workbook(cells: Mapping[tuple[int, int], Any]) -> bytes:
    """A sound old binary workbook in which some cells (row and column from 0) are others."""
    book = xlwt.Workbook()
    sheet = book.add_sheet("June", cell_overwrite_ok=True)
    for r, row in enumerate((HEADS, *ROWS)):
        for c, value in enumerate(row):
            sheet.write(r, c, value)
    for (r, c), value in cells.items():
        sheet.write(r, c, value)
    stream = io.BytesIO()
    book.save(stream)
    return stream.getvalue()


def repacked(data: bytes, changed: Mapping[str, bytes | None]) -> bytes:
    """The archive with some parts replaced, added, or (None) left out."""
    with zipfile.ZipFile(io.BytesIO(data)) as old:
        parts: dict[str, bytes | None] = {name: old.read(name) for name in old.namelist()}
    return archive({n: p for n, p in (parts | dict(changed)).items() if p is not None})


def archive(parts: Mapping[str, bytes]) -> bytes:
    """An archive of the given parts."""
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as new:
        for name, part in parts.items():
            new.writestr(name, part)
    return stream.getvalue()


def lying(data: bytes, name: str, size: int) -> bytes:
    """The archive with a wrong unpacked size in the directory's entry of one part."""
    changed = bytearray(data)
    place = data.index(b"PK\x01\x02")
    while True:
        length = struct.unpack_from("<H", data, place + 28)[0]
        if data[place + 46 : place + 46 + length] == name.encode():
            struct.pack_into("<I", changed, place + 24, size)
            return bytes(changed)
        place = data.index(b"PK\x01\x02", place + 4)


def ods(cells: str) -> bytes:
    """An OpenDocument workbook of one sheet "June" whose rows are written by hand."""
    office = "urn:oasis:names:tc:opendocument:xmlns"
    content = (
        f'<office:document-content xmlns:office="{office}:office:1.0" '
        f'xmlns:table="{office}:table:1.0" xmlns:text="{office}:text:1.0"><office:body>'
        f'<office:spreadsheet><table:table table:name="June">{cells}</table:table>'
        "</office:spreadsheet></office:body></office:document-content>"
    )
    manifest = (
        '<manifest:manifest xmlns:manifest="urn:oasis:names:tc:opendocument:xmlns:manifest:1.0"/>'
    )
    return archive(
        {
            "mimetype": b"application/vnd.oasis.opendocument.spreadsheet",
            "content.xml": content.encode(),
            "META-INF/manifest.xml": manifest.encode(),
        }
    )
