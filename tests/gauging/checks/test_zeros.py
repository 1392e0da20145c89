"""Zeros where water moves, and where it is deep."""

import attrs
import pytest

from bankside.gauging.checks.depth_slips import CHECKS as DEPTH_SLIPS
from bankside.gauging.checks.finding import Finding, Suspect
from bankside.gauging.checks.velocity_slips import CHECKS as VELOCITY_SLIPS
from bankside.gauging.checks.zeros import CHECKS
from bankside.gauging.records import Channel, Gauging, Meter, Vertical

from .slip_sections import changed, first, of, section

TAPES = tuple(float(tape) for tape in range(2, 25))
DEPTHS = (0.0, 0.5, 0.8, 1.0, 1.2, 1.3, 1.4, 1.42, 1.45, 1.46, 1.48, 1.5)
DEPTHS += tuple(reversed(DEPTHS[:-1]))
VELOCITIES = (0.0, 0.72, 1.03, 1.21, 1.36, 1.47, 1.52, 1.56, 1.58, 1.62, 1.66, 1.68)
VELOCITIES += (1.64, 1.61, 1.56, 1.59, 1.48, 1.43, 1.31, 1.18, 0.98, 0.69, 0.0)


def _made(
    velocities: dict[int, float] | None = None, depths: dict[int, float] | None = None
) -> Gauging:
    return section(TAPES, changed(DEPTHS, depths or {}), changed(VELOCITIES, velocities or {}))


def _moving(gauging: Gauging) -> list[Finding]:
    return of(CHECKS, "Zero where water moves", gauging)


def _deep(gauging: Gauging) -> list[Finding]:
    return of(CHECKS, "Zero where it is deep", gauging)


def _slips(gauging: Gauging) -> list[Finding]:
    depths = of(DEPTH_SLIPS, "Depth looks misread", gauging)
    return depths + of(VELOCITY_SLIPS, "Velocity looks misread", gauging)


def test_no_zero_no_question() -> None:
    """Water everywhere, moving everywhere."""
    assert _moving(_made()) == _deep(_made()) == _slips(_made()) == []


@pytest.mark.parametrize("places", [(7,), (7, 8, 9), (7, 13)])
def test_zeros_in_the_middle_of_moving_water_are_asked_about_once(places: tuple[int, ...]) -> None:
    """One, three in a row and two apart, among 1.5 ft/s; none of their neighbours is accused."""
    made = _made(dict.fromkeys(places, 0.0))

    (finding,) = _moving(made)

    assert (finding.severity, finding.tapes) == ("explain", tuple(TAPES[k] for k in places))
    assert finding.found.endswith(" ft is 0, though the water beside it moves.")
    assert finding.found.startswith("The velocity at tape") and finding.channel == 0
    assert "not measured" in finding.advice and "rotor" in finding.advice
    assert finding.suspect == Suspect(7, "velocity", 0)
    assert [t.name for t in finding.thresholds] == ["slowest"]
    assert _slips(made) == []


@pytest.mark.parametrize(
    ("beside", "slowest", "count"),
    [(0.3, None, 0), (0.31, None, 1), (1.5, 0.6, 0), (1.5, 0.49, 1), (0.2, 0.05, 1)],
)
def test_water_moves_clearly_from_three_times_what_the_meter_can_tell(
    beside: float, slowest: float | None, count: int
) -> None:
    """0.1 ft/s by the rule set, or what the meter's papers say."""
    made = _made({6: beside, 7: 0.0, 8: beside})
    made = attrs.evolve(made, meter=None if slowest is None else Meter(slowest=slowest))

    assert len(_moving(made)) == count


def test_a_zero_at_the_end_of_what_was_called_is_not_asked_about_yet() -> None:
    """Neither the last one called nor the first of a tape that begins in the water."""
    made = _made({7: 0.0})
    rows = made.channels[0].verticals[7:15]

    assert _moving(first(made, 8)) == []
    assert _moving(attrs.evolve(made, channels=(Channel(rows),))) == []


def test_a_zero_beside_the_bank_is_silent() -> None:
    """The water beside a bank often stands; so do two verticals there."""
    assert _moving(_made({1: 0.0, 21: 0.0, 20: 0.0})) == _moving(_made({1: 0.0})) == []
    assert [f.severity for f in _moving(_made({19: 0.0, 21: 0.0, 20: 0.0}))] == ["explain"]
    assert _moving(_made({2: 0.2, 3: 0.0})) == []  # the slow water there is the bank's


def test_many_zeros_at_the_banks_are_asked_about_once() -> None:
    """Nine of them, four at one bank and five at the other, beside 1.4 ft/s."""
    places = (1, 2, 3, 4, 17, 18, 19, 20, 21)
    made = _made(dict.fromkeys(places, 0.0))

    (finding,) = _moving(made)

    assert (finding.severity, finding.tapes) == ("explain", tuple(TAPES[k] for k in places))
    assert _slips(made) == []


