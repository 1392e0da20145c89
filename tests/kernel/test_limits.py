"""Figures against limits, and what one more depth would change, by hand."""

import random

import pytest

from bankside.kernel.limits import (
    above,
    bed_change,
    below,
    clearly_above,
    printed_above,
    velocity_difference,
)
from bankside.kernel.section import section_area, stretch_end


def test_what_is_written_as_the_limit_keeps_to_it() -> None:
    """0.54 - 0.52 is 0.020000000000000018, and 2 cm all the same."""
    assert not above(0.54 - 0.52, 0.02)
    assert not below(0.02 - 1e-15, 0.02)
    assert not clearly_above(50.0 * (1 + 1e-12), 50.0)
    assert clearly_above(50.001, 50.0)
    assert above(0.021, 0.02)
    assert below(0.019, 0.02)


def test_shares_are_held_against_limits_as_they_are_printed() -> None:
    """For every share a tenth is what Python prints, ties and long floats among them."""
    rng = random.Random(4)
    ties = [k / 4 for k in range(400)] + [k / 20 for k in range(2000)]
    near = [rng.choice(ties) * (1 + rng.choice((-1, 0, 1)) * 2.0**-52) for _ in range(2000)]
    for share in [*ties, *near, *(rng.uniform(0, 100) for _ in range(2000)), 1e12]:
        printed = float(f"{share:.1f}")
        assert printed_above(share, printed) is False
        assert printed_above(-share, printed - 0.05) is True


def test_velocities_differ_by_a_percent_of_the_smaller() -> None:
    """0.3 is 50 % more than 0.2; no percent of still water; opposite ways are 300 %."""
    assert velocity_difference(0.2, 0.3) == pytest.approx(50.0)
    assert velocity_difference(0.0, 0.0) == 0.0
    assert velocity_difference(0.0, 0.1) == float("inf")
    assert velocity_difference(-0.1, 0.2) == pytest.approx(300.0)


def test_a_parabola_is_found_by_three_of_its_depths() -> None:
    """On d = x (4 - x) / 4 a depth half-way is on the parabola.

    At 3, between 2 and 4, it is 0.75 where the straight line has 0.5: 0.25 more, 1 wide.
    """
    tape, depth = [0.0, 2.0, 4.0], [0.0, 1.0, 0.0]

    assert bed_change(tape, depth, 1) == pytest.approx(0.25)
    with_it = section_area([0.0, 2.0, 3.0, 4.0], [0.0, 1.0, 0.75, 0.0])
    assert with_it - section_area(tape, depth) == pytest.approx(0.25)


def test_a_bed_that_comes_out_of_the_water_counts_to_the_surface() -> None:
    """The parabola through 0.05, 0.05 and 1.5 lies 0.18 above the line: 0.05 of it counts."""
    tape, depth = [0.0, 1.0, 2.0], [0.05, 0.05, 1.5]

    assert bed_change(tape, depth, 0) == pytest.approx(-0.05 / 2)


def test_no_parabola_goes_through_a_shore() -> None:
    """Either side of a dry vertical has two depths each, which tell no bend."""
    tape, depth = [0.0, 1.0, 2.0], [0.5, 0.0, 0.5]

    assert [bed_change(tape, depth, i) for i in (0, 1)] == [0.0, 0.0]


def test_stretches_of_water_end_at_banks() -> None:
    """Two dry verticals part the water; a single one is a stone, and the water goes on."""
    depth = [0.0, 0.5, 0.0, 0.4, 0.0, 0.0, 0.3, 0.0]

    assert stretch_end(depth, 0) == 4
    assert stretch_end(depth, 4) == 5
    assert stretch_end(depth, 5) == 7


def test_rounding_is_a_billionth_of_the_limit_and_of_one_at_least() -> None:
    """A millionth over 10 000 is rounding, over 0.02 it is none; a billionth itself still is."""
    assert not above(10_000.0 + 1e-6, 10_000.0)
    assert not below(10_000.0 - 1e-6, 10_000.0)
    assert above(0.02 + 1.5e-9, 0.02)
    assert below(0.02 - 1.5e-9, 0.02)
    assert not above(1e-9, 0.0)
    assert not below(-1e-9, 0.0)
    assert not clearly_above(1.0 + 1e-9, 1.0)


def test_the_parabola_that_bends_more_counts() -> None:
    """Depths 0.2, 0.5, 0.6, 0.1 at 0, 1, 2 and 3 m bend by -0.1 and by -0.3.

    Half-way the steeper parabola lies 0.3/4 = 0.075 below the line, which makes 0.0375 m².
    """
    tape, depth = [0.0, 1.0, 2.0, 3.0], [0.2, 0.5, 0.6, 0.1]

    assert bed_change(tape, depth, 1) == pytest.approx(0.0375)
    assert bed_change(tape, depth[::-1], 1) == pytest.approx(0.0375)
    assert bed_change(tape, depth, 0) == pytest.approx(0.0125)
    assert bed_change([2 * x for x in tape], depth, 1) == pytest.approx(0.075)
    assert bed_change([7 + x for x in tape], depth, 1) == pytest.approx(0.0375)
