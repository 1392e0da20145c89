"""A virtual crew in the water: every act gives a reading with its errors and costs seconds.

What an act gives depends on stream, crew, the seed of the visit, the tape position and how often
the crew did the same there, and on nothing else. So two ways to place verticals meet the same
errors wherever they read at the same position, in whichever order they come there.
"""

import itertools
import math
import random
from typing import Literal

import attrs

from bankside.gauging.records import Bank
from bankside.gauging.units import metres_per, metres_per_second_per
from bankside.kernel.vertical import (
    normal_velocity,
    velocity_from_surface,
    velocity_one_point,
    velocity_two_point,
)
from bankside.practice.crew import Crew
from bankside.practice.parameters import normal, seeded
from bankside.practice.stream import Stream

__all__ = ["FoundEdge", "Point", "Reading", "Wading"]

_GRAVITY = 9.80665
_ACTS = {"edge": 0, "sounding": 1, "vertical": 2, "point": 3}
Act = Literal["edge", "sounding", "vertical", "point"]


@attrs.frozen
class FoundEdge:
    """An edge of water as found: tape and depth as called, and in metres."""

    tape: float
    depth: float
    bank: Bank
    tape_m: float
    depth_m: float


@attrs.frozen
class Point:
    """A velocity as called, at a fraction of the depth (None: mean of the vertical), its seconds.

    `seconds` is None where a float was timed instead.
    """

    fraction: float | None
    value: float
    seconds: float | None


@attrs.frozen
class Reading:
    """A vertical as called, and what it comes to in metres and m/s square to the tape.

    `angle` is in degrees, None where none was noted; `velocity_ms` is None for a sounding and 0
    where it is dry.
    """

    tape: float
    depth: float
    points: tuple[Point, ...]
    angle: float | None
    tape_m: float
    depth_m: float
    velocity_ms: float | None


