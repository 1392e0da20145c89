"""A visit: a gauging with its site and with all that is worked out from it."""

import datetime

import attrs
import pytest

from bankside.gauging.checks.run import check_gauging
from bankside.gauging.compute import compute
from bankside.gauging.records import Channel, PointReading, Site, Vertical
from bankside.gauging.uncertainty import uncertainty_budgets
from bankside.survey.visits import visit_of, visits_of

from .building import DAY, RULES, SURVEY, UPPER, at, budget, gauging


def test_a_visit_holds_what_each_part_gives_by_itself() -> None:
    """Result, the budget, and the findings of this gauging alone."""
    record = gauging(0.7, id_="g")
    visit = visit_of(record, RULES, UPPER)

    result = compute(record)
    assert (visit.id, visit.gauging, visit.site, visit.result) == ("g", record, UPPER, result)
    assert visit.budget == uncertainty_budgets(record, result)[0]
    assert visit.findings == check_gauging(record, RULES)
    assert (visit.refused, visit.finished) == ("", True)


def test_the_model_stands_for_a_visit() -> None:
    """On a bed of rubble it is far wider than on an even one, which ISO 748 does not see."""
    rough = Channel(
        tuple(
            Vertical(
                float(i), 0.2 + 0.5 * (i % 2), (PointReading(0.2 + 0.6 * (i % 3 == 0), 0.6, 60.0),)
            )
            if 0 < i < 21
            else Vertical(float(i), 0.0, edge="left" if i == 0 else "right")
            for i in range(22)
        )
    )
    made = visit_of(gauging(None, channels=(rough,)), RULES)
    assert made.result is not None and made.budget is not None
    even = visit_of(gauging(0.7), RULES)

    assert made.budget == uncertainty_budgets(made.gauging, made.result)[0]
    assert made.budget.key == "between-verticals"
    assert even.budget is not None and even.budget.key == "between-verticals"
    of_rough, of_even = made.budget.parts[0], even.budget.parts[0]
    assert of_rough.name == of_even.name == "between verticals"
    assert of_rough.percent > 5 * of_even.percent


def test_an_uncertainty_is_told_to_nobody_while_the_discharge_is_in_doubt() -> None:
    """A depth of 0.05 m among ten of 0.5 m may have slipped, so that no range can be promised."""
    even = Channel(
        tuple(
            Vertical(float(i), 0.5, (PointReading(0.4, 0.6, 40.0),))
            if 0 < i < 11
            else Vertical(float(i), 0.0, edge="left" if i == 0 else "right")
            for i in range(12)
        )
    )
    slipped = attrs.evolve(even.verticals[5], depth=0.05)
    odd = Channel((*even.verticals[:5], slipped, *even.verticals[6:]))
    sure, doubtful = (visit_of(gauging(None, channels=(one,)), RULES) for one in (even, odd))

    assert not sure.in_doubt and sure.told_budget == sure.budget is not None
    assert doubtful.in_doubt and doubtful.told_budget is None and doubtful.budget is not None


def test_the_uncertainty_is_a_share_of_the_amount() -> None:
    """4 % of 0.7 m³/s, whichever way the water runs."""
    for m3s in (0.7, -0.7):
        visit = attrs.evolve(visit_of(gauging(m3s), RULES), budget=budget(4.0))
        assert visit.standard_uncertainty_m3s == pytest.approx(0.028, rel=1e-12)
    assert attrs.evolve(visit, budget=None).standard_uncertainty_m3s is None


def test_a_record_that_gives_no_discharge_says_why() -> None:
    """Nothing is dropped: it stays a visit, with its findings."""
    visit = visit_of(gauging(None), RULES, UPPER)

    assert (visit.discharge_m3s, visit.final_m3s, visit.result) == (None, None, None)
    assert visit.refused == "channels must be at least one to compute a discharge"
    assert visit.why_none == visit.refused
    assert visit.findings


def test_a_gauging_under_way_has_a_discharge_and_none_to_hold_against_others() -> None:
    """What it carries so far is no figure of the stream."""
    visit = visit_of(gauging(0.7), RULES, UPPER, finished=False)

    assert visit.discharge_m3s == pytest.approx(0.7, rel=1e-12)
    assert (visit.final_m3s, visit.why_none) == (None, "it is not finished")


def test_a_filed_discharge_stands() -> None:
    """What an office filed goes before what the readings give today."""
    visit = attrs.evolve(visit_of(gauging(0.7), RULES, UPPER), filed_m3s=0.72)

    assert (visit.discharge_m3s, visit.final_m3s) == (0.72, 0.72)
    assert visit.differs_from_filed
    assert attrs.evolve(visit, result=None, refused="no edge").differs_from_filed
    assert not attrs.evolve(
        visit, filed_m3s=visit.result and visit.result.discharge_m3s
    ).differs_from_filed
    assert not visit_of(gauging(0.7), RULES, UPPER).differs_from_filed


def test_the_day_is_that_of_the_record() -> None:
    """The date, else the day of the start by its own clock, else none."""
    assert visit_of(gauging(0.7, day=DAY), RULES).day == DAY
    late = at(23, day=DAY + datetime.timedelta(days=1))
    assert visit_of(gauging(0.7, day=None, started=late), RULES).day == late.date()
    assert visit_of(gauging(0.7, day=None), RULES).day is None


def test_gaugings_become_visits_of_their_sites() -> None:
    """By id or by stream and name; what names no site has none, and every visit has an id."""
    gaugings = [
        gauging(0.7, id_="a", site=Site(id="upper")),
        gauging(0.7, site=Site("lower FORD", "Alder River")),
        gauging(0.7, site=Site("Pool", "Quartz Creek")),
    ]
    visits = visits_of(gaugings, SURVEY.sites, RULES)

    assert [(v.id, v.site.id if v.site else None) for v in visits] == [
        ("a", "upper"),
        ("gauging-2", "lower"),
        ("gauging-3", None),
    ]
