"""What is said of going in or staying out, on paper."""

from __future__ import annotations

from bankside.note.content import Fact, FactGroup, Part
from bankside.note.facts import fact
from bankside.practice.debrief.judgement import Judgement
from bankside.practice.readiness.words import REAL_WATER
from bankside.report.practice.content import practice_document
from bankside.report.survey.documents import SurveyReport

__all__ = ["judgement_document"]


def judgement_document(judged: Judgement) -> SurveyReport:
    """Return the debrief of who stayed out, or went in where nobody should have."""
    session = judged.practice.session
    facts = FactGroup(
        "The session",
        (
            fact("Who", judged.practice.person),
            Fact("How it ended", judged.outcome),
            Fact("Time", f"{judged.minutes:.0f} min at the stream"),
        ),
    )
    return practice_document(
        "Debrief",
        f"{session.stream} {session.seed}",
        judged.practice.day,
        (facts,),
        tuple(_parts(judged)),
        {},
    )


def _parts(judged: Judgement) -> list[Part]:
    parts = [Part("In or out", sentences=(judged.verdict,))]
    if judged.because:
        parts.append(Part("What the water was", points=judged.because))
    told = tuple(f"{one.why} {one.what} ({one.source})" for one in judged.instead)
    parts.append(Part("What tells something from the bank", points=told))
    parts.append(Part("What this does not show", sentences=(REAL_WATER,), fine=True))
    return parts
