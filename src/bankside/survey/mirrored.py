"""Whether a section fits an earlier one of its site better when it is turned about.

A tape that was read from the other bank, or banks that were named facing upstream, leave the
discharge as it is and mirror the section: plots, repeats and passage strips are then wrong.
"""

from __future__ import annotations

import math
import statistics
from collections.abc import Sequence
from typing import Literal

import attrs

from bankside.gauging.rule_sets.rule_set import RuleSet, Threshold
from bankside.kernel.limits import above
from bankside.survey.in_time import in_time
from bankside.survey.profiles import Profile, profile_of, sampled
from bankside.survey.visits import Visit
from bankside.survey.words import visit_words

__all__ = ["Fit", "Mirrored", "fit_of", "mirrored_of"]

# Ours, no source: places at which two profiles are held together, whatever verticals they have.
_PLACES = tuple((i + 0.5) / 50 for i in range(50))
# Ours, no source: below this even the better way round is no likeness.
_ALIKE = 0.5


@attrs.frozen
class Fit:
    """How alike two profiles are: Pearson's correlation as they stand, and with one turned about.

    None where one of them has the same figure everywhere.
    """

    direct: float | None
    reversed: float | None

    @property
    def margin(self) -> float | None:
        """By how much turned about is better, negative where it is worse."""
        if self.direct is None or self.reversed is None:
            return None
        return self.reversed - self.direct


@attrs.frozen
class Mirrored:
    """A section that fits an earlier one of its site better when it is turned about.

    `by` is what tells it. `banks_named` says whether both records name their banks, so that the
    names are the ones to doubt, and not only the end of the tape.
    """

    visit: Visit
    earlier: Visit
    depth: Fit
    velocity: Fit
    by: Literal["depth", "velocity"]
    banks_named: bool
    threshold: Threshold

    @property
    def words(self) -> str:
        """What fits what, with both correlations."""
        fit = self.depth if self.by == "depth" else self.velocity
        other = visit_words(self.earlier)
        return (
            f"The {self.by} across the water fits {other} better turned about: correlation "
            f"{fit.reversed or 0.0:.2f} instead of {fit.direct or 0.0:.2f}, more than "
            f"{self.threshold.words()} better."
        )

    @property
    def advice(self) -> str:
        """What to do about it; the discharge is not concerned."""
        if self.banks_named:
            return (
                "Ask the crew at which bank the tape began, whether left and right were named "
                "facing downstream, and whether it was the same section. The discharge stays."
            )
        return (
            "Ask the crew from which bank the tape was read and whether it was the same section, "
            "and name left and right edge in both records. The discharge stays."
        )


def fit_of(
    one: tuple[Sequence[float], Sequence[float]], other: tuple[Sequence[float], Sequence[float]]
) -> Fit:
    """Return how alike two profiles are, each given as places from 0 to 1 and values there."""
    first, second = sampled(*one, _PLACES), sampled(*other, _PLACES)
    return Fit(_correlation(first, second), _correlation(first[::-1], second))


def mirrored_of(visits: Sequence[Visit], rules: RuleSet) -> tuple[Mirrored, ...]:
    """Return the visits whose section fits the visit before better turned about.

    The visit before is the last finished one of the site that has a profile; one that is under way
    is held against none. Depth tells it, or else
    velocity, where the other one does not say as clearly that nothing is turned about.
    """
    last: dict[str, tuple[Visit, Profile]] = {}
    found = []
    for visit in in_time(visits):
        profile = profile_of(visit)
        if visit.site is None or visit.day is None or profile is None or not visit.finished:
            continue
        if visit.site.id in last:
            earlier, before = last[visit.site.id]
            told = _turned(visit, profile, earlier, before, rules["mirror_margin"])
            found += [] if told is None else [told]
        last[visit.site.id] = visit, profile
    return tuple(found)


def _turned(
    visit: Visit, profile: Profile, earlier: Visit, before: Profile, threshold: Threshold
) -> Mirrored | None:
    depth = fit_of((profile.places, profile.depths_m), (before.places, before.depths_m))
    velocity = fit_of(
        (profile.places, profile.velocities_ms), (before.places, before.velocities_ms)
    )
    named = profile.from_left is not None and before.from_left is not None
    by: Literal["depth", "velocity"]
    if _tells(depth, velocity, threshold):
        by = "depth"
    elif _tells(velocity, depth, threshold):
        by = "velocity"
    else:
        return None
    return Mirrored(visit, earlier, depth, velocity, by, named, threshold)


def _tells(fit: Fit, other: Fit, threshold: Threshold) -> bool:
    """Return whether one quantity says that a section is turned about, and the other allows it."""
    if fit.margin is None or fit.reversed is None or fit.reversed < _ALIKE:
        return False
    against = other.margin is not None and other.margin < -threshold.si
    return above(fit.margin, threshold.si) and not against


def _correlation(one: Sequence[float], other: Sequence[float]) -> float | None:
    try:
        found = statistics.correlation(one, other)
    except statistics.StatisticsError:
        return None
    return found if math.isfinite(found) else None
