"""Whether the depths follow the bed closely enough to join them by straight lines."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

import attrs

from bankside.gauging.checks.adding import add, half_way, places_in
from bankside.gauging.checks.examined import Examined, ExaminedChannel, Spot
from bankside.gauging.checks.finding import Check, Finding

__all__ = ["CHECKS"]

# By what two areas that are the same on paper may differ, as a part.
_ROUNDING = 1e-9


@attrs.frozen
class _Point:
    """A depth of the bed, in metres, and where it was read, as called."""

    tape: float
    x: float
    depth: float


def _not_resolved(examined: Examined) -> Iterator[Finding]:
    if not examined.finished or examined.result is None:
        return
    limit = examined.rules["bed_area"]
    for channel in examined.channels:
        points = _points(channel.across)
        area = sum((b.x - a.x) * (a.depth + b.depth) / 2 for a, b in pairwise(points))
        if len(points) < len(channel.across) or not area > 0:
            continue
        for a, b, change in _changes(points):
            percent = 100 * abs(change) / area
            if percent > limit.si * (1 + _ROUNDING):
                yield _finding(examined, channel, (a, b), change, percent)


def _points(across: Sequence[Spot]) -> list[_Point]:
    return [_Point(s.tape, s.tape_m, s.depth_m) for s in across if s.depth_m is not None]


def _changes(points: Sequence[_Point]) -> Iterator[tuple[_Point, _Point, float]]:
    """Yield neighbours, and by how much a depth half-way between them would change the area, m².

    The parabola through three depths lies f·h²/4 beside the straight line half-way over a gap h
    of theirs, f being their second divided difference. Between four depths there are two; the one
    that bends more is taken, so that a hole found by one vertical alone counts. The new depth
    makes two trapezoids of one, which changes the area by h/2 times that distance. A parabola that
    comes out of the water counts to the surface only. Stretches of water between dry verticals are
    looked at each by itself, as the bed breaks at the shore of an island.
    """
    for stretch in _stretches(points):
        bends = [_second_difference(*stretch[i : i + 3]) for i in range(len(stretch) - 2)]
        for i, (a, b) in enumerate(pairwise(stretch)):
            near = bends[max(i - 1, 0) : i + 1]
            if not near:
                continue
            gap = b.x - a.x
            straight = (a.depth + b.depth) / 2
            lower = max(-max(near, key=abs) * gap * gap / 4, -straight)
            yield a, b, lower * gap / 2


def _second_difference(a: _Point, b: _Point, c: _Point) -> float:
    slopes = [(q.depth - p.depth) / (q.x - p.x) for p, q in ((a, b), (b, c))]
    return (slopes[1] - slopes[0]) / (c.x - a.x)


def _stretches(points: Sequence[_Point]) -> Iterator[list[_Point]]:
    """Yield the stretches of water, each with the dry verticals at its ends."""
    stretch: list[_Point] = []
    for point in points:
        stretch.append(point)
        if point.depth == 0:
            if len(stretch) > 2:
                yield stretch
            stretch = [point]
    if len(stretch) > 2:
        yield stretch


def _finding(
    examined: Examined,
    channel: ExaminedChannel,
    ends: tuple[_Point, _Point],
    change: float,
    percent: float,
) -> Finding:
    tapes = (ends[0].tape, ends[1].tape)
    place = half_way(examined, *tapes)
    places = () if place is None else (place,)
    more = "more" if change > 0 else "less"
    return Finding(
        check="Bed not resolved",
        severity="explain" if places else "note",
        found=f"Between {examined.at(*tapes)} the depths beside them bend so that one half-way "
        f"would give about {percent:.1f} % {more} area, above "
        f"{examined.rules['bed_area'].words()}.",
        advice=f"{add(examined, places, tapes)}.",
        channel=channel.index,
        tapes=tapes,
        thresholds=(examined.rules["bed_area"],),
        places=places_in(channel, places),
    )


CHECKS = (
    Check(
        name="Bed not resolved",
        trigger="One more depth half-way between two verticals, taken from the parabola through "
        "the depths around, would change the area of the channel too much (explain; note where "
        "there is no room for one).",
        severities=("explain", "note"),
        remedy="Read a depth there.",
        source="USBR Water Measurement Manual, 3rd ed., ch. 10 sec. 15, straight lines between the "
        "depths; the parabola is ours, no source",
        find=_not_resolved,
        thresholds=("bed_area", "spacing_least", "spacing_least_large"),
        wades=True,
    ),
)
