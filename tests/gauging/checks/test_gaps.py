"""Distances between verticals that look like a slip."""

import pytest

from bankside.gauging.checks.finding import Place
from bankside.gauging.records import Channel, Gauging, Units, Vertical

from .sections import FEET, METRIC, at_tapes, even, found, gauging, read

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
    assert finding.found == (
        "The gap from tape 7 to 9 is 2 ft, twice the even spacing on both sides."
    )
    assert finding.advice.startswith("Add the vertical missed at tape 8 ft, or read the tape")
    assert finding.thresholds == ()
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

    findings = found(NAME, gauging(*at_tapes(tapes)))
    assert len(findings) == count
    if gap == 2.3:
        assert findings[0].found.endswith(
            " is 2.3 ft, more than 2.2 times what is usual beside it."
        )
        assert [threshold.name for threshold in findings[0].thresholds] == ["gap_wide"]


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
    assert [threshold.name for threshold in finding.thresholds] == ["gap_narrow"]


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


def _steps(*steps: float, units: Units = FEET) -> list[tuple[float, ...]]:
    """The tape positions found, of verticals at such distances between two edges."""
    tapes = [0.0]
    for step in (steps[0], *steps, steps[-1]):
        tapes.append(round(tapes[-1] + step, 3))
    return [finding.tapes for finding in found(NAME, gauging(*at_tapes(tapes), units=units))]


def test_too_narrow_is_never_missed() -> None:
    """0.66 ft of 2 ft would have room for one more, and none is missing."""
    tapes = [*(2.0 * i for i in range(9)), *(16.66 + 2.0 * i for i in range(9))]

    (finding,) = found(NAME, gauging(*at_tapes(tapes)))
    assert (finding.tapes, finding.places) == ((16.0, 16.66), ())
    assert finding.advice == "Read the tape again at tapes 16 and 16.66 ft."


def test_one_missed_next_to_the_first_or_the_last_but_one() -> None:
    """Three distances beside it are enough to call the spacing even."""
    assert _steps(1, 2, 1, 1) == [(2.0, 4.0)]
    assert _steps(1, 1, 2, 1) == [(3.0, 5.0)]
    assert _steps(1, 2, 1) == []


def test_ends_that_are_no_edges_are_ends() -> None:
    """Finished, the first distance is that to the bank, marked or not."""
    unmarked = [read(float(tape)) for tape in (0, 1, 3, 4, 5, 6, 7)]

    assert found(NAME, gauging(*unmarked)) == []


def test_three_distances_on_either_side_are_beside_it() -> None:
    """After it 1.9, 1, 1: usual is 1 ft; after it 1, 1, 3, and more of 3: usual is 1 ft as well."""
    assert _steps(1, 1, 1, 2.3, 1.9, 1, 1, 1) == [(4.0, 6.3)]
    assert _steps(1, 1, 1, 2.3, 1, 1, 3, 3, 3, 3) == [(4.0, 6.3)]


def test_one_missed_beside_a_shore() -> None:
    """Dry ground on one side only leaves the gap one in the water."""
    verticals = [v for v in even(24) if v.tape != 13.0]
    verticals[12] = Vertical(12.0, dry=True)

    assert [f.tapes for f in found(NAME, gauging(*verticals))] == [(12.0, 14.0)]


@pytest.mark.parametrize(
    ("steps", "count"),
    [
        ([2, 2, 2, 4, 2, 2, 2], 1),
        ([1, 1, 1, 2.04, 1, 1, 1], 1),
        ([1, 1, 1, 2.06, 1, 1, 1], 0),
        ([1, 1, 1, 2.05, 1, 1, 1], 0),
        ([1, 2.05, 1, 1, 1, 1, 1], 0),
        ([1, 1, 1.04, 2, 0.96, 1, 1], 1),
        ([1, 1, 1.06, 2, 0.94, 1, 1], 0),
        ([0.2, 0.2, 0.2, 0.4, 0.2, 0.2, 0.2], 1),
        ([0.1, 0.1, 0.1, 0.2, 0.1, 0.1, 0.1], 0),
    ],
)
def test_even_to_half_a_mark(steps: list[float], count: int) -> None:
    """A tape in feet is called to 0.1 ft; spaced closer than two marks, even tells nothing."""
    assert len(_steps(*steps)) == count
