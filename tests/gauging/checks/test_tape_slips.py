"""Tape positions that break the order or the spacing."""

import pytest

from bankside.gauging.checks.finding import Finding
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

    assert (finding.tapes, finding.instead) == ((written,), HALVES[place])
    assert finding.severity == "fix now"


def test_a_place_chosen_beside_a_stone_is_silent() -> None:
    """12.5 for 12.4 breaks the spacing, and no two digits changed about would mend it."""
    assert _found(section(changed(HALVES, {3: 12.5}))) == []


def test_uneven_spacing_in_order_is_silent() -> None:
    """Close together in the fast water, wide apart elsewhere."""
    assert _found(section([3.2, 4.2, 5.2, 6.0, 6.6, 7.2, 7.7, 8.4, 9.2, 10.4, 12.1])) == []


def test_a_vertical_added_after_the_far_edge_is_silent() -> None:
    """10.3 called when the bank at 12 had been reached is between 10 and 11, not 13.0."""
    verticals = section().channels[0].verticals
    added = Gauging(FEET, (Channel((*verticals, Vertical(10.3, 0.6))),))

    assert _found(added) == []


def test_the_last_position_called_is_judged_by_the_one_before() -> None:
    """21.4 for 12.4 is told at once; with too little called nothing is."""
    made = section(changed(HALVES, {6: 16.3}))

    assert [f.instead for f in _found(first(made, 7), finished=False)] == [13.6]
    assert _found(first(made, 4), finished=False) == []


def test_a_slip_that_may_be_a_choice_is_only_asked_about() -> None:
    """12.3 called as 13.2 lies between its neighbours still, only oddly spaced."""
    tapes = [11.3, 12.3, 13.8, 14.8, 15.8, 16.8, 17.8, 18.8, 19.8, 20.8, 21.8]

    (finding,) = _found(section(changed(tapes, {1: 13.2})))

    assert (finding.severity, finding.instead) == ("explain", 12.3)
