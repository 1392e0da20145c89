"""Velocity at a point in time: fluctuations that die out exponentially, and what a mean is worth.

A fluctuation with standard deviation σ and integral time scale τ has the correlation exp(-t / τ).
Its mean over T seconds has the variance

    2 σ² (τ / T) (1 - (τ / T) (1 - exp(-T / τ)))

which is the double integral of that correlation over the exposure. A short exposure gives σ², a
long one 2 σ² τ / T.
"""

import math

__all__ = ["exposure_variance"]


def exposure_variance(deviation: float, time_scale: float, seconds: float) -> float:
    """Return the variance of the mean over an exposure, in the square of the unit of `deviation`.

    `time_scale` and `seconds` are in seconds and above 0.
    """
    r = time_scale / seconds
    if r > 1e3:
        return deviation * deviation * (1.0 - 1.0 / (3.0 * r))
    return 2.0 * deviation * deviation * r * (1.0 - r * (1.0 - math.exp(-1.0 / r)))
