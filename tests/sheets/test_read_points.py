"""Velocities at points of the depth, as counts, and at an angle, as crews write them."""

import math
from pathlib import Path

import openpyxl
import pytest

from bankside.gauging.compute import compute

from .building import (
    CUBIC_FOOT,
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
    refusals,
    text_sheet,
    workbook,
)

CLOSE = 1e-12
HEADS = "tape (m),depth (m),velocity (m/s)\n"


def test_columns_of_points(tmp_path: Path) -> None:
    """Velocities at 0.2, 0.6 and 0.8 make the mean by whatever points a vertical has."""
    text = (
        "tape (m),depth (m),V 0.2 (m/s),V 0.6 (m/s),V 0.8 (m/s)\n"
        "0,0,,,\n1,0.4,,0.30,\n2,0.9,0.50,,0.30\n3,1.0,0.52,0.44,0.28\n4,0,,,\n"
    )
    item = read_one(text_sheet(tmp_path, text))
    two, three = (0.50 + 0.30) / 2, (0.52 + 2 * 0.44 + 0.28) / 4
    expected = 0.4 * 0.30 + 0.9 * two + 1.0 * three
    assert discharge(item) == pytest.approx(expected, rel=CLOSE)
    ways = [v.velocity_from for v in compute(gauging_of(item)).verticals]
    assert ways == ["edge", "one point 0.6", "two points", "three points", "edge"]


@pytest.mark.parametrize(
    "heads",
    [
        ("Vel @ 0.2D (m/s)", "Vel @ 0.8D (m/s)"),
        ("V at 20% (m/s)", "V at 80% (m/s)"),
        ("velocity .2 depth (m/s)", "velocity .8 depth (m/s)"),
        ("V0.2 (m/s)", "V0.8 (m/s)"),
        ("V 0,2 (m/s)", "V 0,8 (m/s)"),
    ],
)
def test_ways_of_writing_a_point_in_a_head(tmp_path: Path, heads: tuple[str, str]) -> None:
    """The fraction of the depth is found however the head writes it."""
    text = f"tape (m);depth (m);{heads[0]};{heads[1]}\n0;0;;\n1;0.5;0.6;0.4\n2;0;;\n"
    item = read_one(text_sheet(tmp_path, text))
    readings = gauging_of(item).channels[0].verticals[1].velocity
    assert [(r.fraction, r.value) for r in readings] == [(0.2, 0.6), (0.8, 0.4)]
    assert discharge(item) == pytest.approx(0.25, rel=CLOSE)


def test_points_in_a_second_row_under_one_head(tmp_path: Path) -> None:
    """A velocity head merged over columns 0.2, 0.6, 0.8 names the points below it."""
    book = openpyxl.Workbook()
    sheet = book.active
    for row in (
        ["tape (m)", "depth (m)", "velocity (m/s)", None, None],
        [None, None, 0.2, 0.6, 0.8],
        [0, 0, None, None, None],
        [1, 0.5, 0.6, None, 0.4],
        [2, 0.4, None, 0.3, None],
        [3, 0, None, None, None],
    ):
        sheet.append(row)
    sheet.merge_cells("C1:E1")
    path = tmp_path / "sheet.xlsx"
    book.save(path)
    reading = read(path)
    assert reading.counts == {"used": 4, "remark": 2, "refused": 0}
    assert discharge(reading.gaugings[0]) == pytest.approx(0.5 * 0.5 + 0.4 * 0.3, rel=CLOSE)


def test_a_mean_column_beside_its_points_is_not_used(tmp_path: Path) -> None:
    """The sheet's own mean velocity is left aside where the points it was made of are there."""
    text = (
        "tape (m),depth (m),V 0.2 (m/s),V 0.8 (m/s),Mean V (m/s)\n"
        "0,0,,,\n1,0.5,0.6,0.4,0.99\n2,0,,,\n"
    )
    item = read(text_sheet(tmp_path, text)).gaugings[0]
    assert discharge(item) == pytest.approx(0.5 * 0.5, rel=CLOSE)
    assert any("mean velocity at tape 1 is 0.99; its readings give 0.5" in n for n in item.notes)


def test_a_mean_column_beside_counts_is_not_used(tmp_path: Path) -> None:
    """By the rating tape 1 has (0.46 + 0.19) / 2 and tape 2 (0.466 + 0.25) / 2, not 0.50."""
    text = (
        "# meter rating (m/s): V = 0.30 N + 0.010\n"
        "tape (m),depth (m),fraction,revs,seconds,Mean V (m/s)\n0,0,,,,\n"
        "1,0.9,0.2,75,50,0.325\n1,0.9,0.8,30,50,\n2,1.0,0.2,76,50,0.50\n2,1.0,0.8,40,50,\n"
        "3,0,,,,\n"
    )
    item = read(text_sheet(tmp_path, text)).gaugings[0]
    assert discharge(item) == pytest.approx(0.9 * 0.325 + 1.0 * 0.358, rel=CLOSE)
    assert any("mean velocity at tape 2 is 0.5; its readings give 0.358" in n for n in item.notes)
    assert not any("tape 1" in n for n in item.notes)


