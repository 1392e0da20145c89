"""The measurement note of a journal: its texts, and the picture of its section."""

from __future__ import annotations

from typing import Any

from bankside.bank.journal import faults_as_json, read_journal
from bankside.bank.request import Request
from bankside.bank.standing import standing_of
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.share_limits import limits_of
from bankside.note.as_json import content_as_json, drawing_as_json
from bankside.note.compose import note_content
from bankside.note.material import gather
from bankside.note.section_drawing import section_drawing

__all__ = ["note"]


def note(request: Request) -> dict[str, Any]:
    """Return what the note of a gauging says and what its picture shows.

    InputRefused where there is no discharge to put on it.
    """
    entries, finished = request.entries("entries"), request.flag("finished")
    request.done("entries")
    journal = read_journal(entries or [])
    standing = standing_of(journal.recorded, finished)
    gauging, result = standing.gauging, standing.result
    if gauging is None or result is None:
        raise InputRefused([Fault(standing.no_result or "There is no discharge.", path="entries")])
    material = gather(
        gauging,
        result,
        standing.rules,
        sheet_notes=(*standing.remarks, *(fault.message for fault in journal.faults)),
        finished=standing.finished,
    )
    drawing = section_drawing(gauging, result, limits_of(standing.rules))
    return {
        "content": content_as_json(note_content(material)),
        "drawing": drawing_as_json(drawing),
        "faults": faults_as_json(journal.faults),
    }
