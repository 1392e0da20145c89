"""Whether a person is ready, and what is still to be shown, in kind words."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import Final

import attrs

from bankside.practice.debrief.source_words import SOURCES
from bankside.practice.readiness.requirements import Requirements
from bankside.practice.readiness.tries import Try

__all__ = ["PersonStanding", "counted_of", "standings_of"]

# So many verticals may have figures that nobody read (ours): one may be a mark written wrongly.
_UNREAD_MOST: Final = 1


@attrs.frozen
class PersonStanding:
    """What one person has shown: the tries that count, all tries, and what is still to come.

    `bias` and `spread` are mean and standard deviation of the errors that count, in percent, None
    where too few tell them. `cost_most` is what cost most oftenest. `ready` where `still` is empty.
    """

    person: str
    tries: tuple[Try, ...]
    counted: tuple[Try, ...]
    within: int
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


def counted_of(tries: Sequence[Try], requirements: Requirements) -> tuple[Try, ...]:
    """Return the tries of one person that count: the last first ones, as many as asked for.

    One that is set aside counts neither for nor against anybody.
    """
    firsts = [one for one in tries if one.first and not one.set_aside]
    return tuple(firsts[-requirements.streams :])


def _standing(tries: Sequence[Try], requirements: Requirements) -> PersonStanding:
    counted = counted_of(tries, requirements)
    errors = [one.percent for one in counted if one.percent is not None and not one.left]
    within = sum(1 for one in counted if _is_right(one, requirements))
    bias = sum(errors) / len(errors) if errors else None
    spread = None
    if bias is not None and len(errors) > 1:
        spread = (sum((e - bias) * (e - bias) for e in errors) / (len(errors) - 1)) ** 0.5
    return PersonStanding(
        *(tries[0].person, tuple(tries), counted, within, bias, spread),
        cost_most=_cost_most(counted),
        still=tuple(_still(counted, within, requirements)),
    )


def _is_right(one: Try, requirements: Requirements) -> bool:
    """Return whether a try ended rightly: read and near enough, or out of the water.

    Figures that were written without a reading show nothing, however near they come.
    """
    near = one.percent is not None and abs(one.percent) <= requirements.within_percent
    return one.left or (near and _is_read(one))


def _is_read(one: Try) -> bool:
    return one.unread <= _UNREAD_MOST


def _cost_most(counted: Sequence[Try]) -> str:
    """Return what cost most oftenest; what the method itself costs is nobody's to mend."""
    largest = Counter(
        one.largest for one in counted if not one.left and one.largest not in (None, "points")
    )
    for source, _ in largest.most_common(1):
        if source is not None:
            return SOURCES[source].name
    return ""


def _still(counted: Sequence[Try], within: int, requirements: Requirements) -> Iterator[str]:
    """Yield what is still to be shown, one friendly sentence each."""
    streams = requirements.streams
    if len(counted) < streams:
        more = streams - len(counted)
        yield f"{_streams(more)} more to gauge for the first time."
    elif within < streams:
        yield (
            f"{within} of the last {streams} came within ± {requirements.within_percent:g} %; the "
            f"next ones will push the others out."
        )
    gauged = {one.stream for one in counted if not one.left}
    if len(gauged) < requirements.kinds:
        yield (
            f"Streams of {requirements.kinds} kinds are asked for; so far {len(gauged)} are gauged."
        )
    if not all(map(_is_read, counted)):
        yield (
            "Figures were written at marks where nobody stood the rod or held the meter: read "
            "them, or leave the mark out. A sheet with a gap is worth more than a made-up one."
        )
    met = {one.stream for one in counted}
    for name in requirements.must:
        if name not in met:
            yield f'The stream "{name}" is still to come.'
    stops = sum(one.stops for one in counted)
    if requirements.no_stop_ignored and stops:
        yield (
            "A finding that calls everybody out was passed over: come out or put it right, every "
            "time; an answer does not stand for that. In real water it may be somebody's life."
        )
    unmended = sum(one.unmended for one in counted if not one.left)
    if requirements.no_fix_now_open and unmended:
        yield (
            'A finding of "fix now" was left open: put it right while you are there, or answer it '
            "with a reason."
        )


def _streams(count: int) -> str:
    return "One stream" if count == 1 else f"{count} streams"
