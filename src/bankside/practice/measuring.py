"""Measuring a simulated stream into plain lists for the kernel, without records of a gauging."""

from collections.abc import Iterable, Sequence

import attrs

from bankside.kernel.edge import wall_velocity
from bankside.practice.crew import Crew
from bankside.practice.stream import Stream
from bankside.practice.wading import FoundEdge, Reading, Wading

__all__ = ["Measured", "even_positions", "measure", "section_lists"]


@attrs.frozen
class Measured:
    """What one gauging gave, in metres and m/s: lists for the kernel, and the seconds it took."""

    tapes: list[float]
    depths: list[float]
    velocities: list[float]
    seconds: float


def even_positions(left: float, right: float, count: int) -> list[float]:
    """Return `count` positions at equal distances between two edges of water, in m."""
    gap = (right - left) / (count + 1)
    return [left + gap * (i + 1) for i in range(count)]


def measure(stream: Stream, crew: Crew, seed: int, positions: int | Sequence[float]) -> Measured:
    """Let a crew measure a stream at positions on the tape in metres, or at so many equal ones.

    The edges of water and of the dry gaps that the crew sees are read as well; a position in such
    a gap is left out.
    """
    wading = Wading(stream, crew, seed)
    left, right = wading.edges()
    gaps = wading.gaps()
    if isinstance(positions, int):
        positions = even_positions(left.tape_m, right.tape_m, positions)
    readings = [wading.vertical(y) for y in in_water(positions, left, right, gaps)]
    tapes, depths, velocities = section_lists(left, right, readings, gaps)
    return Measured(tapes, depths, velocities, wading.seconds_spent)


def in_water(
    positions: Iterable[float],
    left: FoundEdge,
    right: FoundEdge,
    gaps: Sequence[tuple[float, float]],
) -> list[float]:
    """Return the positions that lie between the edges and in none of the gaps, in m."""
    return [
        y
        for y in positions
        if left.tape_m < y < right.tape_m and not any(low <= y <= high for low, high in gaps)
    ]


def section_lists(
    left: FoundEdge,
    right: FoundEdge,
    readings: Iterable[Reading],
    gaps: Sequence[tuple[float, float]] = (),
) -> tuple[list[float], list[float], list[float]]:
    """Return tapes, depths and velocities of a section, as `compute` would make them of a record.

    Of readings at one tape mark the last one counts. Soundings get velocities in proportion to the
    tape; a steep edge gets that of its neighbour by the table for smooth walls.
    """
    rows: dict[float, tuple[float, float | None]] = {}
    for low, high in gaps:
        rows[low] = rows[high] = (0.0, 0.0)
    for reading in readings:
        if left.tape_m < reading.tape_m < right.tape_m:
            rows[reading.tape_m] = (reading.depth_m, reading.velocity_ms)
    for edge in (left, right):
        rows[edge.tape_m] = (edge.depth_m, None if edge.depth_m > 0.0 else 0.0)
    tapes = sorted(rows)
    depths = [rows[tape][0] for tape in tapes]
    known = [rows[tape][1] for tape in tapes]
    _at_wall(tapes, depths, known, 0, range(1, len(tapes)))
    _at_wall(tapes, depths, known, -1, range(len(tapes) - 2, -1, -1))
    return tapes, depths, _filled(tapes, known)


def _at_wall(
    tapes: Sequence[float],
    depths: Sequence[float],
    known: list[float | None],
    end: int,
    inwards: Iterable[int],
) -> None:
    """Give a steep edge the velocity that its nearest neighbour with one makes likely."""
    if known[end] is not None:
        return
    for i in inwards:
        inside = known[i]
        if inside is not None:
            known[end] = wall_velocity(inside, abs(tapes[i] - tapes[end]), depths[end])
            return


def _filled(tapes: Sequence[float], known: Sequence[float | None]) -> list[float]:
    """Return the velocities, those of soundings straight between the nearest known ones."""
    velocities: list[float] = []
    before = 0
    for i, velocity in enumerate(known):
        if velocity is None:
            after = next(j for j in range(i + 1, len(known)) if known[j] is not None)
            low, high = velocities[before], known[after] or 0.0
            part = (tapes[i] - tapes[before]) / (tapes[after] - tapes[before])
            velocity = low + (high - low) * part
        else:
            before = i
        velocities.append(velocity)
    return velocities
