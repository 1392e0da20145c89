"""What a page asks while somebody practises: streams, acts, the debrief, drills, who is ready.

The simulated streams are imported when they are first asked for, so that nobody at a real stream
waits for them.
"""

from __future__ import annotations

from typing import Any

import attrs

from bankside.bank.journal import read_journal
from bankside.bank.request import Request
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.fields import shown
from bankside.gauging.practice_mark import PRACTICE_WORDS
from bankside.gauging.structure import JsonObject, structured, unstructured

__all__ = [
    "practice_act",
    "practice_answer",
    "practice_debrief",
    "practice_drill",
    "practice_reach",
    "practice_ready",
    "practice_streams",
]


def practice_streams(request: Request) -> dict[str, Any]:
    """Return the practice streams, from easy to hard."""
    from bankside.practice.session.practice_streams import PRACTICE_STREAMS

    request.done()
    streams = [{"name": name, "about": one.about} for name, one in PRACTICE_STREAMS.items()]
    return {"mark": PRACTICE_WORDS, "streams": streams}


def practice_reach(request: Request) -> dict[str, Any]:
    """Return a reach as seen from above, a session at it, and an id for its record."""
    from bankside.practice.session.act import Session
    from bankside.practice.session.as_json import reach_as_json
    from bankside.practice.session.document import practice_id
    from bankside.practice.session.reach import make_reach

    stream, seed = request.text("stream"), request.count("seed")
    request.done("stream", "seed")
    session = Session(stream or "", seed or 0)
    return {
        "mark": PRACTICE_WORDS,
        "reach": reach_as_json(make_reach(session.stream, session.seed)),
        "session": unstructured(session),
        "gauging": practice_id(session),
    }


def practice_act(request: Request) -> dict[str, Any]:
    """Return what one more act shows, and the session with it."""
    from bankside.practice.session.act import Act, Session
    from bankside.practice.session.as_json import shown_as_json, stands_as_json
    from bankside.practice.session.followed import follow

    before, act = request.document("session"), request.document("act")
    request.done("session", "act")
    assert before is not None and act is not None
    session = structured(before, Session)
    session = attrs.evolve(session, acts=(*session.acts, structured(act, Act)))
    followed = follow(session)
    return {
        "session": unstructured(session),
        "shown": shown_as_json(followed.shown[-1]),
        **stands_as_json(followed),
    }


def practice_debrief(request: Request) -> dict[str, Any]:
    """Return the debrief of a session, and the session as it is kept.

    Its record is that of `entries` where they are given.
    """
    from bankside.practice.debrief.as_json import debrief_as_json
    from bankside.practice.debrief.debrief import debrief
    from bankside.practice.session.document import practice_from_document, practice_to_document

    document, entries = request.document("practice"), request.entries("entries")
    request.done("practice")
    practice = practice_from_document(document)
    if entries is not None:
        record = read_journal(entries).recorded.gauging
        if record is None or not record.practice:
            message = "entries must make the record of a practice gauging (they make none)"
            raise InputRefused([Fault(message, path="entries")])
        practice = attrs.evolve(practice, record=record)
    return {
        "practice": practice_to_document(practice),
        "debrief": debrief_as_json(debrief(practice)),
    }


def practice_drill(request: Request) -> dict[str, Any]:
    """Return the next question of the drills; it has no answer in it."""
    from bankside.practice.drills.as_json import ask_drill, boxes_of

    boxes = request.document("boxes")
    request.done()
    return ask_drill(boxes_of(boxes))


def practice_answer(request: Request) -> dict[str, Any]:
    """Return whether the answer to the present question is right, and the new boxes."""
    from bankside.practice.drills.as_json import boxes_of, judge_answer, judge_sheet
    from bankside.practice.drills.cards import card_and_seed, error_on

    boxes, answer = request.document("boxes"), request.text("answer")
    tape, kind = request.figure("tape"), request.text("kind")
    request.done()
    state = boxes_of(boxes)
    card, _ = card_and_seed(state)
    if error_on(card) is None:
        if answer is None:
            raise InputRefused([Fault("answer must be given for this question", path="answer")])
        return judge_answer(state, answer)
    if tape is None or kind is None:
        raise InputRefused([Fault("tape and kind must be given for this sheet", path="tape")])
    return judge_sheet(state, float(tape), kind)


def practice_ready(request: Request) -> dict[str, Any]:
    """Return who has shown what a leader asks for, from all sessions."""
    from bankside.practice.readiness.as_json import standings_as_json
    from bankside.practice.readiness.requirements import Requirements, requirements_from_document
    from bankside.practice.readiness.standing import standings_of
    from bankside.practice.readiness.tries import tries_of
    from bankside.practice.session.document import practice_from_document

    sessions, asked = request.entries("sessions"), request.document("requirements")
    request.done("sessions")
    requirements = Requirements() if asked is None else requirements_from_document(asked)
    practices = []
    for place, session in enumerate(sessions or []):
        if not isinstance(session, JsonObject):
            message = f"a session must be a JSON object (got {shown(session)})"
            raise InputRefused([Fault(message, path=f"sessions[{place}]")])
        practices.append(practice_from_document(session))
    people = standings_of(tries_of(practices), requirements)
    return {"mark": PRACTICE_WORDS, "people": standings_as_json(people)}