def test_points_of_one_vertical_with_two_angle_coefficients_are_refused(tmp_path: Path) -> None:
    """A record has one coefficient for a vertical: another is never dropped in silence."""
    text = (
        "tape (m),depth (m),fraction,velocity (m/s),angle coefficient\n0,0,,,\n"
        "1,0.9,0.2,0.5,0.9\n1,0.9,0.8,0.3,0.8\n2,0,,,\n"
    )
    (fault,) = refusals(read(text_sheet(tmp_path, text)))
    assert "row 4" in fault and "0.8 where row 3 of the same vertical has 0.9" in fault


def test_a_mean_without_points_is_the_reading(tmp_path: Path) -> None:
    """Shallow verticals of a field form have a value under the mean alone; it is used."""
    text = (
        "tape (m),depth (m),V 0.2 (m/s),V 0.8 (m/s),Mean V (m/s)\n"
        "0,0,,,\n1,0.2,,,0.3\n2,0.5,0.6,0.4,0.5\n3,0,,,\n"
    )
    item = read(text_sheet(tmp_path, text)).gaugings[0]
    assert discharge(item) == pytest.approx(0.2 * 0.3 + 0.5 * 0.5, rel=CLOSE)
    assert item.notes == ()


def test_a_lone_point_that_the_sheet_repeats_as_mean(tmp_path: Path) -> None:
    """A velocity in the first column of points is the mean where the sheet says so, with a note."""
    text = (
        "tape (m),depth (m),V 0.2 (m/s),V 0.8 (m/s),Mean V (m/s)\n"
        "0,0,,,\n1,0.2,0.3,,0.3\n2,0.5,0.6,0.4,0.5\n3,0,,,\n"
    )
    item = read(text_sheet(tmp_path, text)).gaugings[0]
    assert discharge(item) == pytest.approx(0.2 * 0.3 + 0.5 * 0.5, rel=CLOSE)
    assert any("tape 1 stands under 0.2" in note for note in item.notes)


def test_a_mean_that_an_answer_names_is_the_velocity(tmp_path: Path) -> None:
    """An answer is never passed over: the column it names holds the velocities."""
    text = (
        "tape (m),depth (m),V 0.2 (m/s),V 0.8 (m/s),Mean V (m/s)\n"
        "0,0,,,\n1,0.5,0.6,0.4,0.45\n2,0,,,\n"
    )
    item = read_one(text_sheet(tmp_path, text), columns={"velocity": ("E",)})
    assert discharge(item) == pytest.approx(0.5 * 0.45, rel=CLOSE)


@pytest.mark.parametrize("heads", ["0.2D,0.8D", "0.2,0.8", ".2,.8", "0.2 depth,0.8 depth"])
def test_heads_of_fractions_alone(tmp_path: Path, heads: str) -> None:
    """Columns headed by fractions of the depth hold velocities where no other column does."""
    text = f"Tape (m),Depth (m),{heads}\n0,0,,\n1,0.5,0.6,0.4\n2,0,,\n"
    item = read_one(text_sheet(tmp_path, text), units={"velocity": "m/s"})
    assert discharge(item) == pytest.approx(0.5 * 0.5, rel=CLOSE)


def test_a_depth_of_observation_in_metres_is_no_fraction(tmp_path: Path) -> None:
    """A column whose head carries a length is never taken for fractions of the depth."""
    text = "Tape (m),Depth (m),Obs depth (m),Velocity (m/s)\n0,0,,\n1,0.5,0.2,0.4\n2,0,,\n"
    item = read_one(text_sheet(tmp_path, text))
    assert discharge(item) == pytest.approx(0.5 * 0.4, rel=CLOSE)
    assert any("Obs depth" in note for note in item.notes)


def test_angles_that_may_be_coefficients_are_asked_about(tmp_path: Path) -> None:
    """Figures between 0 and 1 under "angle" are cosines as often as degrees."""
    text = "Tape (m),Depth (m),Velocity (m/s),Angle\n0,0,,\n1,0.5,0.4,0.9\n2,0,,\n"
    path = text_sheet(tmp_path, text)
    with pytest.raises(ValueError, match="--column angle_coefficient=D"):
        read(path)
    item = read_one(path, columns={"angle_coefficient": ("D",)})
    assert discharge(item) == pytest.approx(0.5 * 0.4 * 0.9, rel=CLOSE)


