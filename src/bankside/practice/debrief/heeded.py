"""The checks that fired while somebody practised, and what became of each."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

import attrs

from bankside.gauging.checks.answers import is_open
from bankside.gauging.checks.finding import Finding
from bankside.gauging.records import Severity
from bankside.gauging.rule_sets.rule_set import RuleSet
from bankside.practice.debrief.read_on import read_on
from bankside.practice.session.document import Practice
from bankside.practice.session.followed import Followed

__all__ = [
    "Fate",
    "Heeded",
    "called_out",
    "calls_out",
    "came_out",
    "heeded",
    "ignored_stops",
    "left_to_mend",
]

Fate = Literal["put right", "came out", "answered", "left open"]


@attrs.frozen
class Heeded:
    """A finding, and whether it was put right, answered with a reason, or left open.

    `calls_out` says whether it calls everybody out of the water: a stop, or one that says so. Such
    a one was heeded by coming out, and neither word nor reason stands for that.
    """

    check: str
    severity: Severity
    found: str
    advice: str
    fate: Fate
    calls_out: bool = False


def heeded(
    practice: Practice, followed: Followed, rules: RuleSet, findings: Sequence[Finding]
) -> tuple[Heeded, ...]:
    """Return every finding once: those of the finished gauging, then those told and gone since.

    A note needs no answer and is left out unless it was told on the way and is gone.
    """
    still = {(finding.check, finding.found) for finding in findings}
    checks = {finding.check for finding in findings}
    rows = [
        Heeded(
            *(finding.check, finding.severity, finding.found, finding.advice),
            fate=_fate(practice, followed, rules, finding),
            calls_out=calls_out(finding),
        )
        for finding in findings
        if is_open(finding) or finding.answer is not None
        if finding.severity != "note" or finding.answer is not None
    ]
    gone = {
        (one.check, one.found): Heeded(one.check, one.severity, one.found, "", "put right")
        for one in practice.told
        # Said in other words, as after one more reading, it is still the same check.
        if (one.check, one.found) not in still and one.check not in checks
    }
    return (*rows, *gone.values())


def ignored_stops(rows: Sequence[Heeded]) -> int:
    """Return how many findings that call everybody out were passed over, answered or not."""
    return sum(1 for row in rows if row.calls_out and row.fate in ("answered", "left open"))


def left_to_mend(rows: Sequence[Heeded]) -> int:
    """Return how many findings to be put right in the water were left open."""
    return sum(1 for row in rows if row.severity == "fix now" and row.fate == "left open")


def called_out(rows: Sequence[Heeded]) -> bool:
    """Return whether a finding that was not put right calls everybody out."""
    return any(row.calls_out and row.fate != "put right" for row in rows)


def came_out(rows: Sequence[Heeded]) -> bool:
    """Return whether a finding called everybody out, and each that did was heeded."""
    return called_out(rows) and not ignored_stops(rows)


def calls_out(finding: Finding) -> bool:
    """Return whether a finding calls everybody out of the water."""
    return finding.severity == "stop" or finding.comes_out


def _fate(practice: Practice, followed: Followed, rules: RuleSet, finding: Finding) -> Fate:
    record = practice.record
    out = calls_out(finding)
    if out and record is not None and not read_on(followed, record, rules, finding):
        return "came out"
    return "left open" if finding.answer is None else "answered"
