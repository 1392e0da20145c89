"""Velocities that their neighbours contradict, and those that nobody wades in."""

import attrs
import pytest

from bankside.gauging.checks.finding import Finding
from bankside.gauging.checks.velocity_slips import CHECKS
from bankside.gauging.records import Channel, Gauging, PointReading

from .slip_sections import METRIC, TAPES, VELOCITIES, changed, first, of, section


def _found(gauging: Gauging, finished: bool = True) -> list[Finding]:
    return of(CHECKS, "Velocity looks misread", gauging, finished=finished)


def test_a_smooth_section_is_silent() -> None:
    """Nothing stands out."""
    assert _found(section()) == []


@pytest.mark.parametrize(
    ("place", "written"), [(4, 11.6), (4, 0.116), (3, 10.4), (4, 3.81), (8, 9.2), (8, 0.29)]
)
def test_a_slip_is_named_with_the_figure_that_was_meant(place: int, written: float) -> None:
    """The point one place off, the other unit (1.16 × 3.2808 = 3.81), two digits changed about."""
    (finding,) = _found(section(velocities=changed(VELOCITIES, {place: written})))

    assert (finding.tapes, finding.instead) == ((TAPES[place],), VELOCITIES[place])
    assert finding.severity in ("fix now", "explain")


def test_slower_water_behind_a_stone_is_silent() -> None:
    """0.8 between 1.04 and 1.24 is what streams do."""
    assert _found(section(velocities=changed(VELOCITIES, {4: 0.8}))) == []


def test_one_of_two_readings_is_named() -> None:
    """At 0.2 and 0.8 of the depth 1.4 and 0.92 were read; 14 for 1.4 is the reading to change."""
    made = section()
    rows = list(made.channels[0].verticals)
    pair = (PointReading(14.0, 0.2), PointReading(0.92, 0.8))
    rows[4] = attrs.evolve(rows[4], velocity=pair)

    (finding,) = _found(attrs.evolve(made, channels=(Channel(tuple(rows)),)))

    assert (finding.tapes, finding.instead) == ((6.0,), 1.4)


def test_the_last_vertical_called_is_judged_from_one_side() -> None:
    """Ten times as fast is told at once, ten times slower only when more has been called."""
    fast = section(velocities=changed(VELOCITIES, {4: 11.6}))
    slow = section(velocities=changed(VELOCITIES, {4: 0.116}))

    assert [f.instead for f in _found(first(fast, 5), finished=False)] == [1.16]
    assert _found(first(slow, 5), finished=False) == []
    assert [f.instead for f in _found(first(slow, 6), finished=False)] == [1.16]


@pytest.mark.parametrize(
    ("fastest", "severity"), [(8.01, "stop"), (8.0, "explain"), (5.01, "explain"), (5.0, None)]
)
def test_faster_than_plausible(fastest: float, severity: str | None) -> None:
    """Above 8 ft/s nobody wades, above 5 ft/s it has to be explained."""
    made = section(velocities=changed(VELOCITIES, {5: fastest}))

    found = of(CHECKS, "Faster than plausible", made)

    assert [f.severity for f in found] == ([] if severity is None else [severity])
    assert all(f.tapes == (7.0,) for f in found)


def test_the_limit_of_velocity_holds_in_other_units() -> None:
    """2.4 m/s is 7.87 ft/s, 2.5 m/s is 8.2 ft/s."""
    slower, faster = (
        section(velocities=changed(VELOCITIES, {5: v}), units=METRIC) for v in (2.4, 2.5)
    )

    assert [f.severity for f in of(CHECKS, "Faster than plausible", slower)] == ["explain"]
    assert [f.severity for f in of(CHECKS, "Faster than plausible", faster)] == ["stop"]
