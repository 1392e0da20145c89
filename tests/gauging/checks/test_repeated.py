"""Readings that come again and again."""

import attrs
import pytest

from bankside.gauging.checks.finding import Finding
from bankside.gauging.checks.repeated import CHECKS
from bankside.gauging.records import Channel, Gauging, PointReading

from .slip_sections import DEPTHS, FEET, METRIC, VELOCITIES, changed, first, of, section


def _again(gauging: Gauging, finished: bool = True) -> list[Finding]:
    return of(CHECKS, "Same value again and again", gauging, finished=finished)


def test_three_equal_velocities_have_to_be_explained() -> None:
    """Where neighbours differ by 0.1 and more, three of 1.16 in a row; two are silent."""
    three, two = (
        section(velocities=changed(VELOCITIES, dict.fromkeys(places, 1.16)))
        for places in ((5, 6), (5,))
    )

    (finding,) = _again(three)

    assert (finding.severity, finding.channel, finding.tapes) == ("explain", 0, (6.0, 7.0, 8.0))
    assert finding.found == "The velocities at tapes 6, 7 and 8 ft are all 1.16 ft/s."
    assert finding.advice.endswith("Read velocities again from tape 7 ft on.")
    assert [t.name for t in finding.thresholds] == ["repeated_velocities"]
    assert _again(two) == []


def test_four_equal_depths_have_to_be_explained() -> None:
    """Four of 1.02 in a row; three are silent."""
    four, three = (
        section(depths=changed(DEPTHS, dict.fromkeys(places, 1.02)))
        for places in ((5, 6, 7), (5, 6))
    )

    (finding,) = _again(four)

    assert (finding.severity, finding.tapes) == ("explain", (6.0, 7.0, 8.0, 9.0))
    assert finding.found == "The depths at tapes 6, 7, 8 and 9 ft are all 1.02 ft."
    assert [t.name for t in finding.thresholds] == ["repeated_depths"]
    assert _again(three) == []


def test_slow_water_repeats_itself_by_chance() -> None:
    """Where neighbours differ by a single step, three equal ones are a note."""
    slow = [0.0, 0.01, 0.02, 0.03, 0.04, 0.04, 0.04, 0.03, 0.02, 0.01, 0.0]

    assert [f.severity for f in _again(section(velocities=slow))] == ["note"]


def test_of_a_note_on_a_run_the_pair_with_equal_depths_is_told() -> None:
    """Differences of 0.02 in steps of 0.01 are 0 with a chance of 0.01 ln 2 / 0.04 = 0.173.

    Of nine velocities 9 × 0.173² = 0.27 runs of three are to be expected; one with a depth that
    comes again as well, where depths lie 0.16 apart (a chance of 0.022), hardly ever.
    """
    slow = [0.0, 0.05, 0.07, 0.09, 0.11, 0.11, 0.11, 0.08, 0.06, 0.04, 0.0]
    made = section(depths=changed(DEPTHS, {5: DEPTHS[4]}), velocities=slow)

    assert [(f.severity, f.tapes) for f in _again(made)] == [("note", (6.0, 7.0, 8.0))]
    (pair,) = of(CHECKS, "Same vertical twice", made)
    assert (pair.severity, pair.channel, pair.tapes) == ("explain", 0, (6.0, 7.0))
    assert "at tape 7 ft are those at tape 6 ft: 1.02 ft and 0.11 ft/s." in pair.found
    assert pair.advice.endswith("Measure at tape 7 ft again.")


def test_in_a_flume_the_velocities_alone_tell_how_odd_a_pair_is() -> None:
    """Depths all alike say nothing; 0.04 apart velocities are equal with a chance of 0.0866.

    Nine of them let 9 × 0.0866 = 0.78 pairs expect: less than one has to be explained.
    """
    velocities = [0.0, 0.5, 0.54, 0.58, 0.62, 0.62, 0.66, 0.62, 0.58, 0.54, 0.0]
    flume = section(depths=[0.0, *[0.5] * 9, 0.0], velocities=velocities)

    assert [f.severity for f in of(CHECKS, "Same vertical twice", flume)] == ["explain"]


def test_still_water_is_silent() -> None:
    """No velocity is no repeated one, not where depths are alike either."""
    still = section(depths=changed(DEPTHS, {5: DEPTHS[4]}), velocities=[0.0] * 11)

    assert _again(first(still, 2), finished=False) == []
    assert _again(still) == of(CHECKS, "Same vertical twice", still) == []


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


def test_what_was_not_read_or_at_two_points_is_no_repeated_velocity() -> None:
    """Three verticals without a velocity, and three with the same at 0.2 and another at 0.8."""
    rows = list(section().channels[0].verticals)
    for place, lower in ((3, 0.8), (4, 0.9), (5, 1.0)):
        pair = (PointReading(1.2, 0.2), PointReading(lower, 0.8))
        rows[place] = attrs.evolve(rows[place], velocity=pair)
        rows[place + 3] = attrs.evolve(rows[place + 3], velocity=())

    assert _again(Gauging(FEET, (Channel(tuple(rows)),))) == []
