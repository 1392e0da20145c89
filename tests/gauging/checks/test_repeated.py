"""Readings that come again and again."""

import pytest

from bankside.gauging.checks.finding import Finding
from bankside.gauging.checks.repeated import CHECKS
from bankside.gauging.records import Gauging

from .slip_sections import DEPTHS, METRIC, VELOCITIES, changed, first, of, section


def _again(gauging: Gauging, finished: bool = True) -> list[Finding]:
    return of(CHECKS, "Same value again and again", gauging, finished=finished)


def test_three_equal_velocities_have_to_be_explained() -> None:
    """Where neighbours differ by 0.1 and more, three of 1.16 in a row; two are silent."""
    three, two = (
        section(velocities=changed(VELOCITIES, dict.fromkeys(places, 1.16)))
        for places in ((5, 6), (5,))
    )

    (finding,) = _again(three)

    assert (finding.severity, finding.tapes) == ("explain", (6.0, 7.0, 8.0))
    assert _again(two) == []


def test_four_equal_depths_have_to_be_explained() -> None:
    """Four of 1.02 in a row; three are silent."""
    four, three = (
        section(depths=changed(DEPTHS, dict.fromkeys(places, 1.02)))
        for places in ((5, 6, 7), (5, 6))
    )

    (finding,) = _again(four)

    assert (finding.severity, finding.tapes) == ("explain", (6.0, 7.0, 8.0, 9.0))
    assert _again(three) == []


def test_slow_water_repeats_itself_by_chance() -> None:
    """Where neighbours differ by a single step, three equal ones are a note."""
    slow = [0.0, 0.01, 0.02, 0.03, 0.04, 0.04, 0.04, 0.03, 0.02, 0.01, 0.0]

    assert [f.severity for f in _again(section(velocities=slow))] == ["note"]


def test_still_water_is_silent() -> None:
    """No velocity is no repeated one."""
    assert _again(section(velocities=[0.0] * 11)) == []


def test_repetition_is_told_while_the_crew_is_there() -> None:
    """As soon as the third has been called."""
    stuck = section(velocities=changed(VELOCITIES, {5: 1.16, 6: 1.16}))

    assert [f.tapes for f in _again(first(stuck, 7), finished=False)] == [(6.0, 7.0, 8.0)]
    assert _again(first(stuck, 6), finished=False) == []


@pytest.mark.parametrize(("depth", "count"), [(1.02, 1), (1.03, 0)])
def test_a_line_copied_down(depth: float, count: int) -> None:
    """Depth and velocity of the vertical before; with another depth it is none."""
    copied = section(
        depths=changed(DEPTHS, {5: depth}), velocities=changed(VELOCITIES, {5: VELOCITIES[4]})
    )

    found = of(CHECKS, "Same vertical twice", copied)

    assert [(f.severity, f.tapes) for f in found] == [("explain", (6.0, 7.0))] * count


def test_a_line_copied_down_is_told_at_once() -> None:
    """With the second of the two, and not before."""
    copied = section(
        depths=changed(DEPTHS, {5: DEPTHS[4]}), velocities=changed(VELOCITIES, {5: VELOCITIES[4]})
    )

    assert len(of(CHECKS, "Same vertical twice", first(copied, 6), finished=False)) == 1
    assert of(CHECKS, "Same vertical twice", first(copied, 5), finished=False) == []


def test_a_run_is_not_told_again_pair_by_pair() -> None:
    """Five lines alike: told as a run of velocities and one of depths, not as four pairs too."""
    places = (3, 4, 5, 6, 7)
    copied = section(
        depths=changed(DEPTHS, dict.fromkeys(places, 1.02)),
        velocities=changed(VELOCITIES, dict.fromkeys(places, 1.16)),
    )

    assert [f.tapes for f in _again(copied)] == [(5.0, 6.0, 7.0, 8.0, 9.0)] * 2
    assert of(CHECKS, "Same vertical twice", copied) == []


def test_a_pair_that_coarse_figures_make_by_chance_is_a_note() -> None:
    """Read to tenths, neighbours are alike now and then without anybody copying a line."""
    tapes = [float(i) for i in range(12)]
    depths = [0.0, 0.2, 0.3, 0.4, 0.4, 0.3, 0.4, 0.3, 0.3, 0.2, 0.1, 0.0]
    velocities = [0.0, 0.1, 0.2, 0.3, 0.3, 0.2, 0.3, 0.2, 0.1, 0.2, 0.1, 0.0]

    found = of(CHECKS, "Same vertical twice", section(tapes, depths, velocities, METRIC))

    assert [(f.severity, f.tapes) for f in found] == [("note", (3.0, 4.0))]
