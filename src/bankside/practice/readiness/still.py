"""What is still to be shown before somebody is ready, in kind words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from bankside.practice.debrief.lacks import Lack
from bankside.practice.readiness.requirements import Requirements
from bankside.practice.readiness.right import gauged_of, is_right, stops_standing
from bankside.practice.readiness.tries import Try

__all__ = ["still_to_come"]

_LACKS: Final[Mapping[Lack, str]] = {
    "nobody looked": "The level rose, and nobody looked at the gauge in time: look between "
    "verticals, write it down, and leave the water when it calls.",
    "too short": "The meter was held too briefly at most points: stay as long as the rule set asks "
    "for. What comes near in a few seconds is luck.",
    "wading unexplained": "A finding on water that is nearly too strong or too deep was left open: "
    "let the leader decide, and write down why somebody stood there, or choose another section.",
}


def still_to_come(
    tries: Sequence[Try], counted: Sequence[Try], requirements: Requirements
) -> Iterator[str]:
    """Yield what a person has still to show, one friendly sentence each.

    `tries` are all of the person's, in their order, and `counted` those that count.
    """
    yield from _in_number(counted, requirements)
    yield from _in_kind(counted, requirements)
    yield from _unread(counted, requirements)
    for lack, sentence in _LACKS.items():
        if any(lack in one.lacks for one in counted if not one.left):
            yield sentence
    stopped = stops_standing(tries, counted, requirements)
    if requirements.no_stop_ignored and stopped:
        kinds = ", ".join(dict.fromkeys(f'"{one.stream}"' for one in stopped))
        yield (
            f"A finding that calls everybody out was passed over ({kinds}): come out or put it "
            "right, every time; an answer does not stand for that. It stands until a stream of "
            "that kind has ended rightly. In real water it may be somebody's life."
        )
    unmended = sum(one.unmended for one in _since(tries, counted) if not one.left)
    if requirements.no_fix_now_open and unmended:
        yield (
            'A finding of "fix now" was left open: put it right while you are there, or answer it '
            "with a reason."
        )


def _in_number(counted: Sequence[Try], requirements: Requirements) -> Iterator[str]:
    streams, asked = requirements.streams, requirements.gauged
    right = sum(1 for one in counted if is_right(one, requirements))
    if len(counted) < streams:
        yield f"{_streams(streams - len(counted))} more to gauge for the first time."
    elif right < streams:
        yield (
            f"{right} of the last {streams} ended rightly: within "
            f"± {requirements.within_percent:g} %, or out of the water where that was asked for; "
            "the next ones will push the others out."
        )
    gauged = len(gauged_of(counted, requirements))
    if len(counted) >= streams and gauged < asked:
        yield (
            f"At least {asked} of the last {streams} are to be gauged within the limit; so far "
            f"{gauged} are. Whoever stayed out rightly has lost nothing by it: gauge others."
        )


def _in_kind(counted: Sequence[Try], requirements: Requirements) -> Iterator[str]:
    gauged = {one.stream for one in counted if not one.left}
    if len(gauged) < requirements.kinds:
        yield (
            f"Streams of {requirements.kinds} kinds are asked for; so far {len(gauged)} are gauged."
        )
    met = {one.stream for one in counted}
    for name in requirements.must:
        if name not in met:
            yield f'The stream "{name}" is still to come.'


def _unread(counted: Sequence[Try], requirements: Requirements) -> Iterator[str]:
    unread = [one for one in counted if one.unread]
    if requirements.no_figure_unread and unread:
        marks = "; ".join(f"{one.stream} {one.seed}{_at(one)}" for one in unread)
        yield (
            f"Figures were written where nobody stood the rod or held the meter ({marks}): read "
            "them, put a mark right that was written wrongly, or leave it out. A sheet with a gap "
            "is worth more than a made-up one."
        )


def _at(one: Try) -> str:
    """Return where figures were not read; records of before do not say it."""
    return f": {one.unread_at}" if one.unread_at else ""


def _since(tries: Sequence[Try], counted: Sequence[Try]) -> Sequence[Try]:
    """Return the first tries since the first that counts, those that are set aside as well."""
    firsts = [one for one in tries if one.first]
    return firsts[firsts.index(counted[0]) :] if counted else firsts


def _streams(count: int) -> str:
    return "One stream" if count == 1 else f"{count} streams"
