"""The checks that fired while somebody practised, and what became of each."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

import attrs

from bankside.gauging.checks.answers import is_open
from bankside.gauging.checks.finding import Finding
from bankside.gauging.records import Severity
from bankside.practice.session.document import Told

__all__ = ["Fate", "Heeded", "heeded", "ignored_stops"]

Fate = Literal["put right", "answered", "left open"]


@attrs.frozen
class Heeded:
    """A finding, and whether it was put right, answered with a reason, or left open."""

    check: str
    severity: Severity
    found: str
    advice: str
    fate: Fate


def heeded(told: Sequence[Told], findings: Sequence[Finding]) -> tuple[Heeded, ...]:
    """Return every finding once: those of the finished gauging, then those told and gone since.

    A note needs no answer and is left out unless it was told on the way and is gone.
    """
    still = {(finding.check, finding.found) for finding in findings}
    checks = {finding.check for finding in findings}
    rows = [
        Heeded(
            *(finding.check, finding.severity, finding.found, finding.advice),
            fate="left open" if finding.answer is None else "answered",
        )
        for finding in findings
        if is_open(finding) or finding.answer is not None
        if finding.severity != "note" or finding.answer is not None
    ]
    gone = {
        (one.check, one.found): Heeded(one.check, one.severity, one.found, "", "put right")
        for one in told
        # Said in other words, as after one more reading, it is still the same check.
        if (one.check, one.found) not in still and one.check not in checks
    }
    return (*rows, *gone.values())


def ignored_stops(rows: Sequence[Heeded]) -> int:
    """Return how many findings that call a stop were left open."""
    return sum(1 for row in rows if row.severity == "stop" and row.fate == "left open")
