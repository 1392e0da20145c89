"""What a note says about the uncertainty of the discharge: the methods side by side."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from bankside.gauging.budget import Budget, BudgetPart
from bankside.gauging.rounding import to_figures
from bankside.note.content import Cell, Column, Part, Table

__all__ = ["uncertainty_part"]

_FROM_MEMORY: Final = "from memory"
_MARK: Final = "†"


def uncertainty_part(budgets: Sequence[Budget], refusals: Sequence[str]) -> Part:
    """Return a table of the parts by method, with what each method assumes and leaves out."""
    if not budgets:
        said = tuple(refusals) or ("It was not worked out.",)
        return Part("Uncertainty", sentences=said)
    names = list(dict.fromkeys(part.name for budget in budgets for part in budget.parts))
    rows = [
        (Cell(name), *(Cell(_figure(_part(budget, name))) for budget in budgets)) for name in names
    ]
    totals = [
        ("one standard uncertainty", [b.standard_percent for b in budgets]),
        ("within, about 2 in 3 (68 %)", [b.two_thirds_percent for b in budgets]),
        ("within, about 19 in 20", [b.expanded_percent for b in budgets]),
    ]
    marked = any(_FROM_MEMORY in part.basis for budget in budgets for part in budget.parts)
    return Part(
        "Uncertainty",
        tables=(
            Table(
                name="Uncertainty of the discharge",
                columns=(
                    Column("part", "% of discharge, one standard uncertainty"),
                    *(Column(b.method, align="right", weight=1.0) for b in budgets),
                ),
                rows=tuple(rows),
                totals=tuple(
                    (Cell(name, "strong"), *(Cell(_percent(one), "strong") for one in figures))
                    for name, figures in totals
                ),
                whole=True,
            ),
        ),
        below=(f"{_MARK} {_FROM_MEMORY}: nobody has checked it against the publication",)
        if marked
        else (),
        fine=True,
        points=(*(" ".join(_remarks(budget)) for budget in budgets), *refusals),
    )


def _part(budget: Budget, name: str) -> BudgetPart | None:
    return next((part for part in budget.parts if part.name == name), None)


def _figure(part: BudgetPart | None) -> str:
    if part is None:
        return "-"
    return f"{_percent(part.percent)} {_MARK if _FROM_MEMORY in part.basis else ''}".rstrip()


def _percent(value: float) -> str:
    return to_figures(value, 2)


def _remarks(budget: Budget) -> Iterator[str]:
    """Yield what a budget assumes, and what it leaves out; the sources of its parts are its own."""
    yield f"{budget.method}."
    yield from budget.remarks
    if budget.left_out:
        yield f"Left out, as nobody could source it: {', '.join(budget.left_out)}."
