"""Velocities that their neighbours contradict, and those that nobody wades in."""

import attrs
import pytest

from bankside.gauging.checks.finding import Finding, Suspect
from bankside.gauging.checks.velocity_slips import CHECKS
from bankside.gauging.records import Channel, Gauging, Meter, PointReading, RatingPart

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


def test_a_velocity_in_metres_among_feet_is_named_in_feet() -> None:
    """0.35 m/s are 1.15 ft/s."""
    (finding,) = _found(section(velocities=changed(VELOCITIES, {4: 0.35})))

    assert finding.instead == 1.15
    assert finding.advice == (
        "Look at the unit that the meter shows, and measure the velocity at tape 6 ft again."
    )


def test_beside_the_bank_the_span_goes_from_a_shelving_bank_to_a_steep_one() -> None:
    """1 ft from the bank, with 0.87 ft/s at 2 and 1.04 ft/s at 3 ft from it.

    A steep bank lets 1.04 expect, a shelving one 1.04 / 9 = 0.12.
    """
    (finding,) = _found(section(velocities=changed(VELOCITIES, {1: 6.3})))

    assert "which suggest 0.12 to 1 ft/s; did you mean 0.63 ft/s?" in finding.found


@pytest.mark.parametrize(
    ("written", "severity"),
    [
        ({4: 0.116, 6: -0.3}, "explain"),  # an eddy two verticals on
        ({4: 0.116, 7: -0.3}, "fix now"),  # an eddy farther off
        ({3: 0.104, 2: 0.0}, "explain"),  # slow beside still water
        ({3: 0.104, 1: 0.0}, "fix now"),  # still water two verticals on
        ({1: 6.3}, "fix now"),  # ten times as fast beside the bank
        ({9: 2.23}, "explain"),  # 0.68 × 3.28 beside the bank, where it takes more
        ({4: 0.116}, "fix now"),
        ({4: 11.6, 5: 0.124}, "explain"),  # beside another odd one
    ],
)
def test_what_lies_beside_a_slip_makes_it_less_sure(
    written: dict[int, float], severity: str
) -> None:
    """Banks, still water and eddies, within their reach."""
    found = _found(section(velocities=changed(VELOCITIES, written)))

    assert [f.severity for f in found if f.tapes == (TAPES[next(iter(written))],)] == [severity]


def test_no_figure_is_proposed_that_is_finer_than_all_others() -> None:
    """Among tenths nobody read 0.95."""
    tenths = [0.0, 0.6, 0.9, 1.0, 9.5, 1.2, 1.2, 1.1, 0.9, 0.7, 0.0]

    assert [f.instead for f in _found(section(velocities=tenths)) if f.instead == 0.95] == []


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

    assert (finding.channel, finding.tapes, finding.instead) == (0, (6.0,), 1.4)
    assert finding.suspect == Suspect(4, "velocity", 0)
    # Lines between 0.87 and 1.04 on the left, 1.24 and 1.19 on the right pass at 1.03 to 1.14.
    assert finding.found == (
        "The velocity at tape 6 ft, 14 ft/s, does not fit its neighbours, which suggest 1 to "
        "1.1 ft/s; did you mean 1.4 ft/s?"
    )


@pytest.mark.parametrize(
    ("upper", "lower", "instead"),
    [
        (4.1, 0.92, 1.25),  # 0.41 would be upside down, 1.25 (4.1 taken for m/s) is not
        (1.0, 12.5, 1.25),  # nor is 1.25 times as fast as above it
        (1.4, 0.905, 0.95),  # finer than all others, though it lies well
    ],
)
def test_what_was_meant_by_one_of_two_readings(upper: float, lower: float, instead: float) -> None:
    """Among the figures that a slip makes of it there may be odd ones; the others count."""
    rows = list(section().channels[0].verticals)
    pair = (PointReading(upper, 0.2), PointReading(lower, 0.8))
    rows[4] = attrs.evolve(rows[4], velocity=pair)

    (finding,) = _found(attrs.evolve(section(), channels=(Channel(tuple(rows)),)))

    assert finding.instead == instead


def test_beside_a_point_that_was_counted_the_other_is_judged() -> None:
    """28 turns in 40 s make 1.4 ft/s at 2 ft a turn; 9.2 for 0.92 below it."""
    rows = list(section().channels[0].verticals)
    pair = (PointReading(fraction=0.2, counts=28.0, seconds=40.0), PointReading(9.2, 0.8))
    rows[4] = attrs.evolve(rows[4], velocity=pair)
    meter = Meter(rating=(RatingPart(2.0, 0.0),))

    (finding,) = _found(attrs.evolve(section(), channels=(Channel(tuple(rows)),), meter=meter))

    assert (finding.instead, finding.suspect) == (0.92, Suspect(4, "velocity", 1))


