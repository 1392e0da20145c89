"""Where to stand, from the two edges of water."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from typing import Any, Final, get_args

from bankside.bank.last_time import last_visit
from bankside.bank.request import Request
from bankside.gauging.advice_depths import soundings_remark
from bankside.gauging.advice_plan import USUAL_TARGET, target_remark
from bankside.gauging.faults import InputRefused
from bankside.gauging.flow_profile import FlowProfile, flow_profile
from bankside.gauging.plan import PlannedEdge, PlannedVertical, plan_verticals
from bankside.gauging.plan_rules import RULES
from bankside.gauging.plan_timing import Timing
from bankside.gauging.records import Edge
from bankside.gauging.rule_sets.rule_set import RuleSet
from bankside.gauging.units import LengthUnit, metres_per

__all__ = ["plan"]

_USUAL_VERTICALS: Final = 25
_LONGEST_EXPOSURE: Final = 3600.0


def plan(request: Request) -> dict[str, Any]:
    """Return verticals between the edges of water, from the start bank on: docs/bank.md.

    The rule set has the exposure and the least spacing where the request does not say them.
    """
    left, right = request.figure("left"), request.figure("right")
    unit = request.word("unit", ("ft", "m"))
    resolution, spacing = request.figure("resolution"), request.figure("minimum_spacing")
    verticals, exposure = request.count("verticals"), request.figure("exposure")
    rule = request.word("rule", RULES)
    start = request.word("start", get_args(Edge))
    earlier, (rules, unknown) = request.entries("earlier"), request.rules()
    target, soundings = request.percent("target"), request.figures("soundings", ("tape", "depth"))
    request.done("left", "right", "unit", "resolution")
    assert left is not None and right is not None and resolution is not None
    wanted = USUAL_TARGET if target is None else target
    profile, why_not = _profile(earlier)
    timing = Timing(_exposure(rules) if exposure is None else float(exposure))
    made = plan_verticals(
        left,
        right,
        unit=unit,
        resolution=resolution,
        verticals=_USUAL_VERTICALS if verticals is None else verticals,
        rule=rule or "equal",
        start=start or "left",
        minimum_spacing=_least_spacing(rules, unit) if spacing is None else spacing,
        earlier=profile,
        timing=timing,
    )
    return {
        "positions": [_written(vertical.tape) for vertical in made.verticals],
        "panel_widths": [_written(vertical.panel_width) for vertical in made.verticals],
        "shares": [vertical.share_expected for vertical in made.verticals],
        "edges": [{"bank": edge.bank, **_place(edge)} for edge in made.edges],
        "interval": None if made.interval is None else _written(made.interval),
        "expected_seconds": made.expected_seconds,
        "remarks": [
            *unknown,
            *why_not,
            *_about_target(earlier, rules, wanted, timing.exposure_seconds),
            *_by_soundings(soundings, (left, right), unit, rules, wanted, timing.exposure_seconds),
            *made.remarks,
        ],
    }


def _profile(entries: Sequence[object] | None) -> tuple[FlowProfile | None, tuple[str, ...]]:
    """Return how the flow was spread at the last visit, or a sentence on why that is not known."""
    if not entries:
        return None, ()
    visit = last_visit(entries)
    if visit.gauging is None or visit.result is None:
        return None, ("The last visit has no discharge, so no shares can be expected from it.",)
    count = len(visit.gauging.channels)
    first = f"The last visit has {count} channels: shares are expected from the first."
    try:
        return flow_profile(visit.gauging, visit.result, 0), (first,) if count > 1 else ()
    except InputRefused as refused:
        return None, tuple(f"The last visit: {fault.message}." for fault in refused.faults)


def _about_target(
    entries: Sequence[object] | None, rules: RuleSet, target: float, exposure: float
) -> tuple[str, ...]:
    """Return how many verticals the last visit makes likely to do for a target."""
    visit = last_visit(entries) if entries else None
    if visit is None or visit.gauging is None or visit.result is None:
        return ()
    remark = target_remark(
        visit.gauging,
        visit.result,
        rules,
        target=target,
        channel=0,
        exposure_seconds=exposure,
    )
    return () if remark is None else (remark,)


def _by_soundings(
    soundings: Sequence[tuple[Decimal, ...]] | None,
    edges: tuple[Decimal, Decimal],
    unit: LengthUnit,
    rules: RuleSet,
    target: float,
    exposure: float,
) -> tuple[str, ...]:
    """Return how many verticals depths alone make likely to do for a target."""
    if not soundings:
        return ()
    remark = soundings_remark(
        [(float(tape), float(depth)) for tape, depth in soundings],
        (float(edges[0]), float(edges[1])),
        rules,
        target=target,
        unit=unit,
        exposure_seconds=exposure,
    )
    return (remark,)


def _least_spacing(rules: RuleSet, unit: LengthUnit) -> Decimal:
    return Decimal(f"{rules.needed('spacing_least').si / metres_per(unit):.4f}")


def _exposure(rules: RuleSet) -> float:
    return min(rules.needed("exposure").si, _LONGEST_EXPOSURE)


def _place(part: PlannedEdge | PlannedVertical) -> dict[str, Any]:
    return {
        "tape": _written(part.tape),
        "panel_width": _written(part.panel_width),
        "share": part.share_expected,
    }


def _written(length: Decimal) -> str:
    """Return a length exactly, with the decimals that it has."""
    return f"{length:f}"
