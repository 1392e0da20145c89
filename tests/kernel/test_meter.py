import pytest
from hypothesis import given
from hypothesis import strategies as st

from bankside.kernel.meter import (
    revolutions_per_second,
    velocity_from_rating,
    velocity_from_two_part_rating,
)


@given(st.integers(0, 500).map(float), st.floats(1.0, 180.0))
def test_counts_over_seconds(counts: float, seconds: float) -> None:
    """Counting twice as long at one speed doubles the count and leaves the revolutions."""
    once = revolutions_per_second(counts, seconds)

    assert once * seconds == pytest.approx(counts)
    assert revolutions_per_second(2.0 * counts, 2.0 * seconds) == once


def test_a_rating_is_a_straight_line() -> None:
    """Slope times revolutions a second, and the intercept."""
    assert velocity_from_rating(2.0, 0.25, 0.125) == 0.625


def test_the_low_line_holds_up_to_the_change() -> None:
    """Up to the change, this included, the low line holds; above it the high one does."""

    def velocity(rps: float) -> float:
        return velocity_from_two_part_rating(rps, 0.5, 0.25, 1.0, 0.125, 1.0)

    assert velocity(0.5) == 0.5
    assert velocity(1.0) == 0.75
    assert velocity(1.25) == 1.375
    assert velocity(2.0) == 2.125


@pytest.mark.parametrize(("counts", "seconds"), [(10.0, 0.0), (10.0, -40.0), (-1.0, 40.0)])
def test_impossible_counts_are_refused(counts: float, seconds: float) -> None:
    """No time, or fewer than no revolutions, is no reading."""
    with pytest.raises(ValueError, match="must be above 0 and the count not below 0"):
        revolutions_per_second(counts, seconds)
