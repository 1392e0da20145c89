"""Where nobody is sent, as the water is too deep or too fast to wade, or may well be.

It goes by the readings alone, never by what was answered to a finding: who accepts one says that
the reading stands, not that somebody goes there again. The limits are those from which the leader
decides (`wade_product_caution`, `wade_depth_caution`) of the rule set, or of common practice where
these are lower. From the limits on at which nobody wades (`wade_product_stop`, `wade_depth_stop`)
the whole channel is closed, and those behind it.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property
from typing import Final

import attrs

from bankside.gauging.checks.examined import Examined, ExaminedChannel
from bankside.gauging.checks.strong_water import depth_times_velocity
from bankside.gauging.rule_sets.choice import strictest
from bankside.kernel.limits import above, below

__all__ = ["Wadeable", "wadeable"]

# How many times the readings' own departure from straight lines is added to what is expected
# between two of them (ours; docs/advice.md has how often the water was stronger all the same).
_MARGIN: Final = 2.0

_ENDS: Final = 2

# What part of the limits a cut bank has to stay below to be gone to (ours).
_AT_CUT_BANK: Final = 0.5

_CUT: Final = ("steep", "undercut")
_ALL: Final = (-math.inf, math.inf)


@attrs.frozen
class _Across:
    """A figure at places along the tape, m; straight lines in between."""

    tape_m: tuple[float, ...]
    values: tuple[float, ...]

    @cached_property
    def margin(self) -> float:
        """By how much more it may be between two places, as those that were read tell.

        Each is held against the straight line between its neighbours, which are twice as far apart
        as the ends of the interval beside it.
        """
        places = range(1, len(self.values) - 1)
        off = [
            self.values[i] - _straight(self.tape_m, self.values, (i - 1, i + 1), self.tape_m[i])
            for i in places
        ]
        return _MARGIN * math.sqrt(math.fsum(one * one for one in off) / max(len(off), 1))

    def likely_most(self, tape_m: float) -> float:
        """Return what it may well be at a place between two others; 0 where there are none."""
        if len(self.tape_m) < _ENDS:
            return 0.0
        after = min(max(bisect_right(self.tape_m, tape_m), 1), len(self.tape_m) - 1)
        return _straight(self.tape_m, self.values, (after - 1, after), tape_m) + self.margin


def _straight(
    tape_m: Sequence[float], values: Sequence[float], ends: tuple[int, int], at_m: float
) -> float:
    low, high = ends
    part = (at_m - tape_m[low]) / (tape_m[high] - tape_m[low])
    return values[low] + (values[high] - values[low]) * part


@attrs.frozen
class Wadeable:
    """Where in one channel somebody may be sent; tape positions in m.

    `depth` and `product`, the depth times the fastest velocity, are those read across it, and
    `most_depth` and `most_product` the limits. Nobody is sent between `keeps_out`, None where there
    is no such stretch: from the neighbour before the first reading at a limit to the one after the
    last, as who goes between two of them wades through one. It is all of the tape where nobody
    wades the channel. `cut_banks` are where a new vertical would stand below a steep or undercut
    bank in water that is not weak.
    """

    depth: _Across
    product: _Across
    most_depth: float
    most_product: float
    keeps_out: tuple[float, float] | None
    cut_banks: tuple[tuple[float, float], ...] = ()

    @property
    def closed(self) -> bool:
        """Whether nobody is sent anywhere in the channel."""
        return self.keeps_out == _ALL

    def shut(self) -> Wadeable:
        """Return it closed."""
        return attrs.evolve(self, keeps_out=_ALL)

    def again(self, tape_m: float) -> bool:
        """Return whether somebody may go to a vertical that was read."""
        return self.keeps_out is None or not self.keeps_out[0] < tape_m < self.keeps_out[1]

    def anew(self, tape_m: float) -> bool:
        """Return whether somebody may go to a place between those that were read."""
        return (
            self.again(tape_m)
            and not any(low < tape_m < high for low, high in self.cut_banks)
            and not above(self.depth.likely_most(tape_m), self.most_depth)
            and below(self.product.likely_most(tape_m), self.most_product)
        )


def wadeable(examined: Examined) -> tuple[Wadeable, ...]:
    """Return where somebody may be sent, for each channel of the record.

    Channels stand in the order in which they were crossed: behind one that nobody wades, all are
    closed.
    """
    found: list[Wadeable] = []
    for channel in examined.channels:
        one = _wadeable(examined, channel)
        found.append(one.shut() if found and found[-1].closed else one)
    return tuple(found)


def _wadeable(examined: Examined, channel: ExaminedChannel) -> Wadeable:
    products = {one.spot.tape_m: one.product for one in depth_times_velocity(examined, channel)}
    known = {spot.tape_m: spot.depth_m for spot in channel.across if spot.depth_m is not None}
    most_depth = strictest(examined.rules, "wade_depth_caution").si
    most_product = strictest(examined.rules, "wade_product_caution").si
    tapes = tuple(known)
    depth = _Across(tapes, tuple(known.values()))
    product = _Across(tapes, tuple(products.get(tape, 0.0) for tape in tapes))
    strong = _at(depth, product, most_depth, most_product)
    keeps_out = None
    if strong:
        around = (-math.inf, *tapes, math.inf)
        keeps_out = around[strong[0]], around[strong[-1] + 2]
    nobody = (strictest(examined.rules, f"wade_{name}_stop").si for name in ("depth", "product"))
    if _at(depth, product, *nobody):
        keeps_out = _ALL
    cut_banks = tuple(_cut_banks(channel, products, most_depth, most_product))
    return Wadeable(depth, product, most_depth, most_product, keeps_out, cut_banks)


def _at(depth: _Across, product: _Across, most_depth: float, most_product: float) -> list[int]:
    """Return which readings are at a limit: above that of depth, at that of the product."""
    return [
        i
        for i in range(len(depth.tape_m))
        if above(depth.values[i], most_depth) or not below(product.values[i], most_product)
    ]


def _cut_banks(
    channel: ExaminedChannel,
    products: Mapping[float, float],
    most_depth: float,
    most_product: float,
) -> Iterator[tuple[float, float]]:
    """Yield the strips from a steep or undercut edge to the last vertical, unless weak.

    Where no velocity is known beside the edge, the water there is not taken as weak.
    """
    across = channel.across
    for edge, beside in zip(across[:1] + across[-1:], across[1:2] + across[-2:-1], strict=False):
        if edge.vertical.edge is None or not (edge.depth_m or edge.vertical.bank in _CUT):
            continue
        unread = 0.0 if beside.depth_m == 0.0 else math.inf
        weak = (
            edge.depth_m is not None
            and below(edge.depth_m, _AT_CUT_BANK * most_depth)
            and below(products.get(beside.tape_m, unread), _AT_CUT_BANK * most_product)
        )
        if not weak:
            yield min(edge.tape_m, beside.tape_m), max(edge.tape_m, beside.tape_m)