class Wading:
    """One visit of a crew to a stream, act by act.

    `seconds_spent` adds up what the acts cost. Tape positions given to the acts are in metres,
    and are read at the nearest mark of the tape.
    """

    def __init__(self, stream: Stream, crew: Crew, seed: int) -> None:
        """Draw what is common to the whole visit: tape, meter, and whether angles are looked at."""
        self.stream = stream
        self.crew = crew
        self.seconds_spent = 0.0
        rng = seeded("wading", stream.kind, stream.seed, seed)
        self._base = rng.getrandbits(64)
        self._rng = random.Random(0)
        self._done: dict[tuple[str, int], int] = {}
        self._stretch = 1.0 + crew.tape_stretch * normal(rng)
        self._gain = 1.0 + crew.calibration * normal(rng)
        self._zero = crew.zero * normal(rng)
        self._sees_angles = rng.random() >= crew.angle_overlooked
        self._metre = metres_per(crew.length_unit)
        self._metre_a_second = metres_per_second_per(crew.velocity_unit)

    def edges(self) -> tuple[FoundEdge, FoundEdge]:
        """Find the left and the right edge of water."""
        stretches = self.stream.wet_stretches
        first, last = stretches[0][0], stretches[-1][1]
        left_bank = self.stream.left_bank if first == self.stream.left else "sloping"
        right_bank = self.stream.right_bank if last == self.stream.right else "sloping"
        return self._edge(first, left_bank), self._edge(last, right_bank)

    def gaps(self) -> list[tuple[float, float]]:
        """Find the dry gaps that a crew sees from the bank: from and to, on the tape in metres."""
        stretches = self.stream.wet_stretches
        found = []
        for (_, start), (end, _) in itertools.pairwise(stretches):
            if end - start > self.crew.gap_seen:
                low, high = self._edge(start, "sloping"), self._edge(end, "sloping")
                if high.tape_m > low.tape_m:
                    found.append((low.tape_m, high.tape_m))
        return found

    def sound(self, tape_m: float) -> Reading:
        """Read the depth alone."""
        self.seconds_spent += self.crew.sounding
        tape = self._mark(tape_m)
        y = self._stand(tape, "sounding")
        depth = self._depth(y)
        velocity = None if depth > 0.0 else 0.0
        return Reading(tape, depth, (), None, tape * self._metre, depth * self._metre, velocity)

    def vertical(self, tape_m: float, seconds: float | None = None) -> Reading:
        """Read depth and velocity, by the crew's own exposure unless `seconds` are given."""
        crew = self.crew
        self.seconds_spent += crew.moving
        tape = self._mark(tape_m)
        y = self._stand(tape, "vertical")
        depth = self._depth(y)
        depth_m = depth * self._metre
        if depth <= 0.0:
            return Reading(tape, depth, (), None, tape * self._metre, depth_m, 0.0)
        angle = self._angle(y)
        points = tuple(
            self._point(y, fraction, crew.exposure if seconds is None else seconds)
            for fraction in self._fractions(depth_m)
        )
        velocity = self._mean(points, angle)
        return Reading(tape, depth, points, angle, tape * self._metre, depth_m, velocity)

    def point(self, tape_m: float, fraction: float, seconds: float | None = None) -> Point:
        """Read one more velocity where a vertical was read, at a fraction of the depth."""
        y = self._stand(self._mark(tape_m), "point")
        return self._point(y, fraction, self.crew.exposure if seconds is None else seconds)

    def _fractions(self, depth_m: float) -> tuple[float | None, ...]:
        if depth_m < self.crew.shallowest:
            return (0.0,)
        if self.crew.integrating:
            return (None,)
        return (0.2, 0.8) if depth_m >= self.crew.two_points_from else (0.6,)

    def _mean(self, points: tuple[Point, ...], angle: float | None) -> float:
        values = [point.value * self._metre_a_second for point in points]
        if len(values) == 2:
            mean = velocity_two_point(*values)
        elif points[0].fraction == 0.0:
            mean = velocity_from_surface(values[0])
        else:
            mean = velocity_one_point(values[0])
        return mean if angle is None else normal_velocity(mean, angle)

    def _mark(self, tape_m: float) -> float:
        return _rounded(tape_m / self._metre, self.crew.tape_resolution)

    def _stand(self, tape: float, act: Act) -> float:
        """Return where the rod stands in truth, and take errors from there on by the position."""
        key = round(tape * 1e4)
        times = self._done.get((act, key), 0)
        self._done[act, key] = times + 1
        place = (((self._base << 8) + _ACTS[act] << 32) + key + 2**31 << 16) + times
        self._rng.seed(place)
        return tape * self._metre * self._stretch + self.crew.placing * normal(self._rng)

    def _edge(self, y: float, bank: Bank) -> FoundEdge:
        tape = _rounded(y / self._stretch / self._metre, 1e-4)
        self._stand(tape, "edge")
        found = y + self.crew.edge_finding * normal(self._rng)
        tape = self._mark(found / self._stretch)
        depth = 0.0 if bank == "sloping" else self._depth(y)
        if depth <= 0.0:
            bank = "sloping"
        return FoundEdge(tape, depth, bank, tape * self._metre, depth * self._metre)

    def _depth(self, y: float) -> float:
        """Return the depth as called at a true position."""
        crew, stream, rng = self.crew, self.stream, self._rng
        depth = stream.depth_at(y)
        tilt, sunk, error = normal(rng), rng.random(), normal(rng)
        if depth <= 0.0:
            return 0.0
        v = stream.velocity_at(y)
        read = (
            depth / math.cos(math.radians(crew.rod_tilt * tilt))
            + crew.rod_lean * stream.drawn["softness"] * sunk
            + crew.pile_up * v * v / (2.0 * _GRAVITY)
            + crew.rod_reading * error
        )
        return max(0.0, _rounded(read / self._metre, crew.rod_resolution))

    def _angle(self, y: float) -> float | None:
        """Return the angle as called, None where the crew noted none."""
        crew = self.crew
        read = self.stream.angle_at(y) + crew.angle_reading * normal(self._rng)
        if not self._sees_angles or abs(read) < crew.angle_least:
            return None
        return _rounded(read, crew.angle_resolution)

    def _point(self, y: float, fraction: float | None, seconds: float) -> Point:
        """Return a velocity as called at a true position."""
        crew, stream, rng = self.crew, self.stream, self._rng
        if fraction == 0.0:
            self.seconds_spent += crew.floating
            surface = stream.speed_at(y, 0.0) * (1.0 + crew.float_error * normal(rng))
            return Point(0.0, self._called(surface), None)
        self.seconds_spent += seconds
        if fraction is None:
            true = stream.mean_speed_at(y)
        else:
            set_at = min(0.97, max(0.02, fraction + crew.setting * normal(rng)))
            true = stream.speed_at(y, set_at)
        true += stream.exposure_deviation(y, seconds) * normal(rng)
        read = true * self._gain + self._zero + crew.meter_noise * normal(rng)
        return Point(fraction, self._called(read), seconds)

    def _called(self, velocity_ms: float) -> float:
        return _rounded(velocity_ms / self._metre_a_second, self.crew.velocity_resolution)


def _rounded(value: float, resolution: float) -> float:
    """Return the nearest multiple of the resolution, as a crew calls it; 0 leaves the value."""
    return round(round(value / resolution) * resolution, 6) if resolution else value
