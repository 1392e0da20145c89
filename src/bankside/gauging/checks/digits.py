"""Figures as they are written: their decimals, and what a slip of the pen or the ear makes of them.

All in exact decimals, so that the figure that was meant comes out as it would have been written.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache

__all__ = ["by_writing", "decimals", "ends_in_0_or_5", "finer", "shifted", "step", "swapped"]

_FINER = 1.0
"""By which power of ten a figure is likelier that is no finer than all others (ours)."""
_FEWEST = 3
"""How many other figures tell in which step they were read (ours)."""


def decimals(values: Iterable[float]) -> int:
    """Return the number of decimals of the finest of some figures, 0 if there is none."""
    return max((_own_decimals(value) for value in values), default=0)


def step(values: Iterable[float]) -> float:
    """Return the step in which figures were read: a unit of their last decimal, or 5 of it.

    5 where no figure needs less: 0.05, 0.055 and 0.11 m were read to half a centimetre.
    """
    return float(_step(tuple(values)))


@lru_cache(maxsize=1024)
def _step(values: tuple[float, ...]) -> Decimal:
    places = decimals(values)
    fives = bool(values) and all(ends_in_0_or_5(v, places) for v in values)
    return Decimal(5 if fives else 1).scaleb(-places)


def ends_in_0_or_5(value: float, places: int) -> bool:
    """Return whether a figure written with so many decimals ends in 0 or 5."""
    return int(_exact(value).scaleb(places)) % 5 == 0


def shifted(value: float) -> tuple[float, ...]:
    """Return a figure with its decimal point one place to the left, and one to the right."""
    return _finite(_exact(value).scaleb(places) for places in (-1, 1))


def swapped(value: float, places: int) -> tuple[float, ...]:
    """Return every figure that differs from one by two neighbouring digits changing places.

    `places` is the number of decimals it was written with: 0.3 written 0.30 may have been 0.03.
    The point stays where it is, so 1.32 may have been 3.12 or 1.23.
    """
    places = max(places, _own_decimals(value))
    digits = str(int(abs(_exact(value)).scaleb(places))).zfill(places + 1)
    sign = -1 if value < 0 else 1
    return _finite(sign * Decimal(other).scaleb(-places) for other in _exchanged(digits))


def _finite(figures: Iterable[Decimal]) -> tuple[float, ...]:
    # Beyond the largest float there is no reading.
    return tuple(figure for figure in map(float, figures) if math.isfinite(figure))


def finer(figure: float, written: Sequence[float]) -> bool:
    """Return whether a figure is finer than the step of those written, where they tell it.

    Where all are in steps of 0.01, nobody read 0.012.
    """
    if len(written) < _FEWEST:
        return False
    return not _is_multiple(figure, _step(tuple(written)))


@lru_cache(maxsize=1024)
def _is_multiple(figure: float, of: Decimal) -> bool:
    return Fraction(_exact(figure)) % Fraction(of) == 0


def by_writing(figure: float, reading: float, others: Sequence[float]) -> float:
    """Return how much likelier the writing alone makes a figure than a reading, a power of ten.

    A reading finer than all others, such as 0.016 among 0.15 and 0.17, has a slipped point.
    """
    return _FINER * (finer(reading, others) - finer(figure, others))


def _exchanged(digits: str) -> Iterator[str]:
    for k in range(len(digits) - 1):
        if digits[k] != digits[k + 1]:
            yield digits[:k] + digits[k + 1] + digits[k] + digits[k + 2 :]


@lru_cache(maxsize=1024)
def _own_decimals(value: float) -> int:
    exponent = _exact(value).as_tuple().exponent
    return max(0, -exponent) if isinstance(exponent, int) else 0


@lru_cache(maxsize=1024)
def _exact(value: float) -> Decimal:
    # repr of a float is the shortest figure that reads back as it: the one that was written.
    return Decimal(repr(float(value))).normalize()
