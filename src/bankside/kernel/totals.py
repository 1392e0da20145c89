"""What a total of panels is worth beside the amounts that it is made of.

Water may run either way: a total says little where its panels nearly cancel.  Any one unit of
discharge serves.
"""

from bankside.kernel.section import Floats

__all__ = [
    "NO_SHARES",
    "ROUNDING",
    "amount_of",
    "has_shares",
    "share_of",
    "total_of",
    "without_rounding",
]

ROUNDING = 1e-12
"""A total this small beside the amounts it is made of is what rounding left of 0."""

NO_SHARES = 1e-3
"""Panels that cancel out to a thousandth of their amounts have no share that could be told
(ours)."""


def amount_of(panel_discharge: Floats) -> float:
    """How much water the panels carry, whichever way it runs."""
    amount = 0.0
    for i in range(len(panel_discharge)):
        amount += abs(panel_discharge[i])
    return amount


def total_of(parts: Floats) -> float:
    """The sum of parts, added in their order."""
    total = 0.0
    for i in range(len(parts)):
        total += parts[i]
    return total


def without_rounding(total: float, amount: float) -> float:
    """The total, 0 where it is no more than rounding beside the amount it is made of."""
    return 0.0 if abs(total) <= ROUNDING * amount else total


def has_shares(total: float, amount: float) -> bool:
    """Whether anything can be said as a percent of the total.

    Source: ours, no source for the thousandth.
    """
    return abs(total) > NO_SHARES * amount


def share_of(one_panel: float, total: float) -> float:
    """Percent of the total that one panel carries, negative where it runs the other way.

    Raises ValueError for a total of 0.
    """
    if total == 0.0:
        raise ValueError("nothing is a percent of a discharge of 0")
    return one_panel / total * 100.0
