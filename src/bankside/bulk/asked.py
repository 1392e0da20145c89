"""What a run over whole tables can be asked for, told without the compiler."""

from __future__ import annotations

from typing import Final, Literal

__all__ = ["PART", "Uncertainty"]

PART: Final = 16_384
"""Gaugings in a part, if nothing is said."""

Uncertainty = Literal["all", "published", "none"]
"""Which uncertainties are worked out: what lies between verticals takes far longer than all else
together."""
