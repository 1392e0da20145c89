"""Invented gaugings for the checks: an even section that raises nothing, and changes to it."""

import re
from collections.abc import Mapping, Sequence
from typing import Any

from bankside.gauging.checks.finding import Finding
from bankside.gauging.checks.run import ALL_CHECKS, check_gauging
from bankside.gauging.records import Channel, Filed, Gauging, PointReading, Units, Vertical
from bankside.gauging.rule_sets.load import BASE, load_rule_set
from bankside.gauging.rule_sets.rule_set import RuleSet

from .wording import SENTENCE_END, hold_wording

FEET = Units("ft", "ft/s")
METRIC = Units("m", "m/s")
RULES = load_rule_set(BASE)
BY_NAME = {check.name: check for check in ALL_CHECKS}


def read(tape: float, depth: float = 1.0, velocity: float = 1.0, **fields: Any) -> Vertical:
    """A vertical with one velocity at 0.6 of the depth."""
    return Vertical(tape, depth, (PointReading(velocity, 0.6),), **fields)


def left(tape: float = 0.0, depth: float | None = 0.0, **fields: Any) -> Vertical:
    """The left edge of water."""
    return Vertical(tape, depth, edge="left", **fields)


def right(tape: float, depth: float | None = 0.0, **fields: Any) -> Vertical:
    """The right edge of water."""
    return Vertical(tape, depth, edge="right", **fields)


def gauging(*verticals: Vertical, units: Units = FEET, filed: Filed | None = None) -> Gauging:
    """A gauging with one channel."""
    return Gauging(units, (Channel(verticals),), filed=filed)


def even(count: int = 24, gap: float = 1.0, **changed: Any) -> list[Vertical]:
    """Edges and `count` verticals between them, all alike: each of 24 carries 4.17 %.

    `changed` gives fields of `read` by the number of the vertical: v3={"depth": 2.0}.
    """
    inner = [read(gap * i, **changed.get(f"v{i}", {})) for i in range(1, count + 1)]
    return [left(), *inner, right(gap * (count + 1))]


def at_tapes(tapes: Sequence[float], fields: Mapping[float, Any] | None = None) -> list[Vertical]:
    """Edges at the first and the last tape position and verticals, all alike, between them."""
    inner = [read(tape, **(fields or {}).get(tape, {})) for tape in tapes[1:-1]]
    return [left(tapes[0]), *inner, right(tapes[-1])]


def hold(finding: Finding) -> None:
    """Hold a finding to what the catalogue announces of its check, its advice to its places."""
    check = BY_NAME[finding.check]
    assert finding.severity in check.severities
    assert {threshold.name for threshold in finding.thresholds} <= set(check.thresholds)
    assert finding.found.endswith(SENTENCE_END) and finding.advice.endswith(SENTENCE_END)
    if finding.tapes:
        assert re.search(r"\btapes? [-\d]", finding.advice), finding.advice
    adds = re.search(r"\badd (a vertical|verticals|the vertical)\b", finding.advice, re.IGNORECASE)
    waits = finding.advice.startswith("Only once the leader holds it safe")
    assert bool(finding.places) == (adds is not None and not waits), finding
    assert check.wades or not finding.places
    for place in finding.places:
        figure = re.escape(f"{place.tape:.10g}")
        assert re.search(rf"(?<![\d.]){figure}(?!\.?\d)", finding.advice), finding


def found(
    check: str, made: Gauging, *, finished: bool = True, rules: RuleSet = RULES
) -> list[Finding]:
    """What one check has to say, in its order."""
    assert check in BY_NAME
    findings = check_gauging(made, rules, finished=finished)
    for finding in findings:
        hold(finding)
        hold_wording(finding)
    return [finding for finding in findings if finding.check == check]
