"""A survey of the archive as its report and its screens look at it: every visit, as filed."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import attrs
from sqlalchemy import Connection, select

from bankside.archive.entries import entries_of_gauging
from bankside.archive.filing import Filing, last_filings
from bankside.archive.listing import record_in
from bankside.archive.register import survey_of
from bankside.archive.tables import gaugings
from bankside.gauging.journal.fold import fold
from bankside.gauging.journal.record import recorded
from bankside.gauging.rule_sets.choice import rules_of
from bankside.gauging.rule_sets.rule_set import RuleSet
from bankside.survey.chosen_rules import rules_of_survey
from bankside.survey.records import Survey
from bankside.survey.site_names import SiteIndex
from bankside.survey.visits import Visit, visit_of

__all__ = ["SurveyVisits", "survey_visits"]

_VERDICTS = frozenset({"sent back", "approved"})
"""The states that are somebody's verdict."""


@attrs.frozen
class SurveyVisits:
    """A survey and the visits made to its sites, in the order of days.

    `rules` are those by which each was checked, by its id. `left_out` are gaugings whose journals
    make no record, each with the reason.
    """

    survey: Survey
    visits: tuple[Visit, ...]
    rules: Mapping[str, RuleSet]
    left_out: tuple[tuple[str, str], ...] = ()


def survey_visits(connection: Connection, survey_id: str) -> SurveyVisits | None:
    """Return a survey with its visits, None where there is none of this id.

    A discharge that was filed stands; everything else is worked out from the readings, checked by
    the rule set that the survey names, else by those that the records name.
    """
    survey = survey_of(connection, survey_id)
    if survey is None:
        return None
    index = SiteIndex.of(survey.sites)
    rules = rules_of_survey(survey)
    rows = (
        connection.execute(
            select(gaugings)
            .where(gaugings.c.survey == survey_id)
            .order_by(gaugings.c.day, gaugings.c.started, gaugings.c.id)
        )
        .mappings()
        .all()
    )
    filed = last_filings(connection, [row["id"] for row in rows])
    visits = []
    used: dict[str, RuleSet] = {}
    left_out = []
    for row in rows:
        record = record_in(row)
        if record is None:
            left_out.append((row["id"], row["trouble"] or "its journal makes no record"))
            continue
        over = bool(row["over"])
        site = index.site_of(record.site)
        used[row["id"]] = rules or rules_of(record)[0]
        visit = visit_of(record, used[row["id"]], site, id_=row["id"], finished=over)
        reviewed_by = _reviewer(connection, row["id"]) if row["state"] in _VERDICTS else None
        there = {"state": row["state"], "reviewed_by": reviewed_by}
        visits.append(attrs.evolve(visit, **there, **_as_filed(filed.get(row["id"]))))
    return SurveyVisits(survey, tuple(visits), used, tuple(left_out))


def _reviewer(connection: Connection, gauging: str) -> str | None:
    """Return who said the verdict that stands of a gauging, None where nobody did."""
    review = recorded(fold(entries_of_gauging(connection, gauging))).review
    return None if review is None else review.by


def _as_filed(filing: Filing | None) -> dict[str, Any]:
    if filing is None:
        return {}
    return {"filed_m3s": filing.discharge_m3s, "filed_by": filing.method_version}
