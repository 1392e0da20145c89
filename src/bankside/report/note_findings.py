"""What a note says about the findings of the checks, and about figures that were struck through."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Sequence
from typing import Final

from bankside.gauging.checks.finding import Finding
from bankside.gauging.records import Correction
from bankside.gauging.rule_sets.rule_set import Confidence, RuleSet, Threshold
from bankside.report.content import Cell, Column, Part, Table
from bankside.report.note_facts import NOT_RECORDED, clock

__all__ = ["corrections_part", "findings_part"]

_TRUST: Final[dict[Confidence, str]] = {
    "read": "read",
    "memory high": "from memory",
    "memory medium": "from memory",
    "memory low": "from memory, not sure",
    "practice": "",
    "computed": "worked out by us",
}
"""How far the source of a threshold can be trusted; practice says so itself."""


def findings_part(
    findings: Sequence[Finding], rules: RuleSet | None, day: datetime.date | None
) -> Iterator[Part]:
    """Yield the findings with their answers, or that there are none; nothing without checks."""
    if rules is None:
        return
    if not findings:
        yield Part("Findings of the checks", sentences=("The checks found nothing.",))
        return
    yield Part(
        "Findings of the checks",
        tables=(
            Table(
                name="Findings of the checks",
                columns=(
                    Column("how grave"),
                    Column("what was found", weight=1.5),
                    Column("what to do", weight=1.5),
                    Column("rule", weight=1.1),
                    Column("answer", weight=0.8),
                ),
                rows=tuple(_finding(finding, day) for finding in findings),
            ),
        ),
    )


def _finding(finding: Finding, day: datetime.date | None) -> tuple[Cell, ...]:
    grave = finding.severity in ("stop", "fix now")
    rules = "\n".join(_threshold(threshold) for threshold in finding.thresholds)
    return (
        Cell(finding.severity, "strong" if grave else ""),
        Cell(finding.found),
        Cell(finding.advice),
        Cell(rules or finding.check),
        _answer(finding, day),
    )


def _threshold(threshold: Threshold) -> str:
    trust = _TRUST[threshold.confidence]
    source = f"{threshold.source} ({trust})" if trust else threshold.source
    return f"{threshold.words()}: {source}"


def _answer(finding: Finding, day: datetime.date | None) -> Cell:
    answer = finding.answer
    if answer is None:
        return Cell("" if finding.severity == "note" else "no answer", "open")
    return Cell(
        " · ".join(word for word in (answer.reason, answer.by, clock(answer.at, day)) if word)
    )


def corrections_part(corrections: Sequence[Correction], day: datetime.date | None) -> Part:
    """Return the figures that were struck through, the old ones still to be read."""
    if not corrections:
        return Part("Corrections", sentences=("No figure was struck through.",), narrow=True)
    columns = (("what", 1.5), ("was", 0.7), ("now", 0.7), ("why", 1.5), ("by", 0.8), ("when", 1.0))
    return Part(
        "Corrections",
        tables=(
            Table(
                name="Corrections",
                columns=tuple(Column(head, weight=weight) for head, weight in columns),
                rows=tuple(
                    (
                        Cell(correction.what),
                        Cell(correction.was, "struck"),
                        Cell("taken out" if correction.now is None else correction.now, "strong"),
                        _or_open(correction.reason),
                        _or_open(correction.by),
                        _or_open(clock(correction.at, day)),
                    )
                    for correction in corrections
                ),
            ),
        ),
    )


def _or_open(text: str | None) -> Cell:
    return Cell(NOT_RECORDED, "open") if text is None else Cell(text)
