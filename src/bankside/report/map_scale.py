"""Round figures for maps: how long a scale bar is, and where lines of a grid stand."""

from __future__ import annotations

import math
from typing import Final

__all__ = ["degree_words", "distance_words", "round_down", "round_lines", "round_up"]

_NICE: Final = (1.0, 2.0, 5.0)


def round_down(value: float) -> float:
    """Return the largest 1, 2 or 5 times a power of ten that is not above the value."""
    power = 10.0 ** math.floor(math.log10(value))
    return max(nice * power for nice in _NICE if nice * power <= value * (1 + 1e-9))


def round_up(value: float) -> float:
    """Return the smallest 1, 2 or 5 times a power of ten that is not below the value."""
    power = 10.0 ** math.floor(math.log10(value))
    return min(nice * power for nice in (*_NICE, 10.0) if nice * power >= value * (1 - 1e-9))


def degree_words(value: float, signs: str, span: float) -> str:
    """Return a longitude or latitude with its letter, as fine as a map of that span needs."""
    decimals = max(0, 1 - math.floor(math.log10(span)))
    letter = "" if round(value, decimals) == 0 else signs[0] if value > 0 else signs[1]
    return f"{abs(value):.{decimals}f}°{letter}"


def round_lines(low: float, high: float, wanted: int) -> list[float]:
    """Return round values between two others, about as many as wanted."""
    step = round_up((high - low) / wanted)
    first = math.ceil(low / step)
    return [number * step for number in range(first, math.floor(high / step) + 1)]


def distance_words(metres: float) -> str:
    """Return a round distance as it stands over a scale bar."""
    return f"{metres / 1000:g} km" if metres >= 1000 else f"{metres:g} m"
