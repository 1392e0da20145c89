"""Figures against limits, where a figure that is written as the limit itself keeps to it."""

from __future__ import annotations

__all__ = ["above", "below"]

# What is left of a change from feet to metres, or of one stage less another: 0.54 - 0.52 is
# 0.020000000000000018.
_ROUNDING = 1e-9


def above(figure: float, limit: float) -> bool:
    """Return whether a figure is above a limit that is not negative."""
    return figure > limit + _ROUNDING * max(1.0, limit)


def below(figure: float, limit: float) -> bool:
    """Return whether a figure is below a limit that is not negative."""
    return figure < limit - _ROUNDING * max(1.0, limit)
