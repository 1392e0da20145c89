"""Units wherever a sheet gives them: in heads, below them, in columns, in lines, or by answer."""

import math
from fractions import Fraction
from pathlib import Path

import pytest

from bankside.gauging.faults import InputRefused

from .building import (
    CUBIC_FOOT,
    SECTION,
    SECTION_DISCHARGE,
    discharge,
    gauging_of,
    lines_of,
    mid_section,
    numbers,
    read,
    read_one,
    refusals,
    text_sheet,
    workbook,
)

CLOSE = 1e-12
IN_FEET = SECTION_DISCHARGE * float(CUBIC_FOOT)
SCALED = {"m": Fraction(1), "cm": Fraction(100), "mm": Fraction(1000)}


def _scaled(tape: str, depth: str, velocity: str) -> list[list[str]]:
    """The section of the other tests, its figures written in other metric units."""
    factors = (SCALED[tape], SCALED[depth], SCALED[velocity.removesuffix("/s")])
    return [
        [f"{float(Fraction(value) * by):g}" for value, by in zip(station, factors, strict=True)]
        for station in SECTION
    ]


def test_the_hand_figure_is_the_exact_sum() -> None:
    """The figure that these tests expect is the exact mid-section sum of their section."""
    assert mid_section(SECTION) == Fraction("0.2643")
    assert math.isclose(float(CUBIC_FOOT), 0.028316846592, rel_tol=1e-15)


@pytest.mark.parametrize(
    "heads",
    [
        "tape (ft),depth (ft),velocity (ft/s)",
        "Tape ft,Depth ft,Velocity ft/s",
        "Station (ft),Depth (ft),Vel (fps)",
        "Sta. [feet],Dep. [feet],V [ft/sec]",
        "Distance from initial point (ft),Water depth (ft),Mean velocity (ft/s)",
        "tape_ft,depth_ft,velocity_fps",
        "Offset (Ft.),D (Ft.),Velocity at 0.6 (Ft./s)",
        "Loc. in ft,Depth in ft,Velocity in ft/s",
    ],
)
def test_feet_in_heads(tmp_path: Path, heads: str) -> None:
    """Feet are found however the head writes them, and converted once, exactly."""
    item = read_one(text_sheet(tmp_path, f"{heads}\n{lines_of(SECTION)}"))
    units = gauging_of(item).units
    assert (units.length, units.depth, units.velocity) == ("ft", None, "ft/s")
    assert discharge(item) == pytest.approx(IN_FEET, rel=CLOSE)


@pytest.mark.parametrize(
    "heads",
    [
        "tape (m),depth (m),velocity (m/s)",
        "x (m),d (m),v (m/s)",
        "Chainage [m],Depth [m],Velocity [m s-1]",
        "Lat. Loc (m),Depth (m),Velocity (m/s)",
        "DISTANCE FROM BANK (M),DEPTH (M),VELOCITY (M/S)",
        "TapeDistance (m),WaterDepth (m),velocity_ms",
        "tape (metres),depth (metres),velocity (m/sec)",
        "tape (m),depth (m),velocity (m·s⁻¹)",
    ],
)
def test_metres_in_heads(tmp_path: Path, heads: str) -> None:
    """Metres are found however the head writes them."""
    item = read_one(text_sheet(tmp_path, f"{heads}\n{lines_of(SECTION)}"))
    assert (gauging_of(item).units.length, gauging_of(item).units.velocity) == ("m", "m/s")
    assert discharge(item) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)


@pytest.mark.parametrize(
    ("tape", "depth", "velocity"),
    [("m", "cm", "m/s"), ("m", "mm", "m/s"), ("cm", "cm", "cm/s"), ("m", "cm", "cm/s")],
)
def test_a_unit_for_every_reading(tmp_path: Path, tape: str, depth: str, velocity: str) -> None:
    """Tape in metres and depth in centimetres, as a folding rule is read, give one discharge."""
    heads = f"tape ({tape}),depth ({depth}),velocity ({velocity})"
    item = read_one(text_sheet(tmp_path, f"{heads}\n{lines_of(_scaled(tape, depth, velocity))}"))
    units = gauging_of(item).units
    assert (units.length, units.depth or units.length, units.velocity) == (tape, depth, velocity)
    assert discharge(item) == pytest.approx(SECTION_DISCHARGE, rel=1e-9)


def test_a_second_row_of_heads_with_units(tmp_path: Path) -> None:
    """A row of units under the heads belongs to the heads, and is no row of readings."""
    text = "Tape,Depth,Velocity\n(ft),(ft),(ft/s)\n" + lines_of(SECTION)
    reading = read(text_sheet(tmp_path, text))
    assert reading.counts == {"used": 6, "remark": 2, "refused": 0}
    assert discharge(reading.gaugings[0]) == pytest.approx(IN_FEET, rel=CLOSE)


def test_a_second_row_with_units_under_some_heads_only(tmp_path: Path) -> None:
    """A unit row is one even where a column such as remarks has no unit."""
    text = "Tape,Depth,Velocity,Remarks\nm,m,m/s,\n" + lines_of((*s, "") for s in SECTION)
    assert discharge(read_one(text_sheet(tmp_path, text))) == pytest.approx(
        SECTION_DISCHARGE, rel=CLOSE
    )


def test_units_in_columns_of_their_own(tmp_path: Path) -> None:
    """A unit column names the unit of every row."""
    rows = [(s[0], s[1], s[2], "ft", "ft/s") for s in SECTION]
    text = "tape,depth,velocity,length unit,velocity unit\n" + lines_of(rows)
    assert discharge(read_one(text_sheet(tmp_path, text))) == pytest.approx(IN_FEET, rel=CLOSE)


