"""Answering findings: a crew says why it accepts one, and the gauging keeps that."""

from __future__ import annotations

import base64
import datetime
import hashlib
from collections.abc import Iterable, Mapping, Sequence

import attrs

from bankside.gauging.checks.finding import Finding
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.fields import shown
from bankside.gauging.records import Answer, Gauging

__all__ = ["accepted", "is_open", "key_of", "lapsed_answers"]

_LETTERS = 5
"""A key has 32⁵ values: among a hundred findings two share one once in seven thousand times."""


def key_of(finding: Finding) -> str:
    """Return the short key of a finding; it changes when what is found changes."""
    said = f"{finding.check}\n{finding.found}".encode()
    return base64.b32encode(hashlib.sha256(said).digest()).decode("ascii")[:_LETTERS].lower()


def is_open(finding: Finding) -> bool:
    """Return whether a finding asks for something and nobody has answered it."""
    return finding.answer is None and finding.severity != "note"


def accepted(
    gauging: Gauging,
    findings: Sequence[Finding],
    reasons: Mapping[str, str],
    *,
    by: str | None = None,
    at: datetime.datetime | None = None,
) -> Gauging:
    """Return the gauging with an answer to each finding whose key has a reason.

    An earlier answer to the same finding is kept before the new one, which goes for it.
    InputRefused for a key that no finding has, and for a reason that says nothing.
    """
    by_key = {key_of(finding): finding for finding in findings}
    faults = [*_faults(by_key, reasons)]
    if faults:
        raise InputRefused(faults)
    new = tuple(
        Answer(check=by_key[key].check, finding=by_key[key].found, reason=reason, by=by, at=at)
        for key, reason in reasons.items()
    )
    return attrs.evolve(gauging, answers=(*gauging.answers, *new))


def lapsed_answers(gauging: Gauging, findings: Iterable[Finding]) -> tuple[Answer, ...]:
    """Return the kept answers to what is no longer found as it was answered."""
    said = {(finding.check, finding.found) for finding in findings}
    return tuple(a for a in gauging.answers if (a.check, a.finding) not in said)


def _faults(by_key: Mapping[str, Finding], reasons: Mapping[str, str]) -> Iterable[Fault]:
    for key, reason in reasons.items():
        if key not in by_key:
            known = ", ".join(by_key) or "none, as nothing is found"
            yield Fault(f"the key of a finding must be one of {known} (got {shown(key)})")
        elif not reason.strip():
            yield Fault(f"the answer to {key} must say why the finding is accepted (got nothing)")
