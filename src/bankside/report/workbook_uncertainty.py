"""The sheet "Uncertainty": the parts of each budget, and what they come to."""

from __future__ import annotations

from collections.abc import Sequence

import attrs
from xlsxwriter.worksheet import Worksheet

from bankside.gauging.budget import Budget
from bankside.report.workbook_cells import Column, Formula, Looks, Table

__all__ = ["BudgetCells", "write_uncertainty"]


@attrs.frozen
class BudgetCells:
    """A budget, and where the double of its standard uncertainty stands, in percent."""

    budget: Budget
    expanded: str


def write_uncertainty(
    sheet: Worksheet,
    looks: Looks,
    budgets: Sequence[Budget],
    discharge: tuple[str, float],
    title: str,
) -> list[BudgetCells]:
    """Write each budget as a part of its own; `discharge`: the section's, cell and value (m³/s)."""
    table = Table(
        sheet,
        looks,
        title,
        "What each cause adds to the uncertainty of the discharge. The squares of the parts of a "
        "budget add up to the square of its standard uncertainty.",
        (
            Column("name", "part", 34, "text"),
            Column("percent", "% of the discharge", 13, "percent"),
            Column("amount", "m³/s", 13, "discharge"),
            Column("basis", "where it comes from, or what it does", 100, "text"),
        ),
    )
    if not budgets:
        table.add({"name": "no budget was worked out"})
    return [_budget(table, budget, discharge) for budget in budgets]


def _budget(table: Table, budget: Budget, discharge: tuple[str, float]) -> BudgetCells:
    table.part(budget.method)
    total, value = discharge

    def amount(percent: float) -> Formula:
        of = table.at("percent", table.next)
        return Formula(f"{of}/100*ABS({total})", percent / 100 * abs(value))

    first = table.next
    for part in budget.parts:
        table.add(
            {
                "name": part.name,
                "percent": part.percent,
                "amount": amount(part.percent),
                "basis": part.basis,
            }
        )
    squares = f"SQRT(SUMSQ({table.span('percent', first, table.row)}))" if budget.parts else "0"
    standard = table.add(
        {
            "name": "standard uncertainty",
            "percent": Formula(squares, budget.standard_percent),
            "amount": amount(budget.standard_percent),
            "basis": "root of the sum of the squares; the discharge lies within it about 2 times "
            "in 3",
        },
        total=True,
    )
    expanded = table.add(
        {
            "name": "within, about 19 in 20",
            "percent": budget.expanded_percent
            if budget.key == "between-verticals"
            else Formula(f"2*{table.at('percent', standard)}", budget.expanded_percent),
            "amount": amount(budget.expanded_percent),
            "basis": "half the interval that holds 95 % of what the readings leave possible; its "
            "way is too long for a sheet"
            if budget.key == "between-verticals"
            else "the double; the discharge lies within it about 19 times in 20",
        }
    )
    for name, lines in (("assumed", budget.remarks), ("left out", budget.left_out)):
        for line in lines:
            table.add({"name": name, "basis": line})
    return BudgetCells(budget, table.ref("percent", expanded))
