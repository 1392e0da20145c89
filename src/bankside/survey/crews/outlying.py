"""Which group stands out: Mandel's h and k, and the tests of Cochran and of Grubbs.

By Cochran and Grubbs a group is an outlier beyond the critical value at 1 %, a straggler between
those at 5 % and 1 %; h and k stand above a line at the same levels (ISO 5725-2, from memory).
Critical values are worked out from Student's t and Fisher's F.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Sequence
from typing import Final, Literal

import attrs

from bankside.survey.crews.distributions import f_above, t_above
from bankside.survey.crews.precision import Group, Precision, mean_of

__all__ = [
    "OUTLIER",
    "STRAGGLER",
    "Outlying",
    "Standing",
    "Tested",
    "Word",
    "cochran",
    "cochran_critical",
    "grubbs",
    "grubbs_critical",
    "h_critical",
    "k_critical",
    "standings",
]

OUTLIER: Final = 0.01
STRAGGLER: Final = 0.05
"""Levels beyond which a group is an outlier or a straggler: ISO 5725-2, from memory."""

Word = Literal["", "straggler", "outlier"]
Critical = Callable[[float], float]


@attrs.frozen
class Tested:
    """A figure, from where on it stands out, and the word for it: empty where it does not."""

    value: float
    straggler_from: float
    outlier_from: float

    @property
    def word(self) -> Word:
        """What the figure makes of its group."""
        if abs(self.value) > self.outlier_from:
            return "outlier"
        return "straggler" if abs(self.value) > self.straggler_from else ""


@attrs.frozen
class Standing:
    """A group among the others: h, by how much its mean is off; k, how much its repeats spread.

    None where too few groups or repeats tell it.
    """

    group: Group
    h: Tested | None
    k: Tested | None


@attrs.frozen
class Outlying:
    """The group that a test is about, and what it found."""

    group: Group
    found: Tested


def standings(precision: Precision) -> tuple[Standing, ...]:
    """Return h and k of every group, in the order given.

    h = (ȳ_i − mean of the ȳ) / (standard deviation of the ȳ); k = s_i / s_r.
    """
    means = [group.mean for group in precision.groups]
    spread = _deviation(means)
    centre = mean_of(means)
    found = []
    for group in precision.groups:
        h = None
        if len(means) > 2 and spread > 0.0:
            h = _tested((group.mean - centre) / spread, lambda a: h_critical(len(means), a))
        found.append(Standing(group, h, _k(group, precision)))
    return tuple(found)


def _k(group: Group, precision: Precision) -> Tested | None:
    own = len(group.values) - 1
    others = precision.count - len(precision.groups) - own
    if group.deviation is None or not precision.repeatability or others < 1:
        return None
    return _tested(group.deviation / precision.repeatability, lambda a: k_critical(own, others, a))


def h_critical(groups: int, part: float) -> float:
    """Return the h that a group of three or more exceeds, either way, with this probability.

    h = (p − 1) t / √(p (t² + p − 2)) with t of p − 2 degrees exceeded by part / 2 (ISO 5725-2, from
    memory).
    """
    t = t_above(part / 2.0, groups - 2)
    return (groups - 1) * t / math.sqrt(groups * (t * t + groups - 2))


def k_critical(own: int, others: int, part: float) -> float:
    """Return the k that a group exceeds with this probability.

    own, others: degrees of freedom of its own repeats and of those of all others. From
    F = s_i² / (variance of the others) follows k = √((own + others) / (own + others / F)); with
    n repeats each this is √(p / (1 + (p − 1) / F)), as in ISO 5725-2 (from memory).
    """
    f = f_above(part, own, others)
    return math.sqrt((own + others) / (own + others / f))


def cochran(groups: Sequence[Group]) -> Outlying | None:
    """Return Cochran's C of the group that spreads most: its variance over the sum of all.

    Groups that measured once have none and are left out; the critical value is for as many repeats
    as most groups have (ISO 5725-2, from memory). None for fewer than two groups, or where no
    repeat differs.
    """
    spread = [(group, group.deviation) for group in groups if group.deviation is not None]
    total = math.fsum(deviation * deviation for _, deviation in spread)
    if len(spread) < 2 or total == 0.0:
        return None
    group, most = max(spread, key=lambda pair: pair[1])
    counted = Counter(len(one.values) for one, _ in spread)
    repeats = max(counted, key=lambda n: (counted[n], n))
    found = _tested(most * most / total, lambda a: cochran_critical(len(spread), repeats, a))
    return Outlying(group, found)


def cochran_critical(groups: int, repeats: int, part: float) -> float:
    """Return the C that is exceeded with this probability, of p groups with n repeats each.

    C = F / (F + p − 1), F with n − 1 and (p − 1)(n − 1) degrees exceeded by part / p (from memory).
    """
    f = f_above(part / groups, repeats - 1, (groups - 1) * (repeats - 1))
    return f / (f + groups - 1)


def grubbs(groups: Sequence[Group]) -> Outlying | None:
    """Return Grubbs' G of the mean that is furthest off.

    G is its distance from the mean of all means over their standard deviation. None for fewer than
    three groups, or where none differs.
    """
    means = [group.mean for group in groups]
    spread = _deviation(means)
    if len(groups) < 3 or spread == 0.0:
        return None
    centre = mean_of(means)
    furthest = max(groups, key=lambda group: abs(group.mean - centre))
    value = abs(furthest.mean - centre) / spread
    return Outlying(furthest, _tested(value, lambda a: grubbs_critical(len(groups), a)))


def grubbs_critical(groups: int, part: float) -> float:
    """Return the G that is exceeded on either side with this probability.

    G = (p − 1) / √p · √(t² / (p − 2 + t²)), t of p − 2 degrees exceeded by part / 2p (from memory).
    """
    t = t_above(part / (2.0 * groups), groups - 2)
    return (groups - 1) / math.sqrt(groups) * math.sqrt(t * t / (groups - 2 + t * t))


def _tested(value: float, critical: Critical) -> Tested:
    return Tested(value, critical(STRAGGLER), critical(OUTLIER))


def _deviation(values: Sequence[float]) -> float:
    mean = mean_of(values)
    if len(values) < 2:
        return 0.0
    return math.sqrt(math.fsum((v - mean) * (v - mean) for v in values) / (len(values) - 1))
