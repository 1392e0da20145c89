"""At which marks of a tape a vertical may be asked for."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Final

from bankside.gauging.units import LengthUnit, metres_per

__all__ = ["graduation", "mark_between"]

# How far apart the marks are that a tape is called to, and how fine it can be read where no such
# mark will do: common practice, no source.
_MARKS: Final[Mapping[LengthUnit, tuple[float, float]]] = {
    "ft": (0.1, 0.01),
    "in": (1.0, 0.1),
    "m": (0.05, 0.01),
    "cm": (5.0, 1.0),
    "mm": (50.0, 10.0),
}
# By what two lengths that are the same on paper may differ, m.
_ROUNDING: Final = 1e-6


def graduation(unit: LengthUnit) -> float:
    """Return the distance between the marks that a tape is usually called to, in its unit."""
    return _MARKS[unit][0]


def mark_between(
    unit: LengthUnit, low: float, high: float, least_m: float, part: float = 0.5
) -> float | None:
    """Return the mark nearest to a part of the way between two neighbours on the tape, in its unit.

    None where no vertical fits that keeps `least_m` metres from both. A finer reading than to the
    usual marks is taken only where none of them will do.
    """
    for mark in _MARKS[unit]:
        marks = (low + (high - low) * part) / mark
        if not math.isfinite(marks):
            continue
        place = round(round(marks) * mark, 6)
        nearest = min(place - low, high - place) * metres_per(unit)
        if nearest >= max(least_m - _ROUNDING, _ROUNDING):
            return place
    return None