@pytest.mark.parametrize(("written", "count"), [(1.205, 1), (1.005, 0)])
def test_the_last_called_is_asked_about_only_above_what_lies_before_it(
    written: float, count: int
) -> None:
    """1.005, finer than all others, lies between the 0.87 and 1.04 before it; 1.205 does not."""
    made = section(velocities=changed(VELOCITIES, {4: written}))

    assert len(_found(first(made, 5), finished=False)) == count


def test_the_last_vertical_called_is_judged_from_one_side() -> None:
    """Ten times as fast is told at once, ten times slower only when more has been called."""
    fast = section(velocities=changed(VELOCITIES, {4: 11.6}))
    slow = section(velocities=changed(VELOCITIES, {4: 0.116}))

    assert [f.instead for f in _found(first(fast, 5), finished=False)] == [1.16]
    assert _found(first(slow, 5), finished=False) == []
    assert [f.instead for f in _found(first(slow, 6), finished=False)] == [1.16]
    no_edge = attrs.evolve(fast, channels=(Channel(fast.channels[0].verticals[1:6]),))
    assert [f.instead for f in _found(no_edge, finished=False)] == [1.16]


@pytest.mark.parametrize(
    ("fastest", "severity"), [(8.01, "stop"), (8.0, "explain"), (5.01, "explain"), (5.0, None)]
)
def test_faster_than_plausible(fastest: float, severity: str | None) -> None:
    """Above 8 ft/s nobody wades, above 5 ft/s it has to be explained."""
    made = section(velocities=changed(VELOCITIES, {5: fastest}))

    found = of(CHECKS, "Faster than plausible", made)

    assert [f.severity for f in found] == ([] if severity is None else [severity])
    assert all((f.channel, f.tapes) == (0, (7.0,)) for f in found)
    limit = {"stop": "8", "explain": "5"}.get(severity or "")
    words = f"The velocity at tape 7 ft, {fastest:g} ft/s, is above {limit} ft/s."
    assert [f.found for f in found] == [words] * len(found)
    assert [t.name for f in found for t in f.thresholds] == [
        f"velocity_{f.severity}" for f in found
    ]


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
    assert stop.advice.endswith("go back to tapes 7, 8 and 5 ft only if it was the wrong one.")
    assert explain.advice.endswith("look at the unit that the meter shows, from the bank.")


def test_a_slip_too_fast_to_stand_in_calls_the_crew_out() -> None:
    """11.6 ft/s may be 1.16: but see that from the bank. 5 ft/s are at the limit, not above it."""
    (slower,) = _found(section(velocities=changed(VELOCITIES, {4: 5.0})))
    assert slower.advice.startswith("Look at the unit")
    (finding,) = _found(section(velocities=changed(VELOCITIES, {4: 11.6})))

    assert finding.advice.startswith("Come out. From the bank")
    assert finding.advice.endswith("go back to tape 6 ft only if it was the wrong one.")


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


@pytest.mark.parametrize("order", [1, -1])
def test_no_figure_is_proposed_that_turns_a_vertical_upside_down(order: int) -> None:
    """0.5 below 1.0 is an odd pair; 1.64 (0.5 m/s in feet) below 1.0 would be a stranger one."""
    made = section(velocities=[0.0, *[1.6, 1.62, 1.58] * 3, 0.0])
    rows = list(made.channels[0].verticals)
    pair = (PointReading(1.0, 0.2), PointReading(0.5, 0.8))
    rows[5] = attrs.evolve(rows[5], velocity=pair[::order])

    found = _found(attrs.evolve(made, channels=(Channel(tuple(rows)),)))

    assert [f.instead for f in found if f.instead == 1.64] == []
    assert [f.tapes for f in found if f.tapes != (7.0,)] == []


def test_slow_water_beside_still_water_at_the_bank_is_only_asked_about() -> None:
    """0.02 m/s beside a 0 and the bank, where 0.2 would fit the 0.27 and 0.4 on the other side."""
    made = section(
        velocities=[0.0, 0.27, 0.41, 0.5, 0.6, 0.62, 0.55, 0.4, 0.02, 0.0, 0.0], units=METRIC
    )

    assert [f.severity for f in _found(made)] == ["explain"]
