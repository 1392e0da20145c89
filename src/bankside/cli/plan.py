"""`bankside plan`: where to stand, from the two edges of water."""

from __future__ import annotations

import json
import re
from collections.abc import Sequence
from decimal import Decimal
from pathlib import Path
from typing import Annotated, Final, Literal

import attrs
from cyclopts import Parameter, Token

from bankside.cli.inputs import Computed, Source, compute_all, load, require_usable
from bankside.cli.output import write_utf8
from bankside.cli.plan_output import plan_as_document, render_plan
from bankside.cli.render import PlainConsole
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.flow_profile import FlowProfile, flow_profile
from bankside.gauging.plan import plan_verticals
from bankside.gauging.plan_rules import Rule
from bankside.gauging.plan_timing import Timing, points_for_depth
from bankside.gauging.records import Edge
from bankside.sheets.answers import Answers, load_answers

__all__ = ["plan_command"]

TapeUnit = Literal["ft", "m"]

_USUAL_UNIT: Final = "ft"
_UNIT_REMARK: Final = "Lengths are taken as ft; --unit m for metres."
_USUAL_RESOLUTION: Final[dict[TapeUnit, Decimal]] = {"ft": Decimal("0.1"), "m": Decimal("0.05")}
_NUMBER: Final = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)", re.ASCII)
_WHOLE_NUMBER: Final = re.compile(r"[+-]?\d{1,9}", re.ASCII)
# Enough names to see what kind of file it is.
_MOST_NAMES: Final = 5


def _whole_number(_: type, tokens: Sequence[Token]) -> int:
    """Return a number of things; unlike the usual reading of an int, 2.5 is not taken for 2."""
    text = tokens[0].value
    if not _WHOLE_NUMBER.fullmatch(text):
        raise ValueError(f'found "{text}"; a whole number such as 12 would be right')
    return int(text)


def _seconds(_: type, tokens: Sequence[Token]) -> float:
    text = tokens[0].value
    if not _NUMBER.fullmatch(text):
        raise ValueError(f'found "{text}"; seconds such as 40 would be right')
    return float(text)


def plan_command(
    left: str,
    right: str,
    /,
    *,
    verticals: Annotated[int, Parameter(converter=_whole_number)] = 25,
    rule: Rule = "equal",
    start: Edge = "left",
    earlier: Annotated[Path | None, Parameter(name="--from")] = None,
    from_channel: Annotated[int | None, Parameter(converter=_whole_number)] = None,
    answers: Path | None = None,
    unit: TapeUnit | None = None,
    tape_resolution: str | None = None,
    minimum_spacing: str | None = None,
    depth: str | None = None,
    points: Literal[1, 2] | None = None,
    exposure: Annotated[float, Parameter(converter=_seconds)] = 40.0,
    as_json: Annotated[bool, Parameter(name="--json", show_default=False)] = False,
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
        How they are spread. equal: at equal distances; cell-centres: at the centres of equal
        cells; skip-first-cell: one and a half intervals from the edge at which the crew starts,
        then at whole intervals; equal-flow: closer where an earlier gauging found more water.
    start
        The bank from which the crew starts, facing downstream. Verticals are listed and numbered
        from there. skip-first-cell leaves out the cell at that bank; the other rules stand at the
        same positions from either bank. LEFT stays the left edge of water.
    earlier
        An earlier gauging of the site: a sheet (CSV, XLSX, XLS, ODS) or our JSON form, with one
        gauging in it. With it a plan says which shares to expect.
    from_channel
        Which channel of the earlier gauging, counted from 1, if it has several.
    answers
        A file of answers to the questions that the sheet of the earlier gauging raises, as
        `bankside compute --keep-answers` writes it.
    unit
        The unit of the tape and of every other length here: ft if nothing is said.
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
    tape_unit = unit or _USUAL_UNIT
    lengths = _lengths(
        tape_unit,
        {
            "LEFT": left,
            "RIGHT": right,
            "--tape-resolution": tape_resolution,
            "--minimum-spacing": minimum_spacing,
            "--depth": depth,
        },
    )
    needed = points_for_depth(lengths["--depth"], tape_unit) if "--depth" in lengths else 1
    before = _earlier_gauging(earlier, from_channel, answers)
    timing = Timing(exposure_seconds=exposure, points=points or needed)
    plan = plan_verticals(
        lengths["LEFT"],
        lengths["RIGHT"],
        unit=tape_unit,
        resolution=lengths.get("--tape-resolution", _USUAL_RESOLUTION[tape_unit]),
        verticals=verticals,
        rule=rule,
        start=start,
        minimum_spacing=lengths.get("--minimum-spacing"),
        earlier=None if before is None else _flow(before, from_channel),
        timing=timing,
    )
    if unit is None:
        plan = attrs.evolve(plan, remarks=(_UNIT_REMARK, *plan.remarks))
    if as_json:
        document = plan_as_document(plan)
        write_utf8(json.dumps(document, ensure_ascii=False, indent=2, allow_nan=False) + "\n")
    else:
        lines = () if before is None else (_name(before),)
        render_plan(PlainConsole(), plan, timing, lines)


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


def _earlier_gauging(file: Path | None, channel: int | None, kept: Path | None) -> Computed | None:
    """Return the one gauging of a file with its result, or None without a file.

    Raises InputRefused as `bankside compute` does, or when there are several gaugings.
    """
    if file is None:
        faults = [
            Fault(f"{option} must go with --from")
            for option, value in (("--from-channel", channel), ("--answers", kept))
            if value is not None
        ]
        if faults:
            raise InputRefused(faults)
        return None
    sources = load([file], Answers() if kept is None else load_answers(kept))
    _require_one_gauging(sources[0])
    checked, computed = compute_all(sources, "mid-section", "half-width")
    require_usable(checked, len(computed), keep_going=False)
    return computed[0]


def _require_one_gauging(source: Source) -> None:
    """Refuse a file of several gaugings, named; what nothing was measured on is none."""
    labels = [item.label for item in source.items if item.reason is None]
    if len(labels) < 2:
        return
    more = len(labels) - _MOST_NAMES
    named = ", ".join(labels[:_MOST_NAMES]) + (f" and {more} more" if more > 0 else "")
    message = f"found {len(labels)} gaugings ({named}); a file with one gauging would be right"
    raise InputRefused([Fault(message, file=source.file)])


def _flow(earlier: Computed, channel: int | None) -> FlowProfile:
    """Return how the flow was spread; faults name the file, and the option that settles them."""
    count = len(earlier.gauging.channels)
    if channel is None and count > 1:
        message = f"found {count} channels; say which one, --from-channel 1 to {count}"
        raise InputRefused([Fault(message, file=earlier.file)])
    try:
        index = None if channel is None else channel - 1
        return flow_profile(earlier.gauging, earlier.result, index)
    except InputRefused as refused:
        placed = (attrs.evolve(fault, file=earlier.file) for fault in refused.faults)
        raise InputRefused(placed) from refused


def _name(earlier: Computed) -> str:
    """Return which earlier gauging a plan rests on, so that a wrong file is seen at once."""
    gauging = earlier.gauging
    day = None if gauging.date is None else gauging.date.isoformat()
    known = [part for part in (gauging.site.stream, gauging.site.name, day) if part]
    return f"Earlier gauging: {', '.join([*known, earlier.file])}"
