"""Mean velocity of one vertical from point velocities.

A point velocity is named by its fraction of the depth below the surface: `v02` at 0.2, `v08` at
0.8, `vs` at the surface, `vb` just above the bed.  Every function returns a velocity in the unit
it was given and keeps the sign: water that runs back counts as negative.
"""

import math

from bankside.kernel.section import Floats

__all__ = [
    "normal_velocity",
    "velocity_by_integration",
    "velocity_five_point",
    "velocity_from_surface",
    "velocity_half_depth",
    "velocity_one_point",
    "velocity_six_point",
    "velocity_three_point",
    "velocity_two_point",
    "velocity_two_tenths",
]


def velocity_one_point(v06: float) -> float:
    """Mean velocity from the point at 0.6 of the depth, taken as it is.

    Source: Colorado Water Conservation Board document 55378, p. 17.
    """
    return v06


def velocity_half_depth(v05: float, coefficient: float = 0.95) -> float:
    """Mean velocity from the point at half the depth, in open water.

    Source: ISO 748:2007, 7.1.5, for the coefficient 0.95 (from memory); the standard
    vertical-velocity curve of USGS WSP 2175 gives 1/1.067 = 0.937.
    """
    return coefficient * v05


def velocity_two_tenths(v02: float, coefficient: float = 0.87) -> float:
    """Mean velocity from the point at 0.2 of the depth alone.

    Source: USGS WSP 2175 (from memory); its standard vertical-velocity curve gives
    1/1.149 = 0.870.
    """
    return coefficient * v02


def velocity_two_point(v02: float, v08: float) -> float:
    """Mean velocity as the mean of the points at 0.2 and 0.8 of the depth.

    Source: Colorado Water Conservation Board document 55378, p. 17.
    """
    return (v02 + v08) / 2.0


def velocity_three_point(v02: float, v06: float, v08: float) -> float:
    """Mean velocity as the mean of the two-point result and the point at 0.6.

    Source: USGS WSP 2175; ISO 748 (both from memory).
    """
    return (v02 + 2.0 * v06 + v08) / 4.0


def velocity_five_point(vs: float, v02: float, v06: float, v08: float, vb: float) -> float:
    """Mean velocity from the surface, 0.2, 0.6, 0.8 and just above the bed.

    Source: ISO 748:2007 (weights from memory).
    """
    return (vs + 3.0 * v02 + 3.0 * v06 + 2.0 * v08 + vb) / 10.0


def velocity_six_point(
    vs: float, v02: float, v04: float, v06: float, v08: float, vb: float
) -> float:
    """Mean velocity from the surface, 0.2, 0.4, 0.6, 0.8 and just above the bed.

    Source: ISO 748:2007 (from memory).
    """
    return (vs + 2.0 * v02 + 2.0 * v04 + 2.0 * v06 + 2.0 * v08 + vb) / 10.0


def velocity_from_surface(vs: float, coefficient: float = 0.85) -> float:
    """Mean velocity from the surface velocity.

    Source: a USGS note that cites Rantz 1982 and Turnipseed & Sauer 2010 gives 0.84 to 0.90; 0.85
    or 0.86 is the usual choice.
    """
    return coefficient * vs


def velocity_by_integration(fraction: Floats, velocity: Floats, bed_exponent: float = 6.0) -> float:
    """Mean velocity as the integral of a measured profile over the whole depth.

    `fraction` are the depths of the points below the surface as fractions of the depth, from 0 to
    1 and strictly increasing; `velocity` the velocity at each.  Straight lines join the points.
    From the topmost point to the surface its velocity holds; from the lowest point, at fraction f
    with velocity v, a power law v ((1 - y) / (1 - f))^(1/m) runs down to 0 at the bed, m being
    `bed_exponent`, and adds v (1 - f) m / (m + 1).  A point on the bed leaves nothing to add.
    With the topmost point far down the constant part dominates and the mean comes out low; which
    points will do is the caller's to decide.

    Raises ValueError for no points, unequal lengths, fractions out of order or beyond 0 to 1, or
    an exponent that is not above 0.

    Source: ISO 748 for the power law and its exponent of 5 to 7 (from memory); straight lines and
    the constant velocity at the surface are common practice, no source.
    """
    if len(fraction) < 1 or len(velocity) != len(fraction):
        raise ValueError("a profile has at least one point and one velocity for every fraction")
    last = len(fraction) - 1
    if not (fraction[0] >= 0.0 and fraction[last] <= 1.0 and bed_exponent > 0.0):
        raise ValueError("fractions lie from 0 to 1 and the exponent is above 0")
    mean = velocity[0] * fraction[0]
    for i in range(last):
        if not fraction[i + 1] > fraction[i]:
            raise ValueError("fractions increase from the surface to the bed")
        mean += (fraction[i + 1] - fraction[i]) * ((velocity[i] + velocity[i + 1]) / 2.0)
    below = velocity[last] * (1.0 - fraction[last])
    return mean + below * (bed_exponent / (bed_exponent + 1.0))


def normal_velocity(velocity: float, angle_degrees: float) -> float:
    """Part of a velocity that is at right angles to the section.

    `angle_degrees` is the angle between the current and the normal to the section, either way.

    Source: ISO 748:2007, 7.1.4, oblique flow (formula from memory).
    """
    if angle_degrees == 90.0 or angle_degrees == -90.0:
        return 0.0  # the cosine of a right angle is not quite 0 in floats
    return velocity * math.cos(math.radians(angle_degrees))
