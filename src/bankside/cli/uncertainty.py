"""How far a discharge can be trusted, as people read it and as data: the methods side by side."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final

from rich.console import Console

from bankside.cli.render import plain_table, render_lines, render_points, render_table
from bankside.gauging.budget import Budget
from bankside.gauging.checks.doubt import in_doubt
from bankside.gauging.checks.finding import Finding
from bankside.gauging.records import Gauging
from bankside.gauging.result import Result
from bankside.gauging.rounding import to_figures
from bankside.gauging.uncertainty import uncertainty_budgets, uncertainty_refusals
from bankside.note.standing import headline_budgets

__all__ = ["render_uncertainty", "uncertainty_as_document"]

_DOUBT: Final = (
    "A reading is in doubt, or an edge of water was not measured: no range around this discharge "
    "can be promised. What each method makes of the readings as they stand:"
)

_ON_NOTE: Final = "The ± on the note is the first of these; "


def render_uncertainty(
    console: Console,
    gauging: Gauging,
    result: Result,
    findings: Sequence[Finding] = (),
    *,
    parts: bool = False,
) -> None:
    """Print what each method makes of a discharge, with its parts if they are wanted.

    Where findings of the checks, or an edge that nobody measured, leave the figure in doubt, that
    stands first.
    """
    budgets = uncertainty_budgets(gauging, result)
    refusals = uncertainty_refusals(gauging, result)
    render_lines(console, ["", "Uncertainty, in % of the discharge", ""])
    doubtful = in_doubt(gauging, result, findings)
    if doubtful:
        render_lines(console, [_DOUBT, ""])
    if budgets:
        _totals(console, budgets)
        on_note = "" if doubtful or headline_budgets(budgets) != budgets[:1] else _ON_NOTE
        render_lines(console, ["", f"{on_note}docs/uncertainty.md explains each."])
    if budgets and parts:
        render_lines(console, [""])
        _parts(console, budgets)
        said = [sentence for budget in budgets for sentence in _said(budget)]
        render_lines(console, [""])
        render_points(console, said)
    render_points(console, refusals)


def _totals(console: Console, budgets: Sequence[Budget]) -> None:
    table = plain_table()
    table.add_column("method", overflow="fold")
    table.add_column("one standard\nuncertainty", justify="right", no_wrap=True)
    table.add_column("within,\n19 in 20", justify="right", no_wrap=True)
    for budget in budgets:
        bound = "; a lower bound" if budget.left_out else ""
        figures = (to_figures(u, 2) for u in (budget.standard_percent, budget.expanded_percent))
        table.add_row(f"{budget.method}{bound}", *figures)
    render_table(console, table)


def _parts(console: Console, budgets: Sequence[Budget]) -> None:
    table = plain_table()
    table.add_column("part, one standard uncertainty")
    for budget in budgets:
        table.add_column(budget.key, justify="right", no_wrap=True)
    for name in dict.fromkeys(part.name for budget in budgets for part in budget.parts):
        own = [{part.name: part.percent for part in budget.parts} for budget in budgets]
        table.add_row(name, *(to_figures(p[name], 2) if name in p else "" for p in own))
    render_table(console, table)


def _said(budget: Budget) -> list[str]:
    said = [f"{budget.key}, {part.name}: {part.basis}" for part in budget.parts]
    said += [f"{budget.key}: {remark}" for remark in budget.remarks]
    if budget.left_out:
        named = ", ".join(budget.left_out)
        said.append(f"{budget.key}: left out, as nobody could source it: {named}.")
    return said


def uncertainty_as_document(
    gauging: Gauging, result: Result, findings: Sequence[Finding]
) -> dict[str, Any]:
    """Return the budgets of a gauging, why a method gives none, and whether its figure is in doubt.

    `findings` are those of the checks.
    """
    return {
        "in_doubt": in_doubt(gauging, result, findings),
        "budgets": [
            {
                "key": budget.key,
                "method": budget.method,
                "standard_percent": budget.standard_percent,
                "expanded_percent": budget.expanded_percent,
                "two_thirds_percent": budget.two_thirds_percent,
                "parts": [
                    {"name": part.name, "percent": part.percent, "basis": part.basis}
                    for part in budget.parts
                ],
                "remarks": list(budget.remarks),
                "left_out": list(budget.left_out),
            }
            for budget in uncertainty_budgets(gauging, result)
        ],
        "not_stated": list(uncertainty_refusals(gauging, result)),
    }
