"""`bankside sheet`: the blank field sheet, with the planned positions printed on it."""

from __future__ import annotations

import datetime
import math
from decimal import Decimal
from pathlib import Path
from typing import Annotated, Final

from cyclopts import Parameter

from bankside.cli.amounts import amount
from bankside.cli.output import suffix_faults, write_file
from bankside.cli.plan_options import (
    UNIT_REMARK,
    USUAL_UNIT,
    PlanOptions,
    TapeUnit,
    read_lengths,
    whole_number,
)
from bankside.cli.render import PlainConsole, render_points, safe_text
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.plan import Plan
from bankside.gauging.plan_timing import Timing
from bankside.gauging.rule_sets.load import BASE, load_rule_set
from bankside.gauging.rule_sets.rule_set import RuleSet
from bankside.gauging.units import metres_per
from bankside.report.field_sheet import FieldSheet, SheetHead, field_sheet, field_sheet_pdf
from bankside.report.typst_document import Paper

__all__ = ["sheet_command"]

_USUAL_PAPER: Final[dict[TapeUnit, Paper]] = {"ft": "letter", "m": "a4"}
_PAPER_NAMES: Final[dict[Paper, str]] = {"letter": "US Letter", "a4": "A4"}


def sheet_command(
    left: str | None = None,
    right: str | None = None,
    /,
    *,
    output: Annotated[Path, Parameter(name=("--output", "-o"))],
    replace: Annotated[bool, Parameter(show_default=False)] = False,
    options: PlanOptions = PlanOptions(),  # noqa: B008 - frozen
    unit: TapeUnit | None = None,
    points: Annotated[int, Parameter(converter=whole_number)] = 1,
    extra_rows: Annotated[int, Parameter(converter=whole_number)] = 6,
    paper: Paper | None = None,
    stream: str | None = None,
    site: str | None = None,
    date: str | None = None,
    crew: Annotated[tuple[str, ...], Parameter(show_default=False, consume_multiple=False)] = (),
    rules: str = BASE,
) -> None:
    """Write a blank field sheet as a PDF, to be printed on waterproof paper.

    With the two edges of water the sheet carries the planned tape positions, as `bankside plan`
    lays them out. Without them its rows are only numbered, as many as --verticals says.

    Parameters
    ----------
    left
        Tape position of the left edge of water, facing downstream.
    right
        Tape position of the right edge; smaller than LEFT if the tape begins on the right bank.
    output
        The PDF to write.
    replace
        Write over a file that is there already.
    unit
        The unit of the tape and of every length here: ft if nothing is said.
    points
        Lines for readings at each vertical, 1 to 3: 2 where 0.2 and 0.8 of the depth are read.
    extra_rows
        Rows for verticals beyond the plan, 0 to 100.
    paper
        a4 or letter; letter for a tape in ft and a4 for one in m if nothing is said.
    stream
        The stream, printed on every sheet.
    site
        The site, printed on every sheet.
    date
        The day of the visit, such as 2026-07-14, printed on every sheet.
    crew
        A member of the crew, with the role if it is known. Repeat as needed.
    rules
        The rule set from which the printed limits come: its name, or a .toml file.
    """
    faults = suffix_faults(output, ".pdf")
    if faults:
        raise InputRefused(faults)
    tape_unit = unit or USUAL_UNIT
    rule_set = load_rule_set(rules)
    plan = _plan(left, right, options, tape_unit, points, rule_set)
    sheet = field_sheet(
        plan,
        unit=tape_unit,
        rules=rule_set,
        head=SheetHead(stream=stream, site=site, date=_day(date), crew=crew),
        verticals=options.verticals,
        extra_rows=extra_rows,
        points=points,
    )
    chosen = paper or _USUAL_PAPER[tape_unit]
    pdf = field_sheet_pdf(sheet, chosen)
    write_file(output, replace, lambda path: path.write_bytes(pdf))
    _describe(f"{output}: {_PAPER_NAMES[chosen]}", sheet, plan, unit)


def _describe(beginning: str, sheet: FieldSheet, plan: Plan | None, unit: TapeUnit | None) -> None:
    """Print what was written, and everything that the plan remarks."""
    verticals = sum(row.kind == "vertical" for row in sheet.rows)
    spare = sum(row.kind == "extra" for row in sheet.rows)
    parts = [beginning, amount(verticals, "vertical"), amount(spare, "spare row")]
    if plan is not None:
        parts.append(f"about {math.ceil(plan.expected_seconds / 60)} min in the water")
    console = PlainConsole()
    # A path is not broken between lines, so that it can be copied.
    console.print(safe_text(", ".join(parts)), soft_wrap=True)
    remarks = [UNIT_REMARK] if unit is None else []
    render_points(console, [*remarks, *(plan.remarks if plan else ())])


def _plan(
    left: str | None,
    right: str | None,
    options: PlanOptions,
    unit: TapeUnit,
    points: int,
    rules: RuleSet,
) -> Plan | None:
    """Return the plan between the edges, None without edges; then nothing else may ask for one.

    The crew carries the paper and not the remarks of a plan, so verticals stand no closer than the
    rule set lets the checks ask for, unless somebody says so.
    """
    if left is not None and right is not None:
        lengths = read_lengths(unit, {"LEFT": left, "RIGHT": right, **options.lengths()})
        least = Decimal(f"{rules.si('spacing_least') / metres_per(unit):.4f}")
        lengths.setdefault("--minimum-spacing", least)
        return options.plan(lengths, unit, Timing(points=points))[0]
    if left is not None:
        raise InputRefused([Fault("RIGHT must go with LEFT, or neither for a blank sheet")])
    # The number of verticals is the number of rows of a blank sheet as well.
    needless = [name for name in options.given() if name != "--verticals"]
    if needless:
        raise InputRefused(Fault(f"{name} must go with LEFT and RIGHT") for name in needless)
    return None


def _day(text: str | None) -> datetime.date | None:
    if text is None:
        return None
    try:
        day = datetime.date.fromisoformat(text)
    except ValueError:
        day = None
    if day is None or day.isoformat() != text:
        raise InputRefused(
            [Fault(f'--date: found "{text}"; a day such as 2026-07-14 would be right')]
        )
    return day
