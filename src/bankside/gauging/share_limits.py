"""How much of the discharge one panel should carry at the most."""

from __future__ import annotations

from typing import Final

__all__ = ["SHARE_AIM", "SHARE_LIMIT", "above"]

SHARE_AIM: Final = 5
SHARE_LIMIT: Final = 10
"""In percent. USGS practice as quoted in MDPI Water 2018, 10, 1010: 5 % the aim, 10 % the limit."""


def above(share: float, limit: float) -> bool:
    """Return whether a share in percent, of either sign, is above a limit as it is printed.

    Shares are printed to 0.1 %: what reads as the limit itself keeps to it.
    """
    return round(abs(share), 1) > limit
