"""The mean velocity of one vertical, from whatever was read there.

The fractions of the depth at which velocities were read choose the method; nobody has to name it.
"""

from collections.abc import Callable, Mapping

import attrs

from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.records import PointReading, RatingPart, Vertical
from bankside.kernel.meter import (
    revolutions_per_second,
    velocity_from_rating,
    velocity_from_two_part_rating,
)
from bankside.kernel.vertical import (
    normal_velocity,
    velocity_by_integration,
    velocity_five_point,
    velocity_from_surface,
    velocity_half_depth,
    velocity_one_point,
    velocity_six_point,
    velocity_three_point,
    velocity_two_point,
    velocity_two_tenths,
)

__all__ = ["MeanVelocity", "mean_velocity"]

# The methods take the velocities from the surface down.
_METHODS: Mapping[tuple[float, ...], tuple[str, Callable[..., float]]] = {
    (0.6,): ("one point 0.6", velocity_one_point),
    (0.5,): ("one point 0.5", velocity_half_depth),
    (0.2,): ("one point 0.2", velocity_two_tenths),
    (0.0,): ("surface", velocity_from_surface),
    (0.2, 0.8): ("two points", velocity_two_point),
    (0.2, 0.6, 0.8): ("three points", velocity_three_point),
    (0.0, 0.2, 0.6, 0.8, 1.0): ("five points", velocity_five_point),
    (0.0, 0.2, 0.4, 0.6, 0.8, 1.0): ("six points", velocity_six_point),
}

# Methods that put a coefficient on one reading, by what that reading was.
_BY_COEFFICIENT: Mapping[tuple[float, ...], str] = {
    (0.5,): "the velocity at half the depth",
    (0.2,): "the velocity at 0.2 of the depth",
    (0.0,): "the surface velocity",
}

# 1 - 0.8 is not quite 0.2: fractions worked out from heights above the bed still find their method.
_DIGITS = 9


@attrs.frozen
class MeanVelocity:
    """The mean velocity of a vertical at right angles to the section, and how it came about.

    `value_ms` is in m/s; `assumptions` are sentences with `{at}` where the tape position goes.
    """

    value_ms: float
    velocity_from: str
    assumptions: tuple[str, ...] = ()


def mean_velocity(
    vertical: Vertical, rating: tuple[RatingPart, ...], metres_per_second: float
) -> MeanVelocity:
    """Return the mean velocity of a vertical that has readings.

    `rating` is that of the meter, in the unit of the readings, of which one is
    `metres_per_second` m/s. Readings at one fraction count as one, their arithmetic mean (common
    practice, no source). InputRefused if the fractions read allow no mean velocity.
    """
    assumptions: list[str] = []
    points: dict[float | None, list[float]] = {}
    for reading in vertical.velocity:
        value = _called(reading, rating, assumptions) * metres_per_second
        points.setdefault(_rounded(reading.fraction), []).append(value)
    mean, method = _over_depth({at: _mean(values) for at, values in points.items()}, assumptions)
    return MeanVelocity(_normal(mean, vertical), method, tuple(dict.fromkeys(assumptions)))


def _rounded(fraction: float | None) -> float | None:
    return None if fraction is None else round(float(fraction), _DIGITS)


def _mean(values: list[float]) -> float:
    total = 0.0
    for value in values:
        total += value
    return total / len(values)


def _called(reading: PointReading, rating: tuple[RatingPart, ...], assumptions: list[str]) -> float:
    """Return the velocity as called, or from the counts where only they were called."""
    if reading.value is not None:
        return reading.value
    if reading.counts is None or reading.seconds is None or not rating:
        raise InputRefused([Fault("value must be given, or counts and a rating", path="velocity")])
    if reading.counts == 0:
        assumptions.append(
            "The meter did not turn at {at}: the velocity is taken as 0, not as the intercept of "
            "the rating."
        )
        return 0.0
    turns = revolutions_per_second(reading.counts, reading.seconds)
    first, last = rating[0], rating[-1]
    if last.up_to is not None and turns > last.up_to:
        assumptions.append(
            "The meter turned faster at {at} than its rating reaches: the last part is extended."
        )
    if first.up_to is None:
        return velocity_from_rating(turns, first.slope, first.intercept)
    return velocity_from_two_part_rating(
        turns, first.slope, first.intercept, last.slope, last.intercept, first.up_to
    )


def _over_depth(points: Mapping[float | None, float], assumptions: list[str]) -> tuple[float, str]:
    """Return the mean over the depth of velocities by fraction, and the name of the method."""
    if set(points) == {None}:
        return points[None], "measured"
    fractions = tuple(sorted(at for at in points if at is not None))
    if len(fractions) < len(points):
        raise InputRefused(
            [Fault("velocity must be the mean of the vertical or points of it (got both)")]
        )
    velocities = [points[at] for at in fractions]
    if fractions in _METHODS:
        name, method = _METHODS[fractions]
        if fractions in _BY_COEFFICIENT:
            assumptions.append(
                f"The mean velocity at {{at}} is taken as {method(1.0):g} of "
                f"{_BY_COEFFICIENT[fractions]}."
            )
        return method(*velocities), name
    if len(fractions) == 1:
        raise InputRefused(
            [
                Fault(
                    "velocity read at one point must be at 0.6, 0.5 or 0.2 of the depth or at the "
                    f"surface, 0, to give a mean (got {fractions[0]:g})"
                )
            ]
        )
    assumptions.append(
        "The mean velocity at {at} is the integral of its points, falling to 0 at the bed by a "
        "power law."
    )
    return velocity_by_integration(fractions, velocities), "integration"


def _normal(velocity: float, vertical: Vertical) -> float:
    """Return the part of the velocity at right angles to the section."""
    if vertical.angle is not None:
        return normal_velocity(velocity, vertical.angle)
    if vertical.angle_coefficient is not None:
        return velocity * vertical.angle_coefficient
    return velocity
