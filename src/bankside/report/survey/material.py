"""What the report of a survey is made from: its gaugings with all that is worked out of them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import attrs

from bankside.gauging.mean_stage import mean_stage
from bankside.gauging.reconcile import reconcile_all
from bankside.gauging.reconcile_words import explain
from bankside.gauging.records import Gauging
from bankside.gauging.rule_sets.choice import laxer_for_wading, rules_of
from bankside.gauging.rule_sets.load import BASE, load_rule_set
from bankside.gauging.rule_sets.rule_set import RuleSet
from bankside.gauging.uncertainty import stated_uncertainty
from bankside.note.material import NoteMaterial
from bankside.survey.chosen_rules import rules_of_survey
from bankside.survey.examined import ExaminedSurvey, examine_survey
from bankside.survey.records import Survey
from bankside.survey.site_names import SiteIndex
from bankside.survey.visits import Visit, visit_of

__all__ = ["Handed", "LeftOut", "SurveyMaterial", "Surveyed", "gather_survey", "material_of"]


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

    `file` is where it stands, empty where that is not known.
    """

    visit: Visit
    note: NoteMaterial | None
    file: str = ""


@attrs.frozen
class SurveyMaterial:
    """A survey with its gaugings and with what they say beside one another.

    `surveyed` are in the order in which they were handed over.
    """

    examined: ExaminedSurvey
    surveyed: tuple[Surveyed, ...]
    left_out: tuple[LeftOut, ...] = ()

    @property
    def survey(self) -> Survey:
        """The survey itself."""
        return self.examined.survey


def gather_survey(
    survey: Survey,
    handed: Sequence[Handed],
    *,
    rules: RuleSet | None = None,
    left_out: Sequence[LeftOut] = (),
    window_days: int | None = None,
) -> SurveyMaterial:
    """Return a survey with everything worked out that its report says.

    rules: those that were asked for; else those that the survey names, else those of each record.
    window_days: how many days apart gaugings may be to be held together, else as the survey says.
    """
    wanted = rules or rules_of_survey(survey)
    index = SiteIndex.of(survey.sites)
    visits: list[Visit] = []
    notes: dict[str, tuple[str, ...]] = {}
    files: dict[str, str] = {}
    own_rules: dict[str, RuleSet] = {}
    for number, one in enumerate(handed, 1):
        used, remarks = _rules_for(one.gauging, wanted)
        visit = visit_of(
            one.gauging,
            used,
            index.site_of(one.gauging.site),
            id_=_free(one.gauging.id or f"gauging-{number}", files),
            finished=one.finished,
        )
        visits.append(visit)
        files[visit.id], own_rules[visit.id] = one.file, used
        notes[visit.id] = (*one.notes, *remarks)
    return material_of(
        examine_survey(survey, visits, wanted or load_rule_set(BASE), window_days),
        visits,
        own_rules,
        files=files,
        notes=notes,
        left_out=left_out,
    )


def material_of(
    examined: ExaminedSurvey,
    visits: Sequence[Visit],
    rules: Mapping[str, RuleSet],
    *,
    files: Mapping[str, str] | None = None,
    notes: Mapping[str, tuple[str, ...]] | None = None,
    left_out: Sequence[LeftOut] = (),
) -> SurveyMaterial:
    """Return a survey whose visits were worked out already.

    visits: those of the survey, in the order in which they are to be kept; rules: visit id → those
    by which it was checked, those of the survey where none are given; files, notes: visit id →
    where it stands, and what was understood when it was read.
    """
    filed = _filed_words(visits)
    return SurveyMaterial(
        examined,
        tuple(
            Surveyed(
                visit,
                _note(
                    visit,
                    rules.get(visit.id, examined.rules),
                    filed.get(visit.id, ()),
                    (notes or {}).get(visit.id, ()),
                ),
                (files or {}).get(visit.id, ""),
            )
            for visit in visits
        ),
        tuple(left_out),
    )


def _rules_for(gauging: Gauging, wanted: RuleSet | None) -> tuple[RuleSet, tuple[str, ...]]:
    return rules_of(gauging) if wanted is None else (wanted, laxer_for_wading(wanted))


def _free(wanted: str, taken: Mapping[str, str]) -> str:
    """Return an id that no other gauging of the run has."""
    found, number = wanted, 1
    while found in taken:
        number += 1
        found = f"{wanted} ({number})"
    return found


def _note(
    visit: Visit, rules: RuleSet, filed: tuple[str, ...], notes: tuple[str, ...]
) -> NoteMaterial | None:
    if visit.result is None:
        return None
    budgets, refusals = stated_uncertainty(visit.gauging, visit.result)
    return NoteMaterial(
        gauging=visit.gauging,
        result=visit.result,
        findings=visit.findings,
        rules=rules,
        budgets=budgets,
        budget_refusals=refusals,
        filed=filed,
        sheet_notes=notes,
        mean_stage=mean_stage(visit.gauging, visit.result),
        finished=visit.finished,
    )


def _filed_words(visits: Sequence[Visit]) -> dict[str, tuple[str, ...]]:
    """Return visit id → what explains the total that its sheet carries, where it carries one."""
    computed = [(visit, visit.result) for visit in visits if visit.result is not None]
    found = reconcile_all([(visit.gauging, result) for visit, result in computed])
    return {
        visit.id: explain(reconciled, result)
        for (visit, result), reconciled in zip(computed, found, strict=True)
        if reconciled is not None
    }
