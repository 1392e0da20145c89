"""Figures against the limits of a rule set, and what the checks hold against them.

A figure that is written as the limit itself keeps to it.
"""

import math

from bankside.kernel.section import Floats, _require_pairs

__all__ = ["above", "bed_change", "below", "clearly_above", "printed_above", "velocity_difference"]

# What is left of a change from feet to metres, or of one stage less another: 0.54 - 0.52 is
# 0.020000000000000018.
_ROUNDING = 1e-9
# Of a share beyond any that is printed, tenths are not asked.
_NO_TENTHS = 1e9


def above(figure: float, limit: float) -> bool:
    """Whether a figure is above a limit that is not negative."""
    return figure > limit + _ROUNDING * max(1.0, limit)


def clearly_above(figure: float, limit: float) -> bool:
    """Whether a figure is above a limit by more than rounding makes of it, as a part."""
    return figure > limit * (1.0 + _ROUNDING)


def below(figure: float, limit: float) -> bool:
    """Whether a figure is below a limit that is not negative."""
    return figure < limit - _ROUNDING * max(1.0, limit)


def printed_above(share: float, limit: float) -> bool:
    """Whether a share in percent, of either sign, is above a limit as it is printed, to 0.1 %.

    What is half-way between two tenths is printed as the even one.
    """
    size = abs(share)
    # Where no rounding to a tenth could change the answer.
    if not abs(size - limit) < 0.1 or not size < _NO_TENTHS:
        return size > limit
    tenths = math.floor(size * 10.0 + 0.5)
    # How far it lies beyond half-way to this tenth, in twentieths; no step of this rounds.
    beyond = (size * 16.0 - (2.0 * tenths - 1.0)) + size * 4.0
    if beyond < 0.0 or (beyond == 0.0 and tenths % 2 == 1):
        tenths -= 1
    return tenths / 10.0 > limit


def velocity_difference(one_velocity: float, other_velocity: float) -> float:
    """By how many percent of the smaller one two velocities differ; infinite where that is 0."""
    if one_velocity == other_velocity:
        return 0.0
    smaller = min(abs(one_velocity), abs(other_velocity))
    if smaller == 0.0:
        return math.inf
    return 100.0 * abs(one_velocity - other_velocity) / smaller


def _second_difference(tape: Floats, depth: Floats, i: int) -> float:
    """Second divided difference of the depths at `i` and the two verticals after it."""
    before = (depth[i + 1] - depth[i]) / (tape[i + 1] - tape[i])
    after = (depth[i + 2] - depth[i + 1]) / (tape[i + 2] - tape[i + 1])
    return (after - before) / (tape[i + 2] - tape[i])


def bed_change(tape: Floats, depth: Floats, i: int) -> float:
    """By how much one more depth half-way from vertical `i` to the next would change the area.

    The parabola through three depths lies f h^2/4 beside the straight line half-way over a gap h
    of theirs, f being their second divided difference.  Between four depths there are two; the one
    that bends more is taken, so that a hole found by one vertical alone counts.  The new depth
    makes two trapezoids of one, which changes the area by h/2 times that distance.  A parabola that
    comes out of the water counts to the surface only.  At a dry vertical the bed may break, as at
    the shore of an island: no parabola goes through it.  0 where there are no three depths.

    Raises ValueError for fewer than two verticals or unequal lengths, IndexError when one of the
    two verticals does not exist.

    Source: ours, no source.
    """
    _require_pairs(tape, depth)
    if i < 0 or i + 1 >= len(tape):
        raise IndexError("no two neighbouring verticals have this index")
    has_before = i > 0 and depth[i] != 0.0
    has_after = i + 2 < len(tape) and depth[i + 1] != 0.0
    bend = 0.0
    if has_before:
        bend = _second_difference(tape, depth, i - 1)
    if has_after:
        other = _second_difference(tape, depth, i)
        if not has_before or abs(other) > abs(bend):
            bend = other
    gap = tape[i + 1] - tape[i]
    lower = max(-bend * gap * gap / 4.0, -(depth[i] + depth[i + 1]) / 2.0)
    return lower * gap / 2.0
