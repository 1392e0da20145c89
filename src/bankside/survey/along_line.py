"""How far a point is from the mouth of a stream, along the line that is drawn of it.

The line is taken as straight between its points on a plane that touches the sphere of the earth's
mean radius at the point asked about. That is good to some metres in the neighbourhood of a section,
and no better than the line is drawn.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from bankside.gauging.records import Position

__all__ = ["km_from_mouth", "line_km"]

# IUGG mean radius of the earth, (2a + b) / 3 of the GRS 80 ellipsoid: 6371.0088 km (from memory).
_RADIUS_KM = 6371.0088


def km_from_mouth(line: Sequence[Position], point: Position) -> tuple[float, float] | None:
    """Return how far from the end of a line the nearest place on it is, and how far off the point.

    Both in km. The line runs from the source to the mouth; None where it has no two points. Of two
    places that are as near, the one nearer to the source.
    """
    if len(line) < 2:
        return None
    best = (math.inf, 0.0)
    below = line_km(line)
    for start, end in pairwise(line):
        length = _km(start, end)
        share, off = _nearest(start, end, point)
        if off < best[0]:
            best = (off, below - share * length)
        below -= length
    return max(0.0, best[1]), best[0]


def line_km(line: Sequence[Position]) -> float:
    """Return how long a line is, in km."""
    return math.fsum(_km(start, end) for start, end in pairwise(line))


def _nearest(start: Position, end: Position, point: Position) -> tuple[float, float]:
    """Return at which share of a straight piece a point lies, and how far off it is in km."""
    a, b = _plane(start, point), _plane(end, point)
    dx, dy = b[0] - a[0], b[1] - a[1]
    square = dx * dx + dy * dy
    share = -(a[0] * dx + a[1] * dy) / square if square else 0.0
    share = min(1.0, max(0.0, share))
    return share, math.hypot(a[0] + share * dx, a[1] + share * dy)


def _plane(place: Position, origin: Position) -> tuple[float, float]:
    """Return how far east and north of the origin a place is, in km."""
    east = (place.lon - origin.lon + 180) % 360 - 180
    return (
        math.radians(east) * _RADIUS_KM * math.cos(math.radians(origin.lat)),
        math.radians(place.lat - origin.lat) * _RADIUS_KM,
    )


def _km(one: Position, other: Position) -> float:
    """Return the distance of two points on the sphere, by the haversine."""
    lat, other_lat = math.radians(one.lat), math.radians(other.lat)
    lon = math.radians(other.lon - one.lon)
    chord = (
        math.sin((other_lat - lat) / 2) ** 2
        + math.cos(lat) * math.cos(other_lat) * math.sin(lon / 2) ** 2
    )
    return 2 * _RADIUS_KM * math.asin(min(1.0, math.sqrt(chord)))
