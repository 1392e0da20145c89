"""The mean velocity of one vertical, from whatever was read there.

The fractions of the depth at which velocities were read choose the method; nobody has to name it.
"""

from collections.abc import Callable, Mapping

import attrs

from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.point_velocity import point_velocities
from bankside.gauging.records import RatingPart, Vertical
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

# Methods that put a coefficient on one reading: what that reading was, and what to know about it.
_BY_COEFFICIENT: Mapping[tuple[float, ...], tuple[str, str]] = {
    (0.5,): (
        "the velocity at half the depth",
        " (ISO 748, from memory); where half-depth readings are meant to be taken as they are, "
        "the mean is 5 % more",
    ),
    (0.2,): ("the velocity at 0.2 of the depth", ""),
    (0.0,): ("the surface velocity", ""),
}

# Ours, no source: from further down nothing is known of the water above.
_DEEPEST_TOP = 0.6
# Ours: with nothing read above, integrals of power laws (1/4 to 1/10) are 2 to 10 % low.
_UPPER_HALF = 0.5


@attrs.frozen
class MeanVelocity:
    """The mean velocity of a vertical at right angles to the section, and how it came about.

    `value_ms` is in m/s; `assumptions` are sentences for a `Note` at the tape position.
    """

    value_ms: float
    velocity_from: str
    assumptions: tuple[str, ...] = ()


def mean_velocity(
    vertical: Vertical, rating: tuple[RatingPart, ...], metres_per_second: float
) -> MeanVelocity:
    """Return the mean velocity of a vertical that has readings.

    `rating` is that of the meter, in the unit of the readings, of which one is
    `metres_per_second` m/s. InputRefused if the fractions read allow no mean velocity.
    """
    assumptions: list[str] = []
    called = point_velocities(vertical.velocity, rating, assumptions)
    points = {at: value * metres_per_second for at, value in called.items()}
    mean, method = _over_depth(points, assumptions)
    return MeanVelocity(_normal(mean, vertical), method, tuple(dict.fromkeys(assumptions)))


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
            reading, remark = _BY_COEFFICIENT[fractions]
            assumptions.append(
                f"The mean velocity at {{at}} is taken as {method(1.0):g} of {reading}{remark}."
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
    if fractions[0] > _DEEPEST_TOP:
        listed = ", ".join(f"{at:g}" for at in fractions)
        raise InputRefused(
            [
                Fault(
                    "velocity must be read at 0.6 of the depth or above to give a mean; 0.6 alone, "
                    f"or 0.2 beside 0.8, would be right (got {listed})"
                )
            ]
        )
    assumptions.append(_integral(fractions[0], fractions[-1]))
    return velocity_by_integration(fractions, velocities), "integration"


def _integral(top: float, bottom: float) -> str:
    """Return what integrating takes for granted above the topmost point and below the lowest."""
    parts = []
    if top > 0:
        parts.append(f"constant from {top:g} of the depth up to the surface")
    if bottom < 1:
        parts.append(f"falling from {bottom:g} to 0 at the bed by a power law")
    sentence = "The mean velocity at {at} is the integral of its points"
    if parts:
        sentence += ": " + ", and ".join(parts)
    if top < _UPPER_HALF:
        return f"{sentence}."
    return (
        f"{sentence}. Nothing was read in the upper half, so it is probably several percent too "
        "small."
    )


def _normal(velocity: float, vertical: Vertical) -> float:
    """Return the part of the velocity at right angles to the section."""
    if vertical.angle is not None:
        return normal_velocity(velocity, vertical.angle)
    if vertical.angle_coefficient is not None:
        return velocity * vertical.angle_coefficient
    return velocity
