"""Who has shown what a leader asks for, from the sessions that are kept."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import attrs

from bankside.bank.request import Request
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.fields import shown
from bankside.gauging.practice_mark import PRACTICE_WORDS
from bankside.gauging.structure import JsonObject
from bankside.practice.readiness.as_json import standings_as_json
from bankside.practice.readiness.requirements import (
    Requirements,
    requirements_from_document,
    requirements_to_document,
)
from bankside.practice.readiness.standing import PersonStanding, standings_of
from bankside.practice.readiness.tries import Try, tries_of
from bankside.practice.readiness.words import (
    CHOICE,
    REAL_WATER,
    asked_words,
    other_tries,
    paper_words,
    shown_words,
    try_words,
)
from bankside.practice.session.document import Practice, practice_from_document

__all__ = ["readiness"]


def readiness(request: Request) -> dict[str, Any]:
    """Return how everybody stands, with the words of each paper; all is worked out anew.

    `requirements` are those that hold, the usual ones where none are given.
    """
    sessions, asked = request.entries("sessions"), request.document("requirements")
    request.done("sessions")
    requirements = Requirements() if asked is None else requirements_from_document(asked)
    practices = [_practice(place, one) for place, one in enumerate(sessions or [])]
    people = standings_of(tries_of(practices), requirements)
    standings = zip(people, standings_as_json(people), strict=True)
    return {
        "mark": PRACTICE_WORDS,
        "caution": REAL_WATER,
        "choice": CHOICE,
        "requirements": requirements_to_document(requirements),
        "asked": _facts(asked_words(requirements)),
        "people": [{**said, **_paper(one, requirements)} for one, said in standings],
    }


def _paper(person: PersonStanding, requirements: Requirements) -> dict[str, Any]:
    return {
        "paper": attrs.asdict(paper_words(person, requirements)),
        "shown": _facts(shown_words(person)),
        "counting": _rows(person.counted),
        "others": _rows(other_tries(person)),
    }


def _facts(facts: Iterable[tuple[str, str]]) -> list[dict[str, str]]:
    return [{"name": name, "value": value} for name, value in facts]


def _rows(tries: Iterable[Try]) -> list[dict[str, str]]:
    return [attrs.asdict(try_words(one)) for one in tries]


def _practice(place: int, session: object) -> Practice:
    path = f"sessions[{place}]"
    if not isinstance(session, JsonObject):
        message = f"a session must be a JSON object (got {shown(session)})"
        raise InputRefused([Fault(message, path=path)])
    try:
        return practice_from_document(session)
    except InputRefused as refused:
        raise InputRefused(fault.inside(path) for fault in refused.faults) from None
