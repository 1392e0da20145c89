"""What a note says about the findings of the checks, and about figures that were struck through."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Sequence
from typing import Final

from bankside.gauging.checks.answers import is_open, key_of, lapsed_answers
from bankside.gauging.checks.finding import Finding
from bankside.gauging.records import Correction, Gauging
from bankside.gauging.result import Result
from bankside.gauging.rule_sets.rule_set import Confidence, RuleSet, Threshold
from bankside.note.called_figures import method_words
from bankside.note.content import Cell, Column, Kind, Part, Table
from bankside.note.facts import NOT_RECORDED, clock, day_of

__all__ = ["corrections_part", "findings_part", "threshold_words"]

_NO_ANSWER: Final = "not answered"
_ADVISED: Final = "key, check, what was found, what to do, and the answer"
_FOUND: Final = "key, check, what was found, and the answer"

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
    gauging: Gauging,
    result: Result,
    findings: Sequence[Finding],
    rules: RuleSet | None,
    *,
    advised: bool = True,
) -> Iterator[Part]:
    """Yield the findings with their answers, or that there are none; nothing without checks.

    advised: with what to do about each, which helps only where it can still be done.
    """
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
                    Column(_ADVISED if advised else _FOUND, weight=2.7),
                    Column("rule", weight=1.1),
                ),
                rows=tuple(_finding(finding, day, rules, advised) for finding in findings),
            ),
        ),
        below=tuple(_below(result, findings)),
        points=lapsed,
    )


def _below(result: Result, findings: Sequence[Finding]) -> Iterator[str]:
    """Yield what has to be known to hold the findings against the figures of the note."""
    if (result.method, result.edge_rule) != ("mid-section", "half-width"):
        yield (
            "Findings go by panels of the mid-section method, edges by the half-width rule; the "
            f"figures of this note are by the {method_words(result)}."
        )
    words = {threshold.name for finding in findings for threshold in finding.thresholds}
    if any(name.startswith("quality_") for name in words):
        yield (
            "A word for the quality is held against one standard uncertainty; the ± beside the "
            "discharge is two."
        )


def _finding(
    finding: Finding, day: datetime.date | None, rules: RuleSet, advised: bool
) -> tuple[Cell, Cell, Cell]:
    grave = finding.severity in ("stop", "fix now")
    kind: Kind = "fine" if finding.severity == "note" else ""
    # A note asks for no answer; whatever else has none stays visibly open.
    severity = f"{finding.severity}\n{_NO_ANSWER}" if is_open(finding) else finding.severity
    advice = f" {finding.advice}" if advised else ""
    return (
        Cell(severity, "strong" if grave else kind),
        Cell(
            f"{finding.found}{advice}{_hangs(finding)}{_answer(finding, day)}",
            kind,
            lead=f"{key_of(finding)}  {finding.check}",
        ),
        Cell(
            "\n".join(threshold_words(threshold, rules) for threshold in finding.thresholds), kind
        ),
    )


def _hangs(finding: Finding) -> str:
    return "" if finding.hangs_on is None else f" {finding.hangs_on}"


def threshold_words(threshold: Threshold, rules: RuleSet) -> str:
    """Return a value with its source, and of which rule set it is where that is not the one used.

    A publication that says nothing of a value must not seem to have set it.
    """
    trust = _TRUST[threshold.confidence]
    source = f"{threshold.source} ({trust})" if trust else threshold.source
    of = "" if threshold.rule_set == rules.name else f" of {threshold.rule_set}"
    return f"{threshold.words()}{of}: {source}"


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
