"""Rows that are no readings: blank rows, totals, repeated heads, notes, lines around the table."""

from pathlib import Path

import pytest

from .building import (
    SECTION,
    SECTION_DISCHARGE,
    discharge,
    gauging_of,
    lines_of,
    metric,
    read,
    read_one,
    reasons,
    refusals,
    text_sheet,
)

CLOSE = 1e-12
PRODUCTS = ("0", "0.04032", "0.1197", "0.0924", "0.01188", "0")
WITH_PRODUCTS = "tape (m),depth (m),velocity (m/s),Q (m3/s)\n" + lines_of(
    (*station, product) for station, product in zip(SECTION, PRODUCTS, strict=True)
)


def _six_used(folder: Path, text: str) -> dict[int, str]:
    """Read a sheet of the six known verticals; return the reasons of all other rows."""
    reading = read(text_sheet(folder, text))
    assert refusals(reading) == []
    assert reading.counts["used"] == 6
    assert discharge(reading.gaugings[0]) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)
    return reasons(reading)


def test_blank_rows_between_readings(tmp_path: Path) -> None:
    """Blank rows between readings part nothing."""
    text = metric(SECTION[:3]) + "\n,,\n" + lines_of(SECTION[3:])
    assert _six_used(tmp_path, text) == {1: "heads", 5: "blank row", 6: "blank row"}


@pytest.mark.parametrize(
    "row",
    [
        "Total,,,0.2643",
        "TOTAL:,,,0.2643",
        ",,Sum:,0.2643",
        ",,Total =,0.2643",
        "Total Q,,,0.2643",
        "Summe,,,0.2643",
        "total discharge,,,0.2643",
    ],
)
def test_total_rows(tmp_path: Path, row: str) -> None:
    """A row that calls itself a total holds the filed total and no vertical."""
    path = text_sheet(tmp_path, WITH_PRODUCTS + row + "\n")
    reading = read(path)
    assert reasons(reading) == {1: "heads", 8: "total row"}
    filed = gauging_of(reading.gaugings[0]).filed
    assert filed is not None and filed.discharge == 0.2643
    assert discharge(reading.gaugings[0]) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)


def test_a_lone_number_under_the_products(tmp_path: Path) -> None:
    """A number under the products, without a word, is their total."""
    item = read_one(text_sheet(tmp_path, WITH_PRODUCTS + ",,,0.2643\n"))
    filed = gauging_of(item).filed
    assert filed is not None
    assert (filed.discharge, len(filed.panels)) == (0.2643, 6)


def test_total_and_mean_rows_of_all_columns(tmp_path: Path) -> None:
    """Rows of sums and means, with figures under every column, are not taken for verticals."""
    text = WITH_PRODUCTS + "Sum,1.35,1.04,0.2643\nMean,0.225,0.173,0.044\n"
    reading = read(text_sheet(tmp_path, text))
    assert reading.counts == {"used": 6, "remark": 3, "refused": 0}
    item = reading.gaugings[0]
    assert discharge(item) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)
    filed = gauging_of(item).filed
    assert filed is not None and filed.discharge == 0.2643


@pytest.mark.parametrize("row", ["Max,0.45,0.38", "Minimum:,0,0", "Average,0.225,0.173"])
def test_rows_of_extremes_and_averages(tmp_path: Path, row: str) -> None:
    """A spreadsheet's rows of extremes and averages below the readings hold no vertical."""
    reading = read(text_sheet(tmp_path, metric() + row + "\n"))
    assert refusals(reading) == []
    assert reading.counts == {"used": 6, "remark": 2, "refused": 0}
    assert gauging_of(reading.gaugings[0]).filed is None


def test_a_total_row_with_the_whole_width_under_the_tape(tmp_path: Path) -> None:
    """The word Total among the remarks makes a row of sums a total row, whatever its figures."""
    rows = [(*s, q, "") for s, q in zip(SECTION, PRODUCTS, strict=True)]
    text = "tape (m),depth (m),velocity (m/s),Q (m3/s),Remarks\n" + lines_of(rows)
    reading = read(text_sheet(tmp_path, text + "3.1,,,0.2643,Total\n"))
    assert refusals(reading) == []
    filed = gauging_of(reading.gaugings[0]).filed
    assert filed is not None and filed.discharge == 0.2643


@pytest.mark.parametrize("written", ["1,264.3", "about 1264", "1264.3 L/s"])
def test_a_total_that_is_no_plain_number_is_never_misread(tmp_path: Path, written: str) -> None:
    """A total with a thousands comma, a word or a unit is read rightly or not at all."""
    text = "tape (m),depth (m),velocity (m/s),Q (L/s)\n" + lines_of((*s, "") for s in SECTION)
    item = read_one(text_sheet(tmp_path, text + f'Total,,,"{written}"\n'))
    filed = gauging_of(item).filed
    assert filed is None or filed.discharge in (None, 1264.3)
    if filed is None:
        assert written in (gauging_of(item).remarks or "")


