"""Unlike the last visit, unlike the basin, turned about."""

import datetime

import attrs
import pytest

from bankside.gauging.records import Channel, PointReading, Vertical
from bankside.survey.records import SurveySite
from bankside.survey.visits import Visit

from ..building import DAY, SURVEY, UPPER, section, visit
from .looking import found

LATER = DAY + datetime.timedelta(days=20)


@pytest.mark.parametrize(("count", "told"), [(20, False), (17, False), (15, True)])
def test_another_width_at_the_same_level(count: int, told: bool) -> None:
    """21 m then; 18 m is 14 % less, 16 m is 24 % less."""
    now = visit(0.7, UPPER, id_="now", day=LATER, channels=(section(0.7, count=count),))
    findings = found("Unlike last time", [visit(0.7, UPPER, id_="then"), now])

    assert bool(findings) == told
    for finding in findings:
        assert finding.visits == ("then", "now")
        assert finding.found.startswith("Alder River, Upper meadow: the gauging of 2026-08-03")


def _skewed(turned: bool, id_: str, day: datetime.date) -> Visit:
    """Twenty verticals, the deepest a fifth of the way across, or that far from the other bank."""
    depths = [0.15 * i for i in range(1, 5)] + [0.04 * (20 - i) for i in range(5, 20)]
    if turned:
        depths.reverse()
    inner = (
        Vertical(float(i), depth, (PointReading(0.4, 0.6),)) for i, depth in enumerate(depths, 1)
    )
    banks = Vertical(0.0, 0.0, edge="left"), Vertical(20.0, 0.0, edge="right")
    channel = Channel((banks[0], *inner, banks[1]))
    return visit(None, UPPER, id_=id_, day=day, channels=(channel,))


@pytest.mark.parametrize("turned", [True, False])
def test_a_section_turned_about(turned: bool) -> None:
    """Turned about it is told, as it was it is not."""
    visits = [_skewed(False, "then", DAY), _skewed(turned, "now", LATER)]
    findings = found("Section turned about", visits)

    assert [f.visits for f in findings] == ([("then", "now")] if turned else [])


@pytest.mark.parametrize(("m3s", "told"), [(0.2, False), (0.21, True), (0.05, False), (0.04, True)])
def test_twice_and_half_of_the_others(m3s: float, told: bool) -> None:
    """Two other sites with 0.1 m³/s from as large an area."""
    sites = [
        SurveySite(f"s{n}", "Alder River", f"Site {n}", drainage_area_km2=10.0) for n in range(3)
    ]
    survey = attrs.evolve(SURVEY, streams=(), sites=tuple(sites))
    visits = [visit(q, s, id_=s.id) for q, s in zip((m3s, 0.1, 0.1), sites, strict=True)]
    findings = [f for f in found("Odd for its basin", visits, survey) if f.sites == ("s0",)]

    assert bool(findings) == told
    for finding in findings:
        limit = "unit_discharge_high" if m3s > 0.1 else "unit_discharge_low"
        assert [threshold.name for threshold in finding.thresholds] == [limit]
