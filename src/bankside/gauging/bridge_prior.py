"""Which characters of sections are weighed, and how likely each is before anything is read.

Fitted to simulated streams (`make calibration`; docs/uncertainty.md).
"""

from __future__ import annotations

__all__ = ["ROUGHNESS", "ROUGHNESS_LENGTHS_M", "SHAPE_LENGTHS", "prior_weight"]

SHAPE_LENGTHS = (0.1, 0.2, 0.5)
"""Lengths of the smooth shape, over the width."""

ROUGHNESS = (0.02, 0.043, 0.092, 0.2, 0.42, 0.9)
"""Roughness, over the local scale of unit discharge."""

ROUGHNESS_LENGTHS_M = (0.08, 0.3, 1.2)
"""Lengths of roughness, in m."""

# One row for each length of the shape and each roughness, one figure for each length of roughness.
_PRIOR: tuple[tuple[float, float, float], ...] = ((1.0, 1.0, 1.0),) * 18


def prior_weight(i: int) -> float:
    """Return how likely the character with this number is before anything is read.

    Numbers run over lengths of the shape, in each over roughness, in each over lengths of it.
    """
    row, column = divmod(i, len(ROUGHNESS_LENGTHS_M))
    return _PRIOR[row][column]
