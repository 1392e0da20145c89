"""Workbooks: values and their kinds, what the reader of cells keeps quiet about, and safety."""

import io
import random
import re
import struct
import zipfile
from collections.abc import Callable, Mapping
from datetime import date, datetime, timedelta
from datetime import time as clock
from pathlib import Path
from typing import Any

import openpyxl
import pytest
import python_calamine
import xlsxwriter
import xlwt

from bankside.gauging.faults import InputRefused
from bankside.sheets.files import grid as grid_module
from bankside.sheets.files import sheet_marks, zip_guard
from bankside.sheets.files.grid import Grid
from bankside.sheets.files.reading import read_grids
from bankside.sheets.files.workbook import read_ole2, read_zip

MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
SHEET = "xl/worksheets/sheet1.xml"
FLOW = Path(__file__).parents[3] / "shared/data/stream_survey_flow_2015/flow_transects.xlsx"

Write = Callable[[Any], object]


def _xlsx(write: Write) -> bytes:
    """A workbook of one sheet "June", written by openpyxl: it computes no formula."""
    book = openpyxl.Workbook()
    book.active.title = "June"
    write(book.active)
    return _saved(book)


def _saved(book: Any) -> bytes:
    stream = io.BytesIO()
    book.save(stream)
    return stream.getvalue()


def _computed_xlsx(write: Write) -> bytes:
    """A workbook of one sheet, written by XlsxWriter: it keeps a given value for a formula."""
    stream = io.BytesIO()
    with xlsxwriter.Workbook(stream, {"in_memory": True}) as book:
        write(book.add_worksheet("June"))
    return stream.getvalue()


def _xls(write: Write) -> bytes:
    """An old binary workbook of one sheet."""
    book = xlwt.Workbook()
    write(book.add_sheet("June"))
    return _saved(book)


def _three_by_two(sheet: Any) -> None:
    sheet["A1"], sheet["B1"] = "tape", "depth"
    sheet["A2"], sheet["B2"] = 0.4, 0.35


def _repacked(data: bytes, changed: Mapping[str, bytes | None]) -> bytes:
    """The archive with some parts replaced, added, or (None) left out."""
    stream = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(stream, "w") as new:
        parts = {name: old.read(name) for name in old.namelist()} | dict(changed)
        for name, part in parts.items():
            if part is not None:
                new.writestr(name, part, zipfile.ZIP_DEFLATED)
    return stream.getvalue()


def _with_cells(cells: str) -> bytes:
    """A workbook whose sheet part is written by hand; `<row>` elements are given."""
    part = f'<worksheet xmlns="{MAIN}"><sheetData>{cells}</sheetData></worksheet>'
    return _repacked(_xlsx(_three_by_two), {SHEET: part.encode()})


def _archive(parts: Mapping[str, str | bytes]) -> bytes:
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w") as archive:
        for name, part in parts.items():
            archive.writestr(name, part)
    return stream.getvalue()


def _only(grids: tuple[Grid, ...]) -> Grid:
    (grid,) = grids
    return grid


def _read(data: bytes, sheet: str | None = None) -> tuple[Grid, ...]:
    read = read_zip if data.startswith(b"PK") else read_ole2
    return read(data, "flow.xlsx", sheet)


def _sentence(data: bytes, sheet: str | None = None) -> str:
    """The one sentence by which a workbook is refused."""
    with pytest.raises(InputRefused) as caught:
        _read(data, sheet)
    (fault,) = caught.value.faults
    assert fault.file == "flow.xlsx"
    assert "\n" not in str(fault)
    return str(fault)


# Values


