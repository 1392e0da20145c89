"""Slow, shallow, weak and running back: just beyond each limit, and just inside it."""

from typing import Any

import pytest

from bankside.gauging.checks.velocity_range import CHECKS
from bankside.gauging.records import Channel, Meter, Vertical

from .conditions_building import findings, gauging, lone, point, section, severities

SLOW, SHALLOW, FAST, WEAK, BACK = CHECKS


@pytest.mark.parametrize(("velocity", "count"), [(0.09, 1), (0.1, 0)])
def test_slow_water(velocity: float, count: int) -> None:
    """A meter that tells 0.1 ft/s tells 0.1 ft/s and not less."""
    assert len(findings([SLOW], gauging(section(velocity=velocity)))) == count


def test_slow_water_is_told_without_what_stands_still() -> None:
    """Four panels at 0.09 ft/s, and a zero."""
    still = {5: Vertical(5.0, 1.0, (point(0.0),))}
    (finding,) = findings([SLOW], gauging(section(5, velocity=0.09, others=still)))
    assert finding.found == (
        "Water slower than 0.1 ft/s, at tapes 1, 2, 3 and 4 ft, carries 100 % of the discharge, "
        "above 10 %."
    )
    assert (finding.channel, finding.tapes) == (0, (1.0, 2.0, 3.0, 4.0))
    assert [t.name for t in finding.thresholds] == ["slowest", "slow_share"]


@pytest.mark.parametrize(("upper", "lower", "count"), [(0.1, 0.04, 1), (0.16, 0.06, 0)])
def test_of_two_points_the_mean_is_slow(upper: float, lower: float, count: int) -> None:
    """0.07 ft/s is, 0.11 ft/s is not."""
    pairs = {
        i: Vertical(float(i), 1.0, (point(upper, 0.2), point(lower, 0.8))) for i in range(1, 21)
    }
    assert len(findings([SLOW], gauging(section(others=pairs)))) == count


def test_points_that_cancel_carry_nothing() -> None:
    """Two slow panels of 0.36 ft³/s beside 6.8 are 9.6 %; a third of 0.05 less 0.05 adds none."""
    others = {i: Vertical(float(i), 4.5, (point(0.08),)) for i in (1, 2)}
    others[3] = Vertical(3.0, 1.0, (point(0.05, 0.2), point(-0.05, 0.8)))
    assert findings([SLOW], gauging(section(velocity=0.4, others=others))) == []


@pytest.mark.parametrize(("depth", "count"), [(5.0, 0), (5.01, 1)])
def test_slow_water_may_carry_a_tenth(depth: float, count: int) -> None:
    """18 panels of 0.4 ft³/s and two slow ones of 0.08 ft/s × 5 ft are 8 ft³/s: 10 % is slow."""
    slow = {place: Vertical(float(place), depth, (point(0.08),)) for place in (1, 2)}
    found = findings([SLOW], gauging(section(velocity=0.4, others=slow)))
    assert len(found) == count
    assert all(finding.tapes == (1.0, 2.0) for finding in found)


def test_the_meters_own_least_velocity_goes_first() -> None:
    """Papers that say 0.5 ft/s make 0.4 ft/s slow, papers that say 0.05 ft/s make 0.09 sound."""
    record = gauging(section(velocity=0.4), meter=Meter(slowest=0.5))
    (finding,) = findings([SLOW], record)
    assert "0.5 ft/s of the meter's papers" in finding.found
    assert [t.name for t in finding.thresholds] == ["slow_share"]
    assert not findings([SLOW], gauging(section(velocity=0.09), meter=Meter(slowest=0.05)))


