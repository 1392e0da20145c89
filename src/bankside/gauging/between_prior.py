"""Which characters of sections are weighed, and how likely each is before anything is read.

Fitted to simulated streams (`make calibration`; docs/uncertainty.md).
"""

from __future__ import annotations

__all__ = ["SHAPE_LENGTHS", "UNEVENNESS", "UNEVENNESS_LENGTHS_M", "prior_weight"]

SHAPE_LENGTHS = (0.1, 0.2, 0.5)
"""Lengths of the smooth shape, over the width."""

UNEVENNESS = (0.02, 0.043, 0.092, 0.2, 0.42, 0.9)
"""Unevenness, over the local scale of unit discharge."""

UNEVENNESS_LENGTHS_M = (0.08, 0.3, 1.2)
"""Lengths of unevenness, in m."""

# One row for each length of the shape and each unevenness, one figure for each length of
# unevenness. In percent; only their ratios count.
_PRIOR: tuple[tuple[float, float, float], ...] = (
    (0.03, 0.027, 0.024),
    (0.1, 0.048, 0.029),
    (0.018, 0.039, 0.096),
    (0.015, 0.024, 0.069),
    (0.039, 0.016, 0.28),
    (0.024, 0.01, 0.027),
    (0.34, 0.63, 4.9),
    (2.7, 0.35, 0.42),
    (1.8, 2.4, 0.39),
    (1.8, 0.044, 1.8),
    (0.91, 0.067, 4.4),
    (0.017, 0.014, 0.014),
    (0.61, 0.028, 0.015),
    (0.11, 0.09, 0.16),
    (0.22, 3.0, 5.3),
    (0.023, 0.032, 11.0),
    (0.44, 2.5, 19.0),
    (0.57, 0.45, 33.0),
)


def prior_weight(i: int) -> float:
    """Return how likely the character with this number is before anything is read.

    Numbers run over lengths of the shape, in each over unevenness, in each over lengths of it.
    """
    row, column = divmod(i, len(UNEVENNESS_LENGTHS_M))
    return _PRIOR[row][column]
