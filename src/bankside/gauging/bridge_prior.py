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
# In percent; only their ratios count.
_PRIOR: tuple[tuple[float, float, float], ...] = (
    (0.043, 0.04, 0.036),
    (0.055, 0.057, 0.043),
    (0.11, 0.072, 0.089),
    (0.031, 0.047, 1.7),
    (0.011, 0.012, 3.6),
    (0.013, 0.013, 0.019),
    (0.26, 0.41, 4.0),
    (1.6, 0.29, 0.28),
    (0.84, 1.0, 0.34),
    (1.4, 0.041, 1.7),
    (0.19, 0.044, 2.4),
    (0.022, 0.019, 0.016),
    (0.59, 0.028, 0.015),
    (0.099, 0.084, 0.16),
    (0.24, 3.0, 5.4),
    (0.029, 0.043, 12.0),
    (0.49, 2.8, 17.0),
    (0.47, 2.4, 34.0),
)


def prior_weight(i: int) -> float:
    """Return how likely the character with this number is before anything is read.

    Numbers run over lengths of the shape, in each over roughness, in each over lengths of it.
    """
    row, column = divmod(i, len(ROUGHNESS_LENGTHS_M))
    return _PRIOR[row][column]
