"""Many gaugings in one file: stacked forms, label columns, channels, and tapes that start again."""

from datetime import date, timedelta
from fractions import Fraction
from pathlib import Path

import pytest

from .building import (
    SECTION,
    SECTION_DISCHARGE,
    SIDE,
    discharge,
    gauging_of,
    lines_of,
    metric,
    mid_section,
    read,
    read_one,
    refusals,
    text_sheet,
)

CLOSE = 1e-12


def test_the_hand_figure_of_the_side_channel() -> None:
    """0.55 m × 0.020 m²/s and 0.45 m × 0.030 m²/s make 0.0245 m³/s."""
    by_hand = Fraction("0.55") * Fraction("0.02") + Fraction("0.45") * Fraction("0.03")
    assert mid_section(SIDE) == by_hand == Fraction("0.0245")


def test_stacked_forms(tmp_path: Path) -> None:
    """Forms one under another, each with its own lines and heads, are gaugings of their own."""
    text = (
        "Stream: Alder Fork\nSite: above the weir\nDate: 2026-07-14\nCrew: A. Mora\n"
        + metric()
        + "\nStream: Alder Fork\nSite: lower ford\nDate: 2026-07-15\nCrew: B. Lind\n"
        + metric(SIDE)
        + "\nStream: Miller Brook\nSite: road\nDate: 2026-07-15\nCrew: B. Lind\n"
        + metric()
    )
    reading = read(text_sheet(tmp_path, text))
    assert refusals(reading) == []
    assert reading.counts == {"used": 16, "remark": 17, "refused": 0}
    assert [item.label for item in reading.gaugings] == [
        "Alder Fork, above the weir, 2026-07-14",
        "Alder Fork, lower ford, 2026-07-15",
        "Miller Brook, road, 2026-07-15",
    ]
    expected = [SECTION_DISCHARGE, 0.0245, SECTION_DISCHARGE]
    assert [discharge(item) for item in reading.gaugings] == pytest.approx(expected, rel=CLOSE)
    crews = [[member.name for member in gauging_of(i).crew] for i in reading.gaugings]
    assert crews == [["A. Mora"], ["B. Lind"], ["B. Lind"]]


def test_stacked_forms_whose_first_line_is_no_key(tmp_path: Path) -> None:
    """A title line over every form stays with its own form."""
    text = (
        "Flow form 1\nSite: above the weir\n" + metric() + "\nFlow form 2\nSite: lower ford\n"
    ) + metric(SIDE)
    first, second = read(text_sheet(tmp_path, text)).gaugings
    assert gauging_of(first).remarks == "Flow form 1"
    assert gauging_of(second).remarks == "Flow form 2"


def test_stacked_forms_in_key_cells(tmp_path: Path) -> None:
    """Stacked forms of key cells and value cells part in the same way."""
    text = (
        "Site,above the weir,\nDate,2026-07-14,\n"
        + metric()
        + ",,\nSite,lower ford,\nDate,2026-07-14,\n"
        + metric(SIDE)
    )
    reading = read(text_sheet(tmp_path, text))
    assert [discharge(item) for item in reading.gaugings] == pytest.approx(
        [SECTION_DISCHARGE, 0.0245], rel=CLOSE
    )


def test_stacked_forms_with_totals_below(tmp_path: Path) -> None:
    """The total under each form stays with the form above it."""
    heads = "tape (m),depth (m),velocity (m/s),Q (m3/s)\n"
    text = (
        "Site: weir,,,\n"
        + heads
        + lines_of((*s, "") for s in SECTION)
        + "Total,,,0.264\n,,,\nSite: ford,,,\n"
        + heads
        + lines_of((*s, "") for s in SIDE)
        + "Total,,,0.0245\n"
    )
    reading = read(text_sheet(tmp_path, text))
    totals = [gauging_of(item).filed for item in reading.gaugings]
    assert [filed and filed.discharge for filed in totals] == [0.264, 0.0245]


def test_a_second_form_of_the_same_site_and_day_is_not_put_into_the_first(tmp_path: Path) -> None:
    """A repeat on the same day must not merge with the first gauging without a word."""
    form = "Site: above the weir\nDate: 2026-07-14\n" + metric()
    reading = read(text_sheet(tmp_path, form + "\n" + form))
    computed = [discharge(i) for i in reading.gaugings if i.gauging is not None]
    asked = refusals(reading)
    if asked:
        assert any("--tape-restart gaugings" in fault for fault in asked)
    else:
        assert computed == pytest.approx([SECTION_DISCHARGE, SECTION_DISCHARGE], rel=CLOSE)


