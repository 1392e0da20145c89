"""Which characters of sections are weighed, and how likely each is before anything is read.

Fitted to simulated streams (`make calibration`; docs/uncertainty.md).
"""

import math

from bankside.kernel.section import Floats

__all__ = [
    "LEAST_DEVIATION",
    "SHAPE_DEVIATION",
    "SHAPE_LENGTHS",
    "UNEVENNESS",
    "UNEVENNESS_LENGTHS_M",
    "least_variance",
    "prior_weight",
    "shape_length_of",
    "unevenness_length_of",
    "unevenness_of",
    "weight_of",
    "weighted_sum",
]

SHAPE_DEVIATION = 1.2
"""How far unit discharge departs from 0 by its smooth shape, over its mean (ours, fitted)."""

LEAST_DEVIATION = 2e-4
"""What every reading is uncertain by at least, over the mean unit discharge: so that the edges of
water, which are known to carry nothing, are no more than that (ours, of no weight)."""

# A character that is so much less likely than the best one has no say: its weight is below what a
# figure resolves.
_NO_SAY = 1e-6

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


def _require_character(character: int) -> None:
    count = len(SHAPE_LENGTHS) * len(UNEVENNESS) * len(UNEVENNESS_LENGTHS_M)
    if character < 0 or character >= count:
        raise IndexError("no character has this number")


def prior_weight(character: int) -> float:
    """How likely the character with this number is before anything is read; only ratios count.

    Numbers run over lengths of the shape, in each over unevenness, in each over lengths of it.

    Raises IndexError when there is no such character.
    """
    across = len(_PRIOR[0])
    if character < 0 or character >= len(_PRIOR) * across:
        raise IndexError("no character has this number")
    return _PRIOR[character // across][character % across]


def shape_length_of(character: int) -> float:
    """Length of the smooth shape over the width.  Raises IndexError as `prior_weight` does."""
    _require_character(character)
    return SHAPE_LENGTHS[character // (len(UNEVENNESS) * len(UNEVENNESS_LENGTHS_M))]


def unevenness_of(character: int) -> float:
    """Unevenness over the local scale.  Raises IndexError as `prior_weight` does."""
    _require_character(character)
    return UNEVENNESS[character // len(UNEVENNESS_LENGTHS_M) % len(UNEVENNESS)]


def unevenness_length_of(character: int) -> float:
    """Length of unevenness, in m.  Raises IndexError as `prior_weight` does."""
    _require_character(character)
    return UNEVENNESS_LENGTHS_M[character % len(UNEVENNESS_LENGTHS_M)]


def least_variance(mean: float) -> float:
    """What the variance of every reading is at least, by the mean unit discharge.

    Source: ours.
    """
    deviation = LEAST_DEVIATION * mean
    return deviation * deviation


def weight_of(evidence: float, best: float) -> float:
    """How likely a character is beside the likeliest, by logarithms; 0 where it has no say.

    Source: Bayes's rule; below a millionth ours.
    """
    weight = math.exp(evidence - best)
    return weight if weight > _NO_SAY else 0.0


def weighted_sum(weights: Floats, of_characters: Floats) -> float:
    """Sum of what each character has, times its weight.  Raises ValueError for unequal lengths."""
    if len(weights) != len(of_characters):
        raise ValueError("there is one weight for every character")
    total = 0.0
    for i in range(len(weights)):
        total += weights[i] * of_characters[i]
    return total
