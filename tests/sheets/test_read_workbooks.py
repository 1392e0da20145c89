"""Workbooks as offices keep them: several sheets, merged cells, numbers as text, dates as dates."""

from datetime import date, datetime
from pathlib import Path

import openpyxl
import pytest
import xlsxwriter

from bankside.gauging.faults import InputRefused
from bankside.sheets.read import read_sheets

from .building import (
    SECTION,
    SECTION_DISCHARGE,
    discharge,
    gauging_of,
    mid_section,
    numbers,
    old_workbook,
    read,
    read_one,
    reasons,
    workbook,
)

CLOSE = 1e-12
HEADS = ["tape (m)", "depth (m)", "velocity (m/s)"]
HALF = [("0", "0", "0"), ("1", "0.2", "0.3"), ("2.5", "0.3", "0.1"), ("3", "0", "0")]


def test_numbers_as_numbers(tmp_path: Path) -> None:
    """A plain workbook of one sheet is a gauging without a name."""
    reading = read(workbook(tmp_path, {"Sheet1": [HEADS, *numbers()]}))
    assert reading.counts == {"used": 6, "remark": 1, "refused": 0}
    assert discharge(reading.gaugings[0]) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)
    assert gauging_of(reading.gaugings[0]).site.name is None


@pytest.mark.parametrize("mark", [".", ","])
def test_numbers_as_text(tmp_path: Path, mark: str) -> None:
    """Numbers typed into cells formatted as text are read like those of a text file."""
    rows = [[value.replace(".", mark) for value in station] for station in SECTION]
    item = read_one(workbook(tmp_path, {"June": [HEADS, *rows]}))
    assert discharge(item) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)


def test_some_numbers_as_text(tmp_path: Path) -> None:
    """A column may hold both numbers and numbers as text."""
    rows = [
        [float(v) if (r + c) % 2 else v for c, v in enumerate(station)]
        for r, station in enumerate(SECTION)
    ]
    item = read_one(workbook(tmp_path, {"June": [HEADS, *rows]}))
    assert discharge(item) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)


def test_merged_site_cells(tmp_path: Path) -> None:
    """A site's name merged over the rows of its gauging stands for all of them."""
    rows = [["site", *HEADS]]
    rows += [["Alder Fork" if n == 0 else None, *station] for n, station in enumerate(numbers())]
    rows += [
        ["Lower ford" if n == 0 else None, *station] for n, station in enumerate(numbers(HALF))
    ]
    path = workbook(tmp_path, {"June": rows}, merged={"June": ["A2:A7", "A8:A11"]})
    reading = read(path)
    assert [item.label for item in reading.gaugings] == ["Alder Fork", "Lower ford"]
    assert discharge(reading.gaugings[0]) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)
    assert discharge(reading.gaugings[1]) == pytest.approx(float(mid_section(HALF)), rel=CLOSE)
    assert reading.counts == {"used": 10, "remark": 1, "refused": 0}


def test_merged_title_over_the_table(tmp_path: Path) -> None:
    """A title merged over all columns is a line above the table."""
    rows = [["Alder Fork, low flow round"], [], HEADS, *numbers()]
    item = read_one(workbook(tmp_path, {"June": rows}, merged={"June": ["A1:C1"]}))
    assert gauging_of(item).remarks == "Alder Fork, low flow round"
    assert discharge(item) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)


def test_a_depth_merged_over_two_rows_is_refused(tmp_path: Path) -> None:
    """A reading merged over two verticals belongs to neither for certain."""
    rows = numbers()
    rows[2][1] = None  # type: ignore[call-overload]
    path = workbook(tmp_path, {"June": [HEADS, *rows]}, merged={"June": ["B3:B4"]})
    item = read(path).gaugings[0]
    assert item.gauging is None
    assert "merged over rows 3 to 4" in str(item.faults[0])


def test_dates_as_dates(tmp_path: Path) -> None:
    """A date column of real dates divides a sheet into the days of its gaugings."""
    rows = [["site", "date", *HEADS]]
    for day in (date(2026, 7, 14), date(2026, 8, 3)):
        rows += [["Alder Fork", day, *station] for station in numbers()]
    reading = read(workbook(tmp_path, {"June": rows}))
    assert [gauging_of(item).date for item in reading.gaugings] == [
        date(2026, 7, 14),
        date(2026, 8, 3),
    ]
    for item in reading.gaugings:
        assert discharge(item) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)


