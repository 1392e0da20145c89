"""A published survey as one: every site in its table, and misspelt names led back to theirs.

Flow transects of the Maryland Biological Stream Survey, summer 2015, as filed by the Maryland
Department of Natural Resources. Read in place and never copied; without the files, skipped.
"""

import random
from pathlib import Path

import pytest

from bankside.gauging.compute import compute
from bankside.gauging.records import Gauging, Site
from bankside.sheets.read import read_sheets
from bankside.survey.near_names import sites_like
from bankside.survey.records import Survey, SurveySite
from bankside.survey.summary import summary_of
from bankside.survey.visits import visits_of

from .building import RULES

TRANSECTS = Path(__file__).parents[2] / "../shared/data/stream_survey_flow_2015/flow_transects.xlsx"

pytestmark = pytest.mark.skipif(
    not TRANSECTS.exists(), reason="the survey's flow transects are not beside this repository"
)


@pytest.fixture(scope="module")
def gaugings() -> list[Gauging]:
    """Every transect, read without a single answer."""
    items = read_sheets(TRANSECTS).gaugings
    return [item.gauging for item in items if item.gauging is not None]


@pytest.fixture(scope="module")
def survey(gaugings: list[Gauging]) -> Survey:
    """Its sites by their names; nothing else is known of them here."""
    names = sorted({made.site.name for made in gaugings if made.site.name is not None})
    sites = (SurveySite(f"s{n}", "not told", name) for n, name in enumerate(names))
    return Survey("published", "A published survey", sites=tuple(sites))


def test_every_site_stands_in_the_table_with_its_discharge(
    gaugings: list[Gauging], survey: Survey
) -> None:
    """95 sites, each gauged once: one row each, with what computing gives by itself."""
    summary = summary_of(survey, visits_of(gaugings, survey.sites, RULES), RULES)

    assert len(gaugings) == len(survey.sites) == len(summary.rows) == 95
    discharge = {made.site.name: compute(made).discharge_m3s for made in gaugings}
    assert {row.place: row.discharge_m3s for row in summary.rows} == discharge
    assert (summary.totals.without_site, summary.totals.share.duplicated) == (0, 0)


def test_two_letters_changed_about_lead_back_to_the_site(survey: Survey) -> None:
    """Codes that are much alike: the site is told nearly always first, and never missed."""
    chance = random.Random(3)
    names = [site.name for site in survey.sites]
    first = tried = 0
    for name in names:
        at = chance.randrange(len(name) - 1)
        slip = name[:at] + name[at + 1] + name[at] + name[at + 2 :]
        if slip in names:
            continue
        like = [site.name for site in sites_like(Site(slip), survey.sites)]
        assert name in like
        tried += 1
        first += like[0] == name

    assert tried > 80
    assert first >= 0.95 * tried
