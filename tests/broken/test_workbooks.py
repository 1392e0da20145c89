"""Workbooks: cells that are no readings, sheets that hold none, files that are no workbook."""

import datetime
import io
import zipfile
from pathlib import Path
from typing import Any

import openpyxl
import pytest
import xlwt

from .cases import SOUND, Case, check, parametrized, run
from .workbooks import MAIN, SHEET, archive, lying, ods, old_workbook, repacked, workbook

PLACE = 'flow.xlsx, sheet "June", '
DEPTH = 'column B "depth (m)"'


def _case(
    name: str, content: bytes, says: tuple[str, ...], file: str = "flow.xlsx", **more: Any
) -> Case:
    return Case(name, content, says, file=file, **more)


def _cell(name: str, value: Any) -> bytes:
    return workbook(lambda sheet: sheet.__setitem__(name, value))


def _merged(area: str) -> bytes:
    return workbook(lambda sheet: sheet.merge_cells(area))


def _merged_heads(sheet: Any) -> None:
    sheet["B1"] = "depth (m) and velocity (m/s)"
    sheet.merge_cells("B1:C1")


def _second_table(sheet: Any) -> None:
    for row, cells in enumerate(sheet.iter_rows(values_only=True), start=1):
        for column, value in enumerate(cells, start=5):
            sheet.cell(row, column, value)


def _emptied(sheet: Any) -> None:
    sheet.delete_rows(1, 10)


def _words(sheet: Any) -> None:
    _emptied(sheet)
    sheet["A1"], sheet["A2"], sheet["B2"] = "Crews", "Rod", "Recorder"


def _filled(sheet: Any) -> None:
    _emptied(sheet)
    for row in SOUND:
        sheet.append([float(c) if c[:1].isdigit() else c or None for c in row.split(";")])


def _two_sheets(first: Any, second: Any, hidden: str | None = None) -> bytes:
    """A workbook of two sheets, "June" and "July", each changed; one may be hidden."""
    book = openpyxl.load_workbook(io.BytesIO(workbook(first)))
    other = book.copy_worksheet(book["June"])
    other.title = "July"
    second(other)
    if hidden is not None:
        book[hidden].sheet_state = "hidden"
    stream = io.BytesIO()
    book.save(stream)
    return stream.getvalue()


def _hidden_only() -> bytes:
    """A workbook in which every sheet is hidden."""
    data = workbook()
    with zipfile.ZipFile(io.BytesIO(data)) as old:
        part = old.read("xl/workbook.xml")
    assert b'state="visible"' in part
    return repacked(data, {"xl/workbook.xml": part.replace(b'state="visible"', b'state="hidden"')})


def _xml_sheet(text: str) -> bytes:
    return repacked(workbook(), {SHEET: text.encode()})


def _entity_bomb() -> bytes:
    entities = '<!ENTITY a "ha">' + "".join(
        f'<!ENTITY {chr(98 + i)} "{f"&{chr(97 + i)};" * 10}">' for i in range(9)
    )
    return _xml_sheet(
        f'<?xml version="1.0"?><!DOCTYPE w [{entities}]><worksheet xmlns="{MAIN}"><sheetData>'
        '<row r="1"><c r="A1" t="inlineStr"><is><t>&j;</t></is></c></row></sheetData></worksheet>'
    )


def _bomb(inside: bytes) -> bytes:
    return repacked(workbook(), {"xl/media/notes.xml": inside})


def _ole(name: str) -> bytes:
    """An old container with one stream of this name, and nothing that a table could be."""
    data = old_workbook({})
    wide = "Workbook".encode("utf-16-le").ljust(64, b"\0") + bytes([18, 0])
    assert wide in data
    entry = name.encode("utf-16-le").ljust(64, b"\0") + bytes([2 * len(name) + 2, 0])
    return data.replace(wide, entry)


