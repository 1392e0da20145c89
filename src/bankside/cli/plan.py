"""`bankside plan`: where to stand, from the two edges of water."""

import json
import math
import re
from decimal import Decimal
from pathlib import Path
from typing import Annotated, Any, Final, Literal

import attrs
from cyclopts import Parameter
from rich.console import Console
from rich.table import Table

from bankside.cli.render import plain_table, render_lines, render_points, render_table
from bankside.gauging.compute import compute
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.plan import (
    FlowProfile,
    Plan,
    Rule,
    Timing,
    flow_profile,
    plan_verticals,
    points_for_depth,
)
from bankside.gauging.wire import from_json

__all__ = ["plan_command"]

TapeUnit = Literal["ft", "m"]

_RULE_NAMES: Final[dict[Rule, str]] = {
    "equal": "equal spacing",
    "cell-centres": "centres of equal cells",
    "skip-first-cell": "equal spacing, first cell not read",
    "equal-flow": "equal shares of the earlier flow",
}
_USUAL_RESOLUTION: Final[dict[TapeUnit, Decimal]] = {"ft": Decimal("0.1"), "m": Decimal("0.05")}
_NUMBER: Final = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)", re.ASCII)
# Common field guidance, from memory: depth (ft) times velocity (ft/s) of 10, which is 0.93 m²/s.
_WADING_LIMIT: Final[dict[TapeUnit, str]] = {
    "ft": "depth (ft) × velocity (ft/s) is 10 or more (about 0.93 m²/s)",
    "m": "depth (m) × velocity (m/s) is 0.93 or more (10 in feet)",
}


def plan_command(
    left: str,
    right: str,
    /,
    *,
    verticals: int = 25,
    rule: Rule = "equal",
    earlier: Annotated[Path | None, Parameter(name="--from")] = None,
    from_channel: int | None = None,
    unit: TapeUnit = "ft",
    tape_resolution: str | None = None,
    minimum_spacing: str | None = None,
    depth: str | None = None,
    points: Literal[1, 2] | None = None,
    exposure: float = 40.0,
    as_json: Annotated[bool, Parameter(name="--json", negative=())] = False,
) -> None:
    """Lay out verticals between two edges of water, and say how long they take.

    Parameters
    ----------
    left
        Tape position of the left edge of water, facing downstream.
    right
        Tape position of the right edge; smaller than LEFT if the tape begins on the right bank.
    verticals
        How many verticals are wanted.
    rule
        How they are spread: at equal distances; at the centres of equal cells; one and a half
        intervals from the left edge and then at whole intervals; or closer where an earlier
        gauging found more water.
    earlier
        An earlier gauging of the site, as JSON. With it a plan says which shares to expect.
    from_channel
        Which channel of the earlier gauging, counted from 1, if it has several.
    unit
        The unit of the tape and of every other length here.
    tape_resolution
        The smallest graduation that is read: 0.1 ft or 0.05 m if nothing is said.
    minimum_spacing
        The least distance between neighbouring verticals. Published: 0.3 ft for a small rotating
        meter, 0.5 ft for a large one.
    depth
        About how deep it is; from 2.5 ft on two points a vertical are reckoned with.
    points
        How many points a vertical are read: 1, unless the depth asks for 2.
    exposure
        How long the meter is held at a point, in seconds.
    as_json
        Print the plan as JSON.
    """
    lengths = _lengths(
        unit,
        {
            "LEFT": left,
            "RIGHT": right,
            "--tape-resolution": tape_resolution,
            "--minimum-spacing": minimum_spacing,
            "--depth": depth,
        },
    )
    needed = points_for_depth(lengths["--depth"], unit) if "--depth" in lengths else 1
    timing = Timing(exposure_seconds=exposure, points=points or needed)
    plan = plan_verticals(
        lengths["LEFT"],
        lengths["RIGHT"],
        unit=unit,
        resolution=lengths.get("--tape-resolution", _USUAL_RESOLUTION[unit]),
        verticals=verticals,
        rule=rule,
        minimum_spacing=lengths.get("--minimum-spacing"),
        earlier=_earlier_flow(earlier, from_channel),
        timing=timing,
    )
    if as_json:
        print(json.dumps(_as_json(plan), ensure_ascii=False, indent=2, allow_nan=False))
    else:
        _render_plan(Console(highlight=False), plan, unit, timing)


