"""Gain and loss between neighbouring sites, with what enters and what is taken out in between."""

import datetime

import attrs
import pytest

from bankside.survey.closure import Closure
from bankside.survey.reaches import reaches_of
from bankside.survey.records import Balance, Stream, Survey, SurveySite
from bankside.survey.visits import Visit

from .building import BROOK, DAY, LOWER, MAIN, SURVEY, TRIBUTARY, UPPER, visit

MIDDLE = SurveySite("middle", "Alder River", "Middle bridge", along_km=3.0)
DITCH = SurveySite("ditch", "Alder River", "Ditch head", along_km=6.0)
RILL = Stream("Cress Rill", joins="Birch Brook", joins_at_km=0.1)


def _visits(**flows: float) -> list[Visit]:
    sites = {s.id: s for s in (UPPER, BROOK, LOWER, MIDDLE, DITCH)}
    return [visit(m3s, sites[id_], id_=id_, percent=4.0) for id_, m3s in flows.items()]


def _one(survey: Survey, visits: list[Visit]) -> Closure:
    (closure,) = reaches_of(survey, visits)
    return closure


def _with(*sites: SurveySite, **members: object) -> Survey:
    return attrs.evolve(SURVEY, sites=(*SURVEY.sites, *sites), **members)


def test_a_tributary_in_between_is_counted_in() -> None:
    """0.60 and 0.20 come in, 0.90 goes on: 0.10 is a gain, as docs/method.md has it."""
    closure = _one(SURVEY, _visits(upper=0.60, brook=0.20, lower=0.90))

    assert closure.kind == "reach"
    assert closure.name == "Alder River, Upper meadow to Lower ford"
    assert [flow.site.id for flow in closure.above] == ["upper", "brook"]
    assert closure.difference_m3s == pytest.approx(0.10, rel=1e-12)
    assert closure.verdict == "gain"


@pytest.mark.parametrize(
    ("km", "counted", "known"),
    [
        (1.9, False, True),
        (2.0, False, False),
        (2.1, True, True),
        (7.9, True, True),
        (8.0, False, False),
        (8.1, False, True),
        (None, False, False),
    ],
)
def test_only_what_enters_in_between_counts(km: float | None, counted: bool, known: bool) -> None:
    """Between km 2 and km 8; at a site itself nobody can tell, nor where no km is given."""
    brook = attrs.evolve(TRIBUTARY, joins_at_km=km)
    closure = _one(
        attrs.evolve(SURVEY, streams=(MAIN, brook)), _visits(upper=0.60, brook=0.20, lower=0.90)
    )

    assert [flow.site.id for flow in closure.above] == ["upper", *(["brook"] if counted else [])]
    assert (closure.verdict != "cannot be told") == known
    assert closure.difference_m3s is not None


def test_a_tributary_that_was_not_gauged_leaves_it_open() -> None:
    """The difference stands there, and that it holds the tributary as well."""
    closure = _one(SURVEY, _visits(upper=0.60, lower=0.90))

    assert closure.difference_m3s == pytest.approx(0.30, rel=1e-12)
    assert closure.verdict == "cannot be told"
    assert closure.reasons == (
        "Birch Brook enters in between, and Birch Brook, Old mill was not gauged.",
    )


def test_a_tributary_without_a_site_leaves_it_open() -> None:
    """A stream of the survey that nobody visits may bring anything."""
    survey = attrs.evolve(SURVEY, sites=(UPPER, LOWER))

    assert _one(survey, _visits(upper=0.60, lower=0.90)).reasons == (
        "Birch Brook enters in between and has no site.",
    )


def test_the_site_nearest_to_the_mouth_counts_and_what_enters_below_it() -> None:
    """Two sites on the brook, and a rill below both: the lower site and the rill."""
    higher = SurveySite("higher", "Birch Brook", "Upper mill", along_km=2.0)
    rill = SurveySite("rill", "Cress Rill", "Footbridge")
    survey = _with(higher, rill, streams=(MAIN, TRIBUTARY, RILL))
    visits = [
        *_visits(upper=0.60, brook=0.20, lower=0.90),
        visit(0.15, higher, id_="higher"),
        visit(0.05, rill, id_="rill"),
    ]
    closure = next(c for c in reaches_of(survey, visits) if c.sides.below.id == "lower")

    assert [flow.site.id for flow in closure.above] == ["upper", "brook", "rill"]
    assert closure.verdict == "no measurable change"


