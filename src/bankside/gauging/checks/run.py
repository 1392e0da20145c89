"""All checks on one gauging, each finding with the crew's answer where one is kept."""

from __future__ import annotations

import datetime

import attrs

from bankside.gauging.checks import (
    depth_slips,
    repeated,
    rounding_habits,
    tape_slips,
    unit_slips,
    velocity_slips,
    wading,
)
from bankside.gauging.checks.examined import examine
from bankside.gauging.checks.finding import SEVERITIES, Check, Finding
from bankside.gauging.records import Gauging
from bankside.gauging.rule_sets.rule_set import RuleSet

__all__ = ["ALL_CHECKS", "check_gauging"]

ALL_CHECKS: tuple[Check, ...] = (
    *wading.CHECKS,
    *depth_slips.CHECKS,
    *velocity_slips.CHECKS,
    *tape_slips.CHECKS,
    *unit_slips.CHECKS,
    *repeated.CHECKS,
    *rounding_habits.CHECKS,
)
"""The catalogue, in the order in which it is printed."""


def check_gauging(
    gauging: Gauging,
    rules: RuleSet,
    *,
    finished: bool = True,
    today: datetime.date | None = None,
) -> tuple[Finding, ...]:
    """Return what the checks have to say, the gravest first, otherwise in catalogue order.

    An unfinished gauging is told only what can be said so far. An answer is laid beside a finding
    that says word for word what was answered; once the readings change what is found, it is open
    again.
    """
    examined = examine(gauging, rules, finished=finished, today=today)
    answers = {(answer.check, answer.finding): answer for answer in gauging.answers}
    findings = [
        attrs.evolve(finding, answer=answers.get((finding.check, finding.found)))
        for check in ALL_CHECKS
        for finding in check.find(examined)
    ]
    return tuple(sorted(findings, key=lambda finding: SEVERITIES.index(finding.severity)))
