"""What the neighbours of a reading say about it, and how much better another figure would fit.

The neighbours, two on each side, span what a reading may be: every straight line between one of
the left and one of the right passes the place at some height, and next to a bank so do the wall of
a steep bank and the parabola of a shelving one. A reading is judged by how far it lies outside that
span, in logarithms, against the unevenness of its own section. Whatever one wrong neighbour does,
the lines that avoid it keep the span where it was, so that a spike accuses nobody beside it.

How surprising a distance is follows Student's distribution with few degrees of freedom: natural
beds hold stones and holes, and their tails are long. The method and its figures are ours, set on
one half of the transects that bench/slips.py reads, and measured there on the other half.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from statistics import median

import attrs

__all__ = [
    "DEPTHS",
    "VELOCITIES",
    "Expected",
    "Kind",
    "Place",
    "expectations",
    "most_better",
    "times_better",
]

_FREEDOM = 4.0
"""Degrees of freedom of Student's distribution."""
_SECTIONS_WORTH = 8.0
"""How many verticals the usual unevenness weighs beside the section's own."""
_ONE_SIDED = 2.0
"""How much further a reading may be off when neighbours are known on one side only."""
_TO_SIGMA = 1.4826
"""Standard deviation over median distance, for a normal distribution."""


@attrs.frozen
class Kind:
    """How a kind of reading varies along a section.

    `usual` is the usual unevenness: the standard deviation of the logarithm about a line between
    the neighbours. `floor` (SI) is added before logarithms are taken: differences far below it
    mean nothing. `below` is how much further readings stray below what is expected than above.
    """

    usual: float
    floor: float
    below: float

    def log(self, value: float) -> float:
        """Return the logarithm by which values are compared; below 0 they count as 0."""
        return math.log(max(value, 0.0) + self.floor)


DEPTHS = Kind(usual=0.15, floor=0.005, below=1.0)
VELOCITIES = Kind(usual=0.3, floor=0.03, below=1.5)


@attrs.frozen
class Place:
    """A reading in SI at a place along the tape; where there is no water it is 0 and `dry`."""

    at: float
    value: float
    dry: bool


@attrs.frozen
class Expected:
    """The span in which a reading is to be expected (SI), and how sure that is (in logarithms)."""

    kind: Kind
    low: float
    high: float
    spread: float
    one_sided: bool

    def off(self, value: float) -> float:
        """Return how far a value is above the span (or below, negative), in spreads."""
        log = self.kind.log(value)
        above, below = log - self.kind.log(self.high), log - self.kind.log(self.low)
        if above > 0:
            return above / self.spread
        return min(below, 0.0) / (self.spread * self.kind.below)

    def words(self, per: float, unit: str) -> str:
        """Return the span to two digits in a unit that is `per` of SI: "0.91 to 1.1 ft"."""
        low, high = (f"{float(f'{bound / per:.2g}'):.10g}" for bound in (self.low, self.high))
        return f"{low} {unit}" if low == high else f"{low} to {high} {unit}"


_FEWEST = 4


def times_better(expected: Expected, value: float, reading: float) -> float:
    """Return how many times likelier a value is than the reading, as a power of ten."""
    return _likelihood(expected.off(value)) - _likelihood(expected.off(reading))


def most_better(expected: Expected, reading: float) -> float:
    """Return by which power of ten any other value can be likelier than the reading at the most."""
    return -_likelihood(expected.off(reading))


def _likelihood(off: float) -> float:
    return -(_FREEDOM + 1) / 2 * math.log10(1 + off * off / _FREEDOM)


def expectations(kind: Kind, places: Sequence[Place]) -> list[Expected | None]:
    """Return what is to be expected at each place, None where it is dry or has no neighbours.

    Nothing is expected of fewer than four verticals in the water: with one or two beside a reading
    and the banks behind them, any shape is a likely one.
    """
    if sum(not place.dry for place in places) < _FEWEST:
        return [None] * len(places)
    spread = _unevenness(kind, places)
    return [
        None if place.dry else _expected(kind, places, index, spread)
        for index, place in enumerate(places)
    ]


def _expected(kind: Kind, places: Sequence[Place], index: int, spread: float) -> Expected | None:
    before, after = _nearest(places[:index][::-1]), _nearest(places[index + 1 :])
    here = places[index].at
    one_sided = not before or not after
    lines = [_line(here, left, right) for left in before for right in after]
    for side, across in ((before, after), (after, before)):
        if not side or (len(side) == 1 and not side[0].dry):
            # Nothing, or a single reading that may be wrong itself: the other side alone as well.
            lines += [place.value for place in across if not place.dry]
        elif side[0].dry:
            lines += _banks(here, side[0], across)
    if not lines:
        return None
    low, high = max(0.0, min(lines)), max(0.0, *lines)
    return Expected(kind, low, high, spread * (_ONE_SIDED if one_sided else 1.0), one_sided)


def _nearest(places: Sequence[Place]) -> list[Place]:
    """Return the two nearest places of one side, or up to where the water ends."""
    found: list[Place] = []
    for place in places[:2]:
        found.append(place)
        if place.dry:
            break
    return found


def _banks(here: float, bank: Place, across: Sequence[Place]) -> Iterator[float]:
    """Yield what a steep bank and a shelving one (a parabola) let expect beside the bank."""
    for other in across:
        if not other.dry:
            share = _share(here, bank, other)
            yield other.value
            yield other.value * share * share


def _line(at: float, left: Place, right: Place) -> float:
    share = _share(at, left, right)
    return left.value + (right.value - left.value) * share


def _share(at: float, start: Place, end: Place) -> float:
    """Return how much of the way between two places is done, half where they are one in SI."""
    way = end.at - start.at
    return (at - start.at) / way if way else 0.5


def _unevenness(kind: Kind, places: Sequence[Place]) -> float:
    """Return the spread about lines between neighbours, the section's own and the usual one."""
    off = [
        abs(kind.log(b.value) - kind.log(_line(b.at, a, c)))
        for a, b, c in zip(places, places[1:], places[2:], strict=False)
        if not (a.dry or b.dry or c.dry)
    ]
    if not off:
        return kind.usual
    own = _TO_SIGMA * median(off)
    weighed = _SECTIONS_WORTH * kind.usual * kind.usual + len(off) * own * own
    return math.sqrt(weighed / (_SECTIONS_WORTH + len(off)))
