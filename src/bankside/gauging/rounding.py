"""Figures as they stand on a sheet, and how many decimals they carry."""

from __future__ import annotations

import math
from decimal import Decimal

__all__ = ["as_it_stands", "decimals_of", "to_figures"]

_EXACT = 12
"""Figures that a float keeps through a spreadsheet's sums."""

_WRITTEN = 9
"""More figures than this nobody writes: a spreadsheet's unrounded number."""

_LONG = 15
"""With more zeros than this a power of ten is easier to read, and no discharge is meant."""


def decimals_of(value: float) -> int | None:
    """Return how many decimals a number was written with, None for an unrounded one.

    Trailing zeros are lost once a figure is a number: 7.380 counts as 7.38.
    """
    written = _written(value)
    if len(written.as_tuple().digits) > _WRITTEN:
        return None
    return max(0, -int(written.as_tuple().exponent))


def as_it_stands(value: float) -> str:
    """Return a filed number as it was written; an unrounded one to four figures."""
    plain = decimals_of(value) is not None and _is_plain(value)
    return f"{_written(value):f}" if plain else to_figures(value)


def to_figures(value: float, figures: int = 4) -> str:
    """Return a number with so many figures, trailing zeros among them, and no power of ten."""
    if value == 0.0:
        return "0"
    if not _is_plain(value):
        return f"{value:.{figures}g}"
    decimals = figures - 1 - math.floor(math.log10(abs(float(f"{value:.{figures - 1}e}"))))
    return f"{value:.{max(decimals, 0)}f}"


def _is_plain(value: float) -> bool:
    return value == 0.0 or 10.0**-_LONG < abs(value) < 10.0**_LONG


def _written(value: float) -> Decimal:
    written = Decimal(f"{value:.{_EXACT}g}").normalize()
    return written if written else Decimal(0)
