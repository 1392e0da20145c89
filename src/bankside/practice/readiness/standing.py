"""Whether a person is ready, and what is still to be shown, in kind words."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

import attrs

from bankside.practice.debrief.source_words import SOURCES
from bankside.practice.readiness.requirements import Requirements
from bankside.practice.readiness.right import counted_of, gauged_of, is_right
from bankside.practice.readiness.still import still_to_come
from bankside.practice.readiness.tries import Try

__all__ = ["PersonStanding", "standings_of"]


@attrs.frozen
class PersonStanding:
    """What one person has shown: the tries that count, all tries, and what is still to come.

    `within` says how many of those that count ended rightly, and `gauged` how many of these were
    gauged; at the others somebody stayed or came out. `bias` and `spread` are mean and standard
    deviation of the errors that count, in percent, None where too few tell them. `cost_most` is
    what cost most oftenest. `ready` where `still` is empty.
    """

    person: str
    tries: tuple[Try, ...]
    counted: tuple[Try, ...]
    within: int
    gauged: int
    bias: float | None
    spread: float | None
    cost_most: str
    still: tuple[str, ...]

    @property
    def ready(self) -> bool:
        """Whether all that the leader asks for was shown."""
        return not self.still


def standings_of(tries: Sequence[Try], requirements: Requirements) -> tuple[PersonStanding, ...]:
    """Return how each person stands, in the order of names.

    The last first tries count, as many as are asked for: a day that went badly is overcome by
    better ones, and no stream counts twice. Who stayed out of what could be waded is neither
    credited nor blamed: that try is left aside.
    """
    people: dict[str, list[Try]] = {}
    for one in tries:
        people.setdefault(one.person.casefold(), []).append(one)
    return tuple(_standing(people[key], requirements) for key in sorted(people))


def _standing(tries: Sequence[Try], requirements: Requirements) -> PersonStanding:
    counted = counted_of(tries, requirements)
    errors = [one.percent for one in counted if one.percent is not None and not one.left]
    within = sum(1 for one in counted if is_right(one, requirements))
    bias = sum(errors) / len(errors) if errors else None
    spread = None
    if bias is not None and len(errors) > 1:
        spread = (sum((e - bias) * (e - bias) for e in errors) / (len(errors) - 1)) ** 0.5
    return PersonStanding(
        *(tries[0].person, tuple(tries), counted, within),
        *(len(gauged_of(counted, requirements)), bias, spread),
        cost_most=_cost_most(counted),
        still=tuple(still_to_come(tries, counted, requirements)),
    )


def _cost_most(counted: Sequence[Try]) -> str:
    """Return what cost most oftenest; what the method itself costs is nobody's to mend."""
    largest = Counter(
        one.largest for one in counted if not one.left and one.largest not in (None, "points")
    )
    for source, _ in largest.most_common(1):
        if source is not None:
            return SOURCES[source].name
    return ""
