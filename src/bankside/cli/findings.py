"""Findings as people read them, and as one JSON object for other programs."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import Any

import attrs
from rich.console import Console
from rich.table import Table

from bankside.cli.next_acts import NextActs
from bankside.cli.render import (
    plain_table,
    render_lines,
    render_points,
    render_table,
    safe_text,
)
from bankside.gauging.checks.answers import key_of, lapsed_answers
from bankside.gauging.checks.finding import SEVERITIES, Finding, Severity
from bankside.gauging.records import Answer, Gauging
from bankside.gauging.rule_sets.rule_set import RuleSet, Threshold
from bankside.note.called_figures import gauging_title

__all__ = ["Checked", "findings_as_document", "render_findings", "render_overview"]

_HEADS = {"stop": "STOP", "fix now": "FIX NOW", "explain": "EXPLAIN", "note": "NOTE"}


@attrs.frozen
class Checked:
    """A gauging with what the checks found, and the rule set they went by.

    `remarks` are to be known beforehand: what of the sheet was not understood, which rule set.
    `next` is what to do next, where it was asked for.
    """

    file: str
    label: str
    gauging: Gauging
    rules: RuleSet
    finished: bool
    findings: tuple[Finding, ...]
    remarks: tuple[str, ...] = ()
    next: NextActs | None = None


def render_findings(console: Console, one: Checked, level: Severity) -> None:
    """Print the findings of one gauging down to a level, each with its advice, rule and answer."""
    render_lines(console, [gauging_title(one.gauging), ""])
    if one.remarks:
        render_points(console, one.remarks)
        render_lines(console, [""])
    shown = [f for f in one.findings if SEVERITIES.index(f.severity) <= SEVERITIES.index(level)]
    for severity in SEVERITIES:
        of_this = [finding for finding in shown if finding.severity == severity]
        if of_this:
            render_lines(console, [_HEADS[severity]])
            for finding in of_this:
                console.print(_in_words(finding, one.rules))
            render_lines(console, [""])
    render_lines(console, list(_closing(one, len(shown))))
    if one.next is not None:
        render_lines(console, ["", f"WHAT TO DO NEXT, TO ± {one.next.target:g} % (19 IN 20)"])
        render_points(console, one.next.lines())


def _in_words(finding: Finding, rules: RuleSet) -> Table:
    """Return a finding under its key, what to do about it set apart by an arrow."""
    stop = "" if finding.check.endswith("?") else "."
    words = Table.grid(padding=(0, 1, 0, 0))
    words.add_row(f"{key_of(finding)}", safe_text(f"{finding.check}{stop} {finding.found}"))
    words.add_row(safe_text("->"), safe_text(finding.advice))
    if finding.hangs_on is not None:
        words.add_row("", safe_text(finding.hangs_on))
    if finding.thresholds:
        by = "; ".join(_threshold(t, rules) for t in finding.thresholds)
        words.add_row("", safe_text(f"Rule: {by}"))
    if finding.answer is not None:
        words.add_row("", safe_text(_answer(finding.answer)))
    return words


def _threshold(threshold: Threshold, rules: RuleSet) -> str:
    trust = ", from memory" if threshold.confidence.startswith("memory") else ""
    of = "" if threshold.rule_set == rules.name else f" of {threshold.rule_set}"
    return f"{threshold.words()}{of}, {threshold.meaning} ({threshold.source}{trust})"


def _answer(answer: Answer) -> str:
    signed = [answer.by, None if answer.at is None else answer.at.date().isoformat()]
    who = ", ".join(part for part in signed if part)
    return f"Accepted because: {answer.reason}{f' ({who})' if who else ''}"


def _closing(one: Checked, shown: int) -> Iterator[str]:
    if not one.findings:
        so_far = "" if one.finished else " so far"
        yield f"The checks find nothing{so_far}."
    else:
        yield f"Findings: {_counted(one.findings)}."
    if shown < len(one.findings):
        yield f"{len(one.findings) - shown} below the level asked for are not shown."
    lapsed = lapsed_answers(one.gauging, one.findings)
    for answer in lapsed:
        yield (
            f'An answer no longer fits, as its finding is gone or says something else: "'
            f'{answer.finding}" was accepted because: {answer.reason}'
        )
    yield f"Rule set: {one.rules.name} ({one.rules.title})."


def _counted(findings: Sequence[Finding]) -> str:
    counts = Counter(finding.severity for finding in findings)
    answered = sum(finding.answer is not None for finding in findings)
    parts = [f"{counts[severity]} {severity}" for severity in SEVERITIES if counts[severity]]
    return ", ".join(parts) + (f"; {answered} answered" if answered else "")


def render_overview(console: Console, looked: Sequence[Checked], level: Severity) -> None:
    """Print a line a gauging with its findings by severity down to a level, and the answered."""
    severities = SEVERITIES[: SEVERITIES.index(level) + 1]
    table = plain_table()
    several = len({one.file for one in looked}) > 1
    for head in (("file",) if several else ()) + ("gauging",):
        table.add_column(head, overflow="fold")
    for severity in severities:
        table.add_column(severity, justify="right", no_wrap=True)
    table.add_column("answered", justify="right", no_wrap=True)
    for one in looked:
        counts = Counter(finding.severity for finding in one.findings)
        answered = sum(finding.answer is not None for finding in one.findings)
        places = (one.file, one.label) if several else (one.label,)
        table.add_row(
            *(safe_text(text) for text in places),
            *(str(counts[severity] or "") for severity in severities),
            str(answered or ""),
        )
    render_lines(console, [""])
    render_table(console, table)
    render_lines(console, ["", "--each shows the findings of every gauging."])


def findings_as_document(looked: Sequence[Checked]) -> dict[str, Any]:
    """Return the findings of all gaugings as one object."""
    return {"gaugings": [_document(one) for one in looked]}


def _document(one: Checked) -> dict[str, Any]:
    asked = {} if one.next is None else {"next": attrs.asdict(one.next)}
    return {
        "file": one.file,
        "gauging": one.label,
        "rule_set": one.rules.name,
        "finished": one.finished,
        "remarks": list(one.remarks),
        "findings": [_finding(finding) for finding in one.findings],
        "answers_lapsed": [_kept(answer) for answer in lapsed_answers(one.gauging, one.findings)],
        **asked,
    }


def _finding(finding: Finding) -> dict[str, Any]:
    return {
        "key": key_of(finding),
        "check": finding.check,
        "severity": finding.severity,
        "found": finding.found,
        "advice": finding.advice,
        "channel": finding.channel,
        "tapes": list(finding.tapes),
        "instead": finding.instead,
        "hangs_on": finding.hangs_on,
        "places": [attrs.asdict(place) for place in finding.places],
        "thresholds": [
            {
                "name": threshold.name,
                "value": threshold.value,
                "unit": threshold.unit,
                "source": threshold.source,
                "confidence": threshold.confidence,
                "rule_set": threshold.rule_set,
            }
            for threshold in finding.thresholds
        ],
        "answer": None if finding.answer is None else _kept(finding.answer),
    }


def _kept(answer: Answer) -> dict[str, Any]:
    return {
        "check": answer.check,
        "finding": answer.finding,
        "reason": answer.reason,
        "by": answer.by,
        "at": None if answer.at is None else answer.at.isoformat(),
    }