def test_zeros_that_fade_into_slow_water_are_a_note() -> None:
    """0.2 ft/s beside them is less than three times what a meter can tell (0.1 ft/s): no alarm."""
    slow = {place: 0.1 * VELOCITIES[place] for place in range(23)}
    four, three = (_made(slow | dict.fromkeys(at, 0.0)) for at in ((1, 2, 20, 21), (1, 20, 21)))

    (finding,) = _moving(four)

    assert (finding.severity, finding.suspect) == ("note", None)
    assert finding.found == "The velocity at tapes 3, 4, 22 and 23 ft is 0, though there is water."
    assert _moving(three) == []


def test_a_single_depth_of_zero_is_asked_about() -> None:
    """Between 1.4 and 1.45 ft; neither the depths nor the velocities beside it are accused."""
    made = _made({7: 0.0}, {7: 0.0})

    (finding,) = _deep(made)

    assert (finding.severity, finding.channel, finding.tapes) == ("explain", 0, (9.0,))
    assert finding.found.startswith("The depth at tape 9 ft is 0, though both neighbours are ")
    assert "tape 9 ft" in finding.advice
    assert finding.suspect == Suspect(7, "depth")
    assert [t.name for t in finding.thresholds] == ["depth_slip_least"]
    assert _slips(made) == []
    assert len(_deep(first(made, 9))) == 1
    assert _deep(first(made, 8)) == []


def test_shallow_water_may_have_a_dry_place() -> None:
    """0.4 ft on both sides is within what stones do, and so it is on one side."""
    assert _deep(_made({7: 0.0}, {6: 0.4, 7: 0.0, 8: 0.4})) == []
    assert _deep(_made({7: 0.0}, {6: 0.4, 7: 0.0})) == []
    assert len(_deep(_made({7: 0.0}, {6: 0.41, 7: 0.0, 8: 0.41}))) == 1


def test_an_island_is_silent() -> None:
    """Two and more dry verticals side by side, or a single one that is marked as dry."""
    two, three = (
        _made(dict.fromkeys(places, 0.0), dict.fromkeys(places, 0.0))
        for places in ((7, 8), (7, 8, 9))
    )
    rows = list(_made().channels[0].verticals)
    rows[7] = Vertical(9.0, dry=True)
    marked = attrs.evolve(two, channels=(Channel(tuple(rows)),))

    for made in (two, three, marked):
        assert _deep(made) == _moving(made) == []


@pytest.mark.parametrize("places", [(5,), (5, 6)])
def test_a_velocity_without_a_depth_is_a_contradiction(places: tuple[int, ...]) -> None:
    """Nothing flows there in the figure, however many such verticals stand side by side."""
    made = _made(depths=dict.fromkeys(places, 0.0))

    (finding,) = of(CHECKS, "Velocity where no depth is", made)

    assert (finding.severity, finding.tapes) == ("fix now", tuple(TAPES[k] for k in places))
    tapes = "tape 7" if len(places) == 1 else "tapes 7 and 8"
    assert finding.found.startswith(f"At {tapes} ft a velocity was read and the depth is 0")
    assert (finding.channel, finding.suspect) == (0, Suspect(5, "depth"))
    assert of(CHECKS, "Velocity where no depth is", _made()) == []


def test_nothing_but_zeros_has_to_be_explained() -> None:
    """Deep water in which the rotor never turned was hardly measured."""
    still = _made(velocities=dict.fromkeys(range(len(VELOCITIES)), 0.0))

    (finding,) = of(CHECKS, "Zero where water moves", still)

    assert finding.severity == "explain"
    assert "though there is water" in finding.found


@pytest.mark.parametrize(("verticals", "count"), [(2, 0), (3, 1)])
def test_from_three_verticals_on_nothing_but_zeros_is_asked_about(
    verticals: int, count: int
) -> None:
    """Two are the water of the two banks."""
    made = section(range(verticals + 2), [0.0, *[1.0] * verticals, 0.0], [0.0] * (verticals + 2))

    assert [f.severity for f in _moving(made)] == ["explain"] * count


def test_an_island_does_not_hide_that_nothing_moves() -> None:
    """All velocities are 0 on either side of two dry verticals, whose 0 was written as well."""
    still = _made(dict.fromkeys(range(23), 0.0), {11: 0.0, 12: 0.0})

    (finding,) = _moving(still)

    assert finding.severity == "explain"
    assert finding.tapes == tuple(TAPES[k] for k in range(1, 22) if k not in (11, 12))