def test_a_total_line_with_a_thousands_comma_is_never_misread(tmp_path: Path) -> None:
    """The figure 1,264.3 is neither 1 nor 1.264; what is not understood stays a remark."""
    text = metric() + "\nTotal discharge: 1,264.3 L/s\n"
    gauging = gauging_of(read_one(text_sheet(tmp_path, text)))
    if gauging.filed is None:
        assert "1,264.3 L/s" in (gauging.remarks or "")
    else:
        assert (gauging.filed.discharge, gauging.filed.unit) == (1264.3, "L/s")


def test_heads_repeated_after_a_page_break(tmp_path: Path) -> None:
    """A new page's heads inside one gauging are heads again, and no new gauging."""
    heads = "tape (m),depth (m),velocity (m/s)\n"
    text = heads + lines_of(SECTION[:3]) + "\n" + heads + lines_of(SECTION[3:])
    assert _six_used(tmp_path, text) == {1: "heads", 5: "blank row", 6: "heads repeated"}


def test_heads_and_units_repeated_after_a_page_break(tmp_path: Path) -> None:
    """A new page's row of units is repeated heads too."""
    heads = "Tape,Depth,Velocity\nm,m,m/s\n"
    text = heads + lines_of(SECTION[:3]) + heads + lines_of(SECTION[3:])
    assert _six_used(tmp_path, text) == {
        1: "heads",
        2: "heads",
        6: "heads repeated",
        7: "heads repeated",
    }


@pytest.mark.parametrize(
    "row",
    ["moved the tape 2 m upstream,,", "# moved the tape 2 m upstream", ",,moved the tape"],
)
def test_a_note_between_rows_is_kept(tmp_path: Path, row: str) -> None:
    """A note between the readings becomes one of the gauging's remarks."""
    text = metric(SECTION[:3]) + row + "\n" + lines_of(SECTION[3:])
    reading = read(text_sheet(tmp_path, text))
    assert reasons(reading) == {1: "heads", 5: "note"}
    assert "moved the tape" in (gauging_of(reading.gaugings[0]).remarks or "")
    assert discharge(reading.gaugings[0]) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)


def test_a_remark_beside_a_reading_stays_with_its_vertical(tmp_path: Path) -> None:
    """What is written beside a vertical is that vertical's remark."""
    rows = [(*s, "weed cleared" if n == 2 else "") for n, s in enumerate(SECTION)]
    text = "tape (m),depth (m),velocity (m/s),Remarks\n" + lines_of(rows)
    verticals = gauging_of(read_one(text_sheet(tmp_path, text))).channels[0].verticals
    assert [v.remark for v in verticals] == [None, None, "weed cleared", None, None, None]


def test_a_remark_alone_on_a_row_is_kept(tmp_path: Path) -> None:
    """A row that holds nothing but a remark is a note of the gauging."""
    text = "tape (m),depth (m),velocity (m/s),Remarks\n" + lines_of((*s, "") for s in SECTION)
    item = read_one(text_sheet(tmp_path, text + ",,,rain from noon\n"))
    assert gauging_of(item).remarks == "rain from noon"


def test_a_fault_in_a_cell_refuses_the_gauging_and_names_the_cell(tmp_path: Path) -> None:
    """A letter in place of a figure is told by file, row and column, with what would be right."""
    text = metric().replace("0.45", "O.45")
    reading = read(text_sheet(tmp_path, text))
    assert reading.counts == {"used": 0, "remark": 1, "refused": 6}
    (fault,) = refusals(reading)
    assert fault.startswith('sheet.csv, row 4, column B "depth (m)": found "O.45"')
    assert "a letter in place of a figure" in fault


def test_every_fault_of_a_sheet_is_told_at_once(tmp_path: Path) -> None:
    """Three wrong cells are three sentences, in the order of the rows."""
    text = metric().replace("0.32", "deep").replace("0.38", "fast").replace("3.0,", "three,")
    faults = refusals(read(text_sheet(tmp_path, text)))
    assert [fault.split(",")[1].strip() for fault in faults] == ["row 3", "row 4", "row 6"]


def test_a_negative_depth_is_refused(tmp_path: Path) -> None:
    """A depth below 0 is no depth."""
    faults = refusals(read(text_sheet(tmp_path, metric().replace("0.45", "-0.45"))))
    assert len(faults) == 1 and "a depth of 0 or more" in faults[0]
