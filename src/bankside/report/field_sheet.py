"""The blank sheet for the bank: written with a pencil, in the rain, as the readings are called.

What stands on it is put together here, as plain data; how it looks is the template's business.
Planned tape positions are printed as planned, never rounded; every reading has an empty cell.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from decimal import Decimal
from typing import Final, Literal

import attrs

from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.plan import Plan
from bankside.gauging.plan_rules import MOST_VERTICALS
from bankside.gauging.records import Edge
from bankside.gauging.rule_sets.rule_set import RuleSet
from bankside.note.cautions import CAUTIONS, DEFERENCE, DEPTH_TIMES_VELOCITY
from bankside.note.field_aids import (
    RodSetting,
    TapeUnit,
    WadingLimit,
    method_words,
    rod_settings,
    wading_limits,
    wading_words,
)
from bankside.report.typst_document import Paper, typst_pdf

__all__ = ["FieldSheet", "SheetHead", "SheetRow", "field_sheet", "field_sheet_pdf"]

_MOST_EXTRA_ROWS: Final = 100
_MOST_POINTS: Final = 3
_MOST_CHARACTERS: Final = 200


@attrs.frozen
class SheetHead:
    """What is known of a visit before it begins; the rest is written by hand."""

    stream: str | None = None
    site: str | None = None
    date: datetime.date | None = None
    crew: tuple[str, ...] = ()


@attrs.frozen
class SheetRow:
    """A row to write in: an edge of water, a vertical, or a spare row for one more vertical.

    `number` counts the verticals from the bank at which the crew starts, "+1" the spare rows.
    `tape` is the planned position, `bank` which edge it is; absent where nobody has said.
    """

    kind: Literal["edge", "vertical", "extra"]
    number: str | None = None
    tape: str | None = None
    bank: Edge | None = None


@attrs.frozen
class FieldSheet:
    """Everything printed on a sheet; lengths in `unit`, velocities in `unit` a second.

    `points` is the number of lines for readings at each vertical. Limits of the rule set stand with
    their unit, as it words them; `quality` pairs each word with the uncertainty that it allows.
    """

    unit: TapeUnit
    planned: bool
    points: int
    stream: str | None
    site: str | None
    date: str | None
    crew: tuple[str, ...]
    rules: str
    exposure: str
    spin_small: str
    spin_large: str
    rows: tuple[SheetRow, ...]
    rod: tuple[RodSetting, ...]
    method: str
    wading: tuple[WadingLimit, ...]
    wading_words: str
    cautions: tuple[str, ...]
    deference: str
    share_limit: str
    quality: tuple[tuple[str, str], ...]


def field_sheet(
    plan: Plan | None,
    *,
    unit: TapeUnit,
    rules: RuleSet,
    head: SheetHead | None = None,
    verticals: int = 25,
    extra_rows: int = 6,
    points: int = 1,
) -> FieldSheet:
    """Return what stands on the sheet for a plan, or on a blank one with numbered rows.

    Args:
        plan: Where the verticals are planned; None for a sheet without positions.
        unit: The unit of the tape; that of the plan if there is one.
        rules: Where the limits of the printed tables come from.
        head: What is known of the visit.
        verticals: How many rows are numbered where there is no plan, 1 to 500.
        extra_rows: Rows for verticals beyond the plan, 0 to 100.
        points: Lines for readings at each vertical, 1 to 3.

    Raises:
        InputRefused: A number out of its range, a plan in another unit, a text of more than 200
            characters, or a rule set without a limit that is printed.
    """
    head = SheetHead() if head is None else head
    _require_sense(plan, unit, verticals, extra_rows, points)
    return FieldSheet(
        unit=unit,
        planned=plan is not None,
        points=points,
        stream=_text("stream", head.stream),
        site=_text("site", head.site),
        date=None if head.date is None else head.date.isoformat(),
        crew=tuple(name for name in (_text("crew", name) for name in head.crew) if name),
        rules=rules.name,
        exposure=rules.needed("exposure").words(),
        spin_small=rules.needed("spin_small").words(),
        spin_large=rules.needed("spin_large").words(),
        rows=(*(_planned_rows(plan) if plan else _blank_rows(verticals)), *_extra(extra_rows)),
        rod=rod_settings(unit, rules),
        method=method_words(unit, rules),
        wading=wading_limits(unit, rules),
        wading_words=wading_words(unit, rules),
        # The wading table says depth times velocity, with the limits of the rule set.
        cautions=tuple(c.short for c in CAUTIONS if c is not DEPTH_TIMES_VELOCITY),
        deference=DEFERENCE,
        share_limit=rules.needed("panel_share_limit").words(),
        quality=_quality(rules),
    )


def field_sheet_pdf(sheet: FieldSheet, paper: Paper) -> bytes:
    """Return the sheet as a tagged PDF (PDF/A-2a, PDF/UA-1); equal sheets give equal bytes."""
    day = None if sheet.date is None else datetime.date.fromisoformat(sheet.date)
    return typst_pdf("field_sheet", attrs.asdict(sheet), {}, paper=paper, day=day)


def _require_sense(
    plan: Plan | None, unit: TapeUnit, verticals: int, extra_rows: int, points: int
) -> None:
    faults = [
        Fault(f"{name} must be {least} to {most} in number (got {value})")
        for name, value, least, most in (
            ("verticals", verticals, 1, MOST_VERTICALS),
            ("extra rows", extra_rows, 0, _MOST_EXTRA_ROWS),
            ("points", points, 1, _MOST_POINTS),
        )
        if not least <= value <= most
    ]
    if plan is not None and plan.unit != unit:
        faults.append(Fault(f"the plan must be in {unit} like the sheet (got {plan.unit})"))
    if faults:
        raise InputRefused(faults)


def _text(name: str, text: str | None) -> str | None:
    """Return a text on one line, None if it says nothing."""
    line = " ".join((text or "").split())
    if len(line) > _MOST_CHARACTERS:
        raise InputRefused(
            [Fault(f"the {name} must have {_MOST_CHARACTERS} characters at most (got {len(line)})")]
        )
    return line or None


def _planned_rows(plan: Plan) -> Iterator[SheetRow]:
    """Positions exactly as planned; an edge has the verticals' decimals, or more of its own."""
    decimals = max(_decimals(vertical.tape) for vertical in plan.verticals)
    first, last = (
        SheetRow("edge", None, f"{e.tape:z.{max(decimals, _decimals(e.tape))}f}", e.bank)
        for e in plan.edges
    )
    yield first
    for number, vertical in enumerate(plan.verticals, start=1):
        yield SheetRow("vertical", str(number), f"{vertical.tape:zf}")
    yield last


def _blank_rows(verticals: int) -> Iterator[SheetRow]:
    yield SheetRow("edge")
    for number in range(1, verticals + 1):
        yield SheetRow("vertical", str(number))
    yield SheetRow("edge")


def _extra(count: int) -> Iterator[SheetRow]:
    for number in range(1, count + 1):
        yield SheetRow("extra", f"+{number}")


def _decimals(length: Decimal) -> int:
    return max(0, -int(length.as_tuple().exponent))


def _quality(rules: RuleSet) -> tuple[tuple[str, str], ...]:
    """Return the quality words with the uncertainty up to which each holds."""
    limits = {
        word: rules.needed(f"quality_{word}").words() for word in ("excellent", "good", "fair")
    }
    return (
        *((word, f"up to {limit}") for word, limit in limits.items()),
        ("poor", "above"),
    )
