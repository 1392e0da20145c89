"""Who has shown what a leader asks for, from the sessions that are kept."""

from __future__ import annotations

from typing import Any

from bankside.bank.request import Request
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.fields import shown
from bankside.gauging.practice_mark import PRACTICE_WORDS
from bankside.gauging.structure import JsonObject
from bankside.practice.readiness.as_json import standings_as_json
from bankside.practice.readiness.requirements import Requirements, requirements_from_document
from bankside.practice.readiness.standing import standings_of
from bankside.practice.readiness.tries import tries_of
from bankside.practice.session.document import Practice, practice_from_document

__all__ = ["readiness"]


def readiness(request: Request) -> dict[str, Any]:
    """Return how everybody stands; every figure is worked out anew from the sessions."""
    sessions, asked = request.entries("sessions"), request.document("requirements")
    request.done("sessions")
    requirements = Requirements() if asked is None else requirements_from_document(asked)
    practices = [_practice(place, one) for place, one in enumerate(sessions or [])]
    people = standings_of(tries_of(practices), requirements)
    return {"mark": PRACTICE_WORDS, "people": standings_as_json(people)}


def _practice(place: int, session: object) -> Practice:
    path = f"sessions[{place}]"
    if not isinstance(session, JsonObject):
        message = f"a session must be a JSON object (got {shown(session)})"
        raise InputRefused([Fault(message, path=path)])
    try:
        return practice_from_document(session)
    except InputRefused as refused:
        raise InputRefused(fault.inside(path) for fault in refused.faults) from None
