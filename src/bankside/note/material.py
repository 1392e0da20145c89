"""What a measurement note is made from."""

from __future__ import annotations

import attrs

from bankside.gauging.budget import Budget
from bankside.gauging.checks.finding import Finding
from bankside.gauging.checks.run import check_gauging
from bankside.gauging.mean_stage import MeanStage, mean_stage
from bankside.gauging.records import Gauging
from bankside.gauging.result import Result
from bankside.gauging.rule_sets.rule_set import RuleSet
from bankside.gauging.uncertainty import stated_uncertainty
from bankside.note.map_point import MapPoint

__all__ = ["NoteMaterial", "gather"]


@attrs.frozen
class NoteMaterial:
    """What a note is made from.

    `result` is that of the gauging. `findings` are those of the checks by `rules`; without rules no
    check was made. `budgets` are its uncertainty, and `budget_refusals` say why others could not be
    stated. `filed` explains the total that the sheet carried, `sheet_notes` what was understood
    when it was read. `mean_stage` is the mean gauge height. `others` are points for the map beside
    the gauging's own. `finished` says whether all readings are there.
    """

    gauging: Gauging
    result: Result
    findings: tuple[Finding, ...] = ()
    rules: RuleSet | None = None
    budgets: tuple[Budget, ...] = ()
    budget_refusals: tuple[str, ...] = ()
    filed: tuple[str, ...] = ()
    sheet_notes: tuple[str, ...] = ()
    mean_stage: MeanStage | None = None
    others: tuple[MapPoint, ...] = ()
    finished: bool = True


def gather(
    gauging: Gauging,
    result: Result,
    rules: RuleSet,
    *,
    filed: tuple[str, ...] = (),
    sheet_notes: tuple[str, ...] = (),
    others: tuple[MapPoint, ...] = (),
    finished: bool = True,
) -> NoteMaterial:
    """Return what a note is made from, with checks by `rules`, uncertainty and stage worked out.

    `result` must be that of the gauging; the other arguments are handed on as they are.
    """
    budgets, refusals = stated_uncertainty(gauging, result)
    return NoteMaterial(
        gauging=gauging,
        result=result,
        # No day is handed over: a note must not change with the day on which it is written.
        findings=check_gauging(gauging, rules, finished=finished),
        rules=rules,
        budgets=budgets,
        budget_refusals=refusals,
        filed=filed,
        sheet_notes=sheet_notes,
        mean_stage=mean_stage(gauging, result),
        others=others,
        finished=finished,
    )
