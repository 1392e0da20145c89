"""Reaches in which nobody should go in: why, and what of it shows from the bank.

Of the seeds of a stream that swells half can be waded. The others are too strong at every
section, or rise so fast that every section becomes too strong within the hour, or have wood across
the water below sections that are strong already. The limits are those of common practice; all else
is assumed.
"""

from __future__ import annotations

import random
from typing import Final, Literal

import attrs

from bankside.gauging.rule_sets.load import BASE, load_rule_set
from bankside.practice.parameters import of, seeded
from bankside.practice.section_type import SectionType
from bankside.practice.stream import SimulatedStream

__all__ = [
    "WALKED",
    "Danger",
    "HighWater",
    "Signs",
    "beyond_share",
    "high_water",
    "seconds_to_limit",
    "strength",
]

Danger = Literal["too strong", "rising", "wood below"]

WALKED: Final = 1200.0
"""How long somebody walks along a reach before the first act, in s (ours)."""
_HOUR: Final = 3600.0
_DANGERS: Final[tuple[Danger, ...]] = ("too strong", "rising", "wood below")
# The part of the seeds that can be waded.
_WADED: Final = 0.5
# At a section that is too strong, at least this part of the width is beyond the limit.
_BEYOND: Final = 0.2
_BROWN_WHERE_STRONG: Final = 0.6


@attrs.frozen
class Signs:
    """What shows beside the sections: nothing of it at an ordinary stream.

    `brown` water hides its bed, `drift` is wood that comes down in it, `wood` how far below the
    last section wood lies across the water, in m.
    """

    brown: bool = False
    drift: bool = False
    wood: float | None = None


@attrs.frozen
class HighWater:
    """Why nobody should go in, what shows of it, and how fast it rises.

    `rise` is in m/s of depth, `quicken` the part of the velocity that is gained in a second.
    """

    danger: Danger
    signs: Signs
    rise: float = 0.0
    quicken: float = 0.0

    def swollen(self, section_type: SectionType) -> SectionType:
        """Return a section type as deep and fast as such water makes it."""
        depth, velocity = _RANGES[self.danger]
        return attrs.evolve(
            section_type,
            name=f"high {section_type.name}",
            depth=of(*depth, "m"),
            velocity=of(*velocity, "m/s"),
        )

    def holds(self, stream: SimulatedStream) -> bool:
        """Return whether a section is one of this water: dangerous in the way that is meant."""
        rules = load_rule_set(BASE)
        most, leader = rules.si("wade_product_stop"), rules.si("wade_product_caution")
        if stream.discharge <= 0.0:
            return False
        if self.danger == "too strong":
            return beyond_share(stream) >= _BEYOND
        if self.danger == "rising":
            reached = seconds_to_limit(stream, self.rise, self.quicken)
            return strength(stream) < most and reached is not None and reached <= _HOUR
        return leader <= strength(stream) < most


# Depth of the smooth shape and mean velocity, from and to, in m and m/s.
_RANGES: Final = {
    "too strong": ((0.7, 1.2), (1.1, 1.8)),
    "rising": ((0.5, 0.8), (0.6, 1.0)),
    "wood below": ((0.6, 0.9), (0.7, 1.0)),
}


def high_water(name: str, seed: int) -> HighWater | None:
    """Return the high water of a seed of a stream that swells; None where it can be waded."""
    rng = seeded("high water", name, seed)
    if rng.random() < _WADED:
        return None
    return _drawn(rng.choice(_DANGERS), rng)


def _drawn(danger: Danger, rng: random.Random) -> HighWater:
    if danger == "rising":
        rise, quicken = (0.3 + 0.2 * rng.random()) / _HOUR, (0.3 + 0.3 * rng.random()) / _HOUR
        return HighWater(danger, Signs(brown=True, drift=True), rise, quicken)
    if danger == "wood below":
        return HighWater(danger, Signs(wood=round(4.0 + 8.0 * rng.random(), 1)))
    brown = rng.random() < _BROWN_WHERE_STRONG
    return HighWater(danger, Signs(brown=brown, drift=brown and rng.random() < 0.5))


def strength(stream: SimulatedStream) -> float:
    """Return the greatest depth times mean velocity of a section, in m²/s."""
    return max(d * abs(v) for d, v in zip(stream.depths, stream.velocities, strict=True))


def beyond_share(stream: SimulatedStream) -> float:
    """Return over which part of the width depth times velocity is at the limit or beyond it."""
    most = load_rule_set(BASE).si("wade_product_stop")
    nodes = list(zip(stream.depths, stream.velocities, strict=True))
    return sum(1 for d, v in nodes if d * abs(v) >= most) / len(nodes)


def seconds_to_limit(stream: SimulatedStream, rise: float, quicken: float) -> float | None:
    """Return after how many seconds a rising section is first too strong somewhere; None never.

    (d + r t) v (1 + q t) is at the limit L where r q v t² + (r + d q) v t + d v - L = 0.
    """
    most = load_rule_set(BASE).si("wade_product_stop")
    found = []
    for depth, velocity in zip(stream.depths, stream.velocities, strict=True):
        v, short = abs(velocity), most - depth * abs(velocity)
        a, b = rise * quicken * v, (rise + depth * quicken) * v
        if depth > 0.0 and short <= 0.0:
            return 0.0
        if depth > 0.0 and a > 0.0:
            found.append(((b * b + 4.0 * a * short) ** 0.5 - b) / (2.0 * a))
    return min(found, default=None)