def test_values_keep_their_kind() -> None:
    """Numbers are floats; texts, dates, clock times, durations and truth values stay themselves."""

    def write(sheet: Any) -> None:
        sheet["B2"], sheet["C2"], sheet["D2"] = " text ", 3, True
        sheet["B3"] = datetime(2026, 7, 14, 10, 5, 3)
        sheet["C3"], sheet["D3"], sheet["E3"] = date(2026, 7, 14), clock(10, 5), timedelta(hours=30)

    grid = _only(_read(_xlsx(write)))

    assert grid.sheet == "June"
    assert grid.rows == (
        (),
        (None, "text", 3.0, True),
        (
            None,
            datetime(2026, 7, 14, 10, 5, 3),
            date(2026, 7, 14),
            clock(10, 5),
            timedelta(hours=30),
        ),
    )
    assert [type(value) for value in grid.rows[1][1:]] == [str, float, bool]
    assert grid.row_numbers == (1, 2, 3)
    assert (grid.separator, grid.encoding, grid.hidden) == (None, None, False)


def test_old_workbooks_keep_their_kinds_too() -> None:
    """An XLS file gives the same kinds of values as an XLSX file."""

    def write(sheet: Any) -> None:
        sheet.write(1, 1, "text")
        sheet.write(1, 2, 3)
        sheet.write(1, 3, True)
        sheet.write(2, 1, date(2026, 7, 14), xlwt.easyxf(num_format_str="yyyy-mm-dd"))
        sheet.write(2, 2, clock(10, 5), xlwt.easyxf(num_format_str="hh:mm"))

    grid = _only(_read(_xls(write)))

    assert grid.rows == ((), (None, "text", 3.0, True), (None, date(2026, 7, 14), clock(10, 5)))
    assert type(grid.rows[1][2]) is float


def test_dates_are_counted_from_1904_where_the_workbook_says_so() -> None:
    """Some programs count days from 1904; the date is the same."""
    stream = io.BytesIO()
    with xlsxwriter.Workbook(stream, {"in_memory": True, "date_1904": True}) as book:
        style = book.add_format({"num_format": "yyyy-mm-dd"})
        book.add_worksheet().write_datetime(0, 0, date(2026, 7, 14), style)

    assert _only(_read(stream.getvalue())).rows == ((date(2026, 7, 14),),)


def test_cells_without_reference_stand_one_after_the_other() -> None:
    """References are optional; positions then follow from the order."""
    data = _with_cells(
        '<row><c><v>1</v></c><c t="e"><v>#N/A</v></c></row><row><c/><c><f>A1</f></c></row>'
    )

    grid = _only(_read(data))

    assert grid.rows == ((1.0, None), (None, None))
    assert grid.cell_errors == {(0, 1): "#N/A"}
    assert grid.unvalued_formulas == {(1, 1)}


@pytest.mark.parametrize("number", ["NaN", "inf", "-inf", "1e999"])
def test_a_number_that_is_none_is_an_error(number: str) -> None:
    """No spreadsheet program keeps such a number; it must not go on as one."""
    grid = _only(_read(_with_cells(f'<row r="1"><c r="A1"><v>{number}</v></c></row>')))

    assert grid.rows == ((None,),)
    assert grid.cell_errors == {(0, 0): "#NUM!"}


def test_formulas_without_a_value_are_told_from_empty_cells() -> None:
    """A workbook never opened in a spreadsheet program has formulas and no results."""

    def write(sheet: Any) -> None:
        _three_by_two(sheet)
        sheet["C2"] = "=A2*B2"
        sheet["A9"] = "=SUM(A2:A8)"

    grid = _only(_read(_xlsx(write)))

    assert grid.unvalued_formulas == {(1, 2), (8, 0)}
    assert grid.rows[1] == (0.4, 0.35, None)
    assert grid.rows[8] == (None,)
    assert len(grid.rows) == 9


def test_formulas_with_a_value_are_values() -> None:
    """The result that the file keeps is the value of the cell, whatever its kind."""

    def write(sheet: Any) -> None:
        sheet.write_formula("A1", "=1+1", None, 2)
        sheet.write_formula("A2", '="a"&"b"', None, "ab")
        sheet.write_formula("A3", "=1/0", None, "#DIV/0!")

    grid = _only(_read(_computed_xlsx(write)))

    assert grid.rows == ((2.0,), ("ab",), (None,))
    assert grid.cell_errors == {(2, 0): "#DIV/0!"}
    assert grid.unvalued_formulas == frozenset()


