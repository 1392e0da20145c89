"""How wide, deep and fast the streams are that the model was fitted to and judged on.

Written by `python -m calibration.ranges` from the section types of `practice`.
"""

from __future__ import annotations

from typing import Final

__all__ = ["DEEPEST_M", "VELOCITY_MS", "WIDTH_M"]

WIDTH_M: Final = (1.5, 20.0)
"""From edge of water to edge of water, m."""

DEEPEST_M: Final = (0.12, 1.2)
"""Where the smooth shape is deepest, m."""

VELOCITY_MS: Final = (0.05, 1.0)
"""The mean of the section before stones and weed, m/s."""
