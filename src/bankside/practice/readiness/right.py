"""Which tries ended rightly, and which count."""

from __future__ import annotations

from collections.abc import Sequence

from bankside.practice.readiness.requirements import Requirements
from bankside.practice.readiness.tries import Try

__all__ = ["counted_of", "gauged_of", "is_right", "stops_standing"]


def counted_of(tries: Sequence[Try], requirements: Requirements) -> tuple[Try, ...]:
    """Return the tries of one person that count: the last first ones, as many as asked for.

    One that is set aside counts neither for nor against anybody.
    """
    return _firsts(tries)[-requirements.streams :]


def is_right(one: Try, requirements: Requirements) -> bool:
    """Return whether a try ended rightly: read and near enough, or out of the water.

    Figures that were written without a reading show nothing, however near they come, nor does what
    came near by luck.
    """
    if requirements.no_figure_unread and one.unread:
        return False
    near = one.percent is not None and abs(one.percent) <= requirements.within_percent
    return one.left or (near and not one.lacks)


def gauged_of(tries: Sequence[Try], requirements: Requirements) -> tuple[Try, ...]:
    """Return the tries that were gauged rightly, which staying out does not stand for."""
    return tuple(one for one in tries if not one.left and is_right(one, requirements))


def stops_standing(
    tries: Sequence[Try], counted: Sequence[Try], requirements: Requirements
) -> tuple[Try, ...]:
    """Return the tries whose passed-over calls to come out still stand against a person.

    They stand while the try counts, and after that until a stream of the same kind has ended
    rightly: other kinds do not show that it was learned.
    """
    firsts = _firsts(tries)

    def is_learned(place: int) -> bool:
        return any(
            one.stream == firsts[place].stream and not one.stops and is_right(one, requirements)
            for one in firsts[place + 1 :]
        )

    return tuple(
        one
        for place, one in enumerate(firsts)
        if one.stops and (one in counted or not is_learned(place))
    )


def _firsts(tries: Sequence[Try]) -> tuple[Try, ...]:
    return tuple(one for one in tries if one.first and not one.set_aside)