def test_a_formula_that_gives_an_empty_text_has_a_value() -> None:
    """Forms are full of formulas that show nothing until a row is filled in."""
    data = _with_cells(
        '<row r="1"><c r="A1" t="str"><f>""</f><v></v></c><c r="B1"><v>1</v></c></row>'
    )

    grid = _only(_read(data))

    assert grid.rows == ((None, 1.0),)
    assert grid.unvalued_formulas == frozenset()


def test_errors_are_kept_by_their_name() -> None:
    """A cell with an error is not an empty cell, be it typed as an error or as text."""

    def write(sheet: Any) -> None:
        sheet["A1"] = "#REF!"
        sheet["B1"] = "#N/A"
        sheet["B1"].data_type = "s"
        sheet["D1"] = 1

    grid = _only(_read(_xlsx(write)))

    assert grid.rows == ((None, None, None, 1.0),)
    assert grid.cell_errors == {(0, 0): "#REF!", (0, 1): "#N/A"}


def test_merged_cells_are_listed() -> None:
    """XLSX and XLS give ranges as indexes from 0, inclusive, without parts below the last row."""

    def write(sheet: Any) -> None:
        sheet["B1"], sheet["A3"] = "head", "x"
        sheet.merge_cells("B1:D2")
        sheet.merge_cells("A3:A7")
        sheet.merge_cells("F90:F91")

    def write_old(sheet: Any) -> None:
        sheet.write_merge(0, 1, 1, 3, "head")
        sheet.write(2, 0, "x")

    assert set(_only(_read(_xlsx(write))).merged) == {(0, 1, 1, 3)}
    assert _only(_read(_xls(write_old))).merged == ((0, 1, 1, 3),)


# Sheets


def _three_sheets() -> bytes:
    book = openpyxl.Workbook()
    for name, state in (("June", "visible"), ("Lists", "hidden"), ("Codes", "veryHidden")):
        sheet = book.create_sheet(name)
        sheet.sheet_state = state
        sheet["A1"] = name
    book.remove(book.worksheets[0])
    book.create_chartsheet("Chart")
    return _saved(book)


def test_hidden_sheets_are_kept_and_marked() -> None:
    """Every sheet with cells is there, in its order; charts are no sheets."""
    grids = _read(_three_sheets())

    assert [(grid.sheet, grid.hidden) for grid in grids] == [
        ("June", False),
        ("Lists", True),
        ("Codes", True),
    ]


@pytest.mark.parametrize("asked", ["Lists", "lists", " LISTS "])
def test_one_sheet_can_be_picked(asked: str) -> None:
    """A sheet is picked by name, hidden or not, without regard to upper and lower case."""
    assert _only(_read(_three_sheets(), asked)).rows == (("Lists",),)


def test_a_sheet_that_is_not_there_is_answered_with_those_that_are() -> None:
    """The sentence lists the sheets to choose from."""
    said = _sentence(_three_sheets(), "July")

    assert 'no sheet "July"' in said
    assert '"June", "Lists", "Codes"' in said


def test_an_empty_sheet_is_a_grid_without_rows() -> None:
    """An empty sheet beside a filled one is no fault; a workbook with nothing in it is."""
    book = openpyxl.Workbook()
    book.active["A1"] = 1
    book.create_sheet("Empty")

    assert [len(grid.rows) for grid in _read(_saved(book))] == [1, 0]
    assert "without a filled cell" in _sentence(_xlsx(lambda sheet: None))


def test_old_workbooks_have_hidden_sheets_too() -> None:
    """Hidden sheets of an XLS file are marked."""
    book = xlwt.Workbook()
    book.add_sheet("June").write(0, 0, 1)
    hidden = book.add_sheet("Lists")
    hidden.visibility = 1
    hidden.write(0, 0, 2)

    assert [grid.hidden for grid in _read(_saved(book))] == [False, True]


