"""One check at a time on a little survey."""

from collections.abc import Sequence

from bankside.survey.checks.finding import SurveyFinding
from bankside.survey.checks.run import SURVEY_CHECKS
from bankside.survey.examined import examine_survey
from bankside.survey.records import Survey
from bankside.survey.visits import Visit

from ..building import RULES, SURVEY

BY_NAME = {check.name: check for check in SURVEY_CHECKS}


def found(
    check: str, visits: Sequence[Visit], survey: Survey = SURVEY, window_days: int = 0
) -> list[SurveyFinding]:
    """What one check says of a survey; each finding is one that the check announces."""
    examined = examine_survey(survey, visits, RULES, window_days)
    findings = list(BY_NAME[check].find(examined))
    for finding in findings:
        assert finding.check == check
        assert finding.severity in BY_NAME[check].severities
        assert {t.name for t in finding.thresholds} <= set(BY_NAME[check].thresholds)
        assert finding.found.endswith((".", "?")) and finding.advice.endswith(".")
    return findings
