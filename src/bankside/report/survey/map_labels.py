"""Where the labels of a map go: beside their marks, off each other, off marks and lines.

Everything is in millimetres on paper, x to the right and y up. Labels are tried at places round
their mark, and the cheapest is taken; then each is tried again with all others in their places.
Equal maps give equal places.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Final

import attrs

__all__ = ["Box", "Mark", "Placed", "place_labels"]

_TURNS: Final = 16
_AWAY_MM: Final = (0.6, 2.2, 4.5, 7.5, 11.0, 15.0)
_ROUNDS: Final = 3

_OUTSIDE: Final = 1000.0
_ON_LABEL: Final = 60.0
_ON_MARK: Final = 25.0
_ON_LINE: Final = 1.6
_FAR: Final = 0.9
"""What it costs to be off the map, on a square millimetre of a label or of a mark, on a point of a
line, and a millimetre away from one's own mark."""


@attrs.frozen
class Box:
    """An upright rectangle."""

    left: float
    bottom: float
    right: float
    top: float

    @classmethod
    def round_(cls, x: float, y: float, half_width: float, half_height: float) -> Box:
        """Return the box with this middle."""
        return cls(x - half_width, y - half_height, x + half_width, y + half_height)

    @property
    def middle(self) -> tuple[float, float]:
        """The point in its middle."""
        return (self.left + self.right) / 2, (self.bottom + self.top) / 2

    def shared(self, other: Box) -> float:
        """Return the area that two boxes have in common."""
        wide = min(self.right, other.right) - max(self.left, other.left)
        high = min(self.top, other.top) - max(self.bottom, other.bottom)
        return max(0.0, wide) * max(0.0, high)

    def holds(self, x: float, y: float, room: float = 0.0) -> bool:
        """Return whether a point is in the box, or as near to it as `room`."""
        return (
            self.left - room <= x <= self.right + room
            and self.bottom - room <= y <= self.top + room
        )


@attrs.frozen
class Mark:
    """A round mark, and how large the label is that belongs to it."""

    x: float
    y: float
    radius: float
    label_width: float
    label_height: float

    @property
    def box(self) -> Box:
        """The box round the mark."""
        return Box.round_(self.x, self.y, self.radius, self.radius)


@attrs.frozen
class Placed:
    """Where a label stands, and whether a line has to lead to it from its mark."""

    box: Box
    led: bool


def place_labels(
    marks: Sequence[Mark], line_points: Sequence[tuple[float, float]], frame: Box
) -> list[Placed]:
    """Return where the label of each mark stands, in the order of the marks."""
    boxes: list[Box | None] = [None] * len(marks)
    crowded = sorted(range(len(marks)), key=lambda n: (-_neighbours(marks, n), n))
    for _ in range(_ROUNDS):
        for n in crowded:
            others = [box for m, box in enumerate(boxes) if box is not None and m != n]
            boxes[n] = _cheapest(n, marks, others, line_points, frame)
    return [
        Placed(box, _gap(mark, box) > _AWAY_MM[1])
        for mark, box in zip(marks, boxes, strict=True)
        if box is not None
    ]


def _neighbours(marks: Sequence[Mark], n: int) -> int:
    one = marks[n]
    return sum(
        1
        for m, other in enumerate(marks)
        if m != n and math.hypot(one.x - other.x, one.y - other.y) < 2 * one.label_width
    )


def _cheapest(
    n: int,
    marks: Sequence[Mark],
    others: Sequence[Box],
    line_points: Sequence[tuple[float, float]],
    frame: Box,
) -> Box:
    mark = marks[n]

    def cost(place: tuple[float, Box]) -> float:
        away, box = place
        inside = box.shared(frame)
        outside = (box.right - box.left) * (box.top - box.bottom) - inside
        return (
            _OUTSIDE * (outside > 1e-6) * (1 + outside)
            + _ON_LABEL * sum(box.shared(other) for other in others)
            + _ON_MARK * sum(box.shared(other.box) for other in marks)
            + _ON_LINE * sum(1 for x, y in line_points if box.holds(x, y, 0.3))
            + _FAR * away
        )

    return min(_places(mark), key=cost)[1]


def _places(mark: Mark) -> Iterator[tuple[float, Box]]:
    """Yield boxes round a mark, from the right on against the clock, with their distance."""
    half = mark.label_width / 2, mark.label_height / 2
    for away in _AWAY_MM:
        for turn in range(_TURNS):
            angle = 2 * math.pi * turn / _TURNS
            x = mark.x + math.cos(angle) * (mark.radius + away + half[0])
            y = mark.y + math.sin(angle) * (mark.radius + away + half[1])
            yield away, Box.round_(x, y, *half)


def _gap(mark: Mark, box: Box) -> float:
    """Return how far a box is from the rim of its mark."""
    dx = max(box.left - mark.x, 0.0, mark.x - box.right)
    dy = max(box.bottom - mark.y, 0.0, mark.y - box.top)
    return math.hypot(dx, dy) - mark.radius
