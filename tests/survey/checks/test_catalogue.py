"""What holds for every check on a survey, and the order of what they find."""

from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bankside.gauging.checks.finding import SEVERITIES
from bankside.gauging.checks.run import ALL_CHECKS
from bankside.gauging.records import Site
from bankside.gauging.rule_sets.thresholds import THRESHOLDS
from bankside.survey.checks.finding import SurveyCheck
from bankside.survey.checks.run import SURVEY_CHECKS, check_survey
from bankside.survey.examined import examine_survey
from bankside.survey.records import Survey
from bankside.survey.visits import visits_of

from ...gauging.strategies import gaugings
from ..building import RULES, SURVEY, visit
from ..strategies import surveys


def test_names_are_told_apart() -> None:
    """No two checks share a name, those of a single gauging among them."""
    names = Counter(check.name for check in (*ALL_CHECKS, *SURVEY_CHECKS))

    assert [name for name, count in names.items() if count > 1] == []


@pytest.mark.parametrize("check", SURVEY_CHECKS, ids=lambda check: check.name)
def test_an_entry_of_the_catalogue_is_whole(check: SurveyCheck) -> None:
    """Sentences, a source, severities from grave to slight, thresholds that there are."""
    assert check.trigger.endswith(".") and check.remedy.endswith(".")
    assert check.source.strip()
    assert check.severities == tuple(s for s in SEVERITIES if s in check.severities) != ()
    assert [name for name in check.thresholds if name not in THRESHOLDS] == []


@given(surveys(), st.lists(gaugings(), max_size=3), st.integers(0, 3))
def test_any_survey_can_be_checked(survey: Survey, made: list[object], window: int) -> None:
    """However odd survey and gaugings are, each finding is one that its check announces."""
    examined = examine_survey(survey, visits_of(made, survey.sites, RULES), RULES, window)
    by_name = {check.name: check for check in SURVEY_CHECKS}

    for finding in check_survey(examined):
        check = by_name[finding.check]
        assert finding.severity in check.severities
        assert {threshold.name for threshold in finding.thresholds} <= set(check.thresholds)
        assert finding.found and finding.advice


def test_the_gravest_comes_first() -> None:
    """A pair far apart before a site without a gauging."""
    visits = [visit(q, SURVEY.sites[0], id_=f"{q}", site=Site(id="upper")) for q in (0.6, 0.8)]
    findings = check_survey(examine_survey(SURVEY, visits, RULES))

    ranks = [SEVERITIES.index(finding.severity) for finding in findings]
    assert ranks == sorted(ranks)
    assert findings[0].check == "Duplicate disagrees"


def test_a_survey_in_order_raises_nothing_of_its_own() -> None:
    """Sites gauged once, discharges that add up, and every finding of a gauging left aside."""
    upper, lower, brook = SURVEY.sites
    visits = [
        visit(0.6, upper, id_="u"),
        visit(0.3, brook, id_="b"),
        visit(0.9, lower, id_="l"),
    ]
    findings = check_survey(examine_survey(SURVEY, visits, RULES))

    assert {f.check for f in findings} <= {"Findings without an answer", "Change inside the error"}
