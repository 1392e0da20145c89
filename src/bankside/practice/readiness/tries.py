"""What somebody did at practice streams, worked out anew from the sessions themselves.

A session holds every act, so nothing has to be believed: error, findings and section are worked out
again. Of several sessions at one stream the first counts, as its debrief tells what is true there.
"""

from __future__ import annotations

from collections.abc import Sequence

import attrs

from bankside.gauging.faults import Fault, InputRefused
from bankside.practice.debrief.debrief import debrief
from bankside.practice.debrief.heeded import (
    came_out,
    ignored_stops,
    left_to_mend,
)
from bankside.practice.debrief.judgement import judge, rows_of
from bankside.practice.debrief.parts import Source
from bankside.practice.debrief.read_on import broken_off
from bankside.practice.session.document import Practice
from bankside.practice.session.followed import follow

__all__ = ["Try", "in_order", "tries_of", "try_of"]


@attrs.frozen
class Try:
    """One session: how far off it was in percent, what cost most, and which findings were ignored.

    `percent` is None where it gives no discharge, and `refused` then says why. `stops` counts the
    findings that called everybody out and were passed over, `unmended` those that were to be put
    right in the water and were left open, `unread` the verticals with figures that nobody read.
    `left` says whether somebody was called out and came out before all was read, or stayed out
    where nobody should go in: that is the right end, whatever the discharge. `set_aside` says
    whether somebody stayed out of what could be waded, or came out unbidden: it counts neither for
    nor against. `first` says whether it was the person's first try at that stream.
    """

    person: str
    day: str | None
    stream: str
    seed: int
    percent: float | None
    largest: Source | None
    better_section: bool
    stops: int
    first: bool
    unmended: int = 0
    unread: int = 0
    left: bool = False
    set_aside: bool = False
    refused: str = ""


def tries_of(practices: Sequence[Practice]) -> tuple[Try, ...]:
    """Return the tries of all persons, by day, in the order given; InputRefused without a name."""
    return in_order([try_of(practice) for practice in practices])


def in_order(tries: Sequence[Try]) -> tuple[Try, ...]:
    """Return tries by day, else in the order given, each told whether it was the first there."""
    seen: set[tuple[str, str, int]] = set()
    found = []
    for one in sorted(tries, key=lambda each: each.day or "9999"):
        key = (one.person.casefold(), one.stream, one.seed)
        found.append(attrs.evolve(one, first=key not in seen))
        seen.add(key)
    return tuple(found)


def _person(practice: Practice) -> str:
    if practice.person is None:
        message = (
            f"person must be given for the record of who is ready (got nothing at the stream "
            f'"{practice.session.stream}", {practice.session.seed})'
        )
        raise InputRefused([Fault(message, path="person")])
    return " ".join(practice.person.split())


def try_of(practice: Practice) -> Try:
    """Return what one session came to, as if it were the first; InputRefused without a name."""
    session = practice.session
    day = None if practice.day is None else practice.day.isoformat()
    where = (_person(practice), day, session.stream, session.seed)
    judged = judge(practice)
    if judged is not None:
        return Try(
            *(*where, None, None, False, judged.stops, True),
            left=judged.right,
            set_aside=judged.set_aside,
            refused=judged.verdict,
        )
    try:
        found = debrief(practice)
    except InputRefused as error:
        why = "; ".join(fault.message for fault in error.faults)
        followed = follow(session)
        rows = rows_of(practice, followed)
        left = came_out(rows) and broken_off(followed)
        stops, unmended = ignored_stops(rows), left_to_mend(rows)
        return Try(*where, None, None, False, stops, True, unmended, left=left, refused=why)
    return Try(
        *where,
        percent=found.percent,
        largest=found.parts.largest,
        better_section=found.section == found.parts.best,
        stops=ignored_stops(found.findings),
        first=True,
        unmended=left_to_mend(found.findings),
        unread=found.unread,
        left=found.left,
    )
