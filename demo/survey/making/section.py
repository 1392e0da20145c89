"""A section of an invented stream: its bed, and the water over it when so much of it passes.

The bed of a site is the same at every visit; the level is the one at which the discharge passes.
Velocity goes with depth to the power of two thirds, slower beside the banks and behind stones.
"""

from __future__ import annotations

import math
import random
from typing import Final

import attrs

from making.basin import InventedSite

__all__ = ["Section", "Water"]

_STRIPS: Final = 200
_SLACK_M: Final = 0.30
"""How far from a bank the water is slowed down."""

_PROFILE: Final = 1.0 / 6.5
"""Exponent of the velocity over the height above the bed."""


@attrs.frozen
class Water:
    """The water in a section: its level over the gauge's zero, and its edges from the left mark."""

    level: float
    left: float
    right: float


class Section:
    """The bed of a site across its stream, in metres from a mark on the left bank."""

    def __init__(self, site: InventedSite, usual_m3s: float) -> None:
        """Shape the bed so that the usual discharge fills it as streams of that size are filled."""
        chance = random.Random(f"bed of {site.id}")
        self._site = site
        self._width = 8.2 * usual_m3s**0.46 * site.wide * chance.uniform(0.94, 1.06)
        self._depth = 0.34 * usual_m3s**0.34 / site.wide
        self._start = 1.2 + 2.0 * chance.random()
        self._gauge = round(chance.uniform(0.22, 0.36), 3)
        self._waves = [
            (chance.uniform(0.03, 0.075) / math.sqrt(k), k, chance.uniform(0, 2 * math.pi))
            for k in range(2, 8)
        ]
        self._swirls = [
            (chance.uniform(0.02, 0.06), k, chance.uniform(0, 2 * math.pi)) for k in range(1, 6)
        ]
        self._stone = chance.uniform(0.2, 0.8), chance.uniform(0.03, 0.06)
        self._speed = 1.0
        self._speed = usual_m3s / self._passing(0.0)

    def water(self, discharge_m3s: float) -> Water:
        """Return the water when so much of it passes."""
        low, high = -self._depth, self._depth
        for _ in range(40):
            middle = (low + high) / 2
            if self._passing(middle) < discharge_m3s:
                low = middle
            else:
                high = middle
        left, right = self._edges(high)
        return Water(round(self._gauge + high, 3), left, right)

    def depth(self, x: float, water: Water) -> float:
        """Return the depth at a place, 0 outside the water."""
        if not water.left <= x <= water.right:
            return 0.0
        return max(0.0, water.level - self._gauge - self._bed(x))

    def velocity(self, x: float, water: Water, fraction: float | None = None) -> float:
        """Return the velocity at a fraction of the depth below the surface, or the mean of it."""
        mean = self._mean_velocity(x, water.level - self._gauge, (water.left, water.right))
        if fraction is None:
            return mean
        return float(mean * (1 + _PROFILE) * (1.0 - fraction) ** _PROFILE)

    def _bed(self, x: float) -> float:
        """Return the height of the bed over the level of the usual discharge."""
        part = (x - self._start) / self._width
        if self._site.steep == "left":
            part = 0.16 + 0.84 * part
        elif self._site.steep == "right":
            part = 0.84 * part
        if not 0.0 <= part <= 1.0:
            out = max(-part, part - 1.0)
            return 1.2 * out * self._width
        thalweg = self._site.deepest
        rise = 1.25 if thalweg > 0.5 else 0.85
        fall = rise * (1 - thalweg) / thalweg
        shape = part**rise * (1 - part) ** fall / (thalweg**rise * (1 - thalweg) ** fall)
        rough = sum(a * math.sin(k * math.pi * part + at) for a, k, at in self._waves)
        return float(-1.45 * self._depth * shape * (1 + rough))

    def _mean_velocity(self, x: float, level: float, edges: tuple[float, float]) -> float:
        depth = max(0.0, level - self._bed(x))
        to_bank = max(0.0, min(x - edges[0], edges[1] - x))
        part = (x - self._start) / self._width
        swirl = 1 + sum(a * math.sin(k * math.pi * part + at) for a, k, at in self._swirls)
        at, wide = self._stone
        lee = 1 - 0.22 * math.exp(-(((part - at) / wide) ** 2))
        slack = 1 - 0.75 * math.exp(-to_bank / _SLACK_M)
        return float(self._speed * depth ** (2 / 3) * swirl * lee * slack)

    def _passing(self, level: float) -> float:
        left, right = self._edges(level)
        step = (right - left) / _STRIPS
        total = 0.0
        for number in range(_STRIPS):
            x = left + (number + 0.5) * step
            depth = max(0.0, level - self._bed(x))
            total += depth * self._mean_velocity(x, level, (left, right)) * step
        return total

    def _edges(self, level: float) -> tuple[float, float]:
        """Return where the water ends at either bank; at a wall, at the wall."""
        deep = self._start + self._site.deepest * self._width
        left = self._start if self._site.steep == "left" else self._shore(deep, -1, level)
        end = self._start + self._width
        right = end if self._site.steep == "right" else self._shore(deep, 1, level)
        return left, right

    def _shore(self, deep: float, way: int, level: float) -> float:
        wet, dry = deep, deep + way * 2.0 * self._width
        for _ in range(40):
            middle = (wet + dry) / 2
            if self._bed(middle) < level:
                wet = middle
            else:
                dry = middle
        return wet
