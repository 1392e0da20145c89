"""The season's table: figures by hand, every site and every visit in it, and its totals."""

import attrs
import pytest

from bankside.gauging.records import Answer, Site
from bankside.survey.summary import Summary, open_findings, summary_of
from bankside.survey.visits import Visit, visit_of

from .building import BROOK, LOWER, RULES, SURVEY, UPPER, at, visit


def _summary(*visits: Visit) -> Summary:
    return summary_of(SURVEY, visits, RULES)


def test_a_row_holds_the_figures_of_its_visit() -> None:
    """20 verticals 1 m apart and 0.5 m deep carry 0.7 m³/s; 40 km² drain there."""
    made = visit(0.7, UPPER, id_="g1", percent=4.0, crew=("Ash Mora", "June Quill"), serial="K-7")
    row = _summary(made).rows[0]

    assert (row.site, row.stream, row.place) == ("upper", "Alder River", "Upper meadow")
    assert (row.visit, row.day, row.crew) == ("g1", made.day, ("Ash Mora", "June Quill"))
    assert (row.meter, row.verticals) == ("propeller K-7", 20)
    # 19 strips of 1 m between the verticals, and two triangles of 0.25 m² beside the banks.
    assert (row.width_m, row.area_m2) == (21.0, pytest.approx(10.0))
    assert row.mean_depth_m == pytest.approx(10 / 21)
    assert row.mean_velocity_ms == pytest.approx(0.07)
    assert row.discharge_m3s == pytest.approx(0.7, rel=1e-12)
    assert row.discharge_ft3s == pytest.approx(0.7 / 0.3048**3, rel=1e-12)
    assert (row.shown_m3s, row.shown_ft3s) == ("0.700", "24.7")
    assert (row.standard_percent, row.expanded_percent) == (4.0, 8.0)
    assert row.l_s_km2 == pytest.approx(17.5, rel=1e-12)
    assert row.ft3_s_mi2 == pytest.approx(24.720 / 15.444, rel=1e-4)


def test_every_site_and_every_visit_has_its_row() -> None:
    """Upstream first, then in time; a site without a visit and a visit without a site stay."""
    visits = [
        visit(0.9, LOWER, id_="late", started=at(15)),
        visit(0.9, LOWER, id_="early", started=at(9)),
        visit(0.1, None, id_="stray", site=Site("Pool", "Quartz Creek")),
        visit(0.6, UPPER, id_="up"),
    ]
    rows = _summary(*visits).rows

    assert [(row.site, row.visit) for row in rows] == [
        ("upper", "up"),
        ("brook", None),
        ("lower", "early"),
        ("lower", "late"),
        (None, "stray"),
    ]
    assert (rows[-1].stream, rows[-1].place) == ("Quartz Creek", "Pool")


def test_repeats_carry_their_verdict() -> None:
    """Both gaugings of a pair say how it stands, a single one says nothing."""
    pair = [visit(q, UPPER, id_=f"{q}") for q in (0.60, 0.64)]
    rows = _summary(*pair, visit(0.2, BROOK, id_="b")).rows

    assert [row.duplicates for row in rows] == ["look", "look", None, None]


def test_a_gauging_without_a_discharge_says_why() -> None:
    """It has its row, and the reason stands in it."""
    row = _summary(visit(None, UPPER)).rows[0]

    assert row.discharge_m3s is None and row.shown_m3s == ""
    assert "channels must be at least one" in row.refused


def test_findings_count_until_they_are_answered() -> None:
    """A note asks for nothing; what is to be explained does, until it is."""
    made = visit(0.7, UPPER, quality="excellent")
    waiting = open_findings(made)
    assert waiting and all(f.severity != "note" for f in waiting)
    row = _summary(made).rows[0]
    assert (row.open_findings, row.quality) == (len(waiting), "excellent")
    assert row.gravest is not None
    assert row.borne_out in ("good", "fair", "poor")

    answers = tuple(Answer(f.check, f.found, f.severity, "seen") for f in waiting)
    record = attrs.evolve(made.gauging, answers=answers)
    answered = _summary(visit_of(record, RULES, UPPER))
    assert (answered.rows[0].open_findings, answered.rows[0].gravest) == (0, None)
    assert answered.totals.exceptions == 0


def test_the_totals_are_counted() -> None:
    """Three sites, one of which nobody plans to visit; four gaugings, one without a discharge."""
    sites = (attrs.evolve(UPPER, visits_planned=2), attrs.evolve(BROOK, visits_planned=0), LOWER)
    visits = [
        visit(0.60, sites[0], id_="a"),
        visit(0.61, sites[0], id_="b"),
        visit(None, LOWER, id_="c"),
        visit(0.3, None, id_="d"),
    ]
    totals = summary_of(attrs.evolve(SURVEY, sites=sites), visits, RULES).totals

    assert (totals.sites, totals.sites_planned, totals.sites_visited) == (3, 2, 2)
    assert (totals.gaugings_planned, totals.gaugings, totals.with_discharge) == (2, 4, 3)
    assert totals.without_site == 1
    assert (totals.share.visits, totals.share.duplicated) == (2, 1)
