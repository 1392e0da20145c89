"""Old sheets at a desk: how one would be read, and taking it in."""

from __future__ import annotations

import json
import time
from pathlib import Path
from typing import Any

from bankside.archive.refresh import refresh
from bankside.archive.taking import take_file
from bankside.gauging.faults import Fault, InputRefused
from bankside.intake.journals import JournalFile
from bankside.intake.read import read_file
from bankside.intake.source import Source
from bankside.server.api.asked import Asked, SentFile
from bankside.server.api.route import Route
from bankside.server.api.shapes import (
    ANY,
    COUNT,
    ID,
    NUMBER,
    TEXT,
    list_of,
    map_of,
    members,
    or_null,
)
from bankside.server.desk.looked import (
    filed_there,
    looked_at,
    reckoned_of,
    told_fault,
    told_notes,
)
from bankside.sheets.answers import Answers, answers_of
from bankside.sheets.read import count_fates

__all__ = ["ROUTES"]

_JSON = ".json"


def look(asked: Asked) -> dict[str, Any]:
    """Return how a file would be read with these answers; nothing is kept."""
    file, answers = _sent(asked), _answers(asked)
    found = read_file(file.path, answers)
    if isinstance(found, Source):
        return looked_at(_kind_of(file.path, found), found, file.path, answers)
    kind = "journal" if isinstance(found, JournalFile) else "survey"
    return looked_at(kind, Source(found.file, (), count_fates(())), file.path, answers)


def take(asked: Asked) -> dict[str, Any]:
    """Take a file in, as `bankside archive import` does."""
    file, answers = _sent(asked), _answers(asked)
    began = time.monotonic()
    taken = take_file(asked.archive, file.path, answers, asked.you.name)
    refresh(asked.archive)
    items = () if taken.read is None else taken.read.items
    reckoned = reckoned_of(items)
    ids = iter(taken.gaugings)
    filed = []
    for item in items:
        if item.gauging is None:
            continue
        id_ = next(ids, None)
        result, told = reckoned.get(item.label, (None, None))
        if id_ is not None and result is not None and told is not None:
            filed.append({"gauging": id_, "label": item.label, **filed_there(result, told)})
    return {
        "file": taken.file,
        "kind": "survey" if taken.survey else "journal" if taken.read is None else "sheet",
        "seconds": time.monotonic() - began,
        "gaugings": list(taken.gaugings),
        "added": list(taken.added),
        "entries": taken.entries,
        "photos": taken.photos,
        "survey": taken.survey,
        "rows": taken.rows,
        "filed": filed,
        "faults": [told_fault(fault) for fault in taken.faults],
        "notes": told_notes(taken.notes),
    }


def _sent(asked: Asked) -> SentFile:
    assert asked.file is not None  # by what the route takes
    return asked.file


def _answers(asked: Asked) -> Answers:
    if not asked.text.strip():
        return Answers()
    try:
        said = json.loads(asked.text)
    except ValueError:
        said = None
    if not isinstance(said, dict):
        message = f"answers must be a JSON object (got {asked.text[:40]!r})"
        raise InputRefused([Fault(message, path="answers")])
    return answers_of(said)


def _kind_of(path: Path, found: Source) -> str:
    records = path.suffix.lower() == _JSON and any(item.gauging for item in found.items)
    return "record" if records else "sheet"


_TEXT, _NUMBER, _COUNTS = or_null(TEXT), or_null(NUMBER), map_of(COUNT)
_FAULT = {"type": "object", "required": ["message"], "properties": {"message": TEXT}}
_FILED = members(discharge_m3s=NUMBER, rule=_TEXT, difference_percent=_NUMBER, words=list_of(TEXT))

ROUTES = (
    Route(
        "POST",
        "sheets/look",
        "reviewer",
        "How a file would be read: columns, gaugings, rows, questions; nothing is kept.",
        look,
        members(
            file=TEXT,
            kind=TEXT,
            known=ANY,
            columns=list_of(members(sheet=_TEXT, letter=TEXT, head=TEXT, means=_TEXT, unit=_TEXT)),
            gaugings=list_of(
                members(
                    label=TEXT,
                    stream=_TEXT,
                    place=_TEXT,
                    day=_TEXT,
                    verticals=COUNT,
                    discharge_m3s=_NUMBER,
                    reason=_TEXT,
                    faults=list_of(_FAULT),
                    notes=list_of(TEXT),
                    rows=_COUNTS,
                    filed=or_null(_FILED),
                )
            ),
            rows=_COUNTS,
            fates=list_of(ANY),
            questions=list_of(
                members(
                    said=TEXT,
                    sheet=_TEXT,
                    row=or_null(COUNT),
                    column=_TEXT,
                    options=list_of(members(words=TEXT, answers=ANY)),
                )
            ),
            notes=list_of(TEXT),
        ),
        takes="form",
        fails=(422,),
    ),
    Route(
        "POST",
        "sheets",
        "reviewer",
        "Take a file in, as `bankside archive import` does.",
        take,
        members(
            file=TEXT,
            kind=TEXT,
            seconds=NUMBER,
            gaugings=list_of(ID),
            added=list_of(ID),
            entries=COUNT,
            photos=COUNT,
            survey=or_null(ID),
            rows=_COUNTS,
            filed=list_of(
                members(
                    gauging=ID,
                    label=TEXT,
                    discharge_m3s=NUMBER,
                    rule=_TEXT,
                    difference_percent=_NUMBER,
                    words=list_of(TEXT),
                    filed_m3s=NUMBER,
                )
            ),
            faults=list_of(_FAULT),
            notes=list_of(TEXT),
        ),
        takes="form",
        fails=(422,),
    ),
)