@pytest.mark.parametrize(
    ("depth", "fraction", "expected"),
    [
        (0.29, 0.6, ["explain"]),
        (0.3, 0.6, []),
        (0.29, None, ["note"]),
        (0.29, 0.5, []),
    ],
)
def test_shallow_water(depth: float, fraction: float | None, expected: list[str]) -> None:
    """Below 0.3 ft the meter is held at half the depth; where that is not said, only a note."""
    record = gauging(section(depth=depth, fraction=fraction))
    found = findings([SHALLOW], record)
    assert [finding.severity for finding in found] == expected
    for finding in found:
        assert finding.found.startswith("Water less than 0.3 ft deep, at tapes 1, 2, 3,")
        assert finding.channel == 0
        assert [t.name for t in finding.thresholds] == ["shallowest", "shallow_share"]


@pytest.mark.parametrize(("velocity", "count"), [(4.0, 0), (4.04, 1)])
def test_shallow_water_may_carry_a_tenth(velocity: float, count: int) -> None:
    """18 panels of 1 ft³/s and two of 0.25 ft × 4 ft/s are 20 ft³/s: 10 % is shallow."""
    shallow = {place: Vertical(float(place), 0.25, (point(velocity),)) for place in (1, 2)}
    assert len(findings([SHALLOW], gauging(section(others=shallow)))) == count


def test_the_meters_own_least_depth_goes_first() -> None:
    """Papers hold at any point of the depth, half of it included, and either way."""
    half = section(depth=0.4, fraction=0.5)
    assert findings([SHALLOW], gauging(half, meter=Meter(shallowest=0.5)))
    assert not findings([SHALLOW], gauging(section(depth=0.29), meter=Meter(shallowest=0.2)))


def test_an_edge_row_without_water_is_not_shallow_water() -> None:
    """Edges filed as 0 deep with the velocity 0 say nothing of how high the meter was held."""
    edges = {
        place: Vertical(at, 0.0, (point(0.0, None),), edge=bank)
        for place, at, bank in ((0, 0.0, "left"), (21, 21.0, "right"))
    }
    (channel,) = section(depth=0.29)
    verticals = (edges[0], *channel.verticals[1:-1], edges[21])
    (finding,) = findings([SHALLOW], gauging((Channel(verticals),)))
    assert finding.severity == "explain"
    assert (finding.tapes[0], finding.tapes[-1]) == (1.0, 20.0)


def test_half_depth_is_not_advised_where_it_was_read() -> None:
    """Below the papers' least depth: what was read at 0.6 could be read at 0.5, the rest not."""
    meter = Meter(shallowest=0.5)
    (finding,) = findings([SHALLOW], gauging(section(depth=0.4, fraction=0.5), meter=meter))
    assert finding.advice.startswith("Look for a deeper section than at tapes 1, 2,")
    mixed = section(depth=0.4, fraction=0.5, others={7: Vertical(7.0, 0.4, (point(1.0),))})
    (finding,) = findings([SHALLOW], gauging(mixed, meter=meter))
    assert finding.advice.startswith("Read at half the depth at tape 7 ft, or look for")
    (finding,) = findings([SHALLOW], gauging(mixed * 2, meter=meter))
    assert "at tape 7 ft of channel 1 and tape 7 ft of channel 2, or look" in finding.advice
    (half,) = section(depth=0.4, fraction=0.5)
    (finding,) = findings([SHALLOW], gauging((*mixed, half), meter=meter))
    assert finding.advice.startswith("Read at half the depth at tape 7 ft of channel 1, or look")


@pytest.mark.parametrize(("depth", "count"), [(1.49, 1), (1.5, 0)])
@pytest.mark.parametrize("fraction", [0.5, 0.6, None])
def test_a_large_rotor_needs_deeper_water(depth: float, count: int, fraction: float | None) -> None:
    """USGS SW memorandum 85.14, table 1: 1.5 ft or more, wherever in the depth it is held."""
    record = gauging(section(depth=depth, fraction=fraction), meter=Meter(rotor="large"))
    found = findings([SHALLOW], record)
    assert [finding.severity for finding in found] == ["explain"] * count
    assert all("small rotor" in finding.advice for finding in found)
    assert all("less than 1.5 ft (for a large rotor) deep" in finding.found for finding in found)
    small = gauging(section(depth=depth, fraction=fraction), meter=Meter(rotor="small"))
    assert findings([SHALLOW], small) == []


