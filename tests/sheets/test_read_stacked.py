"""Gaugings one under another: what parts them, and what is asked rather than added up."""

from pathlib import Path

import pytest

from .building import SECTION, SIDE, discharge, gauging_of, lines_of, read, refusals, text_sheet

CLOSE = 1e-12
HEADS = "tape (m),depth (m),velocity (m/s)\n"
BEYOND = [(f"{float(x) + 4:.1f}", d, v) for x, d, v in SIDE]


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("Messstelle,Wendle\nDatum,04.05.2014\n", "Messstelle,Sorrel\nDatum,14.05.2014\n"),
        ("Site: Wendle\n", "Site: Sorrel\n"),
        ("Wendle\n\n", "Sorrel\n\n"),
        ("Wendle\n2014-05-04\n\n", "Sorrel\n2014-05-04\n\n"),
        ("Wendle\n14 May 2014\n", "Sorrel\n14 May 2014\n"),
    ],
)
def test_tables_under_their_names_are_gaugings(tmp_path: Path, first: str, second: str) -> None:
    """A second tape that begins beyond the first is another gauging where another name stands."""
    text = f"{first}{HEADS}{lines_of(SECTION)}\n{second}{HEADS}{lines_of(BEYOND)}"
    found = read(text_sheet(tmp_path, text)).gaugings
    assert [gauging_of(item).site.name for item in found] == ["Wendle", "Sorrel"]
    assert [discharge(item) for item in found] == pytest.approx([0.2643, 0.0245], rel=CLOSE)


def test_a_line_between_rows_names_the_rows_below(tmp_path: Path) -> None:
    """A site told between rows begins another gauging, without heads of its own."""
    text = f"Site: Wendle\n{HEADS}{lines_of(SECTION)}Site: Sorrel\n{lines_of(BEYOND)}"
    found = read(text_sheet(tmp_path, text)).gaugings
    assert [gauging_of(item).site.name for item in found] == ["Wendle", "Sorrel"]


@pytest.mark.parametrize("between", ["\n" + HEADS, "Sorrel Beck,,\n", "\n"])
def test_closed_banks_with_lines_between_are_asked_about(tmp_path: Path, between: str) -> None:
    """Two gaugings must not be added up because the second tape begins beyond the first."""
    text = HEADS + lines_of(SECTION) + between + lines_of(BEYOND)
    path = text_sheet(tmp_path, text)
    reading = read(path)
    asked = refusals(reading)
    if asked:
        assert any("--tape-restart gaugings" in fault for fault in asked)
        reading = read(path, tape_restart="gaugings")
    found = [discharge(item) for item in reading.gaugings]
    assert found == pytest.approx([0.2643, 0.0245], rel=CLOSE)


def test_dates_that_can_be_read_in_two_ways_refuse_every_gauging_that_has_one(
    tmp_path: Path,
) -> None:
    """No gauging loses its date because another one has asked the same question."""
    rows = [(f"S{n}", "3/4/2014", *station) for n in range(3) for station in SECTION]
    text = "site,date,tape (m),depth (m),velocity (m/s)\n" + lines_of(rows)
    found = read(text_sheet(tmp_path, text)).gaugings
    assert [item.gauging for item in found] == [None, None, None]


def test_a_column_that_numbers_the_verticals_is_no_tape(tmp_path: Path) -> None:
    """1, 2, 3 … under "Station" beside a distance in metres only count the rows."""
    rows = [(str(n), *station) for n, station in enumerate(SECTION, start=1)]
    text = "Station,Distance (m),Depth (m),Velocity (m/s)\n" + lines_of(rows)
    (item,) = read(text_sheet(tmp_path, text)).gaugings
    assert discharge(item) == pytest.approx(0.2643, rel=CLOSE)


@pytest.mark.parametrize(
    "foot",
    [
        "Débit total,,0.2643",
        "Q total,,0.2643",
        "Q =,,0.2643",
        ",Q =,0.2643",
        "Gesamtabfluss,0.2643,",
    ],
)
def test_totals_in_other_words(tmp_path: Path, foot: str) -> None:
    """A total at the foot is told by its words, in any order, and is no vertical."""
    (item,) = read(text_sheet(tmp_path, HEADS + lines_of(SECTION) + foot + "\n")).gaugings
    assert discharge(item) == pytest.approx(0.2643, rel=CLOSE)


def test_a_row_of_means_is_no_vertical(tmp_path: Path) -> None:
    """Means under the columns are told by their arithmetic, as sums are."""
    rows = [
        ("0", "0", "0"),
        ("1", "0.4", "0.5"),
        ("2", "0.5", "0.6"),
        ("3", "0.3", "0.4"),
        ("4", "0", "0"),
        ("6", "0.24", "0.3"),
    ]
    (item,) = read(text_sheet(tmp_path, HEADS + lines_of(rows))).gaugings
    assert discharge(item) == pytest.approx(0.2 + 0.3 + 0.12, rel=CLOSE)


@pytest.mark.parametrize(
    "lines",
    [
        "Meter rating (m/s): V = 0.25 N + 0.012 (N <= 1.5); V = 0.26 N + 0.003\n",
        "Rating 1 (m/s): 0.25,0.012,1.5\nRating 2: 0.26,0.003\n",
        "Meter rating (m/s): 0.25 0.012 1.5\nMeter rating: 0.26 0.003\n",
    ],
)
def test_two_part_ratings_as_people_write_them(tmp_path: Path, lines: str) -> None:
    """The part that holds up to a speed of the rotor comes first, however it is written."""
    text = lines + "tape (m),depth (m),revs,time (s)\n0,0,,\n1,0.5,80,40\n2,0.4,40,40\n3,0,,\n"
    (item,) = read(text_sheet(tmp_path, text)).gaugings
    fast, slow = 0.26 * 2 + 0.003, 0.25 * 1 + 0.012
    assert discharge(item) == pytest.approx(0.5 * fast + 0.4 * slow, rel=CLOSE)
