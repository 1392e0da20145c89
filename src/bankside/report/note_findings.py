"""What a note says about the findings of the checks, and about figures that were struck through."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Sequence
from typing import Final

from bankside.gauging.checks.answers import lapsed_answers
from bankside.gauging.checks.finding import Finding
from bankside.gauging.records import Correction, Gauging
from bankside.gauging.rule_sets.rule_set import Confidence, RuleSet, Threshold
from bankside.report.content import Cell, Column, Part, Table
from bankside.report.note_facts import NOT_RECORDED, clock, day_of

__all__ = ["corrections_part", "findings_part"]

_NO_ANSWER: Final = "not answered"

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
    gauging: Gauging, findings: Sequence[Finding], rules: RuleSet | None
) -> Iterator[Part]:
    """Yield the findings with their answers, or that there are none; nothing without checks."""
    if rules is None:
        return
    lapsed = tuple(
        f'No longer found: "{answer.finding}" It was answered: {answer.reason}'
        for answer in lapsed_answers(gauging, findings)
    )
    if not findings:
        nothing = ("The checks found nothing.",)
        yield Part("Findings of the checks", sentences=nothing, points=lapsed)
        return
    day = day_of(gauging)
    yield Part(
        "Findings of the checks",
        tables=(
            Table(
                name="Findings of the checks",
                columns=(
                    Column("how grave"),
                    Column("what was found, what to do, and the answer", weight=2.4),
                    Column("rule", weight=1.1),
                ),
                rows=tuple(_finding(finding, day) for finding in findings),
            ),
        ),
        points=lapsed,
    )


def _finding(finding: Finding, day: datetime.date | None) -> tuple[Cell, ...]:
    grave = finding.severity in ("stop", "fix now")
    # A note asks for no answer; whatever else has none stays visibly open.
    is_open = finding.answer is None and finding.severity != "note"
    rules = "\n".join(_threshold(threshold) for threshold in finding.thresholds)
    return (
        Cell(
            f"{finding.severity}\n{_NO_ANSWER}" if is_open else finding.severity,
            "strong" if grave else "",
        ),
        Cell(f"{finding.found} {finding.advice}{_hangs(finding)}{_answer(finding, day)}"),
        Cell(rules or finding.check),
    )


def _hangs(finding: Finding) -> str:
    return "" if finding.hangs_on is None else f" {finding.hangs_on}"


def _threshold(threshold: Threshold) -> str:
    trust = _TRUST[threshold.confidence]
    source = f"{threshold.source} ({trust})" if trust else threshold.source
    return f"{threshold.words()}: {source}"


def _answer(finding: Finding, day: datetime.date | None) -> str:
    answer = finding.answer
    if answer is None:
        return ""
    signed = ", ".join(word for word in (answer.by, clock(answer.at, day)) if word)
    return f"\nAnswered: {answer.reason}{f' ({signed})' if signed else ''}"


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