@pytest.mark.parametrize(
    ("rotor", "velocity", "count"),
    [("small", 4.0, 0), ("small", 4.1, 1), ("small", -4.1, 1), ("large", 4.1, 0), (None, 4.1, 0)],
)
@pytest.mark.parametrize("finished", [True, False])
def test_a_small_rotor_in_fast_water(
    rotor: Any, velocity: float, count: int, finished: bool
) -> None:
    """Small rotors are for water up to 4 ft/s (from memory)."""
    record = lone(Vertical(7.0, 1.0, (point(velocity),)), meter=Meter(rotor=rotor))
    found = findings([FAST], record, finished=finished)
    assert [(f.severity, f.channel, f.tapes) for f in found] == [("explain", 0, (7.0,))] * count
    assert all(
        "faster than 4 ft/s was read with a small rotor at tape 7 ft" in f.found for f in found
    )
    assert [t.name for f in found for t in f.thresholds] == ["fastest_small"] * count


@pytest.mark.parametrize(
    ("depth", "velocity", "count"),
    [(0.5, 0.4, 1), (0.525, 0.4, 0), (0.5, 0.5, 0)],
)
def test_a_weak_section(depth: float, velocity: float, count: int) -> None:
    """20 panels of 0.525 ft over 21 ft are 0.5 ft deep on average: neither figure is below."""
    found = findings([WEAK], gauging(section(depth=depth, velocity=velocity)))
    assert [finding.severity for finding in found] == ["note"] * count
    names = ["weak_depth", "weak_velocity"]
    assert [t.name for f in found for t in f.thresholds] == names * count


@pytest.mark.parametrize(
    ("count", "velocity", "expected", "share"),
    [
        (50, -1.0, "note", "2.0"),
        (50, -1.1, "explain", "2.2"),
        (20, -1.0, "explain", "5.0"),
        (20, -1.1, "fix now", "5.5"),
    ],
)
def test_water_running_upstream(count: int, velocity: float, expected: str, share: str) -> None:
    """One panel of 50 is 2 % of all that moves, one of 20 is 5 %: a little more is graver."""
    back = Vertical(7.0, 1.0, (point(velocity),))
    (finding,) = findings([BACK], gauging(section(count, others={7: back})))
    assert (finding.severity, finding.channel, finding.tapes) == (expected, 0, (7.0,))
    assert finding.found == f"Water runs upstream at tape 7 ft: {share} % of all water that moves."
    graver = ", and choose a section without an eddy" if expected != "note" else ""
    assert finding.advice == f"Keep the sign of what was read at tape 7 ft{graver}."
    limits = {"explain": ["reverse_share_explain"], "fix now": ["reverse_share_fix"]}
    assert [t.name for t in finding.thresholds] == limits.get(expected, [])


@pytest.mark.parametrize("finished", [True, False])
def test_water_running_upstream_without_a_share(finished: bool) -> None:
    """Before the end no share is told, and none where nothing flows: the depth is 0."""
    back = {7: Vertical(7.0, 1.0 - finished, (point(-3.0),))}
    made = gauging(section(7 if finished else 20, depth=1.0 - finished, others=back))
    (finding,) = findings([BACK], made, finished=finished)
    assert (finding.severity, finding.found) == ("note", "Water runs upstream at tape 7 ft.")


def test_no_water_running_upstream() -> None:
    """Slack water does not run upstream."""
    slack = Vertical(7.0, 1.0, (point(0.0),))
    assert not findings([BACK], gauging(section(others={7: slack})))


def test_unfinished() -> None:
    """Before the end there are no shares: only that water runs upstream can be told."""
    assert not findings(CHECKS, gauging(section(depth=0.2, velocity=0.05)), finished=False)
    back = lone(Vertical(7.0, 1.0, (point(-3.0),)))
    for finished in (False, True):  # without edges there is no discharge at the end either
        assert ("Water running upstream", "note") in severities(CHECKS, back, finished=finished)
