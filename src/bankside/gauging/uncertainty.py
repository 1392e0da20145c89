"""How far a discharge can be trusted: by its own readings, and by three published methods."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

from bankside.gauging.budget import Budget
from bankside.gauging.records import Gauging
from bankside.gauging.result import Result
from bankside.gauging.uncertainty_between import between_budget
from bankside.gauging.uncertainty_components import components_budget
from bankside.gauging.uncertainty_flow import Assumed, Flow, flow_of
from bankside.gauging.uncertainty_iso import iso_budget
from bankside.gauging.uncertainty_scatter import scatter_budget

__all__ = ["Assumed", "stated_uncertainty", "uncertainty_budgets", "uncertainty_refusals"]

_METHODS: tuple[Callable[[Gauging, Flow, Assumed], Budget | str], ...] = (
    between_budget,
    iso_budget,
    scatter_budget,
    components_budget,
)


def uncertainty_budgets(
    gauging: Gauging,
    result: Result,
    assumed: Assumed = Assumed(),  # noqa: B008 - frozen
) -> tuple[Budget, ...]:
    """Return the budgets of a gauging with this result: the model between verticals first.

    Then follow ISO 748, interpolated variance and components. A method that cannot be stated is not
    among them; `uncertainty_refusals` says why. None can where the panels cancel out to a
    thousandth of their amounts or less, or carry nothing: no percent of that would mean anything
    (ours).
    """
    return stated_uncertainty(gauging, result, assumed)[0]


def uncertainty_refusals(
    gauging: Gauging,
    result: Result,
    assumed: Assumed = Assumed(),  # noqa: B008 - frozen
) -> tuple[str, ...]:
    """Return why methods of uncertainty give nothing, one sentence for each that does not."""
    return stated_uncertainty(gauging, result, assumed)[1]


def stated_uncertainty(
    gauging: Gauging,
    result: Result,
    assumed: Assumed = Assumed(),  # noqa: B008 - frozen
) -> tuple[tuple[Budget, ...], tuple[str, ...]]:
    """Return the budgets of a gauging, and why the other methods give none."""
    found = list(_stated(gauging, result, assumed))
    return (
        tuple(budget for budget in found if isinstance(budget, Budget)),
        tuple(why for why in found if isinstance(why, str)),
    )


def _stated(gauging: Gauging, result: Result, assumed: Assumed) -> Iterator[Budget | str]:
    flow = flow_of(gauging, result)
    if not flow.has_percents:
        why = "the discharge is 0" if flow.amount == 0 else "the panels cancel out"
        yield f"No uncertainty can be given in percent: {why}."
        return
    for method in _METHODS:
        stated = method(gauging, flow, assumed)
        if isinstance(stated, Budget) and not math.isfinite(stated.standard_percent):
            yield f"{stated.method}: the readings are too large to be squared and added."
        else:
            yield stated
