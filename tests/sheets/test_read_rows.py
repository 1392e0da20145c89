"""Rows that are no readings: blank rows, totals, repeated heads, notes, lines around the table."""

from datetime import date
from pathlib import Path

import pytest

from .building import (
    SECTION,
    SECTION_DISCHARGE,
    discharge,
    gauging_of,
    lines_of,
    metric,
    mid_section,
    notes,
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
    assert reading.counts()["used"] == 6
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
    assert reading.counts() == {"used": 6, "remark": 3, "refused": 0}
    item = reading.gaugings[0]
    assert discharge(item) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)
    filed = gauging_of(item).filed
    assert filed is not None and filed.discharge == 0.2643


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
    assert reading.counts() == {"used": 0, "remark": 1, "refused": 6}
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


# Lines around the table


LINES = {
    "comments": (
        "# stream: Alder Fork\n# site: above the weir\n# date: 2026-07-14\n"
        "# crew: A. Mora, B. Lind\n# meter: propeller\n# serial: P-7\n# stage: 0.52\n"
        "# started: 2026-07-14T10:05:00+02:00\n# ended: 2026-07-14T10:52:00+02:00\n"
        "# remarks: clear water\n"
    ),
    "plain": (
        "Stream: Alder Fork\nSite: above the weir\nDate: 2026-07-14\n"
        "Crew: A. Mora, B. Lind\nMeter: propeller\nMeter No.: P-7\nGauge height: 0.52\n"
        "Start time: 2026-07-14T10:05:00+02:00\nEnd time: 2026-07-14T10:52:00+02:00\n"
        "Remarks: clear water\n"
    ),
    "cells": (
        "Stream,Alder Fork,\nSite,above the weir,\nDate:,2026-07-14,\n"
        'Crew:,"A. Mora, B. Lind",\nMeter,propeller,\nSerial number,P-7,\nStage,0.52,\n'
        "Started,2026-07-14T10:05:00+02:00,\nEnded,2026-07-14T10:52:00+02:00,\n"
        "Notes,clear water,\n"
    ),
}


@pytest.mark.parametrize("form", sorted(LINES))
def test_lines_above_the_table(tmp_path: Path, form: str) -> None:
    """Key and value stand in one line or in two cells, with or without a sign before them."""
    reading = read(text_sheet(tmp_path, metric(above=LINES[form])))
    assert reading.counts() == {"used": 6, "remark": 11, "refused": 0}
    gauging = gauging_of(reading.gaugings[0])
    assert (gauging.site.stream, gauging.site.name) == ("Alder Fork", "above the weir")
    assert gauging.date == date(2026, 7, 14)
    assert [member.name for member in gauging.crew] == ["A. Mora", "B. Lind"]
    assert gauging.meter is not None
    assert (gauging.meter.kind, gauging.meter.serial) == ("propeller", "P-7")
    assert [stage.value for stage in gauging.stage] == [0.52]
    assert gauging.started is not None and gauging.ended is not None
    assert (gauging.ended - gauging.started).total_seconds() == 47 * 60
    assert gauging.remarks == "clear water"
    assert discharge(reading.gaugings[0]) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)


def test_a_time_without_a_zone_is_kept_as_a_remark(tmp_path: Path) -> None:
    """A clock time without a zone is no moment; it is kept word for word."""
    above = "Start time: 10:05\nEnd time: 10:52\n"
    gauging = gauging_of(read_one(text_sheet(tmp_path, metric(above=above))))
    assert gauging.started is None
    assert "10:05" in (gauging.remarks or "") and "10:52" in (gauging.remarks or "")


def test_lines_that_are_not_understood_are_kept(tmp_path: Path) -> None:
    """A line with an unknown key is kept word for word among the remarks."""
    above = "Weather: drizzle\nFlow survey of the Alder basin\n"
    gauging = gauging_of(read_one(text_sheet(tmp_path, metric(above=above))))
    assert gauging.remarks == "Weather: drizzle; Flow survey of the Alder basin"


def test_lines_below_the_table(tmp_path: Path) -> None:
    """What stands below the table belongs to the gauging above it."""
    text = metric() + "\nCrew: A. Mora\nRemarks: weed on the left bank\n"
    reading = read(text_sheet(tmp_path, text))
    assert refusals(reading) == []
    assert reading.counts() == {"used": 6, "remark": 4, "refused": 0}
    gauging = gauging_of(reading.gaugings[0])
    assert [member.name for member in gauging.crew] == ["A. Mora"]
    assert gauging.remarks == "weed on the left bank"


