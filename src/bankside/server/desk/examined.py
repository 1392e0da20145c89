"""A survey of the archive, held against itself."""

from __future__ import annotations

from collections.abc import Mapping

from bankside.archive.survey_visits import SurveyVisits
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.rule_sets.load import BASE, load_rule_set
from bankside.survey.chosen_rules import rules_of_survey
from bankside.survey.examined import ExaminedSurvey, examine_survey

__all__ = ["DAYS", "examined_of"]

_MOST_DAYS = 31

DAYS = {"days": "how many days apart gaugings may be to be held together, else as the survey says"}
"""The name behind an address that says so, with its meaning."""


def examined_of(found: SurveyVisits, query: Mapping[str, str]) -> ExaminedSurvey:
    """Return a survey with everything that its visits say beside one another."""
    rules = rules_of_survey(found.survey) or load_rule_set(BASE)
    return examine_survey(found.survey, found.visits, rules, _days(query.get("days")))


def _days(said: str | None) -> int | None:
    if said is None:
        return None
    if not (said.isascii() and said.isdigit() and len(said) <= 3 and int(said) <= _MOST_DAYS):
        message = f'days must be a whole number from 0 to {_MOST_DAYS} (got "{said[:40]}")'
        raise InputRefused([Fault(message, path="days")])
    return int(said)
