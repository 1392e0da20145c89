"""What one simulated gauging says of its uncertainty, by each method, beside how wrong it is."""

from __future__ import annotations

import math
from collections.abc import Mapping

import attrs

from bankside.gauging.between import between_over
from bankside.gauging.budget import Budget
from bankside.gauging.compute import compute
from bankside.gauging.records import Gauging
from bankside.gauging.result import Result
from bankside.gauging.uncertainty import Assumed, uncertainty_budgets
from bankside.gauging.uncertainty_between import between_budget
from bankside.gauging.uncertainty_flow import flow_of
from bankside.kernel.between import mixture_half_width
from calibration.exact import exact_lines
from calibration.gaugings import Case

__all__ = ["METHODS", "Interval", "Judged", "between_verticals", "judged", "ours_alone"]

METHODS = ("between-verticals", "interpolated-variance", "iso-748", "components")
"""The methods by the keys of their budgets."""

# What a budget has for the water between verticals, and for nothing else.
_BETWEEN = ("verticals", "scatter of depth", "scatter of velocity")


@attrs.frozen
class Interval:
    """Half the widths of the intervals of 95 and of 68 %, over the discharge as stated."""

    wide: float
    narrow: float


@attrs.frozen
class Judged:
    """A gauging, how far the true discharge is from the stated one over that, and the intervals.

    A method that is not stated is not among them.
    """

    case: Case
    error: float
    intervals: Mapping[str, Interval]


def judged(case: Case) -> Judged:
    """Return what every method says of one gauging, all by its record.

    Readings of a perfect crew have no error: of its budgets only what they have for the water
    between verticals is taken. Of all others the whole budgets are.
    """
    stream = case.stream()
    gauging = case.gauging(stream)
    result = compute(gauging)
    if case.crew == "perfect":
        intervals = between_verticals(gauging, result) | _exact_between(gauging, result)
    else:
        intervals = {budget.key: _whole(budget) for budget in uncertainty_budgets(gauging, result)}
    return _judged(case, stream.discharge, result, intervals)


def ours_alone(case: Case) -> Judged:
    """Return the same without the published methods, in a third of the time."""
    stream = case.stream()
    gauging = case.gauging(stream)
    result = compute(gauging)
    if case.crew == "perfect":
        return _judged(case, stream.discharge, result, _exact_between(gauging, result))
    stated = between_budget(gauging, flow_of(gauging, result), Assumed())
    intervals = {"between-verticals": _whole(stated)} if isinstance(stated, Budget) else {}
    return _judged(case, stream.discharge, result, intervals)


def between_verticals(gauging: Gauging, result: Result) -> dict[str, Interval]:
    """Return what the published budgets have for the water between verticals alone."""
    return {
        budget.key: _normal(_between_percent(budget) / 100.0)
        for budget in uncertainty_budgets(gauging, result)
        if budget.key != "between-verticals"
    }


def _judged(case: Case, true: float, result: Result, intervals: Mapping[str, Interval]) -> Judged:
    stated = result.discharge_m3s
    return Judged(case, (true - stated) / abs(stated), intervals)


def _whole(budget: Budget) -> Interval:
    return Interval(budget.expanded_percent / 100.0, budget.two_thirds_percent / 100.0)


def _between_percent(budget: Budget) -> float:
    return math.sqrt(math.fsum(part.percent**2 for part in budget.parts if part.name in _BETWEEN))


def _normal(deviation: float) -> Interval:
    """Return the intervals that published methods give: one and two standard uncertainties."""
    return Interval(2.0 * deviation, deviation)


def _exact_between(gauging: Gauging, result: Result) -> dict[str, Interval]:
    lines = exact_lines(gauging)
    if not lines or any(not line.mean > 0.0 for line in lines):
        return {}
    between = between_over(lines)
    deviations = [math.sqrt(variance) for variance in between.variances]
    wide, narrow = (
        mixture_half_width(between.weights, deviations, probability) / abs(result.discharge_m3s)
        for probability in (0.95, 0.68)
    )
    return {"between-verticals": Interval(wide, narrow)}
