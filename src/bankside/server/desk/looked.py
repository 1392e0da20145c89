"""What is found in an old sheet, as a desk is told of it: gaugings, questions, rows, totals."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

import attrs

from bankside.gauging.compute import compute
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.reconcile import Reconciliation, reconcile_all
from bankside.gauging.reconcile_words import explain
from bankside.gauging.result import Result
from bankside.intake.source import Source
from bankside.server.desk.plain_answers import settles, without_options
from bankside.sheets.answers import CHOICES, COLUMN_NAMES, UNIT_CHOICES, Answers
from bankside.sheets.read import SheetGauging
from bankside.sheets.understood import understood_columns

__all__ = ["filed_there", "looked_at", "reckoned_of", "told_fault", "told_notes"]

_KNOWN = {
    "columns": list(COLUMN_NAMES),
    "units": {name: list(units) for name, units in UNIT_CHOICES.items()},
    "choices": {name: list(words) for name, words in CHOICES.items()},
}


def looked_at(kind: str, found: Source, path: Path, answers: Answers) -> dict[str, Any]:
    """Return how a file was read, with what there is to ask and to know about it."""
    reckoned = reckoned_of(found.items)
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
        "notes": told_notes(found.notes),
    }


_Reckoned = dict[str, tuple[Result, Reconciliation | None]]


def reckoned_of(items: Sequence[SheetGauging]) -> _Reckoned:
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


def told_notes(told: Sequence[str]) -> list[str]:
    """Return notes of a reader as a page says them."""
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
        "faults": [told_fault(fault) for fault in faults],
        "notes": told_notes(item.notes),
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


def filed_there(result: Result, filed: Reconciliation) -> dict[str, Any]:
    """Return the total of a sheet beside the discharge that is in the archive now."""
    told = _filed(result, filed)
    return {**told, "discharge_m3s": result.discharge_m3s, "filed_m3s": told["discharge_m3s"]}


def told_fault(fault: Fault) -> dict[str, Any]:
    """Return what is wrong with a sheet as a page says it, with its place as far as it is known."""
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
