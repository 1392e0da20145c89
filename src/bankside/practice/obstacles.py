"""What stands in the water: stones with dead water behind them, and beds of weed.

Each changes the depths and velocity factors of the nodes that it reaches, in place; a node is
`step` metres from the next.
"""

import math
import random
from collections.abc import Mapping

from bankside.practice.parameters import normal

__all__ = ["place_stones", "place_weed"]

_WAKE_REACH = 2.5
"""How far a wake reaches, in widths of its Gaussian; beyond, less than 0.2 % is left."""


def place_stones(
    rng: random.Random,
    drawn: Mapping[str, float],
    step: float,
    depths: list[float],
    factors: list[float],
) -> None:
    """Put the stones of a section into its depths and velocity factors.

    A stone is half an ellipse, as high as a part of the depth at its middle; one that is higher
    than the water is deep leaves a dry gap. Behind it the water is slower, or runs back a little,
    by a Gaussian as wide as the stone.
    """
    count = len(depths)
    expected = drawn["stones"] * drawn["width"]
    number = int(expected + rng.random())
    for _ in range(number):
        middle = rng.random() * (count - 1)
        half = 0.5 * drawn["stone_width"] * math.exp(0.35 * normal(rng)) / step
        part = min(1.6, drawn["stone_height"] * math.exp(0.35 * normal(rng)))
        height = part * depths[int(middle)]
        wake = drawn["stone_wake"] * min(1.0, part + 0.3)
        reach = half * _WAKE_REACH
        for i in range(max(0, math.ceil(middle - reach)), min(count, int(middle + reach) + 1)):
            x = (i - middle) / half
            factors[i] *= 1.0 - wake * math.exp(-x * x)
            if -1.0 < x < 1.0:
                depths[i] = max(0.0, depths[i] - height * math.sqrt(1.0 - x * x))


def place_weed(
    rng: random.Random, drawn: Mapping[str, float], step: float, factors: list[float]
) -> None:
    """Slow the water down within each bed of weed, with flanks of some 0.1 m."""
    number = int(drawn["weed_beds"])
    count = len(factors)
    for _ in range(number):
        half = 0.5 * drawn["weed_share"] / number * (count - 1) * (0.6 + 0.8 * rng.random())
        middle = rng.random() * (count - 1)
        flank = 0.1 / step
        reach = half + 4.0 * flank
        for i in range(max(0, math.ceil(middle - reach)), min(count, int(middle + reach) + 1)):
            inside = 0.5 * (1.0 + math.tanh((half - abs(i - middle)) / flank))
            factors[i] *= 1.0 - (1.0 - drawn["weed_speed"]) * inside
