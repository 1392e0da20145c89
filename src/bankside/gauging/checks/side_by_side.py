"""Two slips side by side: they are odd, and not the sound readings beside them.

What is expected of a reading is told by the two nearest on each side. Where both of one side have
slipped, a sound reading is odd by them alone, and each of the two may hide the other.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
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


_BEYOND = 4
"""So many readings on the other side of one are odd no more either where two slips alone made it
odd (ours)."""
_MOST_ODD = 12
"""Where more readings are odd no two of them are told apart: whatever is left out leaves as many,
and each of them would be judged anew among all others (ours)."""

J = TypeVar("J", bound=Judged)
_Judge = Callable[[Sequence[Spot], Collection[int]], Iterable[J]]
"""What readings say of those among them that are asked about, by their index."""


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

    judge: what readings say of some of them; odd: whether that is to be told. Nothing is left out
    but beside two of which each is a slip without the other, and only where it is odd no more
    without both; of the two that is then told. The surest are heard first, and whom they clear
    accuses nobody. Where very many are odd all are told.
    """
    judged = {one.spot.index: one for one in judge(spots, {spot.index for spot in spots})}
    asked = [place for place, s in enumerate(spots) if s.index in judged and odd(judged[s.index])]
    if len(asked) > _MOST_ODD:
        return list(judged.values())
    pairs = [pair for place in asked for pair in _pairs(spots, place, judge, odd)]
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
    here, before, after = spots[place], spots[:place][::-1], spots[place + 1 :]
    for two, beyond in ((before[:2], after), (after[:2], before)):
        if len(two) < 2:
            continue
        # A slip that others like it bear out looks sound without two sound ones on its other side.
        if any(map(odd, _judged(spots, two, [here, *beyond[:_BEYOND]], judge))):
            continue
        slips = [
            one
            for spot, other in (two, two[::-1])
            for one in _judged(spots, [other], [spot], judge)
        ]
        if len(slips) == len(two):
            pair = _Pair((slips[0], slips[1]), here)
            if pair.sureness >= FIX_BETTER:
                yield pair


def _judged(
    spots: Sequence[Spot], without: Sequence[Spot], asked: Sequence[Spot], judge: _Judge[J]
) -> list[J]:
    """Return what the others say of those asked about once some are left out."""
    left_out = {spot.index for spot in without}
    among = [spot for spot in spots if spot.index not in left_out]
    return list(judge(among, {spot.index for spot in asked}))