def test_one_gauging_in_feet_and_another_in_metres(tmp_path: Path) -> None:
    """Unit columns let gaugings of one file differ; each keeps the unit in which it was called."""
    rows = [
        (site, *station, *units)
        for site, units in (("Alder bridge", ("ft", "ft/s")), ("Lower ford", ("m", "m/s")))
        for station in SECTION
    ]
    text = "site,tape,depth,velocity,length unit,velocity unit\n" + lines_of(rows)
    feet, metres = read(text_sheet(tmp_path, text)).gaugings
    assert gauging_of(feet).units.length == "ft"
    assert discharge(feet) == pytest.approx(IN_FEET, rel=CLOSE)
    assert gauging_of(metres).units.length == "m"
    assert discharge(metres) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)


def test_two_units_in_one_gauging_are_refused(tmp_path: Path) -> None:
    """A unit that changes within a gauging is a question about that gauging alone."""
    rows = [("A", *s, "m" if n else "ft", "m/s") for n, s in enumerate(SECTION)]
    rows += [("B", *s, "m", "m/s") for s in SECTION]
    text = "site,tape,depth,velocity,length unit,velocity unit\n" + lines_of(rows)
    reading = read(text_sheet(tmp_path, text))
    assert reading.counts == {"used": 6, "remark": 1, "refused": 6}
    assert all("more than one unit" in fault and "--unit" in fault for fault in refusals(reading))
    assert discharge(reading.gaugings[1]) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)


def test_stacked_forms_in_two_units(tmp_path: Path) -> None:
    """Every table of a file has the units of its own heads."""
    text = (
        "Site: Alder bridge\ntape (ft),depth (ft),velocity (ft/s)\n"
        + lines_of(SECTION)
        + "\nSite: Lower ford\ntape (m),depth (m),velocity (m/s)\n"
        + lines_of(SECTION)
    )
    feet, metres = read(text_sheet(tmp_path, text)).gaugings
    assert discharge(feet) == pytest.approx(IN_FEET, rel=CLOSE)
    assert discharge(metres) == pytest.approx(SECTION_DISCHARGE, rel=CLOSE)


@pytest.mark.parametrize("line", ["# units: ft, ft/s", "Units: ft and ft/s", "# units: ft; ft/s"])
def test_units_in_a_line_above(tmp_path: Path, line: str) -> None:
    """A line above the table names the units where the heads do not."""
    text = f"{line}\ntape,depth,velocity\n" + lines_of(SECTION)
    assert discharge(read_one(text_sheet(tmp_path, text))) == pytest.approx(IN_FEET, rel=CLOSE)


def test_length_and_velocity_unit_in_lines_of_their_own(tmp_path: Path) -> None:
    """A line a unit does as well, and a depth unit is the depth's alone."""
    text = (
        "# length unit: m\n# depth unit: cm\n# velocity unit: m/s\ntape,depth,velocity\n"
        + lines_of(_scaled("m", "cm", "m/s"))
    )
    item = read_one(text_sheet(tmp_path, text))
    assert gauging_of(item).units.depth == "cm"
    assert discharge(item) == pytest.approx(SECTION_DISCHARGE, rel=1e-9)


def test_no_unit_anywhere_is_asked_for_all_at_once(tmp_path: Path) -> None:
    """Without any unit nothing is guessed: three questions, each with its option."""
    reading = read(text_sheet(tmp_path, "tape,depth,velocity\n" + lines_of(SECTION)))
    asked = refusals(reading)
    assert len(asked) == 3
    for role, fault in zip(("tape", "depth", "velocity"), asked, strict=True):
        assert f"--unit {role}=" in fault and "row 1" in fault
    assert reading.counts == {"used": 0, "remark": 1, "refused": 6}


def test_units_by_answer(tmp_path: Path) -> None:
    """Answers settle units where the sheet is silent, and overrule it only for named columns."""
    answer = {"tape": "ft", "depth": "ft", "velocity": "ft/s"}
    silent = text_sheet(tmp_path, "tape,depth,velocity\n" + lines_of(SECTION))
    assert discharge(read_one(silent, units=answer)) == pytest.approx(IN_FEET, rel=CLOSE)
    wrong = "tape (m),depth (m),velocity (m/s)\n" + lines_of(SECTION)
    said = text_sheet(tmp_path, wrong, name="said.csv")
    faults = refusals(read(said, units=answer))
    assert len(faults) == 3 and all("--unit: ft" in f and "the head: m" in f for f in faults)
    named = {"tape": ("A",), "depth": ("B",), "velocity": ("C",)}
    overruled = read_one(said, units=answer, columns=named)
    assert discharge(overruled) == pytest.approx(IN_FEET, rel=CLOSE)


def test_an_answer_that_is_no_unit(tmp_path: Path) -> None:
    """A unit that does not fit its reading is refused before anything is read."""
    path = text_sheet(tmp_path, "tape,depth,velocity\n" + lines_of(SECTION))
    with pytest.raises(InputRefused, match="--unit velocity=m"):
        read(path, units={"velocity": "m"})


def test_units_under_heads_in_a_workbook(tmp_path: Path) -> None:
    """The row of units may stand in a workbook, with a line above the heads."""
    rows = [["Alder Fork gauging"], ["Station", "Depth", "Velocity"], ["ft", "ft", "ft/s"]]
    path = workbook(tmp_path, {"flow": [*rows, *numbers()]})
    reading = read(path)
    assert reading.counts == {"used": 6, "remark": 3, "refused": 0}
    assert discharge(reading.gaugings[0]) == pytest.approx(IN_FEET, rel=CLOSE)
    assert gauging_of(reading.gaugings[0]).remarks == "Alder Fork gauging"
