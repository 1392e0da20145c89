"""How grave a reading is that another figure would fit better, by how much and where it stands."""

from __future__ import annotations

from collections.abc import Sequence

from bankside.gauging.checks.examined import Spot
from bankside.gauging.checks.finding import Severity

__all__ = ["FIX_BETTER", "LEAST_BETTER", "around", "as_odd", "slip_severity"]

FIX_BETTER = 1.3
"""From this power of ten on, by which another figure is likelier, the reading is a slip (ours)."""
LEAST_BETTER = 0.4
"""From this power of ten on it has to be explained (ours); below it another figure says nothing."""
_SURER = 1.5
"""How many times as high a power of ten a slip takes where neighbours tell less: beside a bank or
beside still water (ours)."""
_NEARLY = 0.25
"""A reading is odd beside another from this part of its power of ten on (ours): what a slip does to
those beside it is less."""


def slip_severity(better: float, *, unsure: bool, never: bool) -> Severity | None:
    """Return the severity of a reading that a figure beats by a power of ten, None if it is fair.

    `unsure`: a slip takes more there. `never`: it is at most to be explained.
    """
    if better < LEAST_BETTER:
        return None
    sure = not never and better >= FIX_BETTER * (_SURER if unsure else 1.0)
    return "fix now" if sure else "explain"


def as_odd(other: float, better: float) -> bool:
    """Return whether another reading is beaten too, by a power of ten not far below or higher."""
    return other >= max(LEAST_BETTER, _NEARLY * better)


def around(across: Sequence[Spot], spot: Spot, reach: int) -> list[Spot]:
    """Return the verticals up to so many places from one, without itself."""
    here = next(k for k, other in enumerate(across) if other is spot)
    return [*across[max(0, here - reach) : here], *across[here + 1 : here + 1 + reach]]
