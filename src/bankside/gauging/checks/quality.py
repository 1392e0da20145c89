"""Whether the quality that the crew gives a measurement is borne out by its uncertainty."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from bankside.gauging.budget import Budget
from bankside.gauging.checks.examined import Examined
from bankside.gauging.checks.finding import Check, Finding
from bankside.gauging.records import Quality
from bankside.gauging.rounding import to_figures
from bankside.gauging.rule_sets.rule_set import RuleSet
from bankside.gauging.uncertainty import uncertainty_budgets
from bankside.kernel.limits import above

__all__ = ["CHECKS", "borne_out", "deciding_budget"]

_FROM_THE_BEST: tuple[Quality, ...] = ("excellent", "good", "fair")


def _too_good(examined: Examined) -> Iterator[Finding]:
    word = examined.gauging.quality
    if not examined.finished or examined.result is None or word not in _FROM_THE_BEST:
        return
    budget = deciding_budget(uncertainty_budgets(examined.gauging, examined.result))
    allowed = examined.rules[f"quality_{word}"]
    # Ours: the publications do not say which multiple of the uncertainty they mean.
    if budget is not None and above(budget.standard_percent, allowed.si):
        yield Finding(
            check="Held to be better than it is",
            severity="explain",
            found=f"The crew holds the measurement to be {word}, which means within "
            f"{allowed.words()}; one standard uncertainty is about "
            f"{to_figures(budget.standard_percent, 2)} % by {budget.method}.",
            advice=f"Hold it to be {_word_for(examined.rules, budget.standard_percent)}, or say "
            "why it is better than that.",
            thresholds=(allowed,),
        )


def borne_out(rules: RuleSet, budgets: Iterable[Budget]) -> Quality | None:
    """Return the best word that these budgets bear out, None where none of them can."""
    budget = deciding_budget(budgets)
    return None if budget is None else _word_for(rules, budget.standard_percent)


def deciding_budget(budgets: Iterable[Budget]) -> Budget | None:
    """Return the budget that tells how sure a discharge is, None where none is complete.

    The model between verticals where there is one: on simulated streams it
    held the true discharge more often than the published methods.
    Else the larger of ISO 748 and interpolated variance, as tables and scatter each miss what the
    other sees. A lower bound bears out nothing.
    """
    whole = [budget for budget in budgets if not budget.left_out]
    return max(
        whole, key=lambda one: (one.key == "between-verticals", one.standard_percent), default=None
    )


def _word_for(rules: RuleSet, percent: float) -> Quality:
    fitting = (word for word in _FROM_THE_BEST if not above(percent, rules.si(f"quality_{word}")))
    return next(fitting, "poor")


CHECKS = (
    Check(
        name="Held to be better than it is",
        trigger="The crew's word for a finished gauging stands for less than one standard "
        "uncertainty of its discharge, by what its readings tell of the water between them. "
        "Which multiple the publications mean they do not say; one is ours.",
        severities=("explain",),
        remedy="Change the word, or say why it is better.",
        source="stream-flow operating procedure of a Colorado mine permit, 2014, p. 18; a USGS "
        "list of quality codes",
        find=_too_good,
        thresholds=("quality_excellent", "quality_good", "quality_fair"),
    ),
)
