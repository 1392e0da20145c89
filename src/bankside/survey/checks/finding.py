"""What a check on a survey is, and what it has to say."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterator

import attrs

from bankside.gauging.records import Severity
from bankside.gauging.rule_sets.rule_set import Threshold
from bankside.survey.examined import ExaminedSurvey

__all__ = ["SurveyCheck", "SurveyFinding"]


@attrs.frozen
class SurveyFinding:
    """What a check has to say about a survey.

    `found` says in sentences what was found, `advice` what to do about it. `sites` and `visits` are
    the ids of those concerned, both empty where the survey as a whole is meant, and `day` is that
    of the gaugings. `thresholds` are the values it rests on, with their sources. In a survey "fix
    now" means as long as the crews are in the field.
    """

    check: str
    severity: Severity
    found: str
    advice: str
    sites: tuple[str, ...] = ()
    visits: tuple[str, ...] = ()
    day: datetime.date | None = None
    thresholds: tuple[Threshold, ...] = ()


@attrs.frozen
class SurveyCheck:
    """One check of the catalogue: what it is, where it comes from, and the function that looks.

    As in `gauging.checks.finding.Check`: `trigger` and `remedy` are sentences for the catalogue,
    `thresholds` names of values of the rule set, `severities` what it may raise, `source` where the
    rule comes from.
    """

    name: str
    trigger: str
    severities: tuple[Severity, ...]
    remedy: str
    source: str
    find: Callable[[ExaminedSurvey], Iterator[SurveyFinding]]
    thresholds: tuple[str, ...] = ()
