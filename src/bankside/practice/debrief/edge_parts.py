"""The edges of water of a channel as written and as they are."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import attrs

from bankside.gauging.records import Channel, Edge, Gauging, PointReading, Vertical
from bankside.gauging.units import metres_per, metres_per_second_per
from bankside.practice.session.water import Water

__all__ = ["ChannelEdges", "channel_edges"]


@attrs.frozen(eq=False)
class ChannelEdges:
    """The two edges of a channel: the true ones, and those written down, if any.

    All in m and m/s, on a square line; `skew` is the cosine by which the tape lengthens it, from
    `left` on. Where an upright bank was written without a velocity, the one that the method takes
    there from the vertical beside it is the method's error (source "points"), and nobody's.
    """

    written: tuple[Vertical, ...]
    true: tuple[Vertical, Vertical]
    left: float
    skew: float

    def verticals(self, wrong: frozenset[str]) -> Iterator[Vertical]:
        """Yield the edges with the errors of these sources, and of no others."""
        slanted, as_written = "tape" in wrong, "edges" in wrong
        taken = {edge.edge: truth for edge, truth in self._taken()}
        for edge in self.written if as_written else self.true:
            tape = edge.tape
            if as_written and not slanted:
                tape = self._square(tape)
            elif slanted and not as_written:
                tape = self._slanted(tape)
            velocity = edge.velocity
            if edge.edge in taken:
                velocity = () if "points" in wrong else taken[edge.edge].velocity
            yield attrs.evolve(edge, tape=tape, velocity=velocity)

    def touched(self) -> bool:
        """Return whether an edge is missing or not just where it is."""
        return len(self.written) < 2 or any(
            abs(self._square(one.tape) - other.tape) > 1e-9 or one.depth != other.depth
            for one, other in zip(self.written, self.true, strict=True)
        )

    def takes_velocity(self) -> bool:
        """Return whether the method takes a velocity at a bank that nobody read there."""
        return any(True for _ in self._taken())

    def _taken(self) -> Iterator[tuple[Vertical, Vertical]]:
        """Yield the edges written at which the method takes a velocity, each with the true one."""
        truth = {edge.edge: edge for edge in self.true}
        for edge in self.written:
            true = truth[edge.edge]
            if edge.depth and true.depth and not edge.velocity and edge.wall_factor is None:
                yield edge, true

    def _square(self, tape: float) -> float:
        return self.left + (tape - self.left) * self.skew

    def _slanted(self, y: float) -> float:
        return self.left + (y - self.left) / self.skew


def channel_edges(
    record: Gauging, water: Water, skew: float, middle: float
) -> tuple[ChannelEdges, ...]:
    """Return the edges of every channel of a record; the outermost are the banks of the stream.

    Inner edges of several channels belong to the nearest end of water. skew: of the tape, in
    degrees; middle: the second at which edges are taken to be as they are.
    """
    stream = water.stream
    left, cosine = stream.left, math.cos(math.radians(skew))
    ends = stream.wet_stretches
    found = []
    for place, channel in enumerate(record.channels):
        first, last = place == 0, place == len(record.channels) - 1
        written = _written(record, channel)
        true = (
            _true(water, ends[0][0] if first else _near(ends, 0, written, "left"), "left", middle),
            _true(
                water, ends[-1][1] if last else _near(ends, 1, written, "right"), "right", middle
            ),
        )
        found.append(ChannelEdges(written, true, left, cosine))
    return tuple(found)


def _written(record: Gauging, channel: Channel) -> tuple[Vertical, ...]:
    """Return the edges that were written, left first, in m and m/s, their angles taken in."""
    metre = metres_per(record.units.length)
    deep = metres_per(record.units.depth or record.units.length)
    unit = metres_per_second_per(record.units.velocity)
    edges = sorted((v for v in channel.verticals if v.edge is not None), key=lambda v: v.edge or "")
    return tuple(
        attrs.evolve(
            edge,
            tape=edge.tape * metre,
            depth=None if edge.depth is None else edge.depth * deep,
            velocity=tuple(
                PointReading((r.value or 0.0) * unit, r.fraction, r.seconds) for r in edge.velocity
            ),
        )
        for edge in edges
    )


def _near(
    ends: Sequence[tuple[float, float]], which: int, written: Sequence[Vertical], side: Edge
) -> float:
    """Return the end of water nearest to the edge that was written on a side."""
    places = [end[which] for end in ends]
    tapes = [edge.tape for edge in written if edge.edge == side]
    return min(places, key=lambda y: abs(y - tapes[0])) if tapes else places[0]


def _true(water: Water, y: float, side: Edge, middle: float) -> Vertical:
    """Return a true edge: with a depth and its velocity where the bank is upright."""
    stream = water.stream
    bank = stream.left_bank if y == stream.left else stream.right_bank
    at_bank = y in (stream.left, stream.right)
    depth = water.depth_at(y, middle) if at_bank and bank != "sloping" else 0.0
    if depth <= 0.0:
        return Vertical(y, 0.0, edge=side, bank="sloping")
    velocity = (PointReading(water.velocity_at(y, middle)),)
    return Vertical(y, depth, velocity, edge=side, bank=bank)