def test_a_date_beside_its_key(tmp_path: Path) -> None:
    """Key cells and value cells above the heads tell site, stream, date and stage."""
    rows = [
        ["Site:", "above the weir", None, "Date:", datetime(2026, 7, 14)],
        ["Stream", "Alder Fork", None, "Gauge height", 0.52],
        HEADS,
        *numbers(),
    ]
    gauging = gauging_of(read_one(workbook(tmp_path, {"June": rows})))
    assert (gauging.site.name, gauging.site.stream) == ("above the weir", "Alder Fork")
    assert gauging.date == date(2026, 7, 14)
    assert [reading.value for reading in gauging.stage] == [0.52]


def test_a_sheet_a_gauging_takes_the_site_from_the_sheets_name(tmp_path: Path) -> None:
    """Several sheets with one gauging each are told apart by the names of the sheets."""
    path = workbook(
        tmp_path,
        {"Alder Fork": [HEADS, *numbers()], "Lower ford": [HEADS, *numbers(HALF)]},
    )
    reading = read(path)
    assert [gauging_of(item).site.name for item in reading.gaugings] == ["Alder Fork", "Lower ford"]
    assert [discharge(item) for item in reading.gaugings] == pytest.approx(
        [SECTION_DISCHARGE, float(mid_section(HALF))], rel=CLOSE
    )
    assert reading.counts == {"used": 10, "remark": 2, "refused": 0}


def test_a_site_line_outweighs_the_sheets_name(tmp_path: Path) -> None:
    """Where a sheet says its site itself, its name is only a name."""
    path = workbook(
        tmp_path,
        {"1": [["Site:", "Alder Fork"], HEADS, *numbers()], "2": [HEADS, *numbers()]},
    )
    names = [gauging_of(item).site.name for item in read(path).gaugings]
    assert names == ["Alder Fork", "2"]


def test_a_summary_sheet_is_told_and_not_used(tmp_path: Path) -> None:
    """A sheet without a table of verticals is named in a note and all its rows are remarks."""
    path = workbook(
        tmp_path,
        {
            "Summary": [["Site", "Discharge (m3/s)"], ["Alder Fork", 0.2643], ["Lower ford", 0.1]],
            "Alder Fork": [HEADS, *numbers()],
        },
    )
    reading = read(path)
    assert reading.counts == {"used": 6, "remark": 4, "refused": 0}
    assert any('"Summary" holds no table' in note for note in reading.notes)
    assert discharge(reading.gaugings[0]) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)


def test_a_hidden_sheet_is_left_out_and_said_to_be(tmp_path: Path) -> None:
    """What a person does not see in the workbook is not computed, and a note says so."""
    path = workbook(
        tmp_path,
        {"Alder Fork": [HEADS, *numbers()], "old": [HEADS, *numbers(HALF)]},
        hidden=["old"],
    )
    reading = read(path)
    assert [discharge(item) for item in reading.gaugings] == pytest.approx(
        [SECTION_DISCHARGE], rel=CLOSE
    )
    assert reading.counts == {"used": 6, "remark": 6, "refused": 0}
    assert any("old" in note and "hidden" in note for note in reading.notes)


def test_a_hidden_sheet_can_be_asked_for(tmp_path: Path) -> None:
    """Naming a sheet reads it alone, hidden or not."""
    path = workbook(
        tmp_path,
        {"Alder Fork": [HEADS, *numbers()], "old": [HEADS, *numbers(HALF)]},
        hidden=["old"],
    )
    item = read_one(path, sheet="old")
    assert discharge(item) == pytest.approx(float(mid_section(HALF)), rel=CLOSE)
    with pytest.raises(InputRefused, match="July"):
        read(path, sheet="July")


