"""Lines around the table, and how the tape runs along it."""

from datetime import date
from pathlib import Path

import pytest

from .building import (
    SECTION,
    SECTION_DISCHARGE,
    discharge,
    gauging_of,
    metric,
    mid_section,
    notes,
    numbers,
    read,
    read_one,
    refusals,
    text_sheet,
    workbook,
)

CLOSE = 1e-12


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
    assert reading.counts == {"used": 6, "remark": 11, "refused": 0}
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
    assert reading.counts == {"used": 6, "remark": 4, "refused": 0}
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


@pytest.mark.parametrize("form", ["csv", "xlsx"])
def test_an_unknown_key_beside_a_known_one(tmp_path: Path, form: str) -> None:
    """A row of several key cells keeps what is known; the rest is a remark, in no case lost."""
    line = ["Site:", "above the weir", "Weather:", "drizzle"]
    if form == "csv":
        path = text_sheet(tmp_path, metric(above=",".join(line) + "\n"))
    else:
        heads = ["tape (m)", "depth (m)", "velocity (m/s)"]
        path = workbook(tmp_path, {"June": [line, heads, *numbers()]})
    gauging = gauging_of(read_one(path))
    assert gauging.site.name == "above the weir"
    assert "drizzle" in (gauging.remarks or "")


def test_an_unknown_key_before_a_date(tmp_path: Path) -> None:
    """A page number beside the date does not spoil the date."""
    path = text_sheet(tmp_path, metric(above="Page:,1,Date:,2026-07-14\n"))
    assert gauging_of(read_one(path)).date == date(2026, 7, 14)


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


TWO_SITES = (
    "site,tape (m),depth (m),velocity (m/s)\n"
    "A,0,0,\nA,1,0.4,0.5\nA,2,0,\n# stage: 0.41\n# crew: I. Marrow\n# remark: windy\n"
    "# total: 0.2 m3/s\nB,0,0,\nB,1,0.3,0.5\nB,2,0,\n# stage: 0.55\n# crew: T. Quayle\n"
    "# remark: calm\n# total: 0.15 m3/s\n"
)


def test_lines_below_a_gauging_are_that_gaugings(tmp_path: Path) -> None:
    """Each gauging of a file has its own stage, crew, remarks and total."""
    first, second = (gauging_of(i) for i in read(text_sheet(tmp_path, TWO_SITES)).gaugings)
    assert [[s.value for s in g.stage] for g in (first, second)] == [[0.41], [0.55]]
    assert [[c.name for c in g.crew] for g in (first, second)] == [["I. Marrow"], ["T. Quayle"]]
    assert [g.remarks for g in (first, second)] == ["windy", "calm"]
    assert [g.filed and g.filed.discharge for g in (first, second)] == [0.2, 0.15]


def test_a_line_above_several_gaugings_is_not_taken_for_each(tmp_path: Path) -> None:
    """A stage over a table of two sites is a remark; the crew is the crew of both."""
    text = "# stage: 0.41\n# crew: I. Marrow\n" + "\n".join(
        line for line in TWO_SITES.splitlines() if not line.startswith("#")
    )
    for item in read(text_sheet(tmp_path, text)).gaugings:
        gauging = gauging_of(item)
        assert gauging.stage == () and "stage: 0.41" in (gauging.remarks or "")
        assert [member.name for member in gauging.crew] == ["I. Marrow"]


def test_a_stage_in_another_unit_is_a_remark(tmp_path: Path) -> None:
    """A level of 0.41 m on a sheet in feet is no level of 0.41 ft."""
    text = "# stage start: 0.41 m\n" + metric().replace("(m)", "(ft)").replace("(m/s)", "(ft/s)")
    gauging = gauging_of(read_one(text_sheet(tmp_path, text)))
    assert gauging.stage == ()
    assert gauging.remarks == "stage (m): 0.41 m"
