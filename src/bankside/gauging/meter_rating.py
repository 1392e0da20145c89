"""The velocity that the rating of a rotating meter gives, and how far the rating is to be trusted.

Velocities are in the unit of the rating.
"""

from bankside.gauging.records import PointReading, RatingPart
from bankside.kernel.meter import (
    revolutions_per_second,
    velocity_from_rating,
    velocity_from_two_part_rating,
)

__all__ = ["beyond_rating", "lines_apart", "rated_velocity"]

# Ours, no source: two lines fitted to one calibration meet better than this where they change.
_LINES_APART = 0.02


def rated_velocity(reading: PointReading, rating: tuple[RatingPart, ...]) -> float | None:
    """Return the velocity of a reading by its counts, None without counts, time or rating.

    A rotor that stood still gives 0, not the intercept of the line.
    """
    if reading.counts is None or reading.seconds is None or not rating:
        return None
    if reading.counts == 0:
        return 0.0
    turns = revolutions_per_second(reading.counts, reading.seconds)
    first, last = rating[0], rating[-1]
    if len(rating) == 1 or first.up_to is None:
        return velocity_from_rating(turns, first.slope, first.intercept)
    return velocity_from_two_part_rating(
        turns, first.slope, first.intercept, last.slope, last.intercept, first.up_to
    )


def beyond_rating(reading: PointReading, rating: tuple[RatingPart, ...]) -> bool:
    """Return whether the rotor turned faster than the last part of its rating reaches."""
    if reading.counts is None or reading.seconds is None or not rating:
        return False
    up_to = rating[-1].up_to
    return up_to is not None and revolutions_per_second(reading.counts, reading.seconds) > up_to


def lines_apart(rating: tuple[RatingPart, ...]) -> tuple[float, float, float] | None:
    """Return where two lines change, and their velocities there, if they do not meet.

    They meet when they differ by no more than 2 % of the velocity there (ours, no source).
    """
    if len(rating) < 2 or rating[0].up_to is None:
        return None
    change_at = rating[0].up_to
    low, high = (velocity_from_rating(change_at, part.slope, part.intercept) for part in rating)
    if not abs(high - low) > _LINES_APART * abs(low):
        return None
    return change_at, low, high
