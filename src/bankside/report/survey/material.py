"""What the report of a survey is made from: its gaugings with all that is worked out of them."""

from __future__ import annotations

from collections.abc import Sequence

import attrs

from bankside.gauging.compute import compute
from bankside.gauging.faults import InputRefused
from bankside.gauging.mean_stage import mean_stage
from bankside.gauging.reconcile import reconcile_all
from bankside.gauging.reconcile_words import explain
from bankside.gauging.records import Gauging
from bankside.gauging.rule_sets.choice import laxer_for_wading, rules_of
from bankside.gauging.rule_sets.load import BASE, load_rule_set, shipped_names
from bankside.gauging.rule_sets.rule_set import RuleSet
from bankside.gauging.uncertainty import stated_uncertainty
from bankside.note.material import NoteMaterial
from bankside.survey.records import Survey
from bankside.survey.site_names import SiteIndex
from bankside.survey.visits import Visit, visit_of

__all__ = ["Handed", "LeftOut", "SurveyMaterial", "Surveyed", "gather_survey"]

_UNFINISHED = "it is unfinished: it was not closed where it was recorded"


@attrs.frozen
class Handed:
    """A gauging as it was handed over.

    `file` is where it stands, `notes` what was understood when it was read, and `finished` whether
    all its readings are there.
    """

    gauging: Gauging
    file: str
    notes: tuple[str, ...] = ()
    finished: bool = True


@attrs.frozen
class LeftOut:
    """What was handed over and gives no gauging, and why."""

    file: str
    label: str
    reasons: tuple[str, ...]


@attrs.frozen
class Surveyed:
    """A gauging of the survey: its visit, and what its note is made from where it has readings.

    The visit of an unfinished gauging has no discharge, while its note says how far it came.
    """

    visit: Visit
    note: NoteMaterial | None
    file: str
    finished: bool = True


@attrs.frozen
class SurveyMaterial:
    """A survey with its gaugings, in the order in which they were handed over.

    `rules` are those by which gaugings are held against each other. `window_days` is how many days
    apart gaugings may be to be held together in balances and comparisons.
    """

    survey: Survey
    surveyed: tuple[Surveyed, ...]
    rules: RuleSet
    left_out: tuple[LeftOut, ...] = ()
    window_days: int = 0

    @property
    def visits(self) -> tuple[Visit, ...]:
        """All visits."""
        return tuple(one.visit for one in self.surveyed)


def gather_survey(
    survey: Survey,
    handed: Sequence[Handed],
    *,
    rules: RuleSet | None = None,
    left_out: Sequence[LeftOut] = (),
    window_days: int = 0,
) -> SurveyMaterial:
    """Return a survey with everything worked out that its report says.

    rules: those that were asked for; else those that the survey names, else those of each record.
    """
    wanted = rules or _rules_of_survey(survey)
    index = SiteIndex.of(survey.sites)
    filed = _filed_words([one.gauging for one in handed])
    surveyed = tuple(
        _surveyed(one, f"gauging-{number}", wanted, index, words)
        for number, (one, words) in enumerate(zip(handed, filed, strict=True), 1)
    )
    return SurveyMaterial(
        survey, surveyed, wanted or load_rule_set(BASE), tuple(left_out), window_days
    )


def _rules_of_survey(survey: Survey) -> RuleSet | None:
    known = survey.rule_set is not None and survey.rule_set in shipped_names()
    return load_rule_set(survey.rule_set) if known and survey.rule_set else None


def _surveyed(
    one: Handed, number: str, wanted: RuleSet | None, index: SiteIndex, filed: tuple[str, ...]
) -> Surveyed:
    gauging = one.gauging
    if wanted is None:
        rules, remarks = rules_of(gauging)
    else:
        rules, remarks = wanted, laxer_for_wading(wanted)
    visit = visit_of(
        gauging,
        rules,
        index.site_of(gauging.site),
        id_=gauging.id or number,
        finished=one.finished,
    )
    if visit.result is None:
        return Surveyed(visit, None, one.file, one.finished)
    budgets, refusals = stated_uncertainty(gauging, visit.result)
    note = NoteMaterial(
        gauging=gauging,
        result=visit.result,
        findings=visit.findings,
        rules=rules,
        budgets=budgets,
        budget_refusals=refusals,
        filed=filed,
        sheet_notes=(*one.notes, *remarks),
        mean_stage=mean_stage(gauging, visit.result),
        finished=one.finished,
    )
    if not one.finished:
        # So much of the water was not read that a discharge would only mislead.
        visit = attrs.evolve(visit, result=None, budget=None, borne_out=None, refused=_UNFINISHED)
    return Surveyed(visit, note, one.file, one.finished)


def _filed_words(gaugings: Sequence[Gauging]) -> list[tuple[str, ...]]:
    """Return what explains the filed total of each gauging, nothing where it carries none."""
    words: list[tuple[str, ...]] = [()] * len(gaugings)
    computed = []
    for number, gauging in enumerate(gaugings):
        try:
            computed.append((number, gauging, compute(gauging)))
        except InputRefused:
            continue  # its visit says why it gives no discharge
    found = reconcile_all([(gauging, result) for _, gauging, result in computed])
    for (number, _, result), reconciled in zip(computed, found, strict=True):
        if reconciled is not None:
            words[number] = explain(reconciled, result)
    return words
