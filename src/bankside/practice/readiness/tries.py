"""What somebody did at practice streams, worked out anew from the sessions themselves.

A session holds every act, so nothing has to be believed: error, findings and section are worked out
again. Of several sessions at one stream the first counts, as its debrief tells what is true there.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import attrs

from bankside.gauging.faults import Fault, InputRefused
from bankside.practice.debrief.debrief import debrief
from bankside.practice.debrief.heeded import (
    came_out,
    ignored_stops,
    left_to_mend,
)
from bankside.practice.debrief.judgement import judge, rows_of, was_called
from bankside.practice.debrief.lacks import Lack
from bankside.practice.debrief.parts import Source
from bankside.practice.debrief.read_on import broken_off
from bankside.practice.session.document import Practice
from bankside.practice.session.followed import follow

__all__ = ["Try", "in_order", "tries_of", "try_of"]


def _lacks(said: Iterable[Lack]) -> tuple[Lack, ...]:
    """Return them as they are kept: JSON has lists."""
    return tuple(said)


@attrs.frozen
class Try:
    """One session: how far off it was in percent, what cost most, and which findings were ignored.

    `percent` is None where it gives no discharge, and `refused` then says why. `stops` counts the
    findings that called everybody out and were passed over, `unmended` those that were to be put
    right in the water and were left open, `unread` the verticals with figures that nobody read, and
    `unread_at` says where. `lacks` is what it lacks however near it came.
    `left` says whether somebody was called out and came out before all was read, or stayed out
    where nobody should go in: that is the right end, whatever the discharge. `set_aside` says
    whether somebody stayed out of what could be waded, came out unbidden, or was called out by a
    figure that the stream never showed: it counts neither for nor against. `first` says whether
    it was the person's first try at that stream.
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
    unread_at: str = ""
    lacks: tuple[Lack, ...] = attrs.field(default=(), converter=_lacks)
    left: bool = False
    set_aside: bool = False
    refused: str = ""


def tries_of(practices: Sequence[Practice]) -> tuple[Try, ...]:
    """Return the tries of all persons, by day, in the order given; InputRefused without a name."""
    return in_order([try_of(practice) for practice in practices])


def in_order(tries: Sequence[Try]) -> tuple[Try, ...]:
    """Return tries by day, else in the order given, each told whether it was the first there.

    Those without a day come before all others, so that none counts as the newest, and none of them
    is the first at a stream where another has a day.
    """
    dated = {_where(one) for one in tries if one.day is not None}
    seen: set[tuple[str, str, int]] = set()
    found = []
    for one in sorted(tries, key=lambda each: each.day or ""):
        where = _where(one)
        first = where not in seen and (one.day is not None or where not in dated)
        found.append(attrs.evolve(one, first=first))
        seen |= {where} if first else set()
    return tuple(found)


def _where(one: Try) -> tuple[str, str, int]:
    return one.person.casefold(), one.stream, one.seed


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
        out = came_out(rows) and broken_off(followed)
        left = out and was_called(practice, followed, rows)
        return Try(
            *(*where, None, None, False, ignored_stops(rows), True, left_to_mend(rows)),
            left=left,
            set_aside=out and not left,
            refused=why,
        )
    return Try(
        *where,
        percent=found.percent,
        largest=found.parts.largest,
        better_section=found.section == found.parts.best,
        stops=ignored_stops(found.findings),
        first=True,
        unmended=left_to_mend(found.findings),
        unread=len(found.unread),
        unread_at=_marks(practice, found.unread),
        lacks=found.lacks,
        left=found.left,
        set_aside=found.slipped,
    )


def _marks(practice: Practice, tapes: Sequence[float]) -> str:
    """Return tape marks as the sheet has them: "1.2, 3.4 m", "" where there are none."""
    if not tapes or practice.record is None:
        return ""
    return f"{', '.join(f'{tape:.6g}' for tape in tapes)} {practice.record.units.length}"
