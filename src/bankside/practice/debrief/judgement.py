"""Going in or staying out: what is said of it where that matters more than any discharge.

Where nobody should have gone in, no discharge is told, whoever measured one: it was worth nothing.
Whoever stays out of a stream that could be waded is never blamed for it.
"""

from __future__ import annotations

from collections.abc import Sequence

import attrs

from bankside.gauging.checks.run import check_gauging
from bankside.gauging.rule_sets.choice import rules_of
from bankside.practice.debrief.better import Better
from bankside.practice.debrief.heeded import Heeded, came_out, heeded, ignored_stops
from bankside.practice.debrief.instead_words import instead_of
from bankside.practice.debrief.judgement_words import (
    Asked,
    Outcome,
    because,
    stood_words,
    verdict,
)
from bankside.practice.debrief.read_on import broken_off
from bankside.practice.debrief.shown_record import is_borne
from bankside.practice.session.document import Practice
from bankside.practice.session.followed import Followed, follow

__all__ = ["Judgement", "judge", "rows_of", "was_called"]


@attrs.frozen
class Judgement:
    """What is said of who went in or stayed out.

    `dangerous` says whether nobody should have gone in, `right` whether it was said to stay out
    where that was asked for, and done. `stops` counts the calls to stay or come out that were
    passed over. `because` says what the water was, by the limits; `instead` what would have told
    the discharge, or something of it, from the bank.
    """

    practice: Practice
    outcome: Outcome
    dangerous: bool
    right: bool
    stops: int
    verdict: str
    because: tuple[str, ...]
    instead: tuple[Better, ...]
    minutes: float

    @property
    def set_aside(self) -> bool:
        """Whether it counts neither for nor against anybody: out, though it was not asked for."""
        return not self.right and self.stops == 0


def judge(practice: Practice) -> Judgement | None:
    """Return what is said of going in or staying out; None where the debrief is about a discharge.

    It is about going in where nobody should have, and where the last word was to stay out before
    all was read. Elsewhere, who went in and was called out has an ordinary debrief, which says so.
    """
    followed = follow(practice.session)
    rows = rows_of(practice, followed)
    inside, stops, called = followed.went_in, ignored_stops(rows), came_out(rows)
    dangerous = followed.reach.high is not None
    stayed = followed.stayed_out and (not inside or broken_off(followed))
    if not dangerous and (not stayed or stops or (called and inside)):
        return None
    outcome: Outcome = "stayed out" if not inside else "came out" if stayed else "went in"
    borne = called and was_called(practice, followed, rows)
    asked: Asked = "by the water" if dangerous else "by a check" if borne else "by nothing"
    feet = practice.record is not None and practice.record.units.length in ("ft", "in")
    stood = stood_words(followed, feet) if dangerous and inside else ()
    return Judgement(
        practice=practice,
        outcome=outcome,
        dangerous=dangerous,
        right=followed.stayed_out and not inside and asked != "by nothing",
        stops=stops + (1 if dangerous and inside else 0),
        verdict=verdict(outcome, asked, followed.stayed_out),
        because=(*stood, *because(followed.reach, feet)),
        instead=instead_of(followed.reach.high, asked),
        minutes=followed.seconds / 60.0,
    )


def rows_of(practice: Practice, followed: Followed) -> tuple[Heeded, ...]:
    """Return what became of the findings of a session, also where it gives no discharge."""
    if practice.record is None:
        return ()
    rules, _ = rules_of(practice.record)
    findings = check_gauging(practice.record, rules, finished=True)
    return heeded(practice, followed, rules, findings)


def was_called(practice: Practice, followed: Followed, rows: Sequence[Heeded]) -> bool:
    """Return whether the water itself called out who came out, by figures that it showed."""
    record = practice.record
    if record is None or not came_out(rows):
        return False
    return is_borne(followed, record, rules_of(record)[0], rows)