CELLS = [
    _case(
        "merged depths",
        _merged("B3:B4"),
        (PLACE + "row 3, " + DEPTH, "found cells merged over rows 3 to 4", "would be right"),
    ),
    _case(
        "depth and velocity merged",
        _merged("B3:C3"),
        (PLACE + "row 3, " + DEPTH, "found cells merged over row 3", "would be right"),
    ),
    _case(
        "one head merged over two readings",
        workbook(_merged_heads),
        (PLACE + "row 1", '"depth (m) and velocity (m/s)"', "no row of heads", "--column"),
    ),
    _case(
        "a formula without its value",
        _cell("B3", "=A3/10"),
        (PLACE + "row 3, " + DEPTH, "a formula of which the file keeps no value", "right"),
    ),
    _case(
        "a division by nothing",
        _cell("B3", "#DIV/0!"),
        (PLACE + "row 3, " + DEPTH, "spreadsheet error #DIV/0!", "a value would be right"),
    ),
    _case(
        "not available",
        _cell("C3", "#N/A"),
        (PLACE + 'row 3, column C "velocity (m/s)"', "spreadsheet error #N/A", "right"),
    ),
    _case(
        "a broken reference for a tape position",
        _cell("A3", "#REF!"),
        (PLACE + 'row 3, column A "tape (m)"', "spreadsheet error #REF!", "right"),
    ),
    _case(
        "a date for a depth",
        _cell("B3", datetime.date(2026, 2, 1)),
        (PLACE + "row 3, " + DEPTH, "the date 2026-02-01", "a spreadsheet turns", "0.35"),
    ),
    _case(
        "a time for a depth",
        _cell("B3", datetime.time(10, 5)),
        (PLACE + "row 3, " + DEPTH, "the time 10:05:00", "0.35 would be right"),
    ),
    _case(
        "truth for a depth",
        _cell("B3", True),
        (PLACE + "row 3, " + DEPTH, "found TRUE", "0.35 would be right"),
    ),
    _case(
        "text for a depth",
        _cell("B3", "knee"),
        (PLACE + "row 3, " + DEPTH, 'found "knee"', "0.35 would be right"),
    ),
    _case(
        "a number beyond every stream",
        _cell("B3", 1e300),
        (PLACE + "row 3, " + DEPTH, "found 1e+300", "no usable number", "0.35 would be right"),
    ),
    _case(
        "a number beyond every number",
        _xml_sheet(
            f'<worksheet xmlns="{MAIN}"><sheetData><row r="1">'
            + "".join(
                f'<c r="{c}1" t="inlineStr"><is><t>{t}</t></is></c>'
                for c, t in zip("ABC", ("tape (m)", "depth (m)", "velocity (m/s)"), strict=True)
            )
            + '</row><row r="2"><c r="A2"><v>0</v></c><c r="B2"><v>1e400</v></c></row>'
            '<row r="3"><c r="A3"><v>1</v></c><c r="B3"><v>0.3</v></c><c r="C3"><v>0.2</v></c>'
            "</row></sheetData></worksheet>"
        ),
        (PLACE + "row 2, " + DEPTH, "found", "would be right"),
    ),
    _case(
        "points and commas in cells of text",
        workbook(lambda s: (s.__setitem__("B3", "0,30"), s.__setitem__("B4", "0.50"))),
        ("row 3", '"0,30"', "decimal point", "decimal comma", "would be right"),
    ),
    _case(
        "two tables side by side",
        workbook(_second_table),
        (PLACE + "row 1", "A", "E", "could both be the tape", "two tables stand side by side"),
        also=(("could both be the depth",), ("could both be the velocity",)),
    ),
    _case(
        "an error in an old workbook",
        old_workbook({(2, 1): xlwt.Formula("1/0")}),
        ('sheet "June", row 3, ' + DEPTH, "a formula of which the file keeps no value", "is right"),
        file="flow.xls",
    ),
    _case(
        "text in an old workbook",
        old_workbook({(2, 1): "O.30"}),
        ('sheet "June", row 3, ' + DEPTH, 'found "O.30"', "a letter in place of a figure"),
        file="flow.xls",
    ),
    _case(
        "a word in an OpenDocument workbook",
        ods(
            "".join(
                "<table:table-row>"
                + "".join(
                    f'<table:table-cell office:value-type="string"><text:p>{text}</text:p>'
                    "</table:table-cell>"
                    for text in row.split(";")
                )
                + "</table:table-row>"
                for row in (SOUND[0], "0;0;0", "1;knee;0.2", "2;0;0")
            )
        ),
        ('sheet "June", row 3, ' + DEPTH, 'found "knee"', "0.35 would be right"),
        file="flow.ods",
    ),
]

SHEETS = [
    _case(
        "no filled cell",
        workbook(_emptied),
        ("found a workbook without a filled cell", "would be right"),
    ),
    _case(
        "no table on any sheet",
        _two_sheets(_words, _words),
        ('sheet "June"', "row 1", "found no row of heads", '"Crews"', "--column tape="),
    ),
    _case(
        "heads and no rows",
        workbook(lambda sheet: sheet.delete_rows(2, 10)),
        (PLACE + "row 1", "found heads and no rows of readings", "would be right"),
    ),
    _case(
        "every sheet hidden",
        _hidden_only(),
        ("hidden", '"June"', "--sheet"),
    ),
    _case(
        "the only table on a hidden sheet",
        _two_sheets(_words, _filled, hidden="July"),
        ("hidden", '"July"', "--sheet"),
    ),
    _case(
        "a sheet that is not there",
        workbook(),
        ('found no sheet "July"', 'its sheets are "June"'),
        options=("--sheet", "July"),
    ),
]