def test_a_workbook_as_people_have_it_is_read() -> None:
    """A survey's real workbook gives all its rows."""
    if not FLOW.exists():
        pytest.skip("the survey's workbook is not beside the repository")

    grid = _only(read_grids(FLOW))

    assert (grid.file, grid.sheet, len(grid.rows)) == ("flow_transects.xlsx", "flow", 1309)
    assert grid.rows[0][0] == "SITEYR"
    assert not grid.unvalued_formulas
    assert not grid.cell_errors


# XLS in particular


def _formulas(sheet: Any) -> None:
    sheet.write(0, 0, 1.5)
    sheet.write(0, 1, xlwt.Formula("A1+1"))
    sheet.write(1, 1, xlwt.Formula("A1+2"))
    sheet.row(2).set_cell_error(0, 0x07)


def _with_result(data: bytes, result: bytes) -> bytes:
    """The workbook with the result of its first formula replaced."""
    empty = struct.pack("<Q", 0xFFFF000000000003)
    return data.replace(empty, result, 1)


def test_formulas_of_an_old_workbook_without_any_result_are_told() -> None:
    """A program that computes nothing leaves every formula without a result."""
    grid = _only(_read(_xls(_formulas)))

    assert grid.unvalued_formulas == {(0, 1), (1, 1)}
    assert grid.cell_errors == {(2, 0): "#DIV/0!"}
    assert grid.rows == ((1.5, None), (None, None), (None,))


def test_an_empty_text_in_an_old_workbook_that_was_computed_is_a_value() -> None:
    """Beside a computed formula, one without a result gave an empty text."""
    grid = _only(_read(_with_result(_xls(_formulas), struct.pack("<d", 2.5))))

    assert grid.rows[0] == (1.5, 2.5)
    assert grid.unvalued_formulas == frozenset()


def test_an_error_as_result_of_an_old_formula_is_an_error() -> None:
    """The error code inside the result becomes the error's name."""
    result = bytes([2, 0, 0x2A, 0, 0, 0, 0xFF, 0xFF])

    assert _only(_read(_with_result(_xls(_formulas), result))).cell_errors[0, 1] == "#N/A"


def _renamed_stream(name: str) -> bytes:
    """An OLE2 file whose one stream has another name."""
    old = "Workbook".encode("utf-16-le").ljust(64, b"\0") + struct.pack("<H", 18)
    new = name.encode("utf-16-le").ljust(64, b"\0") + struct.pack("<H", 2 * len(name) + 2)
    data = _xls(_formulas)
    assert old in data
    return data.replace(old, new)


def test_a_protected_workbook_is_said_to_be_protected() -> None:
    """Encrypted XLSX files are OLE2 files; encrypted XLS files say so in a record."""
    data = _xls(_formulas)
    start = 512 + 4 + struct.unpack_from("<H", data, 514)[0]
    encrypted = data[:start] + b"\x2f\x00" + data[start + 2 :]

    assert "protected by a password" in _sentence(_renamed_stream("EncryptedPackage"))
    assert "protected by a password" in _sentence(encrypted)


def test_other_office_files_are_named() -> None:
    """A Word document and anything else in the same wrapping is no workbook."""
    assert "a Word document" in _sentence(_renamed_stream("WordDocument"))
    assert "an Office file" in _sentence(_renamed_stream("Something"))


@pytest.mark.parametrize(
    "extent", [(0, 2**32 - 1, 0, 65535), (0, 3, 0, 257), (9, 3, 0, 2), (2**32 - 1, 0, 0, 0)]
)
def test_an_old_workbook_that_claims_impossible_sizes_is_refused(
    extent: tuple[int, int, int, int],
) -> None:
    """The reader of cells would set aside memory for whatever a sheet claims, and end there."""
    data = _xls(_formulas)
    claim = struct.pack("<HHIIHHH", 0x0200, 14, 0, 3, 0, 2, 0)
    assert claim in data

    said = _sentence(data.replace(claim, struct.pack("<HHIIHHH", 0x0200, 14, *extent, 0)))

    assert "claims more cells" in said


