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


def test_velocities_that_nobody_wades_in_are_told_once_and_call_the_crew_out() -> None:
    """The worst first, all of a severity together; nobody goes back before the meter was seen."""
    made = section(velocities=changed(VELOCITIES, {3: 8.4, 4: 6.0, 5: 9.1, 6: 8.8}))

    stop, explain = of(CHECKS, "Faster than plausible", made)

    assert (stop.severity, stop.tapes) == ("stop", (7.0, 8.0, 5.0))
    assert (explain.severity, explain.tapes) == ("explain", (6.0,))
    assert "the first of them 9.1 ft/s" in stop.found
    assert stop.advice.startswith("Come out. From the bank, look at the unit")
    assert "only if it was the wrong one" in stop.advice
    assert explain.advice.endswith("look at the unit that the meter shows, from the bank.")


def test_a_slip_too_fast_to_stand_in_calls_the_crew_out() -> None:
    """11.6 ft/s may be 1.16: but see that from the bank."""
    (finding,) = _found(section(velocities=changed(VELOCITIES, {4: 11.6})))

    assert finding.advice.startswith("Come out. From the bank")


def test_water_beside_an_eddy_is_not_judged_by_it() -> None:
    """1.44 beside −0.45 and 1.6: it is a right reading, and 0.44 (from 1.44) is not proposed."""
    made = section(velocities=[0.0, 1.3, 1.5, 1.6, 1.6, 1.44, -0.45, -0.3, -0.2, -0.1, 0.0])

    assert [f for f in _found(made) if f.severity == "fix now"] == []
    assert [f for f in _found(made) if f.tapes == (7.0,)] == []


def test_within_two_verticals_of_an_eddy_a_slip_is_only_asked_about() -> None:
    """11.6 for 1.16 with water running upstream two verticals on; without it, it is a slip."""
    by_eddy, alone = (
        section(velocities=changed(VELOCITIES, {4: 11.6, 6: other})) for other in (-0.3, 1.19)
    )

    assert [f.severity for f in _found(by_eddy)] == ["explain"]
    assert [f.severity for f in _found(alone)] == ["fix now"]


def test_no_figure_is_proposed_that_turns_a_vertical_upside_down() -> None:
    """0.5 below 1.0 is an odd pair; 1.64 (0.5 m/s in feet) below 1.0 would be a stranger one."""
    made = section(velocities=[0.0, *[1.6, 1.62, 1.58] * 3, 0.0])
    rows = list(made.channels[0].verticals)
    rows[5] = attrs.evolve(rows[5], velocity=(PointReading(1.0, 0.2), PointReading(0.5, 0.8)))

    found = _found(attrs.evolve(made, channels=(Channel(tuple(rows)),)))

    assert [f.instead for f in found if f.instead == 1.64] == []
    assert [f.tapes for f in found if f.tapes != (7.0,)] == []


def test_slow_water_beside_still_water_at_the_bank_is_only_asked_about() -> None:
    """0.02 m/s beside a 0 and the bank, where 0.2 would fit the 0.27 and 0.4 on the other side."""
    made = section(
        velocities=[0.0, 0.27, 0.41, 0.5, 0.6, 0.62, 0.55, 0.4, 0.02, 0.0, 0.0], units=METRIC
    )

    assert [f.severity for f in _found(made)] == ["explain"]