def test_two_angles_in_one_vertical_are_refused(tmp_path: Path) -> None:
    """The record has one angle for a vertical, and none of two may be dropped."""
    text = (
        "Tape (m),Depth (m),Fraction,Velocity (m/s),Angle (deg)\n0,0,,,\n"
        "1,0.8,0.2,0.4,0\n1,0.8,0.8,0.3,30\n2,0,,,\n"
    )
    faults = refusals(read(text_sheet(tmp_path, text)))
    assert len(faults) == 1 and "angle 30 where row 3 of the same vertical has 0" in faults[0]


@pytest.mark.parametrize("repeated", [True, False])
@pytest.mark.parametrize(
    "points",
    [("0.2", "0.8"), ("20", "80"), ("0.2 D", "0.8 D"), ("20%", "80 %"), (".2d", ".8d")],
)
def test_a_row_for_every_point(tmp_path: Path, points: tuple[str, str], repeated: bool) -> None:
    """Rows of one vertical repeat the tape or leave it blank; the point has its own column."""
    again = ("2", "0.9") if repeated else ("", "")
    rows = [
        ("0", "0", "", ""),
        ("1", "0.4", "0.6", "0.30"),
        ("2", "0.9", points[0], "0.50"),
        (*again, points[1], "0.30"),
        ("3", "0", "", ""),
    ]
    text = "tape (m),depth (m),Method,velocity (m/s)\n" + lines_of(rows)
    reading = read(text_sheet(tmp_path, text))
    assert refusals(reading) == []
    assert reading.counts == {"used": 5, "remark": 1, "refused": 0}
    item = reading.gaugings[0]
    readings = gauging_of(item).channels[0].verticals[2].velocity
    assert [(r.fraction, r.value) for r in readings] == [(0.2, 0.5), (0.8, 0.3)]
    assert discharge(item) == pytest.approx(0.4 * 0.3 + 0.9 * 0.4, rel=CLOSE)


def test_a_fraction_beyond_the_bed_is_refused(tmp_path: Path) -> None:
    """A point at 1.5 of the depth is no point of the vertical."""
    text = "tape (m),depth (m),obs,velocity (m/s)\n0,0,,\n1,0.4,1.5,0.3\n2,0,,\n"
    (fault,) = refusals(read(text_sheet(tmp_path, text)))
    assert "row 3" in fault and "from 0 (surface) to 1 (bed)" in fault


def test_repeated_readings_at_one_tape(tmp_path: Path) -> None:
    """Two rows at one tape are asked about; as repeats their mean counts."""
    rows = [*SECTION[:3], ("1.6", "0.45", "0.42"), *SECTION[3:]]
    path = text_sheet(tmp_path, metric(rows))
    (fault,) = refusals(read(path))
    assert "row 5" in fault and "--same-tape repeated" in fault
    item = read_one(path, same_tape="repeated")
    assert [r.value for r in gauging_of(item).channels[0].verticals[2].velocity] == [0.38, 0.42]
    expected = mid_section([*SECTION[:2], ("1.6", "0.45", "0.40"), *SECTION[3:]])
    assert discharge(item) == pytest.approx(float(expected), rel=CLOSE)


def test_two_depths_at_one_tape_are_refused_whatever_was_said(tmp_path: Path) -> None:
    """A vertical has one depth; two of them are no repeat."""
    rows = [*SECTION[:3], ("1.6", "0.55", "0.42"), *SECTION[3:]]
    path = text_sheet(tmp_path, metric(rows))
    for answers in ({}, {"same_tape": "repeated"}):
        (fault,) = refusals(read(path, **answers))
        assert "row 5" in fault and "depth 0.55 instead of 0.45" in fault


# Counts, seconds, angles


COUNTS = "0,0,,\n1,0.32,20,50\n2,0.45,41,50\n3,0.40,0,50\n4,0,,\n"


@pytest.mark.parametrize(
    "line",
    [
        "# rating: V = 0.70 N + 0.02",
        "Meter rating: 0.70, 0.02",
        "Rating equation: v = 0.70 * n + 0.02",
    ],
)
def test_counts_and_seconds_with_a_rating_line(tmp_path: Path, line: str) -> None:
    """Revolutions and seconds become velocities by the rating above the table."""
    text = f"{line}\n# units: m, m/s\nTape (m),Depth (m),Revs,Time (s)\n{COUNTS}"
    item = read_one(text_sheet(tmp_path, text))
    first, second = 0.70 * 20 / 50 + 0.02, 0.70 * 41 / 50 + 0.02
    assert discharge(item) == pytest.approx(0.32 * first + 0.45 * second, rel=CLOSE)
    assert "did not turn at tape 3 m" in notes(item)


