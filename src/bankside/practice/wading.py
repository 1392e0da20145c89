"""A virtual crew in the water: every act gives a reading with its errors and costs seconds.

What an act gives depends on stream, crew, the seed of the visit, the tape mark and how often the
crew did the same there, and on nothing else. So two ways to place verticals meet the same errors
wherever they read at the same mark, in whichever order they come there.
"""

import itertools
import random

import attrs

from bankside.gauging.mean_velocity import mean_velocity
from bankside.gauging.records import Bank
from bankside.gauging.units import metres_per, metres_per_second_per
from bankside.kernel.vertical import (
    normal_velocity,
    velocity_from_surface,
    velocity_one_point,
    velocity_two_point,
)
from bankside.practice.called import CalledPoint, CalledVertical, FoundEdge, vertical_record
from bankside.practice.crew import Crew
from bankside.practice.instruments import Instruments, rounded
from bankside.practice.parameters import normal, seeded
from bankside.practice.stream import SimulatedStream

__all__ = ["Wading"]

# What tells the errors of one kind of act at a mark from those of another.
_EDGE, _SOUNDING, _VERTICAL, _POINT = range(4)


class Wading:
    """One visit of a crew to a stream, act by act.

    `seconds_spent` adds up what the acts cost. Tape positions given to the acts are in metres,
    and are read at the nearest mark of the tape.
    """

    def __init__(self, stream: SimulatedStream, crew: Crew, seed: int) -> None:
        """Draw what is common to the whole visit: tape, meter, and whether angles are looked at."""
        self.stream = stream
        self.crew = crew
        self.seconds_spent = 0.0
        rng = seeded("wading", stream.kind, stream.seed, seed)
        self._base = rng.getrandbits(64)
        self._rng = random.Random(0)
        self._done: dict[tuple[int, int], int] = {}
        self._stretch = 1.0 + crew.tape_stretch * normal(rng)
        self._metre = metres_per(crew.length_unit)
        self._metre_a_second = metres_per_second_per(crew.velocity_unit)
        self._stretches = stream.wet_stretches
        self._instruments = Instruments.of(stream, crew, rng)

    def edges(self) -> tuple[FoundEdge, FoundEdge]:
        """Find the left and the right edge of water."""
        stream, stretches = self.stream, self._stretches
        first, last = stretches[0][0], stretches[-1][1]
        left = stream.left_bank if first == stream.left else "sloping"
        right = stream.right_bank if last == stream.right else "sloping"
        return self._edge(first, left), self._edge(last, right)

    def gaps(self) -> list[tuple[float, float]]:
        """Find the dry gaps that a crew sees from the bank: from and to, on the tape in metres."""
        found = []
        for (_, start), (end, _) in itertools.pairwise(self._stretches):
            if end - start > self.crew.gap_seen:
                low, high = self._edge(start, "sloping"), self._edge(end, "sloping")
                if high.tape_m > low.tape_m:
                    found.append((low.tape_m, high.tape_m))
        return found

    def sound(self, tape_m: float) -> CalledVertical:
        """Read the depth alone."""
        self.seconds_spent += self.crew.sounding
        tape = self.mark(tape_m)
        depth = self._instruments.depth(self._stand(tape, _SOUNDING), self._rng)
        return self._called(tape, depth, (), None)

    def vertical(self, tape_m: float, seconds: float | None = None) -> CalledVertical:
        """Read depth and velocity, by the crew's own exposure unless `seconds` are given."""
        self.seconds_spent += self.crew.moving
        tape = self.mark(tape_m)
        y = self._stand(tape, _VERTICAL)
        depth = self._instruments.depth(y, self._rng)
        if depth <= 0.0:
            return self._called(tape, depth, (), None)
        return self._measured(tape, y, depth, seconds)

    def at_edge(self, edge: FoundEdge) -> FoundEdge:
        """Read the velocity at a steep edge, where there is a depth and none was read."""
        self.seconds_spent += self.crew.moving
        y = self._stand(edge.vertical.tape, _VERTICAL)
        y = min(self.stream.right, max(self.stream.left, y))
        return attrs.evolve(
            edge, vertical=self._measured(edge.vertical.tape, y, edge.vertical.depth, None)
        )

    def point(self, tape_m: float, fraction: float, seconds: float | None = None) -> CalledPoint:
        """Read one velocity at a fraction of the depth, where there is water."""
        y = self._stand(self.mark(tape_m), _POINT)
        return self._point(y, fraction, self.crew.exposure if seconds is None else seconds)

    def more(
        self, called: CalledVertical, fraction: float, seconds: float | None = None
    ) -> CalledVertical:
        """Return a vertical with one more point: a second point, or a longer exposure of one.

        All its points together give its mean velocity, as `compute` takes them. ValueError if it
        is dry there, InputRefused if the points allow no mean.
        """
        if called.depth <= 0.0:
            raise ValueError(f"a velocity is read where there is water (got none at {called.tape})")
        points = (*called.points, self.point(called.tape_m, fraction, seconds))
        longer = attrs.evolve(called, points=points)
        mean = mean_velocity(vertical_record(longer), (), self._metre_a_second)
        return attrs.evolve(longer, velocity_ms=mean.value_ms)

    def mark(self, tape_m: float) -> float:
        """Return the mark of the tape, as called, that is nearest to a position in metres."""
        return rounded(tape_m / self._metre, self.crew.tape_resolution)

    def _measured(
        self, tape: float, y: float, depth: float, seconds: float | None
    ) -> CalledVertical:
        """Return a vertical in water, with as many points as the depth as called asks for."""
        angle = self._instruments.angle(y, self._rng)
        exposure = self.crew.exposure if seconds is None else seconds
        fractions = self.crew.fractions(depth * self._metre)
        points = tuple(self._point(y, fraction, exposure) for fraction in fractions)
        return self._called(tape, depth, points, angle)

    def _called(
        self, tape: float, depth: float, points: tuple[CalledPoint, ...], angle: float | None
    ) -> CalledVertical:
        velocity = 0.0 if depth <= 0.0 else None
        if points:
            velocity = self._mean(points)
            if angle is not None:
                velocity = normal_velocity(velocity, angle)
        tape_m, depth_m = tape * self._metre, depth * self._metre
        return CalledVertical(tape, depth, points, angle, tape_m, depth_m, velocity)

    def _mean(self, points: tuple[CalledPoint, ...]) -> float:
        values = [point.value * self._metre_a_second for point in points]
        if len(values) == 2:
            return velocity_two_point(*values)
        if points[0].fraction == 0.0:
            return velocity_from_surface(values[0])
        return velocity_one_point(values[0])

    def _stand(self, tape: float, act: int) -> float:
        """Return where the rod stands in truth, and take all errors from there on by the mark."""
        key = round(tape * 1e4)
        times = self._done.get((act, key), 0)
        self._done[act, key] = times + 1
        self._rng.seed((((self._base << 8) + act << 32) + key + 2**31 << 16) + times)
        return tape * self._metre * self._stretch + self.crew.placing * normal(self._rng)

    def _edge(self, y: float, bank: Bank) -> FoundEdge:
        """Return an edge that is at `y` in truth; the depth of a steep one is read there."""
        self._stand(rounded(y / self._stretch / self._metre, 1e-4), _EDGE)
        found = y + self.crew.edge_finding * normal(self._rng)
        tape = self.mark(found / self._stretch)
        depth = 0.0 if bank == "sloping" else self._instruments.depth(y, self._rng)
        return FoundEdge(bank if depth > 0.0 else "sloping", self._called(tape, depth, (), None))

    def _point(self, y: float, fraction: float | None, seconds: float) -> CalledPoint:
        if fraction == 0.0:
            self.seconds_spent += self.crew.floating
            return CalledPoint(0.0, self._instruments.float_velocity(y, self._rng), None)
        self.seconds_spent += seconds
        return CalledPoint(
            fraction, self._instruments.velocity(y, fraction, seconds, self._rng), seconds
        )
