"""What a virtual crew calls out: edges of water, points and verticals, in its units and in SI."""

import attrs

from bankside.gauging.records import Bank, Edge, PointReading, Vertical

__all__ = ["FoundEdge", "Point", "Reading", "edge_record", "vertical_record"]


@attrs.frozen
class Point:
    """A velocity as called, at a fraction of the depth (None: mean of the vertical).

    `seconds` is how long the meter was held there, None where a float was timed instead.
    """

    fraction: float | None
    value: float
    seconds: float | None


@attrs.frozen
class Reading:
    """A vertical as called, and what it comes to in metres and m/s square to the tape.

    `angle` is in degrees, None where none was noted; `velocity_ms` is None where there was water
    and no velocity was read, and 0 where it was dry.
    """

    tape: float
    depth: float
    points: tuple[Point, ...]
    angle: float | None
    tape_m: float
    depth_m: float
    velocity_ms: float | None


@attrs.frozen
class FoundEdge:
    """An edge of water as found, and how the water ends there.

    `reading` has no points unless the crew measured the velocity at a steep edge.
    """

    bank: Bank
    reading: Reading

    @property
    def tape_m(self) -> float:
        """Its tape position as called, in m."""
        return self.reading.tape_m

    @property
    def depth_m(self) -> float:
        """Its depth as called, in m."""
        return self.reading.depth_m


def vertical_record(reading: Reading) -> Vertical:
    """Return the vertical of a gauging that says what a crew called."""
    if reading.depth <= 0.0:
        return Vertical(tape=reading.tape, dry=True)
    return Vertical(
        tape=reading.tape,
        depth=reading.depth,
        velocity=_points(reading),
        angle=reading.angle,
    )


def edge_record(edge: FoundEdge, side: Edge) -> Vertical:
    """Return the edge of water of a gauging that says what a crew called."""
    reading = edge.reading
    return Vertical(
        tape=reading.tape,
        depth=reading.depth,
        velocity=_points(reading),
        angle=reading.angle,
        edge=side,
        bank=edge.bank,
    )


def _points(reading: Reading) -> tuple[PointReading, ...]:
    return tuple(
        PointReading(value=point.value, fraction=point.fraction, seconds=point.seconds)
        for point in reading.points
    )
