"""All checks on one survey, the gravest finding first."""

from __future__ import annotations

from bankside.gauging.checks.finding import SEVERITIES
from bankside.survey.checks import closures, meters, places, repeated, unanswered, unlike
from bankside.survey.checks.finding import SurveyCheck, SurveyFinding
from bankside.survey.examined import ExaminedSurvey

__all__ = ["SURVEY_CHECKS", "check_survey"]

SURVEY_CHECKS: tuple[SurveyCheck, ...] = (
    *repeated.CHECKS,
    *closures.CHECKS,
    *unlike.CHECKS,
    *places.CHECKS,
    *meters.CHECKS,
    *unanswered.CHECKS,
)
"""The catalogue, in the order in which it is printed."""


def check_survey(examined: ExaminedSurvey) -> tuple[SurveyFinding, ...]:
    """Return what the checks have to say about a survey.

    The gravest first, otherwise in the order of the catalogue.
    """
    found = [finding for check in SURVEY_CHECKS for finding in check.find(examined)]
    return tuple(sorted(found, key=lambda finding: SEVERITIES.index(finding.severity)))