FILES = [
    _case(
        "truncated",
        workbook()[:-200],
        ("found a damaged or incomplete workbook", "XLSX or CSV would be right"),
    ),
    _case(
        "truncated early",
        workbook()[:100],
        ("found a damaged or incomplete workbook", "XLSX or CSV would be right"),
    ),
    _case(
        "a byte turned over",
        workbook().replace(b"PK\x01\x02", b"PK\x01\x03", 1),
        ("found a damaged or incomplete workbook", "would be right"),
    ),
    _case(
        "no workbook part",
        archive({"xl/workbook.xml": b"<workbook/>"}),
        ("found a damaged or incomplete workbook", "would be right"),
    ),
    _case(
        "a plain archive",
        archive({"flow.csv": b"tape,depth,velocity\n"}),
        ("found a ZIP archive that is no workbook", "would be right"),
    ),
    _case(
        "a text document",
        archive({"[Content_Types].xml": b"<Types/>", "word/document.xml": b"<document/>"}),
        ("found a Word document", "would be right"),
    ),
    _case(
        "a presentation",
        archive({"[Content_Types].xml": b"<Types/>", "ppt/presentation.xml": b"<p/>"}),
        ("found a presentation", "would be right"),
    ),
    _case(
        "a binary workbook",
        archive({"xl/workbook.bin": bytes(100)}),
        ("found a binary workbook (XLSB)", "would be right"),
    ),
    _case(
        "an OpenDocument text",
        archive(
            {
                "mimetype": b"application/vnd.oasis.opendocument.text",
                "content.xml": b"<document-content/>",
            }
        ),
        ("found an OpenDocument file that is no spreadsheet", "would be right"),
        file="flow.ods",
    ),
    _case(
        "protected by a password, old container",
        _ole("EncryptedPackage"),
        ("found a workbook protected by a password", "would be right"),
    ),
    _case(
        "an old text document",
        _ole("WordDocument"),
        ("found a Word document that is no workbook", "would be right"),
        file="flow.xls",
    ),
    _case(
        "an old workbook cut short",
        old_workbook({})[:1500],
        ("found a damaged or incomplete workbook", "would be right"),
        file="flow.xls",
    ),
    _case(
        "a part that unpacks to far too much",
        _bomb(b"<a>" + b" " * 20_000_000 + b"</a>"),
        ("unpacks to far more than it should", "would be right"),
    ),
    _case(
        "an archive inside the archive",
        archive({"inner.xlsx": _bomb(b"<a>" + b" " * 20_000_000 + b"</a>")}),
        ("found a ZIP archive that is no workbook", "would be right"),
    ),
    _case(
        "a part that lies about its size",
        lying(workbook(), SHEET, 10),
        ("found a damaged or incomplete workbook", "would be right"),
    ),
    _case(
        "entities that grow without end",
        _entity_bomb(),
        ("declares a document type", "would be right"),
    ),
    _case(
        "cells far beyond the last row",
        _xml_sheet(
            f'<worksheet xmlns="{MAIN}"><sheetData><row r="99999999"><c r="A99999999"><v>1</v></c>'
            "</row></sheetData></worksheet>"
        ),
        ("found a damaged or incomplete workbook", "row number", "would be right"),
    ),
    _case(
        "a single cell at the far corner",
        _cell("XFD1048576", 1),
        ('sheet "June"', "found more than 200,000 rows", "at most 200,000 are read"),
    ),
    _case(
        "XML that ends too early",
        _xml_sheet(f'<worksheet xmlns="{MAIN}"><sheetData><row r="1"><c r="A1"><v>1</v>'),
        ("found a damaged or incomplete workbook", "would be right"),
    ),
]


@parametrized(CELLS)
def test_a_cell_that_is_no_reading_is_refused_with_its_sheet(
    case: Case, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The sentence names sheet, row and column, and what stands there."""
    check(case, tmp_path, capsys)


@parametrized(SHEETS)
def test_a_workbook_without_a_table_to_read_is_refused(
    case: Case, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The sentence says which sheet was looked at, or which option shows the way."""
    check(case, tmp_path, capsys)


@parametrized(FILES)
def test_a_file_that_is_no_sound_workbook_is_refused(
    case: Case, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Damaged, disguised and malicious files are refused in one sentence each."""
    check(case, tmp_path, capsys)


def test_a_hidden_sheet_is_not_read_beside_a_visible_one(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Only what people see is computed, and what is left out is told."""
    path = tmp_path / "flow.xlsx"
    path.write_bytes(_two_sheets(lambda sheet: None, lambda sheet: None, hidden="July"))
    code, out, lines = run(capsys, "compute", path)
    assert (code, lines) == (0, [])
    assert "10 rows: 4 used, 6 kept as remark, 0 refused" in out
    assert '"July"' in out and "hidden" in out
