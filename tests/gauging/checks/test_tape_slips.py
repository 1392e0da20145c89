"""Tape positions that break the order or the spacing."""

import pytest

from bankside.gauging.checks.finding import Finding, Suspect
from bankside.gauging.checks.tape_slips import CHECKS
from bankside.gauging.records import Channel, Gauging, Vertical

from .slip_sections import FEET, TAPES, changed, first, of, section

HALVES = [11.2, 11.6, 12.0, 12.4, 12.8, 13.2, 13.6, 14.0, 14.4, 14.8, 15.2]


def _found(gauging: Gauging, finished: bool = True) -> list[Finding]:
    return of(CHECKS, "Tape position looks misread", gauging, finished=finished)


@pytest.mark.parametrize("tapes", [TAPES, HALVES, HALVES[::-1]])
def test_even_spacing_is_silent(tapes: list[float]) -> None:
    """Equal distances, from either bank."""
    assert _found(section(tapes)) == []


@pytest.mark.parametrize(
    ("place", "written"), [(3, 14.2), (3, 21.4), (5, 12.3), (3, 1.24), (7, 10.4)]
)
@pytest.mark.parametrize("way", [1, -1])
def test_a_slip_is_named_with_the_position_that_was_meant(
    place: int, written: float, way: int
) -> None:
    """12.4 called as 14.2 or 21.4, 13.2 as 12.3, 14.0 as 10.4, or the point one place off."""
    (finding,) = _found(section(changed(HALVES, {place: written})[::way]))

    assert (finding.channel, finding.tapes, finding.instead) == (0, (written,), HALVES[place])
    assert finding.severity == "fix now"
    assert finding.suspect == Suspect(place if way == 1 else 10 - place, "tape")
    assert finding.found == (
        f"The vertical called at tape {written} ft does not fit those called before and after it; "
        f"did you mean tape {HALVES[place]:g} ft?"
    )


def test_a_place_chosen_beside_a_stone_is_silent() -> None:
    """12.5 for 12.4 breaks the spacing, and no two digits changed about would mend it."""
    assert _found(section(changed(HALVES, {3: 12.5}))) == []


def test_uneven_spacing_in_order_is_silent() -> None:
    """Close together in the fast water, wide apart elsewhere."""
    assert _found(section([3.2, 4.2, 5.2, 6.0, 6.6, 7.2, 7.7, 8.4, 9.2, 10.4, 12.1])) == []


@pytest.mark.parametrize(
    "far",
    [Vertical(12.0, 0.0, edge="right"), Vertical(12.0, 0.5, edge="right"), Vertical(12.0, 0.0)],
)
def test_a_vertical_added_after_the_far_edge_is_silent(far: Vertical) -> None:
    """10.3 called when the bank at 12 had been reached is between 10 and 11, not 13.0."""
    verticals = section().channels[0].verticals[:-1]
    added = Gauging(FEET, (Channel((*verticals, far, Vertical(10.3, 0.6))),))

    assert _found(added) == []


def test_the_last_position_called_is_judged_by_the_one_before() -> None:
    """21.4 for 12.4 is told at once; with too little called nothing is."""
    made = section(changed(HALVES, {6: 16.3}))

    assert [f.instead for f in _found(first(made, 7), finished=False)] == [13.6]
    assert _found(first(made, 4), finished=False) == []


@pytest.mark.parametrize("way", [1, -1])
def test_a_slip_that_may_be_a_choice_is_only_asked_about(way: int) -> None:
    """12.3 called as 13.2 lies between its neighbours still, only oddly spaced."""
    tapes = [11.3, 12.3, 13.8, 14.8, 15.8, 16.8, 17.8, 18.8, 19.8, 20.8, 21.8]

    (finding,) = _found(section(changed(tapes, {1: 13.2})[::way]))

    assert (finding.severity, finding.instead) == ("explain", 12.3)


@pytest.mark.parametrize(
    ("called", "meant", "severity"),
    [
        # One distance, 1.9 or 2.4 for 1 or 1.5; the more others are usual, the surer it is.
        ((17.8, 19.7, 20.7, 21.7, 22.7, 23.7), 18.7, "explain"),  # 2.43
        ((23.7, 22.7, 21.7, 20.7, 19.7, 17.8), 18.7, "explain"),
        ((14.5, 16.4, 17.4, 18.4, 19.4, 20.4, 21.4), 15.4, "fix now"),  # 2.51
        ((23.3, 24.8, 26.3, 27.8, 29.3, 30.8, 33.2), 32.3, "explain"),  # 2.45
        ((3.6, 5.1, 6.6, 8.1, 9.6, 11.1, 12.6, 14.1, 16.5), 15.6, "fix now"),  # 2.57
        # One distance of 4.8 for 1.2, and of 1.6 for 0.7, where spacing is uneven.
        ((26.2, 28.1, 29.2, 30.7, 32.5, 37.3), 33.7, "explain"),  # 1.50
        ((26.7, 28.3, 28.7, 29.2, 29.7, 30.2), None, None),  # 1.44
        # Turning back before or behind.
        ((2.6, 2.4, 6.6, 8.6, 10.6, 12.6, 14.6, 16.6, 18.6), 4.2, "explain"),  # 2.44
        ((3.7, 3.5, 7.7, 9.7, 11.7, 13.7, 15.7), 5.3, "fix now"),  # 2.57
        ((14.0, 16.0, 18.0, 20.0, 22.0, 26.4, 26.0), 24.6, "fix now"),  # 2.58
        ((12.0, 2.5, 3.8, 5.1, 6.4, 7.7, 9.0, 10.3), 1.2, "fix now"),  # 3.9
        # 3.97 and 4.03 are the usual 4.
        ((1.7, 11.07, 15.1, 19.1, 23.1, 27.1, 31.13, 35.1), 7.1, "fix now"),
        # Down the tape, with two verticals added on the way.
        ((24.4, 23.4, 23.9, 22.4, 22.9, 12.4, 20.4, 19.4, 18.4), 21.4, "fix now"),
        # Too few others to know a spacing, but for the last called.
        ((11.2, 11.6, 21.0, 12.4, 12.8, 13.2), None, None),
        ((), None, None),
    ],
)
def test_how_much_likelier_the_position_meant_is(
    called: tuple[float, ...], meant: float | None, severity: str | None
) -> None:
    """A slip from 2.5 powers of ten on, asked about from 1.5 on.

    Of 17.8: 4 of 4 others are usual, so (4 + 1) / (4 + 2) of all are, and 1/6 are not. Of those,
    1.9 ft has a density of 0.35 of its logarithm (ln 1.9 over 0.5 is 1.28 standard deviations),
    and 0.1 / 1.9 of that is its tenth: log10 of 5/6 less that of 0.35 × 0.1 / 1.9 / 6 is 2.43.
    """
    channel = Channel(tuple(Vertical(tape, 1.0) for tape in called))

    found = _found(Gauging(FEET, (channel,)), finished=False)

    assert [(f.instead, f.severity) for f in found] == [(meant, severity)] * bool(meant)


def test_the_last_vertical_before_the_far_edge_is_judged_by_both() -> None:
    """13.2 called for 12.3 between 11.3 and the bank at 13.8."""
    tapes = [3.3, 4.3, 5.3, 6.3, 7.3, 8.3, 9.3, 10.3, 11.3, 13.2, 13.8]

    (finding,) = _found(section(tapes))

    assert (finding.severity, finding.instead) == ("explain", 12.3)
