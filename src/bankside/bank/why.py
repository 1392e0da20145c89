"""Why a page shows what it shows, by the rule set in force."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, get_args

from bankside.bank.reasons.certainty import CERTAINTY
from bankside.bank.reasons.plan import PLAN
from bankside.bank.reasons.reason import Reason
from bankside.bank.reasons.section import SECTION
from bankside.bank.reasons.setting_out import SETTING_OUT
from bankside.bank.reasons.vertical import VERTICAL
from bankside.bank.request import Request
from bankside.gauging.checks.finding import Check
from bankside.gauging.checks.run import ALL_CHECKS
from bankside.gauging.rule_sets.rule_set import RuleSet, Threshold
from bankside.note.field_aids import TapeUnit

__all__ = ["REASONS", "why"]

REASONS: tuple[Reason, ...] = (*SECTION, *VERTICAL, *CERTAINTY, *PLAN, *SETTING_OUT)
"""Every reason of a figure or a rule at a real stream; practice adds its own."""


def why(request: Request) -> dict[str, Any]:
    """Return every reason by its key, with the thresholds of a rule set that it hangs on.

    `practice` adds what is shown there alone, and is imported only then. `unit`, ft or m, is that
    in which thresholds are told; each as its rule set writes it if nothing is said.
    """
    unit, practice = request.word("unit", get_args(TapeUnit)), request.flag("practice")
    rules, unknown = request.rules()
    request.done()
    told = (*REASONS, *_practising()) if practice else REASONS
    return {
        "rule_set": rules.title,
        "remarks": list(unknown),
        "reasons": {
            **{reason.key: _reason(reason, rules, unit) for reason in told},
            **{f"check: {check.name}": _check(check, rules, unit) for check in ALL_CHECKS},
        },
    }


def _practising() -> tuple[Reason, ...]:
    from bankside.bank.reasons.practising import PRACTISING

    return PRACTISING


def _reason(reason: Reason, rules: RuleSet, unit: TapeUnit | None) -> dict[str, Any]:
    return {
        "name": reason.name,
        "words": f"{reason.purpose} {reason.grounds}",
        "source": reason.source,
        "thresholds": list(_thresholds(reason.thresholds, rules, unit)),
    }


def _check(check: Check, rules: RuleSet, unit: TapeUnit | None) -> dict[str, Any]:
    """Return the rule of a finding as the catalogue has it: when it is raised, and what to do."""
    return {
        "name": check.name,
        "words": f"{check.trigger} {check.remedy}",
        "source": check.source,
        "thresholds": list(_thresholds(check.thresholds, rules, unit)),
    }


def _thresholds(
    names: tuple[str, ...], rules: RuleSet, unit: TapeUnit | None
) -> Iterator[dict[str, Any]]:
    """Yield those that the rule set, or one that it stands on, sets."""
    for name in names:
        threshold = rules.get(name)
        if threshold is not None:
            yield _threshold(threshold, unit)


def _threshold(threshold: Threshold, unit: TapeUnit | None) -> dict[str, Any]:
    return {
        "name": threshold.name,
        "meaning": threshold.meaning,
        "value": threshold.words() if unit is None else threshold.words_in(unit),
        "confidence": threshold.confidence,
        "source": threshold.source,
        "rule_set": threshold.rule_set,
    }
