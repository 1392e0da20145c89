"""Velocity from the count of a rotating meter.

A rating is the straight line velocity = slope x revolutions a second + intercept, in the velocity
unit of the rating.  A rotor that stands still says only that the water is slower than the meter
can show: the line would give its intercept there, so the caller decides what to write down.
"""

__all__ = [
    "revolutions_per_second",
    "velocity_from_rating",
    "velocity_from_two_part_rating",
]


def revolutions_per_second(counts: float, seconds: float) -> float:
    """Revolutions a second from a count of revolutions over an exposure time.

    Raises ValueError unless the time is above 0 and the count 0 or more.
    """
    if not (seconds > 0.0 and counts >= 0.0):
        raise ValueError("the time must be above 0 and the count not below 0")
    return counts / seconds


def velocity_from_rating(revolutions_per_second: float, slope: float, intercept: float) -> float:
    """Velocity from the rating of a meter with one straight line.

    Source: the form used by USGS Office of Surface Water memorandum 99.05 (from memory).
    """
    return slope * revolutions_per_second + intercept


def velocity_from_two_part_rating(
    revolutions_per_second: float,
    slope_low: float,
    intercept_low: float,
    slope_high: float,
    intercept_high: float,
    change_at: float,
) -> float:
    """Velocity from the rating of a meter with two straight lines.

    The low line holds up to `change_at` revolutions a second, `change_at` itself included, the
    high line above.

    Source: the form of the older USGS ratings of vertical-axis meters (from memory).
    """
    if revolutions_per_second <= change_at:
        return velocity_from_rating(revolutions_per_second, slope_low, intercept_low)
    return velocity_from_rating(revolutions_per_second, slope_high, intercept_high)
