"""The debrief of a practice gauging: all that is to be said when the tape is rolled up."""

from __future__ import annotations

import attrs

from bankside.gauging.checks.run import check_gauging
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.rule_sets.choice import rules_of
from bankside.gauging.rule_sets.rule_set import RuleSet
from bankside.practice.debrief.better import Better, three_better
from bankside.practice.debrief.error_parts import ErrorParts, error_parts, take_apart
from bankside.practice.debrief.heeded import Heeded, called_out, came_out, heeded
from bankside.practice.debrief.lacks import Lack, lacks_of
from bankside.practice.debrief.one_more_vertical import OneMoreVertical, one_more_vertical
from bankside.practice.debrief.read_on import broken_off
from bankside.practice.debrief.shown_record import is_borne
from bankside.practice.session.document import Practice
from bankside.practice.session.followed import Followed, follow

__all__ = ["Debrief", "debrief"]


@attrs.frozen(eq=False)
class Debrief:
    """How far off a practice gauging was, where that came from, and what to do better.

    `section` is the one that was chosen. `minutes` is how long all of it took,
    `left` whether a call to come out ended it before all was read. `slipped` says so of a call that
    came of a figure which the stream did not show: no water called anybody. `unread` are the tape
    marks with figures that nobody read, as on the sheet.
    """

    practice: Practice
    section: str
    parts: ErrorParts
    one_more: OneMoreVertical | None
    findings: tuple[Heeded, ...]
    better: tuple[Better, ...]
    minutes: float
    left: bool
    slipped: bool
    unread: tuple[float, ...]
    lacks: tuple[Lack, ...]

    @property
    def percent(self) -> float:
        """The whole error in percent of the true discharge."""
        return 100.0 * self.parts.error / self.parts.discharge


def debrief(practice: Practice, rules: RuleSet | None = None) -> Debrief:
    """Return the debrief of a session with its record; `rules` are those of the record if None.

    InputRefused where nothing was written down yet, no section was chosen, or the readings give no
    discharge.
    """
    record = practice.record
    if record is None:
        message = "record must be given for a debrief (got nothing): nothing was written down yet"
        raise InputRefused([Fault(message, path="record")])
    followed = follow(practice.session)
    if followed.section is None:
        message = "a section must be chosen before a debrief (got none)"
        raise InputRefused([Fault(message, path="session.acts")])
    used = rules or rules_of(record)[0]
    apart = take_apart(followed, record)
    parts = error_parts(followed, apart)
    findings = check_gauging(record, used, finished=True)
    rows = heeded(practice, followed, used, findings)
    out = came_out(rows) and broken_off(followed)
    borne = out and is_borne(followed, record, used, rows)
    return Debrief(
        practice=practice,
        section=followed.section.name,
        parts=parts,
        one_more=None if called_out(rows) else one_more_vertical(apart, used, findings),
        findings=rows,
        better=three_better(
            *(followed, parts, rows, record.units.velocity, len(apart.unread())),
            slipped=out and not borne,
        ),
        minutes=_minutes(followed),
        left=borne,
        slipped=out and not borne,
        unread=apart.unread(),
        lacks=lacks_of(followed, record, used, rows),
    )


def _minutes(followed: Followed) -> float:
    return followed.seconds / 60.0
