"""Repeatability and reproducibility of one quantity that several groups measured, one way.

After ISO 5725-2 (from memory): laboratories are groups, here crews, meters or persons; replicates
are the measurements of one group. A measurement is m + B + e, with B of the group and e of the
single measurement.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import attrs

__all__ = ["Group", "Precision", "mean_of", "precision_of"]


@attrs.frozen
class Group:
    """The measurements of one group, all of one quantity in one unit."""

    name: str
    values: tuple[float, ...]

    @property
    def mean(self) -> float:
        """The mean of its measurements."""
        return mean_of(self.values)

    @property
    def deviation(self) -> float | None:
        """The standard deviation within the group, None where it measured once."""
        if len(self.values) < 2:
            return None
        return math.sqrt(self.squares / (len(self.values) - 1))

    @property
    def squares(self) -> float:
        """The sum of the squares of what its measurements differ from its mean."""
        mean = self.mean
        return math.fsum((value - mean) * (value - mean) for value in self.values)


@attrs.frozen
class Precision:
    """What groups come to together, in the unit of their values.

    `mean` is that of all measurements. `repeatability` s_r is the standard deviation within groups,
    None where no group measured twice. `between` s_L is that of the groups' own offsets, 0 where
    the groups differ no more than their repeats make likely, and `reproducibility` s_R is
    √(s_L² + s_r²); both are None for one group alone. Where no group measured twice s_R is the
    standard deviation of the measurements, and s_L cannot be told.
    """

    groups: tuple[Group, ...]
    count: int
    mean: float
    repeatability: float | None
    between: float | None
    reproducibility: float | None


def mean_of(values: Sequence[float]) -> float:
    """Return the mean of values, of which there is at least one."""
    return math.fsum(values) / len(values)


def precision_of(groups: Sequence[Group]) -> Precision:
    """Return repeatability and reproducibility; ValueError without any measurement.

    With n_i measurements of group i, N of all, p groups and the mean square between groups
    s_d² = Σ n_i (ȳ_i − ȳ)² / (p − 1): s_L² = (s_d² − s_r²) / n̿, n̿ = (N − Σ n_i² / N) / (p − 1),
    a negative s_L² being taken for 0 (ISO 5725-2, from memory).
    """
    counts = [len(group.values) for group in groups]
    count = sum(counts)
    if not groups or min(counts) < 1:
        raise ValueError("every group must have a measurement, and there must be one")
    mean = mean_of([value for group in groups for value in group.values])
    within = count - len(groups)
    repeatability = None
    if within:
        repeatability = math.sqrt(math.fsum(group.squares for group in groups) / within)
    if len(groups) < 2:
        return Precision(tuple(groups), count, mean, repeatability, None, None)
    free = len(groups) - 1
    square = math.fsum(
        n * (group.mean - mean) * (group.mean - mean)
        for n, group in zip(counts, groups, strict=True)
    )
    if repeatability is None:
        whole = math.sqrt(square / free)
        return Precision(tuple(groups), count, mean, None, None, whole)
    weight = (count - sum(n * n for n in counts) / count) / free
    inside = repeatability * repeatability
    between = max(0.0, (square / free - inside) / weight)
    return Precision(
        *(tuple(groups), count, mean, repeatability, math.sqrt(between)),
        reproducibility=math.sqrt(between + inside),
    )