def test_a_repeat_under_a_title_of_its_own_is_not_added(tmp_path: Path) -> None:
    """Heads again below a title that is no key may be a repeat: asked about, never added."""
    text = metric() + "\nRepeat measurement\n" + metric()
    reading = read(text_sheet(tmp_path, text))
    computed = [discharge(i) for i in reading.gaugings if i.gauging is not None]
    assert computed == [] or computed == pytest.approx([SECTION_DISCHARGE] * 2, rel=CLOSE)
    assert len(computed) == 2 or any("--tape-restart gaugings" in f for f in refusals(reading))


def test_hundreds_of_gaugings_by_site_and_date(tmp_path: Path) -> None:
    """300 gaugings of 40 sites, told apart by site and date, each with its own discharge."""
    rows = []
    expected = []
    for number in range(300):
        site, day = f"AF-{number % 40:02}", date(2026, 6, 1) + timedelta(days=number // 40)
        factor = Fraction(50 + number, 100)
        section = [(x, d, f"{float(Fraction(v) * factor):.6f}") for x, d, v in SECTION]
        rows += [(site, day.isoformat(), *station) for station in section]
        expected.append((f"{site}, {day.isoformat()}", float(mid_section(section))))
    path = text_sheet(tmp_path, "site,date,tape (m),depth (m),velocity (m/s)\n" + lines_of(rows))
    reading = read(path)
    assert reading.counts == {"used": 1800, "remark": 1, "refused": 0}
    assert [item.label for item in reading.gaugings] == [label for label, _ in expected]
    assert [discharge(item) for item in reading.gaugings] == pytest.approx(
        [total for _, total in expected], rel=CLOSE
    )


def test_rows_of_two_gaugings_mixed(tmp_path: Path) -> None:
    """Rows of several gaugings may stand mixed; each keeps its own order."""
    mixed = []
    for number in range(len(SECTION)):
        mixed.append(("AF-01", *SECTION[number]))
        if number < len(SIDE):
            mixed.append(("AF-02", *SIDE[number]))
    path = text_sheet(tmp_path, "site,tape (m),depth (m),velocity (m/s)\n" + lines_of(mixed))
    reading = read(path)
    assert {item.label: discharge(item) for item in reading.gaugings} == pytest.approx(
        {"AF-01": SECTION_DISCHARGE, "AF-02": 0.0245}, rel=CLOSE
    )


def test_blank_site_cells_take_the_name_above(tmp_path: Path) -> None:
    """A site and a date written once a block hold until others are written."""
    rows = [
        ("AF-01" if n == 0 else "", "2026-07-14" if n == 0 else "", *s)
        for n, s in enumerate(SECTION)
    ]
    rows += [
        ("AF-02" if n == 0 else "", "2026-07-15" if n == 0 else "", *s) for n, s in enumerate(SIDE)
    ]
    path = text_sheet(tmp_path, "site,date,tape (m),depth (m),velocity (m/s)\n" + lines_of(rows))
    reading = read(path)
    assert [item.label for item in reading.gaugings] == ["AF-01, 2026-07-14", "AF-02, 2026-07-15"]
    assert [discharge(item) for item in reading.gaugings] == pytest.approx(
        [SECTION_DISCHARGE, 0.0245], rel=CLOSE
    )


def test_a_site_without_a_date_does_not_take_the_date_of_another_site(tmp_path: Path) -> None:
    """A date written for one site says nothing about the next site."""
    rows = [("AF-01", "2026-07-14", *s) for s in SECTION] + [("AF-02", "", *s) for s in SIDE]
    path = text_sheet(tmp_path, "site,date,tape (m),depth (m),velocity (m/s)\n" + lines_of(rows))
    second = read(path).gaugings[1]
    assert gauging_of(second).site.name == "AF-02"
    assert gauging_of(second).date is None


def test_rows_before_the_first_site_are_a_gauging_of_their_own(tmp_path: Path) -> None:
    """Rows above the first name are not given the name that comes after them."""
    rows = [("", *s) for s in SIDE] + [("AF-01", *s) for s in SECTION]
    path = text_sheet(tmp_path, "site,tape (m),depth (m),velocity (m/s)\n" + lines_of(rows))
    names = [gauging_of(item).site.name for item in read(path).gaugings]
    assert names == [None, "AF-01"]


def test_site_numbers_in_figures(tmp_path: Path) -> None:
    """A site called 7 is called 7, whether the cell holds a figure or a text."""
    rows = [("7", *s) for s in SECTION]
    path = text_sheet(tmp_path, "Site No.,tape (m),depth (m),velocity (m/s)\n" + lines_of(rows))
    assert gauging_of(read_one(path)).site.name == "7"


def test_a_station_column_of_names_and_a_distance_column(tmp_path: Path) -> None:
    """A column "Station" of names is the site where another column is the distance."""
    rows = [("AF-01", *s) for s in SECTION]
    path = text_sheet(tmp_path, "Station,Distance (m),Depth (m),Vel (m/s)\n" + lines_of(rows))
    item = read_one(path)
    assert gauging_of(item).site.name == "AF-01"
    assert discharge(item) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)
