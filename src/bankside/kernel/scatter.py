"""The scatter of depths and velocities about the straight line between their neighbours.

The interpolated variance estimator: what a vertical differs from its neighbours by, with the
right weights, tells how much chance there is in a reading of depth or velocity at this section.

Source of all formulas: Cohn, Kiang and Mason 2013, Journal of Hydraulic Engineering 139(5) (from
memory, medium, the ends of the sums among them).
"""

import math

from bankside.kernel.section import Floats, _require_pairs

__all__ = [
    "FEWEST_RESIDUALS",
    "WITHOUT_RESIDUAL",
    "interpolated_variance",
    "interpolated_variance_uncertainty",
    "interpolation_residual",
    "interpolation_weight",
]

# Ours, no source: a variance from fewer residuals says next to nothing (from 4 the scatter itself
# is uncertain by 1/√8, a third).
FEWEST_RESIDUALS = 4
# The two stations at either end of a stretch give no residual (from memory, medium).
WITHOUT_RESIDUAL = 4

_ROUNDING = 1e-14


def interpolation_weight(tape: Floats, i: int) -> float:
    """Weight of the left neighbour when vertical `i` is interpolated between its neighbours.

    (x[i+1] - x[i]) / (x[i+1] - x[i-1]).

    Raises IndexError when there is no vertical `i` with two neighbours.

    Source: Cohn, Kiang and Mason 2013 (from memory, medium).
    """
    if i < 1 or i >= len(tape) - 1:
        raise IndexError("no vertical with two neighbours has this index")
    return (tape[i + 1] - tape[i]) / (tape[i + 1] - tape[i - 1])


def interpolation_residual(tape: Floats, values: Floats, i: int) -> float:
    """What the value at vertical `i` is more than its neighbours, interpolated, would have it.

    Raises ValueError for fewer than two verticals or unequal lengths, IndexError when there is no
    vertical `i` with two neighbours.

    Source: Cohn, Kiang and Mason 2013 (from memory, medium).
    """
    _require_pairs(tape, values)
    weight = interpolation_weight(tape, i)
    between = weight * values[i - 1] + (1.0 - weight) * values[i + 1]
    residual = values[i] - between
    # What rounding leaves of a straight line is no scatter.
    if abs(residual) <= _ROUNDING * (abs(values[i]) + abs(between)):
        return 0.0
    return residual


def interpolated_variance(tape: Floats, values: Floats) -> float:
    """Variance of one value by chance, from the residuals of depths or of velocities.

    Each squared residual is divided by 2 (1 - w + w^2), the variance that it has if each value
    has the variance 1, and the mean is taken.  `tape` has both edges of water; the two stations at
    either end give no residual, so that no edge enters: M stations give M - 4 residuals.  In the
    square of the unit of `values`.

    Raises ValueError for fewer than five stations or unequal lengths.

    Source: Cohn, Kiang and Mason 2013 (from memory, medium).
    """
    _require_pairs(tape, values)
    if len(tape) < 5:
        raise ValueError("an interpolated variance needs at least five stations, edges included")
    total = 0.0
    for i in range(2, len(tape) - 2):
        weight = interpolation_weight(tape, i)
        residual = interpolation_residual(tape, values, i)
        total += residual * residual / (2.0 * (1.0 - weight + weight * weight))
    return total / (len(tape) - WITHOUT_RESIDUAL)


def interpolated_variance_uncertainty(
    panel_widths: Floats,
    depth: Floats,
    velocity: Floats,
    depth_variance: float,
    velocity_variance: float,
    width_percent: float,
    systematic_percent: float,
) -> float:
    """Standard uncertainty of a discharge from the scatter of depth and velocity, in percent.

    u(Q)^2 = (u_s Q)^2 + sum of (w d s_V)^2 + (w v s_D)^2 + (q u_b)^2, over Q^2, with panels w
    wide; s_D^2 and s_V^2 are the two interpolated variances, in the units of depth and velocity.

    Raises ValueError for fewer than two panels, unequal lengths, or panels that add up to 0.

    Source: Cohn, Kiang and Mason 2013 (from memory, medium).
    """
    _require_pairs(panel_widths, depth)
    _require_pairs(panel_widths, velocity)
    total = 0.0
    for i in range(len(panel_widths)):
        total += panel_widths[i] * depth[i] * velocity[i]
    if total == 0.0:
        raise ValueError("nothing is a percent of a discharge of 0")
    squares = systematic_percent * systematic_percent
    for i in range(len(panel_widths)):
        by_velocity = panel_widths[i] * depth[i] / total * 100.0
        by_depth = panel_widths[i] * velocity[i] / total * 100.0
        by_width = panel_widths[i] * depth[i] * velocity[i] / total * width_percent
        squares += by_velocity * by_velocity * velocity_variance
        squares += by_depth * by_depth * depth_variance + by_width * by_width
    return math.sqrt(squares)
