"""What a virtual crew calls out: edges of water, points and verticals, in its units and in SI."""

import attrs

from bankside.gauging.records import Bank, Edge, PointReading, Vertical

__all__ = ["CalledPoint", "CalledVertical", "FoundEdge", "edge_record", "vertical_record"]


@attrs.frozen
class CalledPoint:
    """A velocity as called, at a fraction of the depth (None: mean of the vertical).

    `seconds` is how long the meter was held there, None where a float was timed instead.
    """

    fraction: float | None
    value: float
    seconds: float | None


@attrs.frozen
class CalledVertical:
    """A vertical as called, and what it comes to in metres and m/s square to the tape.

    `angle` is in degrees, None where none was noted; `velocity_ms` is None where there was water
    and no velocity was read, and 0 where it was dry.
    """

    tape: float
    depth: float
    points: tuple[CalledPoint, ...]
    angle: float | None
    tape_m: float
    depth_m: float
    velocity_ms: float | None


@attrs.frozen
class FoundEdge:
    """An edge of water as found, and how the water ends there.

    `vertical` has no points unless the crew measured the velocity at a steep edge.
    """

    bank: Bank
    vertical: CalledVertical

    @property
    def tape_m(self) -> float:
        """Its tape position as called, in m."""
        return self.vertical.tape_m

    @property
    def depth_m(self) -> float:
        """Its depth as called, in m."""
        return self.vertical.depth_m


def vertical_record(called: CalledVertical) -> Vertical:
    """Return the vertical of a gauging that says what a crew called."""
    if called.depth <= 0.0:
        return Vertical(tape=called.tape, dry=True)
    return Vertical(
        tape=called.tape,
        depth=called.depth,
        velocity=_points(called),
        angle=called.angle,
    )


def edge_record(edge: FoundEdge, side: Edge) -> Vertical:
    """Return the edge of water of a gauging that says what a crew called."""
    called = edge.vertical
    return Vertical(
        tape=called.tape,
        depth=called.depth,
        velocity=_points(called),
        angle=called.angle,
        edge=side,
        bank=edge.bank,
    )


def _points(called: CalledVertical) -> tuple[PointReading, ...]:
    return tuple(
        PointReading(value=point.value, fraction=point.fraction, seconds=point.seconds)
        for point in called.points
    )