def _lengths(unit: TapeUnit, called: dict[str, str | None]) -> dict[str, Decimal]:
    """Return the lengths that were given, exactly as written; InputRefused names all others."""
    faults = [
        Fault(f'{name}: found "{text}"; a length in {unit} such as 3.2 would be right')
        for name, text in called.items()
        if text is not None and not _NUMBER.fullmatch(text)
    ]
    if faults:
        raise InputRefused(faults)
    return {name: Decimal(text) for name, text in called.items() if text is not None}


def _earlier_flow(file: Path | None, channel: int | None) -> FlowProfile | None:
    """Return how the flow was spread in the gauging of a file, or None without a file."""
    if file is None:
        if channel is not None:
            raise InputRefused([Fault("--from-channel must go with --from")])
        return None
    try:
        text = file.read_text(encoding="utf-8")
    except OSError as error:
        reason = error.strerror or type(error).__name__
        raise InputRefused([Fault(f"cannot be read: {reason}", file=file.name)]) from error
    except UnicodeDecodeError as error:
        raise InputRefused([Fault("must be text in UTF-8", file=file.name)]) from error
    gauging = from_json(text, file=file.name)
    try:
        index = None if channel is None else channel - 1
        return flow_profile(gauging, compute(gauging), index)
    except InputRefused as refused:
        placed = (attrs.evolve(fault, file=file.name) for fault in refused.faults)
        raise InputRefused(placed) from refused


def _render_plan(console: Console, plan: Plan, unit: TapeUnit, timing: Timing) -> None:
    count = len(plan.stations)
    title = f"{count} vertical{'' if count == 1 else 's'} in {_written(plan.width)} {plan.unit}"
    render_lines(console, [f"{title}: {_RULE_NAMES[plan.rule]}", ""])
    render_table(console, _table(plan))
    each = "1 point" if timing.points == 1 else f"{timing.points} points"
    facts = [
        f"Time in the water: about {_duration(plan.expected_seconds)}, with {each} of "
        f"{timing.exposure_seconds:g} s at each vertical"
    ]
    if plan.interval is not None:
        facts.insert(0, f"Interval before rounding: {_written(plan.interval)} {plan.unit}")
    render_lines(console, ["", *facts, "", "Remarks"])
    render_points(console, plan.remarks)
    caution = f"Do not wade where {_WADING_LIMIT[unit]}: common field guidance, from memory."
    render_lines(console, ["", f"{caution} Local rules and the crew leader decide."])


def _table(plan: Plan) -> Table:
    table = plain_table()
    table.add_column("vertical", justify="right", no_wrap=True)
    table.add_column(f"tape\n({plan.unit})", justify="right", no_wrap=True)
    table.add_column(f"panel width\n({plan.unit})", justify="right", no_wrap=True)
    expected = any(station.share_expected is not None for station in plan.stations)
    if expected:
        table.add_column("expected\nshare (%)", justify="right", no_wrap=True)
    left, right = plan.edges
    rows: list[tuple[str, Decimal, Decimal, float | None]] = [
        ("left edge", left.tape, left.panel_width, None),
        *(
            (str(number), station.tape, station.panel_width, station.share_expected)
            for number, station in enumerate(plan.stations, start=1)
        ),
        ("right edge", right.tape, right.panel_width, None),
    ]
    tapes = _same_decimals([tape for _, tape, _, _ in rows])
    widths = _same_decimals([width for _, _, width, _ in rows])
    for (name, _, _, share), tape, width in zip(rows, tapes, widths, strict=True):
        shares = ["" if share is None else f"{share:.1f}"] if expected else []
        table.add_row(name, tape, width, *shares)
    return table


def _same_decimals(lengths: list[Decimal]) -> list[str]:
    """Lengths written out exactly, all with the decimals that the longest needs."""
    needed = max(len(_written(length).partition(".")[2]) for length in lengths)
    return [f"{length:.{needed}f}" for length in lengths]


def _written(length: Decimal) -> str:
    return f"{length.normalize():f}"


def _duration(seconds: float) -> str:
    hours, minutes = divmod(math.ceil(seconds / 60.0), 60)
    return f"{hours} h {minutes} min" if hours else f"{minutes} min"


def _as_json(plan: Plan) -> dict[str, Any]:
    """The plan as JSON takes it: what is not known is left out."""
    known = {
        "format": "bankside.plan/1",
        "rule": plan.rule,
        "unit": plan.unit,
        "edges": [_exact(edge) for edge in plan.edges],
        "stations": [_exact(station) for station in plan.stations],
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
