"""A plan as people read it at the bank, and as other programs read it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from decimal import Decimal
from itertools import pairwise
from typing import Any, Final

import attrs
from rich.console import Console
from rich.table import Table

from bankside.cli.render import plain_table, render_lines, render_points, render_table
from bankside.gauging.plan import Plan, PlannedEdge, PlannedVertical
from bankside.gauging.plan_rules import Rule
from bankside.gauging.plan_timing import Timing
from bankside.gauging.units import LengthUnit

__all__ = ["plan_as_document", "render_plan"]

_RULE_NAMES: Final[dict[Rule, str]] = {
    "equal": "equal spacing",
    "cell-centres": "centres of equal cells",
    "skip-first-cell": "equal spacing, first cell not read",
    "equal-flow": "closer where the earlier gauging found more water",
}
# Common field guidance, from memory: depth (ft) times velocity (ft/s) of 10, which is 0.93 m²/s.
_WADING_LIMIT: Final[dict[LengthUnit, str]] = {
    "ft": "depth (ft) × velocity (ft/s) is 10 or more (about 0.93 m²/s)",
    "m": "depth (m) × velocity (m/s) is 0.93 or more (10 in feet)",
}


def render_plan(
    console: Console,
    plan: Plan,
    timing: Timing,
    earlier_lines: Sequence[str] = (),
    unit_lines: Sequence[str] = (),
) -> None:
    """Print a plan for a tape in ft or m: its verticals as they are met, its time, its remarks.

    `earlier_lines` name the earlier gauging that the plan rests on, if there is one. `unit_lines`
    say first which unit was taken, where nobody said it: a plan in the wrong one looks like any
    other. The caution at the end is common field guidance (the limit from memory), not a rule of
    this program.
    """
    count = len(plan.verticals)
    title = f"{count} vertical{'' if count == 1 else 's'} in {_written(plan.width)} {plan.unit}"
    render_lines(console, [f"{title}: {_RULE_NAMES[plan.rule]}", *unit_lines, ""])
    render_table(console, _table(plan))
    each = "1 point" if timing.points == 1 else f"{timing.points} points"
    facts = [
        f"Time in the water: about {_duration(plan.expected_seconds)}, with {each} of "
        f"{timing.exposure_seconds:g} s at each vertical"
    ]
    if plan.interval is not None:
        facts.insert(0, f"{_interval_name(plan)}: {_written(plan.interval)} {plan.unit}")
    render_lines(console, ["", *earlier_lines, *facts, "", "Remarks"])
    render_points(console, plan.remarks)
    caution = (
        "Common field guidance, not a rule of this program: do not wade where "
        f"{_WADING_LIMIT[plan.unit]}, and never alone; lighter people, cold water and soft beds "
        "call for less; local rules and the crew leader decide."
    )
    render_lines(console, ["", caution])


def _interval_name(plan: Plan) -> str:
    gaps = {abs(b.tape - a.tape) for a, b in pairwise(plan.verticals)}
    return "Interval" if gaps <= {plan.interval} else "Interval before rounding to the tape"


def _table(plan: Plan) -> Table:
    table = plain_table()
    table.add_column("vertical", justify="right", no_wrap=True)
    table.add_column(f"tape\n({plan.unit})", justify="right", no_wrap=True)
    table.add_column(f"panel width\n({plan.unit})", justify="right", no_wrap=True)
    expected = any(vertical.share_expected is not None for vertical in plan.verticals)
    if expected:
        table.add_column("expected\nshare (%)", justify="right", no_wrap=True)
    first, last = plan.edges
    rows: list[tuple[str, PlannedEdge | PlannedVertical]] = [
        (f"{first.bank} edge", first),
        *((str(number), vertical) for number, vertical in enumerate(plan.verticals, start=1)),
        (f"{last.bank} edge", last),
    ]
    tapes = _same_decimals([part.tape for _, part in rows])
    widths = _same_decimals([part.panel_width for _, part in rows])
    for (name, part), tape, width in zip(rows, tapes, widths, strict=True):
        table.add_row(name, tape, width, *([_share(part)] if expected else []))
    return table


def _share(part: PlannedEdge | PlannedVertical) -> str:
    """The share to expect; nothing at an edge that has no depth and so can carry nothing."""
    if part.share_expected is None or (isinstance(part, PlannedEdge) and not part.share_expected):
        return ""
    return f"{part.share_expected:z.1f}"


def _same_decimals(lengths: list[Decimal]) -> list[str]:
    """Lengths written out exactly, all with the decimals that the longest needs."""
    needed = max(len(_written(length).partition(".")[2]) for length in lengths)
    return [f"{length:.{needed}f}" for length in lengths]


def _written(length: Decimal) -> str:
    return f"{length.normalize():f}"


def _duration(seconds: float) -> str:
    hours, minutes = divmod(math.ceil(seconds / 60.0), 60)
    return f"{hours} h {minutes} min" if hours else f"{minutes} min"


def plan_as_document(plan: Plan) -> dict[str, Any]:
    """Return the plan as JSON takes it: what is not known is left out."""
    known = {
        "format": "bankside.plan/1",
        "rule": plan.rule,
        "unit": plan.unit,
        "edges": [_exact(edge) for edge in plan.edges],
        "verticals": [_exact(vertical) for vertical in plan.verticals],
        "interval": None if plan.interval is None else float(plan.interval),
        "expected_seconds": plan.expected_seconds,
        "remarks": list(plan.remarks),
    }
    return {key: value for key, value in known.items() if value is not None}


def _exact(record: attrs.AttrsInstance) -> dict[str, Any]:
    """A part of the plan; a decimal of up to 15 figures keeps them all as a JSON number."""
    return {
        key: float(value) if isinstance(value, Decimal) else value
        for key, value in attrs.asdict(record).items()
        if value is not None
    }