@pytest.mark.parametrize("length", [8, 100, 511, 512, 600, 2000, 4000, 5000])
def test_an_old_workbook_cut_off_is_refused(length: int) -> None:
    """A download that broke off gets a sentence, wherever it broke off."""
    assert "damaged or incomplete" in _sentence(_xls(_formulas)[:length])


# Archives that are no workbook, or none to be trusted


ODF = "application/vnd.oasis.opendocument"


@pytest.mark.parametrize(
    ("parts", "words"),
    [
        ({"a.txt": "x"}, "a ZIP archive that is no workbook"),
        ({"word/document.xml": "<a/>"}, "a Word document"),
        ({"ppt/presentation.xml": "<a/>"}, "a presentation"),
        ({"xl/workbook.bin": "x"}, "XLSB"),
        ({"Index/Document.iwa": "x"}, "Numbers"),
        ({"mimetype": f"{ODF}.text", "content.xml": "<a/>"}, "no spreadsheet"),
        ({"xl/workbook.xml": f'<workbook xmlns="{MAIN}"/>'}, "damaged"),
        ({}, "a ZIP archive that is no workbook"),
    ],
)
def test_other_archives_are_named(parts: dict[str, str], words: str) -> None:
    """An archive that is no workbook is told what it is."""
    assert words in _sentence(_archive(parts))


@pytest.mark.parametrize("part", [SHEET, "xl/workbook.xml", "xl/styles.xml", "[Content_Types].xml"])
def test_document_types_are_refused_in_every_part(part: str) -> None:
    """A document type could define entities that grow without end."""
    bomb = b'<!DOCTYPE a [<!ENTITY b "cccc"><!ENTITY d "&b;&b;">]><a>&d;</a>'

    assert "declares a document type" in _sentence(_repacked(_xlsx(_three_by_two), {part: bomb}))


def test_a_document_type_in_another_character_set_is_refused_too() -> None:
    """The check reads XML as XML; bytes in UTF-16 hide nothing from it."""
    bomb = '<?xml version="1.0" encoding="utf-16"?><!DOCTYPE a [<!ENTITY b "c">]><a>&b;</a>'

    said = _sentence(_repacked(_xlsx(_three_by_two), {SHEET: bomb.encode("utf-16")}))

    assert "declares a document type" in said


def test_what_unpacks_beyond_measure_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """Neither one part of blanks nor all parts together may fill the memory."""
    blanks = b"<a>" + b" " * (5 * 1024 * 1024) + b"</a>"
    bomb = _repacked(_xlsx(_three_by_two), {"xl/theme/theme1.xml": blanks})
    assert "unpacks to far more" in _sentence(bomb)

    monkeypatch.setattr(zip_guard, "_MAX_UNPACKED_BYTES", 1000)
    assert "unpacks to far more" in _sentence(_xlsx(_three_by_two))


def test_a_size_that_lies_is_found_out() -> None:
    """The bytes that come out are counted; what the directory of the archive claims is not used."""
    part = b"<a>" + b"x" * 3_000_000 + b"</a>"
    data = bytearray(_repacked(_xlsx(_three_by_two), {"xl/theme/theme1.xml": part}))
    real = struct.pack("<I", len(part))
    while real in data:
        place = data.index(real)
        data[place : place + 4] = struct.pack("<I", 10)

    assert "flow.xlsx: found" in _sentence(bytes(data))


def test_pictures_and_other_parts_are_never_unpacked(monkeypatch: pytest.MonkeyPatch) -> None:
    """Only what the table needs is touched: no picture, no macro, no link to another file."""
    extra: dict[str, bytes | None] = {
        "xl/media/image1.png": b"\0" * 5_000_000,
        "xl/vbaProject.bin": b"\0" * 5_000_000,
        "xl/externalLinks/externalLink1.xml": b"<!DOCTYPE a><a/>",
    }
    handed_on: list[bytes] = []
    real = python_calamine.CalamineWorkbook.from_filelike

    class Watched:
        @staticmethod
        def from_filelike(stream: io.BytesIO) -> python_calamine.CalamineWorkbook:
            handed_on.append(stream.getvalue())
            return real(stream)

    monkeypatch.setattr(python_calamine, "CalamineWorkbook", Watched)

    grid = _only(_read(_repacked(_xlsx(_three_by_two), extra)))

    assert grid.rows[1] == (0.4, 0.35)
    with zipfile.ZipFile(io.BytesIO(handed_on[0])) as archive:
        assert not set(extra) & set(archive.namelist())
        assert SHEET in archive.namelist()


