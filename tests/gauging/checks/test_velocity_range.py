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
    assert [severity for _, severity in severities([SHALLOW], record)] == expected


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


@pytest.mark.parametrize(("depth", "count"), [(1.49, 1), (1.5, 0)])
@pytest.mark.parametrize("fraction", [0.5, 0.6, None])
def test_a_large_rotor_needs_deeper_water(depth: float, count: int, fraction: float | None) -> None:
    """USGS SW memorandum 85.14, table 1: 1.5 ft or more, wherever in the depth it is held."""
    record = gauging(section(depth=depth, fraction=fraction), meter=Meter(rotor="large"))
    found = findings([SHALLOW], record)
    assert [finding.severity for finding in found] == ["explain"] * count
    assert all("small rotor" in finding.advice for finding in found)
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
    assert [(f.severity, f.tapes) for f in found] == [("explain", (7.0,))] * count


@pytest.mark.parametrize(
    ("depth", "velocity", "count"),
    [(0.5, 0.4, 1), (0.525, 0.4, 0), (0.5, 0.5, 0)],
)
def test_a_weak_section(depth: float, velocity: float, count: int) -> None:
    """20 panels of 0.525 ft over 21 ft are 0.5 ft deep on average: neither figure is below."""
    found = severities([WEAK], gauging(section(depth=depth, velocity=velocity)))
    assert found == [("Weak section", "note")] * count


@pytest.mark.parametrize(
    ("count", "velocity", "expected"),
    [
        (50, -1.0, "note"),
        (50, -1.1, "explain"),
        (20, -1.0, "explain"),
        (20, -1.1, "fix now"),
    ],
)
def test_water_running_upstream(count: int, velocity: float, expected: str) -> None:
    """One panel of 50 is 2 % of all that moves, one of 20 is 5 %: a little more is graver."""
    back = Vertical(7.0, 1.0, (point(velocity),))
    (finding,) = findings([BACK], gauging(section(count, others={7: back})))
    assert (finding.severity, finding.tapes) == (expected, (7.0,))


def test_no_water_running_upstream() -> None:
    """Slack water does not run upstream."""
    slack = Vertical(7.0, 1.0, (point(0.0),))
    assert not findings([BACK], gauging(section(others={7: slack})))


def test_unfinished() -> None:
    """Before the end there are no shares: only that water runs upstream can be told."""
    assert not findings(CHECKS, gauging(section(depth=0.2, velocity=0.05)), finished=False)
    back = lone(Vertical(7.0, 1.0, (point(-3.0),)))
    assert severities(CHECKS, back, finished=False) == [("Water running upstream", "note")]
