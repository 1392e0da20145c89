"""Which share of the visits was measured twice, beside what the survey asks for."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

import attrs

from bankside.kernel.limits import below
from bankside.survey.duplicates import at_similar_stage
from bankside.survey.records import Survey
from bankside.survey.repeats import RepeatGroup, repeat_groups
from bankside.survey.visits import Visit

__all__ = ["DuplicateShare", "duplicate_share"]


@attrs.frozen
class DuplicateShare:
    """How many visits to a site gave a discharge, and how many of them gave it twice.

    A visit is all that was gauged at one site on one day. `percent` is None without a visit;
    `target_percent` is what the survey asks for, if it asks, and `missing` how many more visits
    have to be measured twice until it is met.
    """

    visits: int
    duplicated: int
    percent: float | None
    target_percent: float | None
    missing: int
    words: str


def duplicate_share(survey: Survey, visits: Sequence[Visit]) -> DuplicateShare:
    """Return the share of visits that were measured twice or more.

    Gaugings that give no discharge, or are not finished, count for nothing; those between which the
    level moved are no duplicate.
    """
    groups = repeat_groups([visit for visit in visits if visit.final_m3s is not None])
    count, twice = len(groups), sum(map(_is_duplicate, groups))
    moved = sum(1 for group in groups if len(group.visits) > 1) - twice
    percent = 100 * twice / count if count else None
    target = survey.duplicates_percent
    missing = 0
    if percent is not None and target is not None:
        missing = next(n for n in range(count - twice + 1) if not _short(twice + n, count, target))
    return DuplicateShare(
        count,
        twice,
        percent,
        target,
        missing,
        _words(count, twice, percent, target, missing) + _moved_words(moved),
    )


def _is_duplicate(group: RepeatGroup) -> bool:
    """Return whether one flow was measured twice: two gaugings with no move of the level known."""
    pairs = combinations(group.visits, 2)
    return any(at_similar_stage(one, other) is not False for one, other in pairs)


def _moved_words(count: int) -> str:
    if not count:
        return ""
    visits = "visit was" if count == 1 else "visits were"
    return f" {count} further {visits} measured twice at two stages and counted as measured once."


def _short(twice: int, count: int, target: float) -> bool:
    return below(100 * twice / count, target)


def _words(
    count: int, twice: int, percent: float | None, target: float | None, missing: int
) -> str:
    if percent is None:
        return "No visit gave a discharge."
    told = f"{twice} of {count} visits were measured twice or more, {percent:.0f} %"
    if target is None:
        return f"{told}; the survey sets no share."
    if not missing:
        return f"{told}; the survey asks for {target:g} %."
    return f"{told}, less than the {target:g} % that the survey asks for: {missing} more are due."
