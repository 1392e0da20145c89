"""A vertical as written, taken apart: every error of it can be put in or left out by itself."""

from __future__ import annotations

import math
from typing import Final, Literal

import attrs

from bankside.gauging.records import Gauging, PointReading, Vertical
from bankside.gauging.units import metres_per
from bankside.practice.debrief.matching import Behind
from bankside.practice.debrief.point_parts import PointParts, point_parts

__all__ = ["PLAYED", "Source", "VerticalParts", "parts_of"]

Source = Literal[
    "section choice",
    "spacing",
    "tape",
    "edges",
    "depth reading",
    "points",
    "rod setting",
    "exposure",
    "meter handling",
    "level",
    "no reading",
    "arithmetic",
]
PLAYED: Final[tuple[Source, ...]] = (
    *("tape", "edges", "depth reading", "points", "rod setting"),
    *("exposure", "meter handling", "level", "no reading", "arithmetic"),
)
"""What changes the readings; section and spacing say where they were made."""

# A depth as many times the true one, or as small a part of it, was not read but written so: the
# limits of the check on depth slips (`docs/rules.md`).
_SLIPPED: Final = (0.4, 2.5)
_NOTHING: Final = 1e-9


@attrs.frozen
class VerticalParts:
    """A vertical written, in m: its place, its depth, its points and the angle, each taken apart.

    Depth: figure = true × read × written + heaped, where `deeper` is the true one less that in the
    middle of the gauging. `square` is the cosine of the flow's true angle, `hung` what the skew of
    the tape makes of it, `noted` what noting it wrongly, or not at all, does. `passed_over` is the
    true velocity where water was written down as dry ground. `sounded` is whether anybody stood the
    rod there, or had no need to, and `visited` whether anybody was there at all: what was written
    otherwise was written without a reading.
    """

    tape: float
    y: float
    depth: float
    deeper: float
    read: float
    heaped: float
    written: float
    points: tuple[PointParts, ...]
    square: float
    hung: float
    noted: float
    passed_over: float | None
    sounded: bool
    visited: bool

    @property
    def is_read(self) -> bool:
        """Whether every figure of it was read by somebody."""
        return self.sounded and all(point.held for point in self.points)

    def vertical(self, wrong: frozenset[str]) -> Vertical:
        """Return the vertical with the errors of these sources, and of no others."""
        tape = self.tape if "tape" in wrong else self.y
        depth = self.depth if "level" in wrong else self.depth - self.deeper
        if self._if_read("depth reading", self.sounded) in wrong:
            depth = depth * self.read + self.heaped
        if self._if_read("arithmetic", self.sounded) in wrong:
            depth *= self.written
        if depth <= 0.0:
            return Vertical(tape, dry=True)
        if not self.points:
            unread = () if self.passed_over is None else (PointReading(self.passed_over),)
            return Vertical(tape, depth, unread)
        mean = math.fsum(point.weight * point.value(wrong) for point in self.points)
        mean *= self.square
        mean *= self.hung if "tape" in wrong else 1.0
        noting = self._if_read("meter handling", self.visited)
        mean *= self.noted if noting in wrong else 1.0
        return Vertical(tape, depth, (PointReading(mean),))

    def touched(self) -> set[Source]:
        """Return the sources that are in it at all."""
        points = self.points
        depth = _differ(self.read, 1.0) or _differ(self.heaped, 0.0)
        slipped, noted = _differ(self.written, 1.0), _differ(self.noted, 1.0)
        unread = not self.sounded and (depth or slipped)
        said: dict[Source, bool] = {
            "tape": _differ(self.tape, self.y) or _differ(self.hung, 1.0),
            "depth reading": self.sounded and depth,
            "points": any(_differ(p.meant, 0.0) for p in points),
            "rod setting": any(_differ(p.set, 0.0) for p in points),
            "exposure": any(_differ(p.exposure, 0.0) for p in points),
            "meter handling": (self.visited and noted)
            or any(_differ(p.gain, 1.0) or _differ(p.zero, 0.0) for p in points),
            "level": _differ(self.deeper, 0.0) or any(_differ(p.quicker, 1.0) for p in points),
            "no reading": unread
            or (not self.visited and noted)
            or any(not p.held and _differ(p.written, 1.0) for p in points),
            "arithmetic": (self.sounded and slipped)
            or any(p.held and _differ(p.written, 1.0) for p in points),
        }
        return {source for source, there in said.items() if there}

    @staticmethod
    def _if_read(source: Source, read: bool) -> Source:
        """Return the source of an error, which is another where nobody read anything."""
        return source if read else "no reading"


def parts_of(record: Gauging, row: Vertical, behind: Behind, middle: float) -> VerticalParts:
    """Return a vertical taken apart; `middle` is the second in the middle of the gauging."""
    metre = metres_per(record.units.length)
    at = next((point.at for point in behind.points if point is not None), middle)
    sounded = at if behind.sound is None else behind.sound.at
    depth = behind.water.depth_at(behind.y, sounded)
    deeper = depth - behind.water.depth_at(behind.y, middle)
    called = (
        0.0
        if row.dry
        else (row.depth or 0.0) * metres_per(record.units.depth or record.units.length)
    )
    read, heaped, written = _depth(called, depth)
    first = next((point for point in behind.points if point is not None), None)
    angle = behind.water.stream.angle_at(behind.y)
    skew = 0.0 if first is None else _skew(record, row, behind)
    square, hung, noted = _angles(row, angle, skew)
    return VerticalParts(
        *(row.tape * metre, behind.y, depth, deeper, read, heaped, written),
        point_parts(record, row, behind, middle),
        *(square, hung, noted),
        passed_over=behind.water.velocity_at(behind.y, middle) if called <= 0.0 else None,
        # Dry ground is seen from the bank.
        sounded=behind.sound is not None or (called <= 0.0 and depth <= 0.0),
        visited=behind.sound is not None or first is not None,
    )


def _depth(called: float, true: float) -> tuple[float, float, float]:
    """Return what reading makes of a depth, what it adds where there is none, and what writing."""
    if true <= 0.0:
        return 1.0, called, 1.0
    ratio = called / true
    if called > 0.0 and not _SLIPPED[0] <= ratio <= _SLIPPED[1]:
        return 1.0, 0.0, ratio
    return ratio, 0.0, 1.0


def _skew(record: Gauging, row: Vertical, behind: Behind) -> float:
    """Return the skew of the tape in degrees, from the true place of a mark."""
    along = row.tape * metres_per(record.units.length) - behind.water.stream.left
    across = behind.y - behind.water.stream.left
    if abs(along) < _NOTHING or abs(across) > abs(along):
        return 0.0
    return math.degrees(math.acos(across / along))


def _angles(row: Vertical, angle: float, skew: float) -> tuple[float, float, float]:
    square = math.cos(math.radians(angle))
    noted = row.angle_coefficient
    if row.angle is not None:
        noted = math.cos(math.radians(row.angle))
    if noted is None:
        return square, 1.0, 1.0 / square
    hung = math.cos(math.radians(angle + skew))
    return square, hung / square, noted / hung


def _differ(one: float, other: float) -> bool:
    return abs(one - other) > _NOTHING
