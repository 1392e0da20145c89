"""Sites without gaugings, gaugings without sites, positions and days that do not fit."""

import datetime

import attrs
import pytest

from bankside.gauging.records import Position, Site
from bankside.survey.records import SurveySite

from ..building import BROOK, DAY, LOWER, SURVEY, UPPER, visit
from .looking import found

ALL = [visit(0.5, site, id_=site.id) for site in SURVEY.sites]


def test_a_site_without_a_gauging() -> None:
    """The brook was not visited; where none is planned nothing is missing."""
    (finding,) = found("Site without a gauging", ALL[:2])
    assert finding.sites == ("brook",)

    assert found("Site without a gauging", ALL) == []
    spared = attrs.evolve(SURVEY, sites=(UPPER, LOWER, attrs.evolve(BROOK, visits_planned=0)))
    assert found("Site without a gauging", ALL[:2], spared) == []


@pytest.mark.parametrize(("planned", "told"), [(None, False), (1, False), (2, True)])
def test_fewer_gaugings_than_planned(planned: float | None, told: bool) -> None:
    """One was made."""
    upper = attrs.evolve(UPPER, visits_planned=planned)
    survey = attrs.evolve(SURVEY, sites=(upper, LOWER, BROOK))

    assert bool(found("Fewer gaugings than planned", ALL, survey)) == told


@pytest.mark.parametrize(
    ("said", "like"),
    [
        (Site("Uper meadow", "Alder River"), ("upper",)),
        (Site("Old mill", "Alder River"), ("brook",)),
        (Site(id="uper"), ("upper",)),
        (Site(position=Position(-120, 45, label="brok")), ("brook",)),
        (Site("Quartz falls", "Quartz Creek"), ()),
        (Site(), ()),
    ],
)
def test_a_gauging_at_no_site_names_those_that_are_like(said: Site, like: tuple[str, ...]) -> None:
    """Told, and not taken for one."""
    (finding,) = found("Gauging at no known site", [visit(0.5, None, site=said)])

    assert finding.sites == like
    assert ("nearly" in finding.found) == bool(like)


def test_a_name_of_two_sites_names_both() -> None:
    """Two bridges: neither is taken."""
    twins = tuple(SurveySite(id_, "Alder River", "Bridge", along_km=1) for id_ in ("a1", "b2"))
    survey = attrs.evolve(SURVEY, sites=twins)
    said = visit(0.5, None, site=Site("Bridge", "Alder River"))
    (finding,) = found("Gauging at no known site", [said], survey)

    assert finding.sites == ("a1", "b2")


def test_what_a_record_says_stands_in_the_finding() -> None:
    """Every name that it gives, so that somebody can tell."""
    (finding,) = found(
        "Gauging at no known site",
        [visit(0.5, None, site=Site("Pool", "Quartz Creek"))],
    )

    assert 'it names the stream "Quartz Creek" and the place "Pool".' in finding.found
    assert found("Gauging at no known site", ALL) == []


@pytest.mark.parametrize(("lat", "told"), [(45.0013, False), (45.0014, True), (44.9986, True)])
def test_a_position_far_from_its_site(lat: float, told: bool) -> None:
    """0.0013 degree of latitude is 145 m, 0.0014 is 156 m; the limit is 150 m."""
    upper = attrs.evolve(UPPER, position=Position(-120, 45.0))
    survey = attrs.evolve(SURVEY, sites=(upper, LOWER, BROOK))
    made = visit(0.5, upper, site=Site(id="upper", position=Position(-120, lat)))

    assert bool(found("Far from its site", [made], survey)) == told


@pytest.mark.parametrize(("days", "told"), [(-1, True), (0, False), (7, False), (8, True)])
def test_a_day_outside_the_season(days: int, told: bool) -> None:
    """The first and the last day belong to it."""
    survey = attrs.evolve(SURVEY, starts=DAY, ends=DAY + datetime.timedelta(days=7))
    made = visit(0.5, UPPER, day=DAY + datetime.timedelta(days=days))

    assert bool(found("Outside the season", [made], survey)) == told
    assert found("Outside the season", [visit(0.5, UPPER, day=None)], survey) == []
