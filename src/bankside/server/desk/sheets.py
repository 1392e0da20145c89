"""Old sheets at a desk: how one would be read, and taking it in."""

from __future__ import annotations

import json
import re
import time
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

import attrs

from bankside.archive.refresh import refresh
from bankside.archive.taking import take_file
from bankside.gauging.compute import compute
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.reconcile import Reconciliation, reconcile_all
from bankside.gauging.reconcile_words import explain
from bankside.gauging.result import Result
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
from bankside.server.desk.plain_answers import settles, without_options
from bankside.sheets.answers import CHOICES, COLUMN_NAMES, UNIT_CHOICES, Answers, answers_of
from bankside.sheets.read import SheetGauging, count_fates
from bankside.sheets.understood import understood_columns

__all__ = ["ROUTES"]

_KNOWN = {
    "columns": list(COLUMN_NAMES),
    "units": {name: list(units) for name, units in UNIT_CHOICES.items()},
    "choices": {name: list(words) for name, words in CHOICES.items()},
}
_JSON = ".json"


def look(asked: Asked) -> dict[str, Any]:
    """Return how a file would be read with these answers; nothing is kept."""
    file, answers = _sent(asked), _answers(asked)
    found = read_file(file.path, answers)
    if isinstance(found, Source):
        return _looked(_kind_of(file.path, found), found, file.path, answers)
    kind = "journal" if isinstance(found, JournalFile) else "survey"
    return _looked(kind, Source(found.file, (), count_fates(())), file.path, answers)


def take(asked: Asked) -> dict[str, Any]:
    """Take a file in, as `bankside archive import` does."""
    file, answers = _sent(asked), _answers(asked)
    began = time.monotonic()
    taken = take_file(asked.archive, file.path, answers, asked.you.name)
    refresh(asked.archive)
    items = () if taken.read is None else taken.read.items
    reckoned = _reckoned(items)
    ids = iter(taken.gaugings)
    filed = []
    for item in items:
        if item.gauging is None:
            continue
        id_ = next(ids, None)
        result, told = reckoned.get(item.label, (None, None))
        if id_ is not None and result is not None and told is not None:
            filed.append({"gauging": id_, "label": item.label, **_filed_there(result, told)})
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
        "faults": [_fault(fault) for fault in taken.faults],
        "notes": _plain(taken.notes),
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


def _looked(kind: str, found: Source, path: Path, answers: Answers) -> dict[str, Any]:
    reckoned = _reckoned(found.items)
    columns = understood_columns(path, answers) if kind == "sheet" else ()
    faults = [_faults_of(item, item.label in reckoned) for item in found.items]
    asked = [fault for some in faults for fault in some if settles(fault.message)]
    return {
        "file": found.file,
        "kind": kind,
        "known": _KNOWN,
        "columns": [attrs.asdict(column) for column in columns],
        "gaugings": [
            _gauging(item, wrong, *reckoned.get(item.label, (None, None)))
            for item, wrong in zip(found.items, faults, strict=True)
        ],
        "rows": found.counts,
        "fates": [
            [row.sheet, row.row, row.fate, without_options(row.reason)]
            for item in found.items
            for row in item.rows
        ],
        "questions": [_question(fault) for fault in dict.fromkeys(asked)],
        "notes": _plain(found.notes),
    }


_Reckoned = dict[str, tuple[Result, Reconciliation | None]]


def _reckoned(items: Sequence[SheetGauging]) -> _Reckoned:
    """Return label → result and what explains the filed total, of those that give a discharge."""
    computed = []
    for item in items:
        if item.gauging is not None:
            try:
                computed.append((item.label, item.gauging, compute(item.gauging)))
            except InputRefused:
                continue  # why is told with the gauging
    filed = reconcile_all([(gauging, result) for _, gauging, result in computed])
    return {label: (result, told) for (label, _, result), told in zip(computed, filed, strict=True)}


def _faults_of(item: SheetGauging, reckoned: bool) -> tuple[Fault, ...]:
    """Return all that is wrong with a gauging, with what keeps it from giving a discharge."""
    if item.gauging is None or reckoned:
        return item.faults
    try:
        compute(item.gauging)
    except InputRefused as refused:
        return (*item.faults, *refused.faults)
    return item.faults


def _plain(told: Sequence[str]) -> list[str]:
    return [without_options(one) for one in told]


def _gauging(
    item: SheetGauging,
    faults: Sequence[Fault],
    result: Result | None,
    filed: Reconciliation | None,
) -> dict[str, Any]:
    gauging = item.gauging
    day = None
    if gauging is not None:
        day = gauging.date or (None if gauging.started is None else gauging.started.date())
    return {
        "label": item.label,
        "stream": None if gauging is None else gauging.site.stream,
        "place": None if gauging is None else gauging.site.name,
        "day": None if day is None else day.isoformat(),
        "verticals": 0 if gauging is None else sum(len(c.verticals) for c in gauging.channels),
        "discharge_m3s": None if result is None else result.discharge_m3s,
        "reason": None if item.reason is None else without_options(item.reason),
        "faults": [_fault(fault) for fault in faults],
        "notes": _plain(item.notes),
        "rows": item.counts,
        "filed": None if result is None or filed is None else _filed(result, filed),
    }


def _filed(result: Result, filed: Reconciliation) -> dict[str, Any]:
    return {
        "discharge_m3s": filed.discharge_m3s,
        "rule": filed.rule,
        "difference_percent": filed.difference_percent,
        "words": list(explain(filed, result)),
    }


def _filed_there(result: Result, filed: Reconciliation) -> dict[str, Any]:
    told = _filed(result, filed)
    return {**told, "discharge_m3s": result.discharge_m3s, "filed_m3s": told["discharge_m3s"]}


def _fault(fault: Fault) -> dict[str, Any]:
    plain = attrs.evolve(fault, message=without_options(fault.message))
    return attrs.asdict(plain, filter=lambda _, value: value is not None)


def _question(fault: Fault) -> dict[str, Any]:
    return {
        "said": without_options(fault.message),
        "sheet": fault.sheet,
        "row": fault.row,
        "column": fault.column,
        "options": [{"words": words, "answers": dict(said)} for words, said in _options(fault)],
    }


def _options(fault: Fault) -> Iterator[tuple[str, Mapping[str, Any]]]:
    """Yield the answers that settle a question, as far as they are a choice among few.

    Every question names the option of the command line that settles it: by that name they are told.
    """
    for name, words in CHOICES.items():
        if f"--{name.replace('_', '-')}" in fault.message:
            for word in words:
                yield f"{name.replace('_', ' ')}: {word}", {name: word}
    for name in dict.fromkeys(re.findall(r"--unit (\w+)=", fault.message)):
        for unit in UNIT_CHOICES.get(name, ()):
            yield f"{name} in {unit}", {"units": {name: unit}}


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
