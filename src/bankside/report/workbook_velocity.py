"""Formulas for the velocity of a vertical, with the words that say what each does."""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence

from bankside.kernel.edge import WALL_DISTANCE
from bankside.report.workbook_points import Point

__all__ = ["METHODS", "angle_factor", "between", "mean_of_points", "wall_ratio"]

METHODS: Mapping[str, tuple[str, str]] = {
    "measured": ("{0}", "as called"),
    "one point 0.6": ("{0}", "that at 0.6 of the depth"),
    "one point 0.5": (
        "half_depth_coefficient*{0}",
        "that at half the depth times its coefficient",
    ),
    "one point 0.2": (
        "two_tenths_coefficient*{0}",
        "that at 0.2 of the depth times its coefficient",
    ),
    "surface": ("surface_coefficient*{0}", "that at the surface times its coefficient"),
    "two points": ("({0}+{1})/2", "mean of those at 0.2 and 0.8"),
    "three points": (
        "({0}+2*{1}+{2})/4",
        "those at 0.2, 0.6 and 0.8 with weights 1, 2, 1",
    ),
    "five points": (
        "({0}+3*{1}+3*{2}+2*{3}+{4})/10",
        "surface, 0.2, 0.6, 0.8 and bed with weights 1, 3, 3, 2, 1",
    ),
    "six points": (
        "({0}+2*{1}+2*{2}+2*{3}+2*{4}+{5})/10",
        "surface, 0.2, 0.4, 0.6, 0.8 and bed with weights 1, 2, 2, 2, 2, 1",
    ),
}
"""How a mean velocity came about → its formula over the points, surface first, and its words."""


def mean_of_points(velocity_from: str, points: Sequence[Point]) -> tuple[str, str]:
    """Return the formula for the mean of the points of a vertical, and what it does in words."""
    velocities = [point.velocity for point in points]
    if velocity_from in METHODS:
        formula, words = METHODS[velocity_from]
        return formula.format(*velocities), words
    return _integral(points), (
        "integral of the points over the depth: constant up to the surface, straight lines "
        "between them, a power law from the lowest to 0 at the bed"
    )


def _integral(points: Sequence[Point]) -> str:
    top, low = points[0], points[-1]
    strips = [
        f"({b.fraction}-{a.fraction})*({a.velocity}+{b.velocity})/2"
        for a, b in itertools.pairwise(points)
    ]
    return "+".join(
        [
            f"{top.velocity}*{top.fraction}",
            *strips,
            f"{low.velocity}*(1-{low.fraction})*bed_exponent/(bed_exponent+1)",
        ]
    )


def angle_factor(angle: str, coefficient: str) -> str:
    """Return the formula for the part of a velocity that is square to the section.

    A recorded angle gives its cosine, exactly 0 at a right angle; else the coefficient; else 1.
    """
    cosine = f"IF(ABS({angle})=90,0,COS(RADIANS({angle})))"
    return f'IF({angle}<>"",{cosine},IF({coefficient}<>"",{coefficient},1))'


def wall_ratio(distance_over_depth: str) -> str:
    """Return the formula for a wall's velocity as a part of its neighbour's, by the table.

    The table is used twice: out from the neighbour to one depth away, and back to the wall.
    """
    ratio = f"wall_ratio_{len(WALL_DISTANCE) - 1}"
    for i in reversed(range(len(WALL_DISTANCE) - 1)):
        line = (
            f"wall_ratio_{i}+(wall_ratio_{i + 1}-wall_ratio_{i})"
            f"*({distance_over_depth}-wall_distance_{i})"
            f"/(wall_distance_{i + 1}-wall_distance_{i})"
        )
        ratio = f"IF({distance_over_depth}<wall_distance_{i + 1},{line},{ratio})"
    return f"wall_ratio_0/{ratio}"


def between(here: str, before: tuple[str, str], after: tuple[str, str]) -> str:
    """Return the formula for a velocity in proportion to the tape between two neighbours.

    `here` is the tape of the vertical; the neighbours are each a tape and a velocity.
    """
    (low_tape, low), (high_tape, high) = before, after
    return f"{low}+({high}-{low})*({here}-{low_tape})/({high_tape}-{low_tape})"
