"""Repeats of one measurement: how far apart they are, and whether that is to be looked into.

The difference is the relative percent difference |A - B| / mean, as for replicates of water
samples in community monitoring in Yukon (read); from which figure on it is too large is a choice
of each programme, a threshold of the rule set: one for repeats by one crew and one between crews.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import combinations
from typing import Literal

import attrs

from bankside.gauging.last_visit import similar_stage
from bankside.gauging.mean_stage import mean_stage
from bankside.gauging.rule_sets.rule_set import RuleSet, Threshold
from bankside.gauging.units import metres_per
from bankside.kernel.limits import above
from bankside.survey.duplicate_words import duplicates_advice, duplicates_words, pair_words
from bankside.survey.repeats import RepeatGroup, repeat_groups
from bankside.survey.site_names import folded_name
from bankside.survey.visits import Visit

__all__ = [
    "DuplicatePair",
    "Duplicates",
    "Verdict",
    "at_similar_stage",
    "disputed_ids",
    "duplicates_of",
    "relative_percent_difference",
    "same_crew",
    "same_meter",
]

Verdict = Literal["agree", "look", "measure again", "cannot be told"]
"""agree: within the first limit; look: beyond it; measure again: beyond the second one."""


@attrs.frozen
class DuplicatePair:
    """Two gaugings of one flow, the earlier one first.

    `difference_percent` is |A - B| in percent of their mean. `allowed_m3s` is 2 √(u1² + u2²) of
    their stated standard uncertainties and `within_allowed` whether the difference is no more than
    that. `stage_change_m` is the mean stage of the second less that of the first; `similar_stage`
    says whether the level was about the same, so that it was one flow. What cannot be told is None.
    """

    first: Visit
    second: Visit
    difference_percent: float | None
    allowed_m3s: float | None
    within_allowed: bool | None
    same_crew: bool | None
    same_meter: bool | None
    stage_change_m: float | None
    similar_stage: bool | None

    @property
    def words(self) -> str:
        """The difference, what both gaugings state, and what was alike between them."""
        return pair_words(self)


@attrs.frozen
class Duplicates:
    """Two or more gaugings of one flow in order of time, held against each other.

    `linked` says whether a record itself says that it is a repeat. `spread_percent` is the largest
    less the smallest discharge in percent of the mean, for two the relative percent difference;
    None where it cannot be told. Where the level moved between some of them it is the largest
    difference of two at a similar stage. The verdict goes by `look` and `third`, those for one crew
    unless the two furthest apart are known to be of two crews. `stage_moved_m` is by how much the
    level moved where no two were at a similar stage, so that nothing can be told; None otherwise.
    """

    visits: tuple[Visit, ...]
    linked: bool
    pairs: tuple[DuplicatePair, ...]
    mean_m3s: float | None
    spread_percent: float | None
    verdict: Verdict
    look: Threshold
    third: Threshold
    stage_moved_m: float | None

    @property
    def words(self) -> str:
        """How often what was measured, how far apart it is, and what that comes to."""
        return duplicates_words(self)

    @property
    def advice(self) -> str:
        """What to do about it, empty where they agree."""
        return duplicates_advice(self)


def relative_percent_difference(one: float, other: float) -> float | None:
    """Return |A - B| / |mean| in percent, None where that is no finite number."""
    return _percent_of(abs(one - other), (one + other) / 2)


def duplicates_of(visits: Sequence[Visit], rules: RuleSet) -> tuple[Duplicates, ...]:
    """Return every measurement that was repeated, in order of time."""
    return tuple(
        _held_together(group, rules) for group in repeat_groups(visits) if len(group.visits) > 1
    )


def disputed_ids(groups: Iterable[Duplicates]) -> frozenset[str]:
    """Return the ids of the visits whose repeats ask for one more measurement.

    Neither of their figures is to be trusted until it is made.
    """
    return frozenset(
        visit.id for group in groups if group.verdict == "measure again" for visit in group.visits
    )


def at_similar_stage(one: Visit, other: Visit) -> bool | None:
    """Return whether two visits met about the same level, None where no stage tells."""
    return similar_stage(other.gauging, other.result, one.gauging, one.result)


def same_crew(one: Visit, other: Visit) -> bool | None:
    """Return whether the same people made both, None where a crew is not written down."""
    first, second = ({folded_name(m.name) for m in v.gauging.crew} for v in (one, other))
    return first == second if first and second else None


def same_meter(one: Visit, other: Visit) -> bool | None:
    """Return whether one meter made both, by its serial number; two kinds are two meters."""
    first, second = one.gauging.meter, other.gauging.meter
    if first is None or second is None:
        return None
    if first.serial is not None and second.serial is not None:
        return folded_name(first.serial) == folded_name(second.serial)
    if first.kind is None or second.kind is None:
        return None
    return None if folded_name(first.kind) == folded_name(second.kind) else False


def _held_together(group: RepeatGroup, rules: RuleSet) -> Duplicates:
    pairs = tuple(_pair(one, other) for one, other in combinations(group.visits, 2))
    alike = [pair for pair in pairs if pair.similar_stage is not False]
    flows = [v.final_m3s for v in group.visits if v.final_m3s is not None]
    mean = math.fsum(flows) / len(flows) if flows else None
    spread = None
    if mean is not None and len(flows) == len(group.visits):
        spread = _percent_of(max(flows) - min(flows), mean)
    if alike and len(alike) < len(pairs) and spread is not None:
        spread = _difference(_widest(alike))
    look, third = _limits(_widest(alike or pairs), rules)
    return Duplicates(
        visits=group.visits,
        linked=group.linked,
        pairs=pairs,
        mean_m3s=mean,
        spread_percent=spread,
        verdict=_verdict(alike, spread, third, rules) if alike else "cannot be told",
        look=look,
        third=third,
        stage_moved_m=None if alike else max(abs(p.stage_change_m or 0.0) for p in pairs),
    )


def _difference(pair: DuplicatePair) -> float:
    return math.inf if pair.difference_percent is None else pair.difference_percent


def _widest(pairs: Sequence[DuplicatePair]) -> DuplicatePair:
    return max(pairs, key=_difference)


def _limits(pair: DuplicatePair, rules: RuleSet) -> tuple[Threshold, Threshold]:
    """Return the limits for two gaugings; where the crews are not known those for one (ours)."""
    if pair.same_crew is False:
        return rules["duplicate_crews_look"], rules["duplicate_crews_third"]
    return rules["duplicate_look"], rules["duplicate_third"]


def _percent_of(amount: float, mean: float) -> float | None:
    if amount == 0:
        return 0.0
    percent = 100 * amount / abs(mean) if mean else math.inf
    return percent if math.isfinite(percent) else None


def _verdict(
    pairs: Sequence[DuplicatePair], spread: float | None, third: Threshold, rules: RuleSet
) -> Verdict:
    """Return what the differences at a similar stage come to.

    Of three or more, two that agree tell that another one is off: to look into, and no further
    measurement is asked for (ours).
    """
    if spread is None:
        return "cannot be told"
    look, _ = _limits(_widest(pairs), rules)
    if not above(spread, look.si):
        return "agree"
    settled = any(not above(_difference(pair), _limits(pair, rules)[0].si) for pair in pairs)
    return "look" if settled or not above(spread, third.si) else "measure again"


def _pair(one: Visit, other: Visit) -> DuplicatePair:
    difference = percent = allowed = change = None
    if one.final_m3s is not None and other.final_m3s is not None:
        difference = abs(one.final_m3s - other.final_m3s)
        percent = relative_percent_difference(one.final_m3s, other.final_m3s)
    u_one, u_other = one.standard_uncertainty_m3s, other.standard_uncertainty_m3s
    if u_one is not None and u_other is not None:
        allowed = 2 * math.hypot(u_one, u_other)
    stage_one, stage_other = _stage_m(one), _stage_m(other)
    if stage_one is not None and stage_other is not None:
        change = stage_other - stage_one
    return DuplicatePair(
        first=one,
        second=other,
        difference_percent=percent,
        allowed_m3s=allowed,
        within_allowed=None if allowed is None or difference is None else difference <= allowed,
        same_crew=same_crew(one, other),
        same_meter=same_meter(one, other),
        stage_change_m=change,
        similar_stage=at_similar_stage(one, other),
    )


def _stage_m(visit: Visit) -> float | None:
    stage = mean_stage(visit.gauging, visit.result)
    return None if stage is None else stage.value * metres_per(stage.unit)
