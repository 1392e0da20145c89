"""What is to be learnt from a practice gauging, as a page shows it."""

from __future__ import annotations

import math
from typing import Any, Final

import attrs

from bankside.bank.journal import read_journal
from bankside.bank.request import Request
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.practice_mark import PRACTICE_WORDS
from bankside.gauging.records import Gauging
from bankside.gauging.units import (
    cubic_metres_per_second_per,
    metres_per,
    metres_per_second_per,
)
from bankside.practice.debrief.debrief import Debrief
from bankside.practice.debrief.debrief import debrief as debrief_of
from bankside.practice.debrief.judgement import Judgement, judge
from bankside.practice.debrief.source_words import SOURCES
from bankside.practice.session.document import practice_from_document, practice_to_document
from bankside.practice.session.followed import follow

__all__ = ["debrief"]

# Places across the section at which its true depth is drawn.
_PLACES: Final = 120


def debrief(request: Request) -> dict[str, Any]:
    """Return the debrief of a practice session (`practice`) and the journal written at it.

    Discharges are in ft³/s for a tape in feet and m³/s for any other, tape and depths as called,
    parts of the error in percent of the true discharge. `practice` is the session with its record,
    as it is kept. Where going in or staying out matters more than a discharge, `judged` says what
    is to be said of it and no figure of the stream is told; elsewhere it is null. InputRefused
    where nothing was written down, the record is not one of practice, or the readings give no
    discharge.
    """
    document, items = request.document("practice"), request.entries("entries")
    request.done("practice", "entries")
    record = read_journal(items or []).recorded.gauging
    if record is None or not record.practice:
        found_there = "none" if record is None else "one of real water"
        message = f"entries must make the record of a practice gauging (got {found_there})"
        raise InputRefused([Fault(message, path="entries")])
    practice = attrs.evolve(practice_from_document(document), record=record)
    judged = judge(practice)
    if judged is not None:
        return _judged(judged)
    found = debrief_of(practice)
    feet = record.units.length == "ft"
    cubic = cubic_metres_per_second_per("ft3/s" if feet else "m3/s")
    return {
        "true": found.parts.discharge / cubic,
        "measured": found.parts.measured / cubic,
        "unit": "ft³/s" if feet else "m³/s",
        "percent": found.percent,
        "section": found.section,
        "best": found.parts.best,
        "minutes": found.minutes,
        "parts": [
            {
                "source": source,
                "name": SOURCES[source].name,
                "what": SOURCES[source].what,
                "percent": found.parts.percent(source),
            }
            for source, _ in found.parts.parts
        ],
        "better": [attrs.asdict(one) for one in found.better],
        "findings": [attrs.asdict(one) for one in found.findings],
        "one_more": _one_more(found),
        "section_true": _section(found, record),
        "judged": None,
        "mark": PRACTICE_WORDS,
        "practice": practice_to_document(found.practice),
    }


def _judged(judged: Judgement) -> dict[str, Any]:
    """Return what is said of going in or staying out, where no discharge is told."""
    return {
        "judged": {
            "outcome": judged.outcome,
            "dangerous": judged.dangerous,
            "verdict": judged.verdict,
            "because": list(judged.because),
            "instead": [attrs.asdict(one) for one in judged.instead],
        },
        "mark": PRACTICE_WORDS,
        "practice": practice_to_document(judged.practice),
    }


def _one_more(found: Debrief) -> dict[str, Any] | None:
    if found.one_more is None:
        return None
    off = found.one_more.discharge / found.parts.discharge - 1.0
    return {"tape": found.one_more.tape, "percent": 100.0 * off}


def _section(found: Debrief, record: Gauging) -> list[dict[str, float]]:
    """Return true depths and velocities along the tape as it hung, amid the readings."""
    followed = follow(found.practice.session)
    water, skew = followed.water, math.cos(math.radians(followed.skew or 0.0))
    assert water is not None
    middle = 0.5 * (followed.measured_from + followed.measured_to)
    stream, length = water.stream, metres_per(record.units.length)
    rod = metres_per(record.units.depth or record.units.length)
    places = []
    for i in range(_PLACES + 1):
        y = stream.left + (stream.right - stream.left) * i / _PLACES
        places.append(
            {
                "tape": (stream.left + (y - stream.left) / skew) / length,
                "depth": water.depth_at(y, middle) / rod,
                "velocity": water.velocity_at(y, middle)
                / metres_per_second_per(record.units.velocity),
            }
        )
    return places
