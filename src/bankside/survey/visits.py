"""The visits of a survey: each gauging with its site, and what is worked out from it."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Sequence

import attrs

from bankside.gauging.budget import Budget
from bankside.gauging.checks.doubt import in_doubt
from bankside.gauging.checks.finding import Finding
from bankside.gauging.checks.quality import borne_out, deciding_budget
from bankside.gauging.checks.run import check_gauging
from bankside.gauging.compute import compute
from bankside.gauging.faults import InputRefused
from bankside.gauging.practice_mark import refuse_practice
from bankside.gauging.records import Gauging, Quality
from bankside.gauging.result import Result
from bankside.gauging.rule_sets.rule_set import RuleSet
from bankside.gauging.uncertainty import uncertainty_budgets
from bankside.survey.records import SurveySite
from bankside.survey.site_names import SiteIndex

__all__ = ["Visit", "visit_of", "visits_of"]


@attrs.frozen
class Visit:
    """A gauging of a survey.

    `id` tells it from every other. `site` is None where the record names no site of the survey.
    `result` is None where the readings give no discharge, and `refused` then says why. `budget` is
    the uncertainty that stands for it: the model, else the larger of those that are complete, else
    a lower bound. `borne_out` is the best word for its quality that this bears out. `findings` are
    those of the checks on this gauging alone. `in_doubt` says whether something stands that no
    range around the discharge can speak of. `finished` says whether no readings are still to come.
    An archive adds in which state the gauging is there, who said the verdict that stands, the
    discharge that was filed and by which version of the method.
    """

    id: str
    gauging: Gauging
    site: SurveySite | None = None
    result: Result | None = None
    budget: Budget | None = None
    borne_out: Quality | None = None
    findings: tuple[Finding, ...] = ()
    in_doubt: bool = False
    refused: str = ""
    finished: bool = True
    state: str = ""
    reviewed_by: str | None = None
    filed_m3s: float | None = None
    filed_by: str | None = None

    @property
    def day(self) -> datetime.date | None:
        """The day on which it was made, None where the record does not say it."""
        if self.gauging.date is not None:
            return self.gauging.date
        return None if self.gauging.started is None else self.gauging.started.date()

    @property
    def discharge_m3s(self) -> float | None:
        """The discharge as filed, else as worked out; None where there is none."""
        if self.filed_m3s is not None:
            return self.filed_m3s
        return None if self.result is None else self.result.discharge_m3s

    @property
    def final_m3s(self) -> float | None:
        """The discharge of a finished gauging: what may be held against others."""
        return self.discharge_m3s if self.finished else None

    @property
    def why_none(self) -> str:
        """Why there is no discharge to hold against others, empty where there is one."""
        if not self.finished:
            return "it is not finished"
        return "" if self.final_m3s is not None else self.refused

    @property
    def differs_from_filed(self) -> bool:
        """Whether the discharge that is worked out today is not the one that was filed.

        So it is as well where the readings give none any more.
        """
        if self.filed_m3s is None:
            return False
        return self.result is None or self.filed_m3s != self.result.discharge_m3s

    @property
    def told_budget(self) -> Budget | None:
        """The uncertainty as it is told to others: none while the discharge is in doubt."""
        return None if self.in_doubt else self.budget

    @property
    def standard_uncertainty_m3s(self) -> float | None:
        """One standard uncertainty of the discharge, None where none can be stated."""
        if self.discharge_m3s is None or self.budget is None:
            return None
        return abs(self.discharge_m3s) * self.budget.standard_percent / 100


def visit_of(
    gauging: Gauging,
    rules: RuleSet,
    site: SurveySite | None = None,
    *,
    id_: str | None = None,
    finished: bool = True,
) -> Visit:
    """Return a gauging with all that is worked out from it.

    rules: those that the checks go by; id_: what tells it from others, its own id if not given.
    InputRefused for practice, which is no visit to a site.
    """
    refuse_practice(gauging)
    found = Visit(id_ or gauging.id or "", gauging, site, finished=finished)
    try:
        result = compute(gauging)
    except InputRefused as refused:
        why = "; ".join(fault.message for fault in refused.faults)
        findings = check_gauging(gauging, rules, finished=finished)
        return attrs.evolve(found, refused=why, findings=findings)
    budgets = uncertainty_budgets(gauging, result)
    findings = check_gauging(gauging, rules, finished=finished)
    return attrs.evolve(
        found,
        result=result,
        budget=deciding_budget(budgets) or next(iter(budgets), None),
        borne_out=borne_out(rules, budgets),
        findings=findings,
        in_doubt=in_doubt(gauging, result, findings),
    )


def visits_of(
    gaugings: Iterable[Gauging], sites: Sequence[SurveySite], rules: RuleSet
) -> tuple[Visit, ...]:
    """Return gaugings as visits to the sites of a survey, in the order given."""
    index = SiteIndex.of(sites)
    return tuple(
        visit_of(gauging, rules, index.site_of(gauging.site), id_=gauging.id or f"gauging-{n}")
        for n, gauging in enumerate(gaugings, 1)
    )
