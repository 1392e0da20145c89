"""Distances on the ellipsoid by Vincenty's inverse formula, to hold maps against.

T. Vincenty, Direct and inverse solutions of geodesics on the ellipsoid, Survey Review 23 (176),
1975 (formulas from memory).
"""

import math

WGS84 = (6_378_137.0, 1 / 298.257223563)
GRS80 = (6_378_137.0, 1 / 298.257222101)

LonLat = tuple[float, float]


def metres_between(one: LonLat, other: LonLat, ellipsoid: tuple[float, float] = WGS84) -> float:
    """How far two points are apart on the ellipsoid, given as longitude and latitude in degrees."""
    a, f = ellipsoid
    b = a * (1 - f)
    u1, u2 = (math.atan((1 - f) * math.tan(math.radians(lat))) for _, lat in (one, other))
    length = math.radians(other[0] - one[0])
    sin1, cos1, sin2, cos2 = math.sin(u1), math.cos(u1), math.sin(u2), math.cos(u2)
    on_sphere = length
    for _ in range(200):
        sine, cosine = math.sin(on_sphere), math.cos(on_sphere)
        sin_sigma = math.hypot(cos2 * sine, cos1 * sin2 - sin1 * cos2 * cosine)
        if sin_sigma == 0:
            return 0.0
        cos_sigma = sin1 * sin2 + cos1 * cos2 * cosine
        sigma = math.atan2(sin_sigma, cos_sigma)
        sin_alpha = cos1 * cos2 * sine / sin_sigma
        squared = 1 - sin_alpha * sin_alpha
        middle = cos_sigma - 2 * sin1 * sin2 / squared if squared else 0.0
        c = f / 16 * squared * (4 + f * (4 - 3 * squared))
        before = on_sphere
        on_sphere = length + (1 - c) * f * sin_alpha * (
            sigma + c * sin_sigma * (middle + c * cos_sigma * (2 * middle * middle - 1))
        )
        if abs(on_sphere - before) < 1e-13:
            break
    u_squared = squared * (a * a - b * b) / (b * b)
    big_a = 1 + u_squared / 16384 * (
        4096 + u_squared * (-768 + u_squared * (320 - 175 * u_squared))
    )
    big_b = u_squared / 1024 * (256 + u_squared * (-128 + u_squared * (74 - 47 * u_squared)))
    last = middle * (4 * sin_sigma * sin_sigma - 3) * (4 * middle * middle - 3)
    delta = (
        big_b
        * sin_sigma
        * (middle + big_b / 4 * (cos_sigma * (2 * middle * middle - 1) - big_b / 6 * last))
    )
    return b * big_a * (sigma - delta)
