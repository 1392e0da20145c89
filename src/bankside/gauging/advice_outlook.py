"""How a gauging stands to its target: what is open, and what more time in the water would do."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import attrs

from bankside.gauging.advice_acts import SECONDS_TO_MOVE
from bankside.gauging.advice_design import Cut, at_two_points, with_cuts
from bankside.gauging.advice_grounds import Grounds
from bankside.gauging.checks.examined import Examined
from bankside.gauging.checks.vertical_count import is_reading, verticals_wanted, water_width

__all__ = ["MOST_MORE", "Outlook", "outlook_of"]

MOST_MORE: Final = 25
"""What the time of so many more verticals would bring tells whether a target can be reached."""

# An act that takes less than both off half the interval is not worth a minute in the water: percent
# of the discharge, and a part of the interval (ours).
_LEAST_GAIN: Final = 0.1
_LEAST_PART: Final = 0.05

# Fewer readings than this tell too little of a section to send a crew away from it, and the margin
# that one of them asks for: tried on simulated streams (docs/advice.md).
_FEWEST_TO_TELL: Final = 8
_MARGIN: Final = 2.0


@attrs.frozen
class Outlook:
    """How a gauging stands to its target; all percents are half an interval of 95 %.

    `now` is what is open, `at_best` what 25 more verticals would leave, or second points in their
    time, `room` how many of the 25 have a place where somebody may be sent, `floor` what is the
    same at all verticals. `read` verticals have been read, `missing` more does the rule set called
    `rules` want, `needed` more reach the target, None where 25 do not or there is none. `common`
    says whether what is the same at all verticals counts, `share_limit` what percent of the
    discharge a panel may carry by the rule set, where one carries more.
    """

    rules: str
    target: float | None
    now: float
    at_best: float
    room: int
    floor: float
    read: int
    missing: int
    needed: int | None
    common: bool
    share_limit: float | None = None

    @property
    def departs(self) -> bool:
        """Whether who stops now departs from the rule set."""
        return self.missing > 0 or self.share_limit is not None

    @property
    def reached(self) -> bool:
        """Whether there is a target, and it is met."""
        return self.target is not None and self.now <= self.target

    @property
    def hopeless(self) -> bool:
        """Whether there is a target that not even 25 more verticals are likely to meet.

        What few readings make likely turns out too dark as often as too bright, so that they need
        a margin, which goes with their number.
        """
        if self.target is None or self.reached or self.read < _FEWEST_TO_TELL:
            return False
        return self.at_best > self.target * (1.0 + _MARGIN / self.read)

    @property
    def least_gain(self) -> float:
        """What an act has to take off half the interval to be worth its time, in percent.

        On the way to a target that is not met, what brings its part of what is missing is enough.
        """
        least = min(_LEAST_GAIN, _LEAST_PART * self.now)
        if self.target is None or self.reached:
            return least
        return min(least, (self.now - self.target) / MOST_MORE)


def outlook_of(
    examined: Examined,
    grounds: Grounds,
    likely: Grounds,
    planned: Sequence[Cut],
    target: float | None,
    *,
    common: bool,
) -> Outlook:
    """Return how a gauging stands to a target.

    `likely` are the same grounds with the characters that count, `planned` the cuts of 25 more
    verticals.
    """
    wanted, _ = verticals_wanted(examined, sum(map(water_width, examined.channels)))
    read = sum(is_reading(spot) for spot in examined.spots)
    now = grounds.section.half_width(0.95, common=common)
    at_best = needed = None
    if target is not None and now > target:
        at_best = _at_best(likely, planned, common=common)
        then = with_cuts(likely.section, planned, likely.how)
        if then.half_width(0.95, common=common) <= target:
            needed = _needed(likely, planned, target, common=common)
    return Outlook(
        rules=examined.rules.name,
        target=target,
        now=now,
        at_best=now if at_best is None else at_best,
        room=len(planned),
        floor=grounds.section.floor if common else 0.0,
        read=read,
        missing=max(int(wanted) - read, 0),
        needed=needed,
        common=common,
        share_limit=examined.rules.si("panel_share_limit") if grounds.heavy else None,
    )


def _at_best(grounds: Grounds, planned: Sequence[Cut], *, common: bool) -> float:
    """Return what would be left after the time of 25 more verticals, in percent.

    All of it is spent on them, or half of it, or none, and the rest on second points.
    """
    how = grounds.how
    second = SECONDS_TO_MOVE + 2.0 * how.seconds
    left = []
    for verticals in (MOST_MORE, MOST_MORE // 2, 0):
        time = (MOST_MORE - verticals) * (SECONDS_TO_MOVE + how.seconds)
        then = with_cuts(grounds.section, planned[:verticals], how)
        then = at_two_points(then, int(time / second), how, grounds.open_again)
        left.append(then.half_width(0.95, common=common))
    return min(left)


def _needed(grounds: Grounds, planned: Sequence[Cut], target: float, *, common: bool) -> int:
    """Return how many of the planned verticals reach the target, as all of them do."""
    low, high = 0, len(planned)
    while high - low > 1:
        middle = (low + high) // 2
        then = with_cuts(grounds.section, planned[:middle], grounds.how)
        if then.half_width(0.95, common=common) <= target:
            high = middle
        else:
            low = middle
    return high
