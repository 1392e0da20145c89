"""Tape positions that break the order or the spacing, and the figure that was probably called."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise
from statistics import median

import attrs

from bankside.gauging.checks.digits import decimals, shifted, step, swapped
from bankside.gauging.checks.examined import Examined, ExaminedChannel, Spot
from bankside.gauging.checks.finding import Check, Finding, Suspect

__all__ = ["CHECKS"]

_FIX = 2.5
"""From this power of ten on, by which another figure is likelier, the reading is a slip (ours)."""
_EXPLAIN = 1.5
"""From this power of ten on it has to be explained (ours)."""
_TURNS_BACK = -4.0
"""How likely a position is that turns back, as a power of ten (ours)."""
_SPREAD = 0.5
"""Standard deviation of the logarithm of distances that are not the usual ones (ours)."""
_SAME = 0.02
"""Distances are equal if they differ by less than this part (ours)."""
_FEWEST = 5
"""How many distances are needed to call a spacing usual (ours)."""


@attrs.frozen
class _Way:
    """The verticals in the order called, and their positions so counted that they should rise."""

    spots: tuple[Spot, ...]
    sign: int
    tapes: tuple[float, ...]

    def gaps(self, index: int, tape: float) -> list[float]:
        """Return the distances to the verticals called before and after, had it been `tape`."""
        tapes, here = self.tapes, self.sign * tape
        before = [here - tapes[index - 1]] if index else []
        return before + ([tapes[index + 1] - here] if index + 1 < len(tapes) else [])

    def others(self, index: int) -> list[float]:
        """Return the distances in which a vertical has no part, along the tape."""
        gaps = list(pairwise(self.tapes))
        return [b - a for k, (a, b) in enumerate(gaps) if k not in (index - 1, index) and b > a]


def _way(channel: ExaminedChannel) -> _Way:
    """Return the way across, without verticals that were added after the far edge was reached."""
    spots = list(channel.called)
    rising = [b.tape > a.tape for a, b in pairwise(spots)]
    sign = 1 if sum(rising) * 2 >= len(rising) else -1
    furthest = max(range(len(spots)), key=lambda k: sign * spots[k].tape, default=0)
    if furthest and (spots[furthest].vertical.edge is not None or spots[furthest].depth_m == 0):
        spots = spots[: furthest + 1]
    return _Way(tuple(spots), sign, tuple(sign * spot.tape for spot in spots))


def _misread(examined: Examined) -> Iterator[Finding]:
    for channel in examined.channels:
        way = _way(channel)
        likeliest = max(_options(way), default=None)
        if likeliest is not None and likeliest[0] >= _EXPLAIN:
            better, index, tape = likeliest
            yield _doubt(examined, way.spots[index], tape, better)


def _options(way: _Way) -> Iterator[tuple[float, int, float]]:
    """Yield how much likelier another position of a vertical is, as a power of ten."""
    tapes = [spot.tape for spot in way.spots]
    places, unit = decimals(tapes), step(tapes)
    for index, tape in enumerate(tapes):
        others = way.others(index)
        if len(others) + 1 < _FEWEST:
            continue
        usual = median(others)
        share = (sum(_same(gap, usual) for gap in others) + 1) / (len(others) + 2)
        read = _likelihood(way.gaps(index, tape), usual, share, unit)
        for figure in (*shifted(tape), *swapped(tape, places)):
            if figure not in tapes:
                better = _likelihood(way.gaps(index, figure), usual, share, unit) - read
                yield better, index, figure


def _likelihood(gaps: Sequence[float], usual: float, share: float, unit: float) -> float:
    """Return how likely distances are, as a power of ten, where a `share` of the others is usual.

    They turn back, or are the usual one, or any other that the tape can show.
    """
    total = 0.0
    for gap in gaps:
        if gap <= 0:
            total += _TURNS_BACK
        elif _same(gap, usual):
            total += math.log10(share)
        else:
            z = math.log(gap / usual) / _SPREAD
            density = math.exp(-z * z / 2) / (_SPREAD * math.sqrt(2 * math.pi))
            total += max(_TURNS_BACK, math.log10((1 - share) * density * unit / gap + 1e-9))
    return total


def _same(gap: float, usual: float) -> bool:
    return abs(gap - usual) <= _SAME * usual


def _doubt(examined: Examined, spot: Spot, tape: float, better: float) -> Finding:
    return Finding(
        check="Tape position looks misread",
        severity="fix now" if better >= _FIX else "explain",
        found=f"The vertical called at {examined.at(spot.tape)} does not fit those called "
        f"before and after it; did you mean {examined.at(tape)}?",
        advice=f"Read the tape position called as {examined.at(spot.tape)} again.",
        channel=spot.channel,
        tapes=(spot.tape,),
        instead=tape,
        suspect=Suspect(spot.index, "tape"),
    )


CHECKS = (
    Check(
        name="Tape position looks misread",
        trigger="A vertical breaks the order or the spacing of the verticals called before and "
        "after it, and with its point moved or two digits changed about it would be 30 times "
        "likelier (explain) or 300 times (fix now).",
        severities=("fix now", "explain"),
        remedy="Read the tape again.",
        source="common practice, no source; two positions changed about change the discharge by "
        "1 to 1.5 % (computed)",
        find=_misread,
        wades=True,
    ),
)
