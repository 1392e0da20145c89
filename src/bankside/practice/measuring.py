"""A whole visit: edges, dry gaps and verticals; and plain lists of it for the kernel."""

from collections.abc import Iterable, Sequence

import attrs

from bankside.kernel.edge import wall_velocity
from bankside.practice.called import CalledVertical, FoundEdge
from bankside.practice.crew import Crew
from bankside.practice.stream import SimulatedStream
from bankside.practice.wading import Wading

__all__ = ["Measured", "Waded", "even_positions", "measure", "section_lists", "wade"]


@attrs.frozen
class Measured:
    """What one gauging gave, in metres and m/s: lists for the kernel, and the seconds it took."""

    tapes: list[float]
    depths: list[float]
    velocities: list[float]
    seconds: float


@attrs.frozen
class Waded:
    """What a crew called on its way across: edges, gaps (m) and verticals in the order called.

    `spent` are the seconds that had gone by when each of them was read.
    """

    left: FoundEdge
    right: FoundEdge
    gaps: tuple[tuple[float, float], ...]
    verticals: tuple[CalledVertical, ...]
    spent: tuple[float, ...]


def even_positions(left: float, right: float, count: int) -> list[float]:
    """Return `count` positions at equal distances between two edges of water, in m."""
    gap = (right - left) / (count + 1)
    return [left + gap * (i + 1) for i in range(count)]


def measure(
    stream: SimulatedStream, crew: Crew, seed: int, positions: int | Sequence[float]
) -> Measured:
    """Let a crew measure a stream, as `wade` does, and return plain lists without any record."""
    wading = Wading(stream, crew, seed)
    waded = wade(wading, positions)
    lists = section_lists(waded.left, waded.right, waded.verticals, waded.gaps)
    return Measured(*lists, wading.seconds_spent)


def wade(wading: Wading, positions: int | Sequence[float]) -> Waded:
    """Cross the stream once: edges, the dry gaps that are seen, and verticals.

    `positions` are tape positions in metres, or how many verticals to place at equal distances
    between the edges as found. A position beyond the edges, in a gap, or at a mark that was read
    is left out. Beside a dry place, a steep edge has its velocity read.
    """
    left, right = wading.edges()
    gaps = tuple(
        (low, high) for low, high in wading.gaps() if left.tape_m < low and high < right.tape_m
    )
    if isinstance(positions, int):
        positions = even_positions(left.tape_m, right.tape_m, positions)
    marks = {wading.mark(edge) for gap in gaps for edge in gap}
    marks |= {left.vertical.tape, right.vertical.tape}
    verticals, spent = [], []
    for y in positions:
        mark = wading.mark(y)
        in_gap = any(low <= y <= high for low, high in gaps)
        if left.vertical.tape < mark < right.vertical.tape and not in_gap and mark not in marks:
            marks.add(mark)
            verticals.append(wading.vertical(y))
            spent.append(wading.seconds_spent)
    left, right = (_with_velocity(wading, edge, verticals, gaps) for edge in (left, right))
    return Waded(left, right, gaps, tuple(verticals), tuple(spent))


def _with_velocity(
    wading: Wading,
    edge: FoundEdge,
    verticals: Iterable[CalledVertical],
    gaps: Iterable[tuple[float, float]],
) -> FoundEdge:
    """Return an edge, with its velocity read where a steep one has no measured neighbour."""
    if edge.depth_m <= 0.0:
        return edge
    beside = [(vertical.tape_m, vertical.depth_m) for vertical in verticals]
    beside += [(end, 0.0) for gap in gaps for end in gap]
    _, depth = min(beside, key=lambda place: abs(place[0] - edge.tape_m), default=(0.0, 0.0))
    return wading.at_edge(edge) if depth <= 0.0 else edge


def section_lists(
    left: FoundEdge,
    right: FoundEdge,
    verticals: Iterable[CalledVertical],
    gaps: Iterable[tuple[float, float]] = (),
) -> tuple[list[float], list[float], list[float]]:
    """Return tapes, depths and velocities of a section, as `compute` would make them of a record.

    Of two verticals at one tape mark the later counts. Soundings get velocities in proportion to
    the tape; a steep edge gets that of its neighbour by the table for smooth walls.
    """
    rows: dict[float, tuple[float, float | None]] = {}
    for gap in gaps:
        for end in gap:
            rows[end] = (0.0, 0.0)
    for vertical in verticals:
        if left.tape_m < vertical.tape_m < right.tape_m:
            rows[vertical.tape_m] = (vertical.depth_m, vertical.velocity_ms)
    for edge in (left, right):
        rows[edge.tape_m] = (edge.depth_m, edge.vertical.velocity_ms)
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