def test_an_empty_sheet_is_no_trouble(tmp_path: Path) -> None:
    """The empty sheets that a new workbook starts with are passed over."""
    path = tmp_path / "sheet.xlsx"
    book = openpyxl.Workbook()
    book.active.title = "June"
    for row in [HEADS, *numbers()]:
        book.active.append(row)
    book.create_sheet("Sheet2")
    book.save(path)
    reading = read_sheets(path)
    assert discharge(reading.gaugings[0]) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)
    assert gauging_of(reading.gaugings[0]).site.name is None


def test_an_old_workbook(tmp_path: Path) -> None:
    """XLS files of the nineties hold the same readings, dates as dates, several sheets."""
    rows = [["Date", date(2026, 7, 14)], HEADS, *numbers()]
    reading = read(old_workbook(tmp_path, {"Alder Fork": rows, "Lower ford": rows}))
    assert [item.label for item in reading.gaugings] == [
        "Alder Fork, 2026-07-14",
        "Lower ford, 2026-07-14",
    ]
    for item in reading.gaugings:
        assert discharge(item) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)
    assert reading.counts == {"used": 12, "remark": 4, "refused": 0}


def test_readings_by_formula(tmp_path: Path) -> None:
    """A formula's kept value is read; the product and total beside it are the filed ones."""
    path = tmp_path / "sheet.xlsx"
    with xlsxwriter.Workbook(path) as book:
        sheet = book.add_worksheet("June")
        sheet.write_row(0, 0, [*HEADS, "width (m)", "Q (m3/s)"])
        widths = (0.3, 0.6, 0.7, 0.7, 0.55, 0.25)
        for r, (station, width) in enumerate(zip(numbers(), widths, strict=True), start=1):
            sheet.write_row(r, 0, station)
            sheet.write_number(r, 3, width)
            product = width * station[1] * station[2]
            sheet.write_formula(r, 4, f"=B{r + 1}*C{r + 1}*D{r + 1}", None, product)
        sheet.write_string(7, 0, "Total")
        sheet.write_formula(7, 4, "=SUM(E2:E7)", None, 0.2643)
    item = read_one(path)
    assert discharge(item) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)
    filed = gauging_of(item).filed
    assert filed is not None
    assert (filed.discharge, filed.unit, len(filed.panels)) == (0.2643, "m3/s", 6)


def test_a_formula_without_a_value_is_asked_about(tmp_path: Path) -> None:
    """A depth by formula that no program has computed is refused, never taken as empty."""
    rows: list[list[object]] = [HEADS, *numbers()]
    rows[3][1] = "=B3+0.1"
    item = read(workbook(tmp_path, {"June": rows})).gaugings[0]
    assert item.gauging is None
    assert 'row 4, column B "depth (m)"' in str(item.faults[0])
    assert "formula" in str(item.faults[0])


def test_a_filed_product_by_formula_without_a_value_is_no_obstacle(tmp_path: Path) -> None:
    """Nothing hangs on the sheet's own products, so one without a value is only absent."""
    rows: list[list[object]] = [[*HEADS, "Q (m3/s)"]]
    rows += [[*station, f"=B{r}*C{r}"] for r, station in enumerate(numbers(), start=2)]
    item = read_one(workbook(tmp_path, {"June": rows}))
    assert discharge(item) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)


def test_a_depth_that_became_a_date_is_told_as_such(tmp_path: Path) -> None:
    """A spreadsheet that made a date of a typed 1.2 gets a sentence that says so."""
    rows: list[list[object]] = [HEADS, *numbers()]
    rows[3][1] = datetime(2026, 2, 1)
    item = read(workbook(tmp_path, {"June": rows})).gaugings[0]
    assert "turns a typed" in str(item.faults[0])
    assert 'sheet "June", row 4, column B' in str(item.faults[0])


def test_a_table_that_starts_away_from_the_corner(tmp_path: Path) -> None:
    """Empty rows and columns before the table change nothing but the row numbers."""
    rows: list[list[object]] = [[], [], [None, None, *HEADS]]
    rows += [[None, None, *station] for station in numbers()]
    reading = read(workbook(tmp_path, {"June": rows}))
    assert discharge(reading.gaugings[0]) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)
    assert reasons(reading) == {1: "blank row", 2: "blank row", 3: "heads"}
