"""Where the names of streams stand on a map: along their lines, on whichever side is free."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final

import attrs

from bankside.report.survey.map_labels import Box

__all__ = ["AlongLine", "name_along", "points_along"]

Point = tuple[float, float]

_STEPS: Final = 40
_OFF_MM: Final = 2.0
_ON_BOX: Final = 10.0
_ON_LINE: Final = 3.0
_BENT: Final = 1.5
"""What it costs to touch a label or a mark, to touch a line, and that a line bends by a radian."""


@attrs.frozen
class AlongLine:
    """The middle of a name, how it is turned in degrees, and what its place costs."""

    x: float
    y: float
    turn: float
    cost: float


def name_along(
    line: Sequence[Point],
    size: tuple[float, float],
    boxes: Sequence[Box],
    line_points: Sequence[Point],
    frame: Box,
) -> AlongLine | None:
    """Return where a name of a width and height stands best; None where its line is too short."""
    places = [_judged(place, size, boxes, line_points, frame) for place in _places(line, size[0])]
    return min(places, key=lambda place: place.cost, default=None)


def points_along(line: Sequence[Point], apart: float) -> list[Point]:
    """Return points of a line at equal distances."""
    points: list[Point] = []
    left = 0.0
    for (x, y), (x2, y2) in pairwise(line):
        long = math.hypot(x2 - x, y2 - y)
        at = left
        while at < long:
            points.append((x + (x2 - x) * at / long, y + (y2 - y) * at / long))
            at += apart
        left = at - long
    return points


def _places(line: Sequence[Point], width: float) -> Iterator[AlongLine]:
    """Yield places on either side of the line, turned as the stretch beside the name runs."""
    points = points_along(line, 0.5)
    reach = max(1, round(width))
    for step in range(_STEPS + 1):
        at = round(step / _STEPS * (len(points) - 1))
        start, end = at - reach, at + reach
        if start < 0 or end >= len(points):
            continue
        (x, y), (x2, y2) = points[start], points[end]
        turn = math.atan2(y2 - y, x2 - x)
        bend = abs(_difference(turn, math.atan2(points[at][1] - y, points[at][0] - x)))
        if math.cos(turn) < 0:
            turn += math.pi
        for side in (1, -1):
            yield AlongLine(
                (x + x2) / 2 - side * math.sin(turn) * _OFF_MM,
                (y + y2) / 2 + side * math.cos(turn) * _OFF_MM,
                math.degrees(turn),
                _BENT * bend + 0.02 * abs(step - _STEPS / 2),
            )


def _difference(one: float, other: float) -> float:
    return (one - other + math.pi) % (2 * math.pi) - math.pi


def _judged(
    place: AlongLine,
    size: tuple[float, float],
    boxes: Sequence[Box],
    line_points: Sequence[Point],
    frame: Box,
) -> AlongLine:
    width, height = size
    cos, sin = math.cos(math.radians(place.turn)), math.sin(math.radians(place.turn))
    count = max(3, math.ceil(width / height))
    parts = [
        Box.round_(
            place.x + cos * width * (n / (count - 1) - 0.5),
            place.y + sin * width * (n / (count - 1) - 0.5),
            height / 2,
            height / 2,
        )
        for n in range(count)
    ]
    reach = Box.round_(place.x, place.y, width / 2 + height, width / 2 + height)
    near = [point for point in line_points if reach.holds(*point)]
    outside = sum(1 for part in parts if part.shared(frame) < 0.99 * height * height)
    touched = sum(1 for part in parts for box in boxes if part.shared(box) > 0)
    crossed = sum(1 for part in parts for x, y in near if part.holds(x, y, -0.2))
    cost = place.cost + _ON_BOX * (touched + 100 * outside) + _ON_LINE * crossed
    return attrs.evolve(place, cost=cost)
