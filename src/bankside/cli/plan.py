"""`bankside plan`: where to stand, from the two edges of water."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Annotated, Literal

import attrs
from cyclopts import Parameter, Token

from bankside.cli.inputs import Computed
from bankside.cli.output import write_utf8
from bankside.cli.plan_options import (
    NUMBER,
    UNIT_REMARK,
    USUAL_UNIT,
    PlanOptions,
    TapeUnit,
    read_lengths,
)
from bankside.cli.plan_output import plan_as_document, render_plan
from bankside.cli.render import PlainConsole
from bankside.gauging.plan_timing import Timing, points_for_depth

__all__ = ["plan_command"]


def _seconds(_: type, tokens: Sequence[Token]) -> float:
    text = tokens[0].value
    if not NUMBER.fullmatch(text):
        raise ValueError(f'found "{text}"; seconds such as 40 would be right')
    return float(text)


def plan_command(
    left: str,
    right: str,
    /,
    *,
    options: PlanOptions = PlanOptions(),  # noqa: B008 - frozen
    unit: TapeUnit | None = None,
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
    unit
        The unit of the tape and of every other length here: ft if nothing is said.
    depth
        About how deep it is; from 2.5 ft on two points a vertical are reckoned with.
    points
        How many points a vertical are read: 1, unless the depth asks for 2.
    exposure
        How long the meter is held at a point, in seconds.
    as_json
        Print the plan as JSON.
    """
    tape_unit = unit or USUAL_UNIT
    typed = {"LEFT": left, "RIGHT": right, **options.lengths(), "--depth": depth}
    lengths = read_lengths(tape_unit, typed)
    needed = points_for_depth(lengths["--depth"], tape_unit) if "--depth" in lengths else 1
    timing = Timing(exposure_seconds=exposure, points=points or needed)
    plan, before = options.plan(lengths, tape_unit, timing)
    unsaid = (UNIT_REMARK,) if unit is None else ()
    if as_json:
        document = plan_as_document(attrs.evolve(plan, remarks=(*unsaid, *plan.remarks)))
        write_utf8(json.dumps(document, ensure_ascii=False, indent=2, allow_nan=False) + "\n")
    else:
        lines = () if before is None else (_name(before),)
        render_plan(PlainConsole(), plan, timing, lines, unsaid)


def _name(earlier: Computed) -> str:
    """Return which earlier gauging a plan rests on, so that a wrong file is seen at once."""
    gauging = earlier.gauging
    day = None if gauging.date is None else gauging.date.isoformat()
    known = [part for part in (gauging.site.stream, gauging.site.name, day) if part]
    return f"Earlier gauging: {', '.join([*known, earlier.file])}"
