"""Distances between verticals that look like a slip."""

import pytest

from bankside.gauging.checks.finding import Place
from bankside.gauging.records import Channel, Gauging, Vertical

from .sections import FEET, METRIC, at_tapes, even, found, gauging

NAME = "Strange gap"
EVEN = [float(i) for i in range(0, 26)]


def test_even_spacing_is_silent() -> None:
    """Nothing is odd about equal distances."""
    assert found(NAME, gauging(*even())) == []


def test_a_missed_vertical_is_asked_about() -> None:
    """In even spacing a gap of two is one that was missed, told one vertical later."""
    tapes = [tape for tape in EVEN if tape != 8.0]

    (finding,) = found(NAME, gauging(*at_tapes(tapes)))

    assert (finding.severity, finding.tapes) == ("explain", (7.0, 9.0))
    assert "add the vertical missed at tape 8 ft" in finding.advice.lower()
    assert finding.places == (Place(0, 8.0),)
    # Called so far: the edge, 1 to 7 ft and 9 ft; then 10 ft as well.
    assert found(NAME, gauging(*at_tapes(tapes)[:9]), finished=False) == []
    assert len(found(NAME, gauging(*at_tapes(tapes)[:10]), finished=False)) == 1


def test_the_channel_is_named_where_there_are_several() -> None:
    """Each of two channels may have a tape of its own, with the same positions."""
    side = Channel(tuple(at_tapes([tape for tape in EVEN if tape != 8.0])), name="side")
    (finding,) = found(NAME, Gauging(FEET, (Channel(tuple(even())), side)))
    assert finding.found.startswith("Channel 2, side: The gap from tape 7 to 9 is 2 ft")


@pytest.mark.parametrize(("gap", "count"), [(1.9, 0), (2.0, 1), (2.1, 0), (2.2, 0), (2.3, 1)])
def test_too_wide(gap: float, count: int) -> None:
    """2.2 times what is usual on both sides will do, unless it is just one missed."""
    tapes = [*EVEN[:9], *(tape + gap - 1 for tape in EVEN[9:])]

    assert len(found(NAME, gauging(*at_tapes(tapes)))) == count


@pytest.mark.parametrize(("gap", "count"), [(0.4, 0), (0.35, 0), (0.3, 1)])
def test_too_narrow(gap: float, count: int) -> None:
    """0.35 of what is usual on both sides will do."""
    tapes = [*EVEN[:9], *(tape + gap - 1 for tape in EVEN[9:])]

    assert len(found(NAME, gauging(*at_tapes(tapes)))) == count


def test_a_misheard_position_is_asked_about() -> None:
    """8.7 for 8.0: too close to the next one."""
    tapes = [8.7 if tape == 8.0 else tape for tape in EVEN]

    (finding,) = found(NAME, gauging(*at_tapes(tapes)))

    assert finding.tapes == (8.7, 9.0)
    assert finding.places == ()  # too narrow: none is missing


@pytest.mark.parametrize(
    "steps",
    [
        [2, 2, 2, 2, 0.5, 0.5, 0.5, 0.5, 0.5, 2, 2, 2],
        [2, 2, 1, 1, 0.5, 0.5, 0.5, 1, 1, 2, 2],
        [3, 1, 1, 1, 1, 1, 3],
        [1, 1, 1, 0.5, 0.5, 1, 1, 1],
        [2, 1.5, 1.2, 1, 0.8, 0.7, 0.6, 0.5, 0.5, 0.6, 0.8, 1, 1.5, 2],
    ],
)
def test_planned_uneven_spacing_is_silent(steps: list[float]) -> None:
    """Closer in fast water, wider beside the banks, or half steps added: as it should be."""
    tapes = [0.0]
    for step in [1, *steps, 1]:
        tapes.append(round(tapes[-1] + step, 3))

    assert found(NAME, gauging(*at_tapes(tapes), units=METRIC)) == []


def test_dry_ground_may_be_as_wide_as_it_is() -> None:
    """An island of 4 ft between shores, in verticals 1 ft apart."""
    shores = {12.0, 16.0}
    verticals = [
        Vertical(v.tape, dry=True) if v.tape in shores else v
        for v in even(27)
        if not 12 < v.tape < 16
    ]

    assert found(NAME, gauging(*verticals)) == []
    wet = [v for v in even(27) if not 12 < v.tape < 16]
    assert len(found(NAME, gauging(*wet))) == 1
