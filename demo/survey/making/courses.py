"""The courses of the streams on the map: winding lines, and where along them a site lies."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import cache
from itertools import pairwise
from typing import Final

from making.basin import STREAMS, InventedSite

__all__ = ["course_of", "length_km", "place_of", "to_lon_lat"]

Point = tuple[float, float]

_MIDDLE: Final = (-1.2900, 45.6000)
"""Longitude and latitude of the point from which the courses are counted: off a coast, at sea."""

_KM_PER_DEGREE: Final = math.radians(1.0) * 6371.0088
_STEPS: Final = 14
_WINDS_KM: Final = 0.16
_BENDS_PER_STRETCH: Final = 2.5


@cache
def course_of(name: str) -> tuple[Point, ...]:
    """Return the course of a stream from its source to its mouth, in kilometres east and north."""
    stream = next(stream for stream in STREAMS if stream.name == name)
    points = list(stream.course)
    if stream.joins is not None and stream.joins_at_km is not None:
        points.append(_at(course_of(stream.joins), stream.joins_at_km))
    return tuple(_winding(points))


def length_km(name: str) -> float:
    """Return how long the course of a stream is."""
    return sum(math.dist(a, b) for a, b in pairwise(course_of(name)))


def place_of(site: InventedSite) -> Point:
    """Return where a site lies, in kilometres east and north."""
    return _at(course_of(site.stream), site.along_km)


def to_lon_lat(point: Point) -> Point:
    """Return longitude and latitude of a point, to a hundred thousandth of a degree."""
    lon, lat = _MIDDLE
    per_degree_east = _KM_PER_DEGREE * math.cos(math.radians(lat))
    return (
        round(lon + point[0] / per_degree_east, 5),
        round(lat + point[1] / _KM_PER_DEGREE, 5),
    )


def _winding(points: Sequence[Point]) -> list[Point]:
    """Return a smooth line through the points that winds a little to either side of its way."""
    ends = [_beyond(points[1], points[0]), *points, _beyond(points[-2], points[-1])]
    line: list[Point] = []
    for number in range(len(points) - 1):
        before, start, end, after = ends[number : number + 4]
        for step in range(_STEPS):
            part = step / _STEPS
            x, y = _between(before, start, end, after, part)
            # No bend at the points themselves: a mouth lies on the stream that it joins.
            side = (
                _WINDS_KM
                * math.sin(2 * math.pi * _BENDS_PER_STRETCH * part)
                * math.sin(math.pi * part)
            )
            along = math.dist(start, end)
            line.append(
                (
                    x - side * (end[1] - start[1]) / along,
                    y + side * (end[0] - start[0]) / along,
                )
            )
    return [*line, points[-1]]


def _between(before: Point, start: Point, end: Point, after: Point, part: float) -> Point:
    """Return a point of the cubic curve of Catmull and Rom between the inner of four points."""
    t, tt, ttt = part, part * part, part * part * part
    return tuple(  # type: ignore[return-value]
        0.5
        * (2 * b + (c - a) * t + (2 * a - 5 * b + 4 * c - d) * tt + (3 * b - a - 3 * c + d) * ttt)
        for a, b, c, d in zip(before, start, end, after, strict=True)
    )


def _beyond(inner: Point, end: Point) -> Point:
    return 2 * end[0] - inner[0], 2 * end[1] - inner[1]


def _at(line: Sequence[Point], km_above_mouth: float) -> Point:
    """Return the point of a line so far above its mouth."""
    left = km_above_mouth
    for end, start in pairwise(reversed(line)):
        long = math.dist(start, end)
        if left <= long:
            part = left / long
            return end[0] + part * (start[0] - end[0]), end[1] + part * (start[1] - end[1])
        left -= long
    raise ValueError(f"{km_above_mouth} km lies above the source")