def test_an_archive_of_very_many_parts_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """Tens of thousands of parts are no workbook of gaugings."""
    monkeypatch.setattr(zip_guard, "_MAX_ENTRIES", 3)

    assert "more than 3 parts" in _sentence(_xlsx(_three_by_two))


def test_a_part_that_is_there_twice_is_refused() -> None:
    """Two readers could take different ones, and then what was checked is not what is read."""
    stream = io.BytesIO(_xlsx(_three_by_two))
    with zipfile.ZipFile(stream, "a") as archive:
        archive.writestr(SHEET.upper(), "<a/>")

    assert "there twice" in _sentence(stream.getvalue())


def test_an_archive_with_a_password_is_said_to_have_one() -> None:
    """The flag of encrypted parts is enough."""
    data = bytearray(_xlsx(_three_by_two))
    for found in re.finditer(b"PK\x01\x02", bytes(data)):
        data[found.start() + 8] |= 1

    assert "protected by a password" in _sentence(bytes(data))


def test_an_archive_packed_in_another_way_is_refused() -> None:
    """Workbooks use one way of packing; others can be made to need much memory."""
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_LZMA) as archive:
        archive.writestr("xl/workbook.xml", "<a/>")

    assert "packed in a way" in _sentence(stream.getvalue())


@pytest.mark.parametrize("tenth", range(10))
def test_a_workbook_cut_off_is_refused(tenth: int) -> None:
    """A download that broke off gets a sentence, wherever it broke off."""
    data = _xlsx(_three_by_two)

    assert "damaged or incomplete" in _sentence(data[: max(len(data) * tenth // 10, 4)])


@pytest.mark.parametrize(
    "changed",
    [
        {SHEET: None},
        {SHEET: b"<worksheet><sheetData>"},
        {SHEET: b"\xff\xfe\xfd"},
        {SHEET: b""},
        {"xl/_rels/workbook.xml.rels": None},
        {"xl/workbook.xml": b'<workbook><sheets><sheet name="A"/></sheets></workbook>'},
    ],
)
def test_missing_and_broken_parts_are_refused(changed: dict[str, bytes | None]) -> None:
    """A workbook that does not hold what it names is damaged."""
    assert "damaged or incomplete" in _sentence(_repacked(_xlsx(_three_by_two), changed))


@pytest.mark.parametrize(
    "cells",
    [
        '<row r="0"><c r="A1"><v>1</v></c></row>',
        '<row r="1"><c r="A0"><v>1</v></c></row>',
        '<row r="1"><c r="1A"><v>1</v></c></row>',
        '<row r="99999999999999999999"><c><v>1</v></c></row>',
        '<row r="1"><c r="A1" t="s"><v>7</v></c></row>',
        '<row r="1"><c r="A1" t="s"><v>-1</v></c></row>',
        '<row r="1"><c r="A1" t="s"><v>9999999999999999999999</v></c></row>',
    ],
)
def test_cells_that_refer_to_nothing_are_refused(cells: str) -> None:
    """References outside of any sheet and numbers that are none are damage."""
    assert "damaged or incomplete" in _sentence(_with_cells(cells))


def test_a_stray_cell_far_away_is_refused_before_memory_is_used() -> None:
    """Two cells at opposite corners would make a table of 17 thousand million cells."""
    far = '<row r="1048576"><c r="XFD1048576"><v>1</v></c></row>'

    assert "at most 200,000 are read" in _sentence(_with_cells(far))
    assert "found 16,384 columns" in _sentence(_with_cells(far.replace("1048576", "1")))


def test_all_sheets_together_are_limited(monkeypatch: pytest.MonkeyPatch) -> None:
    """Many sheets, each within its limit, may not be too many cells."""
    monkeypatch.setattr(grid_module, "MAX_CELLS", 2)

    assert "found 3 cells or more; at most 2 are read" in _sentence(_three_sheets())


def test_a_long_text_repeated_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """One long text to which many cells refer would be copied for each of them."""
    monkeypatch.setattr(sheet_marks, "_MAX_TEXT", 1000)

    def write(sheet: Any) -> None:
        for row in range(11):
            sheet.write_string(row, 0, "x" * 100)

    assert "repeat more than" in _sentence(_computed_xlsx(write))


def test_a_merged_range_over_everything_stays_within_the_grid() -> None:
    """Whoever walks through a merged range must come to an end."""
    part = (
        f'<worksheet xmlns="{MAIN}"><sheetData><row r="1"><c r="A1"><v>1</v></c></row></sheetData>'
        '<mergeCells><mergeCell ref="A1:XFD1048576"/></mergeCells></worksheet>'
    )

    grid = _only(_read(_repacked(_xlsx(_three_by_two), {SHEET: part.encode()})))

    assert grid.merged == ((0, 0, 0, grid_module.MAX_COLUMNS - 1),)


# Whatever the foreign readers do


class PanicException(BaseException):
    """What a compiled reader raises when it gives up: no Exception, told by this name."""


FOREIGN = [
    *(
        error
        for error in vars(python_calamine).values()
        if isinstance(error, type) and issubclass(error, Exception)
    ),
    PanicException,
    RecursionError,
    MemoryError,
    OSError,
    ValueError,
    KeyError,
]


@pytest.mark.parametrize("error", FOREIGN)
@pytest.mark.parametrize("data", [_xlsx(_three_by_two), _xls(_formulas)], ids=["xlsx", "xls"])
def test_every_error_of_the_reader_becomes_a_sentence(
    monkeypatch: pytest.MonkeyPatch, error: type[BaseException], data: bytes
) -> None:
    """No error of a foreign library leaves the boundary, not even a panic."""

    class Failing:
        @staticmethod
        def from_filelike(stream: io.BytesIO) -> None:
            raise error("no good\nat all")

    monkeypatch.setattr(python_calamine, "CalamineWorkbook", Failing)

    assert _sentence(data).startswith("flow.xlsx: found a ")


@pytest.mark.parametrize("error", [KeyboardInterrupt, SystemExit])
def test_a_person_can_still_interrupt(
    monkeypatch: pytest.MonkeyPatch, error: type[BaseException]
) -> None:
    """Stopping the program is no fault of the file."""

    class Failing:
        @staticmethod
        def from_filelike(stream: io.BytesIO) -> None:
            raise error

    monkeypatch.setattr(python_calamine, "CalamineWorkbook", Failing)

    with pytest.raises(error):
        _read(_xlsx(_three_by_two))


@pytest.mark.parametrize("seed", range(6))
def test_bytes_changed_at_random_give_grids_or_a_sentence(seed: int) -> None:
    """Hundreds of damaged workbooks, and never anything but the one error."""
    chance = random.Random(seed)
    whole = [_xlsx(_three_by_two), _xls(_formulas), _ods(_ODS_TABLE)][seed % 3]
    for _ in range(100):
        data = bytearray(whole)
        for _ in range(chance.choice([1, 3, 10])):
            data[chance.randrange(8, len(data))] = chance.randrange(256)
        try:
            _read(bytes(data))
        except InputRefused as refused:
            assert len(refused.faults) == 1


# ODS


_NAMES = " ".join(
    f'xmlns:{prefix}="urn:oasis:names:tc:opendocument:xmlns:{prefix}:1.0"'
    for prefix in ("office", "table", "text", "style")
)


def _ods(tables: str, before: str = "") -> bytes:
    """An OpenDocument workbook with the given tables."""
    hidden = (
        '<office:automatic-styles><style:style style:name="hidden" style:family="table">'
        '<style:table-properties table:display="false"/></style:style></office:automatic-styles>'
    )
    content = (
        f'{before}<office:document-content {_NAMES} office:version="1.2">{hidden}<office:body>'
        f"<office:spreadsheet>{tables}</office:spreadsheet></office:body>"
        "</office:document-content>"
    )
    manifest = '<m:manifest xmlns:m="urn:oasis:names:tc:opendocument:xmlns:manifest:1.0"/>'
    return _archive(
        {
            "mimetype": f"{ODF}.spreadsheet",
            "content.xml": content,
            "META-INF/manifest.xml": manifest,
        }
    )


def _cell(value: str, kind: str = "float", more: str = "") -> str:
    attribute = {"string": "string-value", "float": "value"}.get(kind, f"{kind}-value")
    return (
        f'<table:table-cell office:value-type="{kind}" office:{attribute}="{value}" {more}>'
        f"<text:p>{value}</text:p></table:table-cell>"
    )


_ODS_TABLE = (
    '<table:table table:name="June">'
    '<table:table-row table:number-rows-repeated="2"><table:table-cell/></table:table-row>'
    "<table:table-row>"
    + _cell("head", "string", 'table:number-columns-spanned="2"')
    + "<table:covered-table-cell/>"
    + _cell("2026-07-14", "date")
    + "</table:table-row><table:table-row>"
    + _cell("1.5", more='table:number-columns-repeated="2"')
    + _cell("PT10H05M00S", "time")
    + _cell("true", "boolean")
    + "</table:table-row><table:table-row>"
    + _cell("#DIV/0!", "string", 'table:formula="of:=1/0"')
    + '<table:table-cell table:formula="of:=1+1"/>'
    + _cell("2", more='table:formula="of:=1+1"')
    + "</table:table-row>"
    '<table:table-row table:number-rows-repeated="1048000">'
    '<table:table-cell table:number-columns-repeated="1024"/></table:table-row></table:table>'
    '<table:table table:name="Lists" table:style-name="hidden"><table:table-row>'
    + _cell("7")
    + "</table:table-row></table:table>"
)


def test_opendocument_workbooks_are_read() -> None:
    """Values, merged cells, errors, formulas without value and hidden sheets, as elsewhere."""
    june, lists = _read(_ods(_ODS_TABLE))

    assert june.rows == (
        (),
        (),
        ("head", None, date(2026, 7, 14)),
        (1.5, 1.5, clock(10, 5), True),
        (None, None, 2.0),
    )
    assert june.merged == ((2, 0, 2, 1),)
    assert june.cell_errors == {(4, 0): "#DIV/0!"}
    assert june.unvalued_formulas == {(4, 1)}
    assert (lists.sheet, lists.hidden, lists.rows) == ("Lists", True, ((7.0,),))


def _repeated(rows: str, columns: str, cell: str = "7") -> bytes:
    inner = _cell(cell, more=f'table:number-columns-repeated="{columns}"') if cell else ""
    return _ods(
        f'<table:table table:name="A"><table:table-row table:number-rows-repeated="{rows}">'
        f"{inner}</table:table-row></table:table>"
    )


def test_repeated_cells_beyond_measure_are_refused() -> None:
    """A few bytes can claim a table of thousands of millions of cells."""
    assert "at most 200,000 are read" in _sentence(_repeated("1048576", "1"))
    assert "found 16,384 columns" in _sentence(_repeated("1", "16384"))
    assert "at most 5,000,000 are read" in _sentence(_repeated("200000", "100"))
    assert "damaged" in _sentence(_repeated("99999999999999999999", "1"))
    assert "repeat more than" in _sentence(_repeated("100000", "40", "9" * 1000))


def test_a_document_type_in_an_opendocument_workbook_is_refused() -> None:
    """Entities are refused here as well."""
    assert "declares a document type" in _sentence(
        _ods(_ODS_TABLE, '<!DOCTYPE a [<!ENTITY b "c">]>')
    )
