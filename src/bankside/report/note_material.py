"""What a measurement note is made from."""

from __future__ import annotations

import attrs

from bankside.gauging.budget import Budget
from bankside.gauging.checks.finding import Finding
from bankside.gauging.mean_stage import MeanStage
from bankside.gauging.records import Gauging
from bankside.gauging.result import Result
from bankside.gauging.rule_sets.rule_set import RuleSet
from bankside.report.locator_map import MapPoint

__all__ = ["NoteMaterial"]


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
