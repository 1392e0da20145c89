"""Quantiles of Student's t and of Fisher's F, by the incomplete beta function.

The continued fraction is that of Abramowitz & Stegun 26.5.8, evaluated from the front by Lentz's
rule (both from memory); `tests/survey/crews/test_distributions.py` holds them against SciPy.
"""

from __future__ import annotations

import math
from collections.abc import Callable

__all__ = ["beta_share", "f_above", "t_above"]

_TINY = 1e-300
_CLOSE = 1e-15
_STEPS = 10_000
# Halvings of an interval of 1: more than a float can tell apart.
_HALVINGS = 200


def beta_share(x: float, a: float, b: float) -> float:
    """Return the regularised incomplete beta function I_x(a, b), for x from 0 to 1, a and b > 0."""
    if x <= 0.0 or x >= 1.0:
        return 0.0 if x <= 0.0 else 1.0
    if x > (a + 1.0) / (a + b + 2.0):
        return 1.0 - beta_share(1.0 - x, b, a)
    front = math.lgamma(a + b) - math.lgamma(a) - math.lgamma(b)
    front += a * math.log(x) + b * math.log1p(-x)
    return math.exp(front) / (a * _fraction(x, a, b))


def f_above(part: float, numerator: float, denominator: float) -> float:
    """Return the F that is exceeded with probability `part`, by degrees of freedom.

    ValueError unless part lies within 0 and 1 and there are degrees of freedom above 0.
    """
    _require(part, numerator, denominator)
    a, b = denominator / 2.0, numerator / 2.0
    # P(F > f) = I_x(d2/2, d1/2) with x = d2 / (d2 + d1 f): Abramowitz & Stegun 26.6.2.
    x = _where(lambda at: beta_share(at, a, b), part)
    return denominator * (1.0 - x) / (numerator * x)


def t_above(part: float, degrees: float) -> float:
    """Return the t that is exceeded with probability `part`, below one half.

    ValueError unless part lies within 0 and one half and there are degrees of freedom above 0.
    """
    if part >= 0.5:
        raise ValueError(f"a part below one half is asked for (got {part})")
    # t² has the distribution of F with one degree of freedom in the numerator.
    return math.sqrt(f_above(2.0 * part, 1.0, degrees))


def _require(part: float, *degrees: float) -> None:
    if not 0.0 < part < 1.0 or min(degrees) <= 0.0:
        raise ValueError(
            f"a part within 0 and 1 and degrees of freedom above 0 are asked for "
            f"(got {part} and {degrees})"
        )


def _fraction(x: float, a: float, b: float) -> float:
    """Return 1 + d1 / (1 + d2 / (1 + …)), by which the front factor is divided."""
    c, d, found = 1.0, 0.0, 1.0
    for step in range(1, _STEPS):
        m, odd = divmod(step, 2)
        if odd:
            term = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1))
        else:
            term = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m))
        c = 1.0 + term / c or _TINY
        d = 1.0 / (1.0 + term * d or _TINY)
        change = c * d
        found *= change
        if abs(change - 1.0) < _CLOSE:
            break
    return found


def _where(rising: Callable[[float], float], value: float) -> float:
    """Return where a rising function from 0 to 1 takes a value."""
    low, high = 0.0, 1.0
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        if middle in (low, high):
            break
        if rising(middle) < value:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)