def test_counts_and_seconds_with_a_rating_by_answer(tmp_path: Path) -> None:
    """A rating of two parts given as an answer changes at its bound, in the sheet's units."""
    text = f"Tape (ft),Depth (ft),Revolutions,Seconds\n{COUNTS}"
    item = read_one(
        text_sheet(tmp_path, text),
        rating=("2.20,0.03,0.5", "2.25,0.005"),
        units={"velocity": "ft/s"},
    )
    first, second = 2.20 * 0.4 + 0.03, 2.25 * 0.82 + 0.005
    expected = (0.32 * first + 0.45 * second) * float(CUBIC_FOOT)
    assert discharge(item) == pytest.approx(expected, rel=CLOSE)


def test_counts_without_a_rating_are_asked_about(tmp_path: Path) -> None:
    """Counts without a rating make no velocity; the question names what would."""
    text = f"Tape (m),Depth (m),Revs,Time (s)\n{COUNTS}"
    faults = refusals(read(text_sheet(tmp_path, text), units={"velocity": "m/s"}))
    assert faults and all("rating" in fault for fault in faults)
    assert any("--rating" in fault for fault in faults)


def test_counts_without_seconds_are_refused(tmp_path: Path) -> None:
    """A number of revolutions in no known time is no velocity."""
    text = (
        "# rating: V = 0.70 N + 0.02\n# units: m, m/s\nTape (m),Depth (m),Revs,Time (s)\n"
        + COUNTS.replace("20,50", "20,")
    )
    (fault,) = refusals(read(text_sheet(tmp_path, text)))
    assert "row 5" in fault and "without its time" in fault


def test_exposure_times_beside_velocities_are_kept(tmp_path: Path) -> None:
    """Seconds beside a velocity are the exposure of that reading."""
    rows = [(*s, "40") for s in SECTION]
    item = read_one(text_sheet(tmp_path, HEADS.strip() + ",Time (s)\n" + lines_of(rows)))
    readings = [v.velocity[0] for v in gauging_of(item).channels[0].verticals if v.velocity]
    assert {r.seconds for r in readings} == {40.0}
    assert discharge(item) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)


def test_clock_times_are_told_from_exposure_times(tmp_path: Path) -> None:
    """A column "Time" of clock times is when a vertical was read, not for how long."""
    rows = [(*s, f"10:{5 + n:02}") for n, s in enumerate(SECTION)]
    item = read_one(text_sheet(tmp_path, HEADS.strip() + ",Time\n" + lines_of(rows)))
    verticals = gauging_of(item).channels[0].verticals
    assert all(r.seconds is None for v in verticals for r in v.velocity)
    assert verticals[2].remark == "read at 10:07"


def test_an_angle_in_degrees(tmp_path: Path) -> None:
    """Flow at 30 degrees to the normal counts with the cosine of 30 degrees."""
    rows = [(*s, "30" if n == 2 else "") for n, s in enumerate(SECTION)]
    item = read_one(text_sheet(tmp_path, HEADS.strip() + ",Angle (deg)\n" + lines_of(rows)))
    expected = 0.2643 - 0.1197 * (1 - math.sqrt(3) / 2)
    assert discharge(item) == pytest.approx(expected, rel=CLOSE)


@pytest.mark.parametrize("head", ["Angle coefficient", "Angle coef.", "Cosine", "Cos angle"])
def test_an_angle_coefficient(tmp_path: Path, head: str) -> None:
    """A coefficient read off the edge of the form multiplies the velocity of its vertical."""
    rows = [(*s, "0.9" if n == 2 else "") for n, s in enumerate(SECTION)]
    item = read_one(text_sheet(tmp_path, f"{HEADS.strip()},{head}\n{lines_of(rows)}"))
    assert discharge(item) == pytest.approx(0.2643 - 0.1 * 0.1197, rel=CLOSE)


def test_points_of_counts_by_row(tmp_path: Path) -> None:
    """Counts at 0.2 and 0.8 on rows of their own are turned to velocities, then to a mean."""
    rows = [
        [0, 0, None, None, None],
        [1, 0.9, 0.2, 40, 50],
        [None, None, 0.8, 20, 50],
        [2, 0, None, None, None],
    ]
    heads = ["Dist (m)", "Depth (m)", "Obs. depth", "Revs", "Time (s)"]
    lines = [["Rating:", "V = 0.70 N + 0.02"], ["Units:", "m, m/s"]]
    item = read_one(
        workbook(tmp_path, {"June": [*lines, heads, *rows]}), columns={"fraction": ("C",)}
    )
    mean = ((0.70 * 0.8 + 0.02) + (0.70 * 0.4 + 0.02)) / 2
    assert discharge(item) == pytest.approx(0.9 * mean, rel=CLOSE)
