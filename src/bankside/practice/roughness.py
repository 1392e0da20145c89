"""Roughness along the tape: stationary noise whose correlation falls exponentially with distance.

The first-order autoregressive series is the exact sample of such noise (an Ornstein-Uhlenbeck
process) at even steps; between its values everything here runs straight.
"""

import math
import random
from statistics import NormalDist

__all__ = ["correlated"]

_QUANTILE = NormalDist().inv_cdf


def correlated(
    rng: random.Random, count: int, step: float, deviation: float, length: float
) -> list[float]:
    """Return `count` values, `step` apart, of noise with mean 0 and the standard deviation given.

    Two values that are x apart have the correlation exp(-x / length); `step` and `length` are in
    one unit.
    """
    keep = math.exp(-step / length)
    fresh = deviation * math.sqrt(1.0 - keep * keep)
    draw = rng.random
    quantile = _QUANTILE
    value = deviation * quantile(draw() or 0.5)
    values = [value]
    for _ in range(count - 1):
        value = keep * value + fresh * quantile(draw() or 0.5)
        values.append(value)
    return values
