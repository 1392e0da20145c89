"""Depths that their neighbours contradict."""

import attrs
import pytest

from bankside.gauging.checks.depth_slips import CHECKS
from bankside.gauging.checks.finding import Finding, Suspect
from bankside.gauging.records import Channel, Gauging, Units

from .slip_sections import DEPTHS, FEET, METRIC, TAPES, VELOCITIES, changed, first, of, section


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
    assert finding.suspect == Suspect(place, "depth")


@pytest.mark.parametrize("written", [{2: 0.071, 3: 0.088}, {7: 9.3, 8: 7.4}, {1: 4.2, 2: 7.1}])
def test_two_side_by_side_are_named_and_nothing_beside_them(written: dict[int, float]) -> None:
    """Each is told as the depth that was there; the two hide one another from those beside them."""
    found = _found(section(depths=changed(DEPTHS, written)))

    assert [(f.tapes, f.instead) for f in found] == [((TAPES[n],), DEPTHS[n]) for n in written]


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
    assert finding.found == (
        "The depth at tape 7 ft, 1.33 ft, is 2.5 times what its neighbours suggest (0.5 ft), or "
        "further off."
    )
    assert finding.advice.startswith("Read the depth at tape 7 ft again; ")
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


@pytest.mark.parametrize(
    ("usual", "depth", "count"),
    [(0.24, 0.66, 1), (0.24, 0.6, 0), (0.16, 0.56, 0), (0.61, 0.2, 1), (0.61, 0.22, 0)],
)
def test_a_small_hole_or_rise_is_none(usual: float, depth: float, count: int) -> None:
    """Beyond the factors of 2.5 and 0.4 it is told from 0.4 ft off on: 0.42 and 0.41, not 0.39."""
    flat = [0.0, *[usual] * 9, 0.0]

    found = _found(section(depths=changed(flat, {5: depth})))
    assert len([finding for finding in found if finding.thresholds]) == count


def test_a_slip_is_told_with_what_was_to_be_expected() -> None:
    """The place, the figure, the span of the neighbours and what was meant, each with its unit."""
    flat = [0.0, *[0.5] * 9, 0.0]
    (finding,) = _found(section(depths=changed(flat, {5: 5.0}), units=METRIC))

    assert finding.found == (
        "The depth at tape 7 m, 5 m, does not fit its neighbours, which suggest 0.5 m; did you "
        "mean 0.5 m?"
    )
    assert finding.advice.endswith("read the depth at tape 7 m again.")


@pytest.mark.parametrize(
    ("units", "usual", "depth"), [(METRIC, 0.5, 1.25), (METRIC, 0.5, 0.2), (FEET, 0.28, 0.7)]
)
def test_the_factors_themselves_are_told(units: Units, usual: float, depth: float) -> None:
    """2.5 times and 0.4 times what is usual."""
    flat = [0.0, *[usual] * 9, 0.0]
    (finding,) = _found(section(depths=changed(flat, {5: depth}), units=units))

    assert finding.thresholds and finding.tapes == (7.0,)


def test_a_bank_is_what_lies_next() -> None:
    """1.5 beside the bank for 0.15 is asked about; 2.8 for 0.28 two from it is a slip.

    Both are 30 to 90 times likelier: enough in the stream, too little beside a bank.
    """
    beside, further = (section(depths=changed(DEPTHS, {k: d})) for k, d in ((1, 1.5), (8, 2.8)))

    assert [(f.severity, f.instead) for f in _found(beside)] == [("explain", 0.15)]
    assert [(f.severity, f.instead) for f in _found(further)] == [("fix now", 0.28)]


def test_beside_a_bank_it_may_be_shallow() -> None:
    """0.12 m at a third of the way to 0.9 m is above the parabola of a shelving bank, 0.1 m."""
    depths = [0.0, 0.12, *[0.9] * 8, 0.0]

    tapes = [0.0, 1.0, *(3.0 + i for i in range(8)), 11.0]
    assert _found(section(tapes, depths, VELOCITIES, METRIC)) == []


def test_a_depth_that_was_not_read_is_no_bank() -> None:
    """Beside it 0.102 is still ten times too shallow."""
    shallow = section(depths=changed(DEPTHS, {4: 0.102}))
    verticals = list(shallow.channels[0].verticals)
    verticals[5] = attrs.evolve(verticals[5], depth=None)

    found = _found(Gauging(shallow.units, (Channel(tuple(verticals)),)), finished=False)
    assert [f.instead for f in found] == [1.02]


def test_the_last_vertical_called_may_stick_out() -> None:
    """5 ft where three and more were 0.3 to 1.5 ft, on an uneven bed, is asked about at once."""
    depths = [0.0, 0.3, 1.5, 0.3, 1.5, 0.3, 1.5, 5.0, 1.0, 1.0, 0.0]

    found = _found(first(section(depths=depths), 8), finished=False)
    assert (9.0,) in [finding.tapes for finding in found]


def test_what_waits_at_the_newest_vertical_hides_nothing() -> None:
    """Called from the right bank: the newest depth stands first along the tape."""
    there = section(TAPES[::-1], changed(DEPTHS, {4: 10.2})[::-1], VELOCITIES[::-1])

    assert [f.instead for f in _found(first(there, 9), finished=False)] == [1.02]


@pytest.mark.parametrize(
    ("units", "usual", "instead"), [(METRIC, 0.005, [0.005]), (FEET, 0.01, [])]
)
def test_the_least_depth_that_is_proposed(units: Units, usual: float, instead: list[float]) -> None:
    """Ten times too deep: 5 mm can be read, 0.01 ft is 3 mm."""
    depths = [0.0, *[usual] * 4, 10 * usual, *[usual] * 4, 0.0]

    found = _found(section(depths=depths, units=units))
    assert [f.instead for f in found if f.instead is not None] == instead


def test_what_fits_at_the_newest_vertical_is_left_alone() -> None:
    """0.345 lies among depths of 0.32 to 1.53 ft, though it is finer than all of them."""
    depths = [0.0, 0.31, 1.52, 0.33, 1.51, 0.32, 1.53, 0.345, 1.0, 1.0, 0.0]

    found = _found(first(section(depths=depths), 8), finished=False)
    assert (9.0,) not in [finding.tapes for finding in found]
