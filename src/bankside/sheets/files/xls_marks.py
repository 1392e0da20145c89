"""XLS: how large each sheet is, and where its errors and unvalued formulas are.

The workbook stream is a row of records (BIFF), each a kind, a length and what it carries.
"""

from __future__ import annotations

import struct
from collections.abc import Iterator

from bankside.sheets.files.sheet_marks import CellPosition, SheetMarks
from bankside.sheets.files.workbook_faults import PASSWORD, Damaged, Unfit

__all__ = ["xls_marks"]

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


def xls_marks(stream: bytes) -> list[SheetMarks]:
    """Return what is known of each sheet of an old workbook, in its order.

    `stream` is the OLE2 stream named Workbook or Book. Raises Unfit, and struct.error where a
    record is cut off.
    """
    offsets: list[int] = []
    for kind, payload in _records_from(stream, 0):
        if kind == _FILEPASS:
            raise Unfit(PASSWORD)
        if kind == _BOUNDSHEET:
            offsets.append(struct.unpack_from("<I", payload)[0])
    blanks: list[tuple[SheetMarks, CellPosition]] = []
    computed = False
    sheets: list[SheetMarks] = []
    for offset in offsets:
        marks = SheetMarks()
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
            marks.mark_unvalued(position)
    return sheets


def _records_from(stream: bytes, offset: int) -> Iterator[tuple[int, bytes]]:
    """Yield the records of one part of the workbook stream; of charts inside it only extents."""
    depth = 0
    while True:
        if offset + 4 > len(stream):
            raise Damaged("it ends too early")
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
        raise Damaged("a sheet claims more cells than there can be")


def _note_record(marks: SheetMarks, kind: int, payload: bytes) -> int | None:
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
        marks.mark_error((row, col), _ERROR_CODES.get(payload[6], "#VALUE!"))
    if kind != _FORMULA:
        return None
    if payload[12:14] != b"\xff\xff":
        return 0
    if payload[6] == _RESULT_IS_ERROR:
        marks.mark_error((row, col), _ERROR_CODES.get(payload[8], "#VALUE!"))
    return payload[6]
