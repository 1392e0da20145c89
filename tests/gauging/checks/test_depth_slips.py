"""Depths that their neighbours contradict."""

import pytest

from bankside.gauging.checks.depth_slips import CHECKS
from bankside.gauging.checks.finding import Finding
from bankside.gauging.records import Gauging

from .slip_sections import DEPTHS, METRIC, TAPES, VELOCITIES, changed, first, of, section


def _found(gauging: Gauging, finished: bool = True) -> list[Finding]:
    return of(CHECKS, "Depth looks misread", gauging, finished=finished)


def test_a_smooth_section_is_silent() -> None:
    """Nothing stands out, the verticals beside the banks included."""
    assert _found(section()) == []


@pytest.mark.parametrize(
    ("place", "written"), [(4, 10.2), (4, 0.102), (3, 8.8), (7, 0.39), (6, 0.18), (4, 0.12)]
)
def test_a_slip_is_named_with_the_figure_that_was_meant(place: int, written: float) -> None:
    """The point one place off, or two digits changed about: at its vertical and nowhere else."""
    (finding,) = _found(section(depths=changed(DEPTHS, {place: written})))

    assert (finding.tapes, finding.severity) == ((TAPES[place],), "fix now")
    assert finding.instead == DEPTHS[place]
    assert f"{DEPTHS[place]:g} ft?" in finding.found


def test_a_slip_that_might_be_the_bed_is_only_asked_about() -> None:
    """1.13 heard as 1.31 stands a little above its neighbours: to be explained, at most."""
    (finding,) = _found(section(depths=changed(DEPTHS, {5: 1.31})))

    assert (finding.severity, finding.instead) == ("explain", 1.13)


def test_a_stone_within_the_unevenness_is_silent() -> None:
    """1.02 read as 0.93 lies within what the section's own unevenness lets expect."""
    assert _found(section(depths=changed(DEPTHS, {4: 0.93}))) == []


def test_a_hole_that_no_slip_explains_has_to_be_explained() -> None:
    """2.5 times the deepest line of the neighbours and 0.4 ft more; just below it is silent."""
    flat = [0.0, *[0.5] * 9, 0.0]
    hole, lesser = (section(depths=changed(flat, {5: depth})) for depth in (1.33, 1.22))

    (finding,) = _found(hole)
    assert (finding.severity, finding.instead, finding.tapes) == ("explain", None, (7.0,))
    assert [threshold.name for threshold in finding.thresholds] == [
        "depth_slip_high",
        "depth_slip_least",
    ]
    assert _found(lesser) == []


def test_the_last_vertical_called_is_judged_from_one_side() -> None:
    """Ten times as deep is told at once; ten times shallower could be the bank, until more came."""
    deep = section(depths=changed(DEPTHS, {4: 10.2}))
    shallow = section(depths=changed(DEPTHS, {4: 0.102}))

    assert [f.instead for f in _found(first(deep, 5), finished=False)] == [1.02]
    assert _found(first(shallow, 5), finished=False) == []
    assert [f.instead for f in _found(first(shallow, 6), finished=False)] == [1.02]


def test_nothing_called_finds_nothing() -> None:
    """A gauging without verticals, and one with an edge only."""
    assert _found(first(section(), 0), finished=False) == []
    assert _found(first(section(), 1), finished=False) == []


def test_the_other_way_round_the_same_is_found() -> None:
    """A section called from the other bank has the same findings."""
    depths = changed(DEPTHS, {4: 10.2})
    there = section(TAPES[::-1], depths[::-1], VELOCITIES[::-1])

    assert [(f.tapes, f.instead) for f in _found(there)] == [((6.0,), 1.02)]


def test_no_depth_is_proposed_that_no_rod_shows() -> None:
    """0.03 m beside the bank, 0.01 m next to it: 0.003 m is below 5 mm."""
    depths = [0.0, 0.03, 0.01, 0.011, 0.015, 0.018, 0.019, 0.029, 0.03, 0.036, 0.0]

    found = _found(section(depths=depths, units=METRIC))

    assert [f.instead for f in found if f.instead is not None and f.instead < 0.005] == []
    assert [f for f in found if f.severity == "fix now"] == []


def test_no_depth_is_proposed_that_is_finer_than_the_sheet() -> None:
    """0.07 m where 0.01 would fit: 0.007 is no hundredth."""
    depths = [0.0, 0.01, 0.01, 0.01, 0.01, 0.07, 0.01, 0.01, 0.01, 0.01, 0.0]

    assert [f.instead for f in _found(section(depths=depths, units=METRIC))] == []


def test_a_stone_with_still_water_is_only_asked_about() -> None:
    """0.13 ft where 1.3 would fit: with a velocity of 0 a stone, with 1.16 ft/s hardly."""
    depths = changed(DEPTHS, {5: 0.13})
    still, moving = (
        section(depths=depths, velocities=changed(VELOCITIES, {5: v})) for v in (0.0, 1.16)
    )

    assert [f.severity for f in _found(still)] == ["explain"]
    assert [f.severity for f in _found(moving)] == ["fix now"]


def test_two_shallow_depths_side_by_side_are_only_asked_about() -> None:
    """0.01 m twice between 0.07 and 0.06 m: a bar, or two slips; nobody can tell."""
    depths = [0.0, 0.04, 0.06, 0.09, 0.07, 0.01, 0.01, 0.06, 0.05, 0.04, 0.0]

    found = _found(section(depths=depths, units=METRIC))

    assert [f for f in found if f.severity == "fix now"] == []


def test_beside_a_bank_a_slip_takes_more() -> None:
    """0.03 might be the bank's shelf and is asked about; 4.2 is no bank's and is a slip."""
    shallow, deep = (section(depths=changed(DEPTHS, {1: depth})) for depth in (0.03, 4.2))

    assert [f.severity for f in _found(shallow)] == ["explain"]
    assert [(f.severity, f.instead) for f in _found(deep)] == [("fix now", 0.42)]


@pytest.mark.parametrize("count", [1, 2, 3])
def test_a_narrow_channel_is_accused_of_nothing(count: int) -> None:
    """Between two banks one, two or three depths may have any shape."""
    across = [4 * i * (count + 1 - i) / (count + 1) ** 2 for i in range(1, count + 1)]
    depths = [0.0, *(round(0.9 * part, 2) for part in across), 0.0]

    tapes = [float(i) for i in range(count + 2)]

    assert _found(section(tapes, depths, [2 * depth for depth in depths])) == []


def test_a_rise_that_no_slip_explains_has_to_be_explained() -> None:
    """0.4 of the shallowest line of the neighbours and 0.4 ft less; just above it is silent."""
    flat = [0.0, *[1.5] * 9, 0.0]
    rise, lesser = (section(depths=changed(flat, {5: depth})) for depth in (0.6, 0.66))

    (finding,) = _found(rise)
    assert (finding.severity, finding.instead, finding.tapes) == ("explain", None, (7.0,))
    assert [threshold.name for threshold in finding.thresholds] == [
        "depth_slip_low",
        "depth_slip_least",
    ]
    assert _found(lesser) == []


@pytest.mark.parametrize(("depth", "count"), [(0.66, 1), (0.64, 0)])
def test_a_small_hole_is_none(depth: float, count: int) -> None:
    """2.6 times 0.25 ft is told from 0.4 ft more than the neighbours on, not below."""
    flat = [0.0, *[0.25] * 9, 0.0]

    found = _found(section(depths=changed(flat, {5: depth})))
    assert len([finding for finding in found if finding.thresholds]) == count