def test_the_date_may_stand_below_the_table(tmp_path: Path) -> None:
    """Site and date signed below the last reading are this gauging's site and date."""
    text = metric() + "Site: above the weir\nDate: 2026-07-14\n"
    reading = read(text_sheet(tmp_path, text))
    assert refusals(reading) == []
    gauging = gauging_of(reading.gaugings[0])
    assert (gauging.site.name, gauging.date) == ("above the weir", date(2026, 7, 14))


def test_a_position_above_the_table(tmp_path: Path) -> None:
    """Latitude and longitude lines give the site its place on the earth."""
    above = "# latitude: 45.6\n# longitude: -1.23\n# accuracy (m): 4\n# waypoint: AF-01\n"
    position = gauging_of(read_one(text_sheet(tmp_path, metric(above=above)))).site.position
    assert position is not None
    assert (position.lat, position.lon) == (45.6, -1.23)
    assert (position.accuracy_m, position.label) == (4, "AF-01")


def test_a_date_in_two_readings_is_asked_about(tmp_path: Path) -> None:
    """03/04/2026 is April in one office and March in another; the option settles it."""
    path = text_sheet(tmp_path, metric(above="Date: 03/04/2026\n"))
    (fault,) = refusals(read(path))
    assert "--date-order" in fault and "row 1" in fault
    assert gauging_of(read_one(path, date_order="day-first")).date == date(2026, 4, 3)
    assert gauging_of(read_one(path, date_order="month-first")).date == date(2026, 3, 4)


def test_a_date_that_can_be_read_in_one_way_only(tmp_path: Path) -> None:
    """14.07.2026 has one reading."""
    path = text_sheet(tmp_path, metric(above="Datum;14.07.2026\n").replace(",", ";"))
    assert read(path).gaugings[0].gauging is not None
    dated = text_sheet(tmp_path, metric(above="Date: 14/07/2026\n"), name="dated.csv")
    assert gauging_of(read_one(dated)).date == date(2026, 7, 14)


# The tape


def test_tape_descending(tmp_path: Path) -> None:
    """A tape read from the far bank gives the same discharge, and the order as called is kept."""
    item = read_one(text_sheet(tmp_path, metric(SECTION[::-1])))
    verticals = gauging_of(item).channels[0].verticals
    assert [v.tape for v in verticals] == [3.5, 3.0, 2.4, 1.6, 1.0, 0.4]
    assert discharge(item) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)
    assert notes(item) == ""


def test_tape_starting_far_from_its_zero(tmp_path: Path) -> None:
    """Only distances along the tape matter, not where its zero hangs."""
    rows = [(f"{float(x) + 100:.1f}", d, v) for x, d, v in SECTION]
    item = read_one(text_sheet(tmp_path, metric(rows)))
    assert discharge(item) == pytest.approx(float(mid_section(rows)), rel=CLOSE)
    assert discharge(item) == pytest.approx(SECTION_DISCHARGE, rel=1e-9)


def test_tape_below_zero(tmp_path: Path) -> None:
    """An edge of water behind the tape's zero has a negative position."""
    rows = [(f"{float(x) - 1:.1f}", d, v) for x, d, v in SECTION]
    item = read_one(text_sheet(tmp_path, metric(rows)))
    assert discharge(item) == pytest.approx(SECTION_DISCHARGE, rel=1e-9)


def test_rows_added_at_the_foot_are_asked_about(tmp_path: Path) -> None:
    """A vertical added at the foot of the sheet is sorted in only when a person says so."""
    rows = [*SECTION[:2], *SECTION[3:], SECTION[2]]
    path = text_sheet(tmp_path, metric(rows))
    (fault,) = refusals(read(path))
    assert "row 7" in fault and "--tape-restart sort" in fault
    item = read_one(path, tape_restart="sort")
    assert discharge(item) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)
    assert "sorted" in notes(item)


def test_readings_without_a_tape_position(tmp_path: Path) -> None:
    """Depth and velocity without a place on the tape are refused, not passed over."""
    (fault,) = refusals(read(text_sheet(tmp_path, metric().replace("1.6,", ","))))
    assert "row 4" in fault and "no tape position" in fault