def test_a_rill_above_the_site_is_already_in_it() -> None:
    """What the brook carries at km 0.3 holds the rill that enters it at km 1."""
    rill = SurveySite("rill", "Cress Rill", "Footbridge")
    survey = _with(rill, streams=(MAIN, TRIBUTARY, attrs.evolve(RILL, joins_at_km=1.0)))
    visits = [*_visits(upper=0.60, brook=0.20, lower=0.90), visit(0.05, rill, id_="rill")]

    assert [f.site.id for f in _one(survey, visits).above] == ["upper", "brook"]


def test_what_is_not_known_of_a_tributary_is_said() -> None:
    """Its only site has no place on it: a rill may enter above it or below."""
    survey = attrs.evolve(
        SURVEY,
        streams=(MAIN, TRIBUTARY, RILL),
        sites=(UPPER, LOWER, attrs.evolve(BROOK, along_km=None)),
    )
    closure = _one(survey, _visits(upper=0.60, brook=0.20, lower=0.90))

    assert closure.reasons == ("How far Birch Brook, Old mill is from the mouth is not known.",)


def test_a_diversion_is_taken_out_and_is_no_neighbour() -> None:
    """The ditch head at km 6 takes 0.10 between the two sites."""
    away = SurveySite("away", "Alder River", "Far above", along_km=20.0)
    balance = Balance("Ditch", above=("away",), below="middle", taken_out=("ditch",))
    survey = _with(MIDDLE, DITCH, away, balances=(balance,))
    first, closure = reaches_of(survey, _visits(upper=0.60, brook=0.20, ditch=0.10, lower=0.70))

    assert first.reasons == ("Alder River, Far above was not gauged.",)
    assert [flow.site.id for flow in closure.taken_out] == ["ditch"]
    assert closure.difference_m3s == pytest.approx(0.0, abs=1e-12)


def test_neighbours_are_those_that_were_gauged_that_day() -> None:
    """The site in between was not gauged: it is passed over, and named."""
    survey = _with(MIDDLE)
    day = _one(survey, _visits(upper=0.60, brook=0.20, lower=0.80))
    assert "Not gauged in between: Alder River, Middle bridge." in day.remarks

    pairs = [
        (closure.sides.above[0].id, closure.sides.below.id)
        for closure in reaches_of(survey, _visits(upper=0.6, brook=0.2, middle=0.8, lower=0.8))
    ]
    assert pairs == [("upper", "middle"), ("middle", "lower")]


def test_without_a_gauging_above_the_reason_is_told() -> None:
    """The lower site was gauged a day later than the upper one."""
    later = visit(0.9, LOWER, id_="l", day=DAY + datetime.timedelta(days=1))
    closure = _one(SURVEY, [*_visits(upper=0.60, brook=0.20), later])

    assert closure.verdict == "cannot be told"
    assert closure.reasons[0] == "Alder River, Upper meadow was gauged on 2026-07-14, 1 day before."


def test_a_balance_of_the_survey_goes_before() -> None:
    """What the survey says of the same water is not worked out a second time."""
    balance = Balance("Confluence", above=("upper", "brook"), below="lower")

    survey = attrs.evolve(SURVEY, balances=(balance,))
    assert reaches_of(survey, _visits(upper=0.60, brook=0.20, lower=0.90)) == ()


def test_sites_of_unknown_place_have_no_reach() -> None:
    """By name alone nobody knows which way the water runs."""
    survey = attrs.evolve(SURVEY, sites=(attrs.evolve(UPPER, along_km=None), LOWER, BROOK))

    assert reaches_of(survey, _visits(upper=0.60, brook=0.20, lower=0.90)) == ()
