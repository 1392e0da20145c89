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

__all__ = [
    "accepted",
    "is_open",
    "key_of",
    "lapsed_answers",
    "matter_answered",
    "matter_of",
]

Matter = tuple[str, str, str]

_LETTERS = 5
"""A key has 32⁵ values: among a hundred findings two share one once in seven thousand times."""


def key_of(finding: Finding) -> str:
    """Return the short key of a finding; it changes when what is found changes, or how grave."""
    said = f"{finding.check}\n{finding.severity}\n{finding.found}".encode()
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
    InputRefused for a key that no finding has, for a reason that says nothing, and where nobody
    stands for the answer to a finding of "stop" or "fix now".
    """
    by_key = {key_of(finding): finding for finding in findings}
    faults = [*_faults(by_key, reasons), *_unsigned(by_key, reasons, by)]
    if faults:
        raise InputRefused(faults)
    new = tuple(
        Answer(
            check=by_key[key].check,
            finding=by_key[key].found,
            severity=by_key[key].severity,
            reason=reason,
            by=by,
            at=at,
        )
        for key, reason in reasons.items()
    )
    return attrs.evolve(gauging, answers=(*gauging.answers, *new))


def lapsed_answers(gauging: Gauging, findings: Iterable[Finding]) -> tuple[Answer, ...]:
    """Return the kept answers to what is no longer found as it was answered."""
    said = {matter_of(finding) for finding in findings}
    return tuple(answer for answer in gauging.answers if matter_answered(answer) not in said)


def matter_of(finding: Finding) -> Matter:
    """Return what an answer to a finding has to name: the check, how grave, and the words."""
    return finding.check, finding.severity, finding.found


def matter_answered(answer: Answer) -> Matter:
    """Return the check, severity and words that an answer was given to."""
    return answer.check, answer.severity, answer.finding


def _faults(by_key: Mapping[str, Finding], reasons: Mapping[str, str]) -> Iterable[Fault]:
    for key, reason in reasons.items():
        if key not in by_key:
            known = ", ".join(by_key) or "none, as nothing is found"
            yield Fault(f"the key of a finding must be one of {known} (got {shown(key)})")
        elif not reason.strip():
            yield Fault(f"the answer to {key} must say why the finding is accepted (got nothing)")


def _unsigned(
    by_key: Mapping[str, Finding], reasons: Mapping[str, str], by: str | None
) -> Iterable[Fault]:
    for key in reasons:
        if by is None and key in by_key and by_key[key].severity in ("stop", "fix now"):
            yield Fault(
                f'the answer to {key} must say who gives it, as the finding is "'
                f'{by_key[key].severity}" (got nobody; --by NAME would be right)'
            )
