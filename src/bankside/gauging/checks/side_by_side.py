"""Two slips side by side: they are odd, and not the sound readings beside them.

What is expected of a reading is told by the two nearest on each side. Where both of one side have
slipped, a sound reading is odd by them alone, and each of the two may hide the other.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Generic, Protocol, TypeVar

import attrs

from bankside.gauging.checks.examined import Spot
from bankside.gauging.checks.slip_severity import FIX_BETTER

__all__ = ["Judged", "told_apart"]


class Judged(Protocol):
    """What the others say of a reading, and by which power of ten another figure is likelier."""

    @property
    def spot(self) -> Spot:
        """The vertical at which it was read."""

    @property
    def better(self) -> float:
        """By which power of ten the likeliest other figure is likelier."""


J = TypeVar("J", bound=Judged)
_Judge = Callable[[Sequence[Spot]], Iterable[J]]


@attrs.frozen
class _Pair(Generic[J]):
    """Two slips side by side, each judged without the other, and the reading that they make odd."""

    slips: tuple[J, J]
    sound: Spot

    @property
    def sureness(self) -> float:
        """By which power of ten another figure is likelier for the less sure of the two."""
        return min(slip.better for slip in self.slips)


def told_apart(spots: Sequence[Spot], judge: _Judge[J], odd: Callable[[J], bool]) -> list[J]:
    """Return what is said of readings along the tape, without those that only two slips make odd.

    judge: what readings say of one another; odd: whether that is to be told. Nothing is left out
    but beside two of which each is a slip without the other, and only where it is odd no more
    without both; of the two that is then told. The surest are heard first, and whom they clear
    accuses nobody.
    """
    judged = {one.spot.index: one for one in judge(spots)}
    pairs = [
        pair
        for place, spot in enumerate(spots)
        if spot.index in judged and odd(judged[spot.index])
        for pair in _pairs(spots, place, judge, odd)
    ]
    sound: set[int] = set()
    slips: dict[int, J] = {}
    for pair in sorted(pairs, key=lambda pair: pair.sureness, reverse=True):
        two = {slip.spot.index: slip for slip in pair.slips}
        if pair.sound.index not in slips and not sound & two.keys():
            sound.add(pair.sound.index)
            slips |= two
    judged |= slips
    return [judged[s.index] for s in spots if s.index in judged and s.index not in sound]


def _pairs(
    spots: Sequence[Spot], place: int, judge: _Judge[J], odd: Callable[[J], bool]
) -> Iterator[_Pair[J]]:
    """Yield the two before an odd reading and the two after it, where they make it odd."""
    for two in (spots[max(0, place - 2) : place], spots[place + 1 : place + 3]):
        if len(two) < 2:
            continue
        left = _judged(spots, two, spots[place], judge)
        if left is not None and odd(left):
            continue
        first, second = (_judged(spots, [other], one, judge) for one, other in (two, two[::-1]))
        if first is not None and second is not None:
            pair = _Pair((first, second), spots[place])
            if pair.sureness >= FIX_BETTER:
                yield pair


def _judged(
    spots: Sequence[Spot], without: Sequence[Spot], spot: Spot, judge: _Judge[J]
) -> J | None:
    """Return what the others say of a reading once some are left out, None where nothing."""
    among = [one for one in spots if all(one is not other for other in without)]
    return next((one for one in judge(among) if one.spot is spot), None)
