"""The headline of a note: the discharge, what has to be seen with it, and how far it may be off."""

from __future__ import annotations

from bankside.gauging.checks.doubt import in_doubt
from bankside.gauging.practice_mark import PRACTICE_WORDS
from bankside.gauging.result import Result
from bankside.gauging.rounding import to_figures
from bankside.note.called_figures import (
    as_called,
    called_units,
    discharge_words,
    with_four_figures,
)
from bankside.note.content import Fact, Headline
from bankside.note.facts import fact
from bankside.note.material import NoteMaterial
from bankside.note.section_drawing import SectionDrawing
from bankside.note.standing import IN_DOUBT, headline_budgets, warnings

__all__ = ["headline"]

_FIGURES = 3
"""Significant figures of a discharge: British Columbia manual, 1998, F.3 (read)."""


def headline(material: NoteMaterial, drawing: SectionDrawing) -> Headline:
    """Return the headline of a note; `drawing` is what its picture of the section shows."""
    result, units = material.result, called_units(material.gauging)
    discharge, *also = discharge_words(result.discharge_m3s, units, _FIGURES)
    uncertainty, basis = _uncertainty(material)
    mean_depth, mean_velocity = result.mean_depth_m, result.mean_velocity_ms
    return Headline(
        name="Discharge",
        discharge=discharge,
        also="".join(also),
        uncertainty=uncertainty,
        uncertainty_basis=basis,
        quality=fact("Quality:", material.gauging.quality),
        facts=(
            Fact("Width", f"{as_called([result.width_m / units.metres])[0]} {units.length}"),
            Fact("Area", f"{with_four_figures(result.area_m2 / units.square_metres)} {units.area}"),
            Fact("Mean depth", _mean(mean_depth, units.depth_metres, units.depth)),
            Fact("Mean velocity", _mean(mean_velocity, units.metres_per_second, units.velocity)),
            Fact("Verticals", str(sum(1 for v in result.verticals if v.depth_m > 0))),
            Fact("Largest share", _largest_share(result)),
        ),
        warnings=(
            *((PRACTICE_WORDS.removesuffix("."),) if material.gauging.practice else ()),
            *warnings(material.findings, drawing.channels, material.finished),
        ),
    )


def _mean(value: float | None, one: float, unit: str) -> str:
    return "no water" if value is None else f"{with_four_figures(value / one)} {unit}"


def _largest_share(result: Result) -> str:
    shares = [abs(panel.share) for panel in result.panels if panel.share is not None]
    return f"{max(shares):.1f} %" if shares else "none can be told"


def _uncertainty(material: NoteMaterial) -> tuple[str, str]:
    """Return the uncertainty of the headline, and by which method and how sure it is.

    Two methods are two estimates of one uncertainty, each named with its own figure: written as a
    range, they would be read as an interval of the discharge.
    """
    budgets = headline_budgets(material.budgets)
    if not budgets:
        return "uncertainty not stated", " ".join(material.budget_refusals)
    if in_doubt(material.gauging, material.result, material.findings):
        return IN_DOUBT, "What each method makes of the readings stands under Uncertainty."
    units = called_units(material.gauging)
    whole = abs(material.result.discharge_m3s) / units.cubic_metres_per_second
    percents = [f"± {to_figures(budget.expanded_percent, 2)} %" for budget in budgets]
    off = [
        f"± {to_figures(whole * budget.expanded_percent / 100.0, 2)} {units.discharge}"
        for budget in budgets
    ]
    if budgets[0].exceeds_discharge:
        return off[0], (
            "more than the discharge itself, of which no percent says anything: "
            f"{budgets[0].interval_words} by {budgets[0].method}"
        )
    if len(budgets) == 1:
        return percents[0], f"{off[0]}: {budgets[0].interval_words} by {budgets[0].method}"
    short = (
        f"{_in_one_line(percent)} by {_in_one_line(budget.short_name)}"
        for percent, budget in zip(percents, budgets, strict=True)
    )
    whole_names = (f"{o} by {b.method}" for o, b in zip(off, budgets, strict=True))
    return (
        f"Two estimates, each about 19 in 20: {', '.join(short)}",
        f"{'; '.join(whole_names)}. Each is {budgets[0].interval_words}: two published "
        "methods see the same discharge in different ways",
    )


def _in_one_line(words: str) -> str:
    """Return words that no end of a line parts, as a figure from its sign."""
    return words.replace(" ", "\u00a0")
