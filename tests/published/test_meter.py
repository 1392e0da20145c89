"""Standard ratings of rotating meters, checked against what was published about them."""

import pytest

from bankside.kernel.meter import velocity_from_rating, velocity_from_two_part_rating

from .examples import EXAMPLES, agrees

RATINGS = EXAMPLES["meter_ratings"]["from_memory"]
DERIVED = EXAMPLES["meter_ratings"]["derived"]
PRINTED = EXAMPLES["meter_ratings"]["printed"]


def _old_large(rps: float) -> float:
    low, high = RATINGS["large_no1_low"], RATINGS["large_no1_high"]
    return velocity_from_two_part_rating(rps, *low, *high, RATINGS["large_no1_change_at"])


@pytest.mark.parametrize("size", ["large", "small"])
def test_standard_ratings(size: str) -> None:
    """DERIVED from the no. 2 ratings (from memory): ft/s at half a turn and one turn a second."""
    for rps, velocity in DERIVED[f"{size}_no2_at"].items():
        assert agrees(velocity_from_rating(float(rps), *RATINGS[f"{size}_no2"]), velocity)


def test_new_and_old_ratings_differ_as_published() -> None:
    """Hubbard et al. 2001 print 1.4 % for the large and 1.6 % for the small meter.

    The ratings are from memory; at three turns a second they differ by just these figures, the
    large meter reading higher than before and the small one lower.
    """
    rps = float(DERIVED["compared_at_rps"])
    large = velocity_from_rating(rps, *RATINGS["large_no2"]) / _old_large(rps) - 1
    small = velocity_from_rating(rps, *RATINGS["small_no2"]) / velocity_from_rating(
        rps, *RATINGS["small_no1"]
    )

    assert agrees(100 * large, PRINTED["large_percent"])
    assert agrees(100 * (1 - small), PRINTED["small_percent"])


def test_the_two_lines_of_the_old_rating_meet() -> None:
    """At one turn a second both lines of the old rating (from memory) give 2.20 ft/s."""
    change = RATINGS["large_no1_change_at"]

    assert agrees(velocity_from_rating(change, *RATINGS["large_no1_low"]), "2.20")
    assert agrees(_old_large(change), "2.20")
