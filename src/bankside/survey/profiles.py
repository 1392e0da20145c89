"""A section as a profile across the water: depth and velocity over the relative position in it."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import attrs

from bankside.gauging.units import metres_per
from bankside.survey.visits import Visit

__all__ = ["Profile", "profile_of", "sampled"]

# Ours, no source: with fewer verticals in the water a section has no shape that tells a side.
_FEWEST = 5


@attrs.frozen
class Profile:
    """Depths and velocities across the water, from 0 at one edge to 1 at the other.

    `from_left` says whether it begins at the left bank; where the record names no bank it begins at
    the lower tape and this is None. `places` rise.
    """

    from_left: bool | None
    places: tuple[float, ...]
    depths_m: tuple[float, ...]
    velocities_ms: tuple[float, ...]


def profile_of(visit: Visit) -> Profile | None:
    """Return the profile of a visit, from the left bank where the record tells which that is.

    None without a result, with fewer than five verticals in the water, and where channels lie over
    each other on the tape.
    """
    if visit.result is None or _channels_overlap(visit):
        return None
    metre = metres_per(visit.gauging.units.length)
    points = sorted((v.tape * metre, v.depth_m, v.velocity_ms) for v in visit.result.verticals)
    width = points[-1][0] - points[0][0] if points else 0.0
    if width <= 0 or sum(1 for _, depth, _ in points if depth > 0) < _FEWEST:
        return None
    begins = _begins_left(visit)
    places = [(tape - points[0][0]) / width for tape, _, _ in points]
    depths, velocities = [d for _, d, _ in points], [v for _, _, v in points]
    if begins is False:
        places = [1 - place for place in reversed(places)]
        depths.reverse()
        velocities.reverse()
    return Profile(
        None if begins is None else True, tuple(places), tuple(depths), tuple(velocities)
    )


def sampled(places: Sequence[float], values: Sequence[float], at: Sequence[float]) -> list[float]:
    """Return values between places by straight lines, at rising positions within them."""
    found = []
    index = 0
    for position in at:
        while index < len(places) - 2 and places[index + 1] < position:
            index += 1
        start, end = places[index], places[index + 1]
        share = (position - start) / (end - start) if end > start else 0.0
        found.append(values[index] + share * (values[index + 1] - values[index]))
    return found


def _channels_overlap(visit: Visit) -> bool:
    """Return whether channels lie over each other on the tape, so that none is beside another."""
    spans = []
    for channel in visit.gauging.channels:
        tapes = [vertical.tape for vertical in channel.verticals]
        if tapes:
            spans.append((min(tapes), max(tapes)))
    return any(after[0] < before[1] for before, after in pairwise(sorted(spans)))


def _begins_left(visit: Visit) -> bool | None:
    """Return whether the lower tape is on the left bank, None where the record does not tell."""
    for channel in visit.gauging.channels:
        tape = {vertical.edge: vertical.tape for vertical in channel.verticals if vertical.edge}
        if len(tape) == 2:
            return tape["left"] < tape["right"]
    return None
