"""What a meter shows second by second at a point: turbulence and slow pulsation, exactly drawn.

Each is an Ornstein-Uhlenbeck process x with deviation σ and time scale τ. Over a step of h seconds
with ρ = exp(−h / τ), its end and its integral are drawn together: the end has the mean ρ x and the
variance σ² (1 − ρ²), the integral the mean τ (1 − ρ) x and the variance σ² τ² (2h/τ − 3 + 4ρ − ρ²),
and their covariance is σ² τ (1 − ρ)² (the moments of the linear equation; worked out by hand, from
memory of how it is done). So a mean over T seconds has the very variance of
`turbulence.exposure_variance`, however it is parted into seconds.
"""

from __future__ import annotations

import math
import random
from collections.abc import Sequence
from itertools import accumulate

from bankside.practice.parameters import normal

__all__ = ["running_means", "second_means"]


def second_means(
    rng: random.Random, processes: Sequence[tuple[float, float]], seconds: int
) -> list[float]:
    """Return the mean of a fluctuation over each second, in the unit of the deviations.

    processes: the deviation and the time scale (s) of each part of it.
    """
    total = [0.0] * seconds
    for deviation, time_scale in processes:
        for second, mean in enumerate(_means(rng, deviation, time_scale, seconds)):
            total[second] += mean
    return total


def running_means(values: Sequence[float]) -> list[float]:
    """Return what a meter that averages shows after each second: the mean of all so far."""
    return [total / count for count, total in enumerate(accumulate(values), 1)]


def _means(rng: random.Random, deviation: float, time_scale: float, seconds: int) -> list[float]:
    kept = math.exp(-1.0 / time_scale)
    lost = 1.0 - kept
    end_variance = 1.0 - kept * kept
    both = time_scale * lost * lost
    integral_variance = time_scale * time_scale * (2.0 / time_scale - 3.0 + 4.0 * kept - kept**2)
    slope = both / end_variance
    rest = math.sqrt(max(0.0, integral_variance - slope * both))
    x = normal(rng)
    means = []
    for _ in range(seconds):
        end = math.sqrt(end_variance) * normal(rng)
        means.append(deviation * (time_scale * lost * x + slope * end + rest * normal(rng)))
        x = kept * x + end
    return means
