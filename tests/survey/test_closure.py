"""Balances and reaches: sums by hand, uncertainties against a package, verdicts at their limits."""

import datetime
import math

import attrs
import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

from bankside.survey.balances import balances_of
from bankside.survey.closure import Closure
from bankside.survey.examined import examine_survey
from bankside.survey.records import Balance, Survey, SurveySite
from bankside.survey.site_flow import site_flows
from bankside.survey.visits import Visit

from .building import BROOK, DAY, DRY, LOWER, RULES, SURVEY, UPPER, visit

MEET = Balance("Where the brook comes in", above=("upper", "brook"), below="lower")
WITH_BALANCE = attrs.evolve(SURVEY, balances=(MEET,))
NEXT = DAY + datetime.timedelta(days=1)


def _closed(*visits: Visit, survey: Survey = WITH_BALANCE, window_days: int = 0) -> Closure:
    (closure,) = balances_of(survey, visits, window_days)
    return closure


def _three(below: float, percent: float = 4.0, **members: object) -> list[Visit]:
    return [
        visit(0.60, UPPER, id_="u", percent=percent, **members),
        visit(0.20, BROOK, id_="b", percent=percent, **members),
        visit(below, LOWER, id_="l", percent=percent, **members),
    ]


def test_the_balance_that_is_worked_by_hand() -> None:
    """docs/method.md: 0.60 and 0.20 come in with 4 %, 0.90 goes on with 4 %.

    u = √(0.024² + 0.008² + 0.036²) = √0.001936 = 0.044, 2 u = 0.088, and 0.10 is more.
    """
    closure = _closed(*_three(0.90))

    assert closure.difference_m3s == pytest.approx(0.10, rel=1e-12)
    assert closure.percent == pytest.approx(12.5, rel=1e-12)
    assert closure.spread is not None
    assert closure.spread.independent_m3s == pytest.approx(0.044, rel=1e-12)
    assert closure.band_m3s == pytest.approx(0.088, rel=1e-12)
    assert closure.verdict == "gain"
    assert closure.words == (
        "Where the brook comes in, 2026-07-14: 0.800 m³/s (28.3 ft³/s) come in and 0.900 m³/s "
        "(31.8 ft³/s) go on, 0.100 m³/s (3.53 ft³/s) more, 12 % of what comes in. It lies between "
        "0.0120 m³/s (0.424 ft³/s) and 0.188 m³/s (6.64 ft³/s): ± 0.088 m³/s (3.1 ft³/s), two "
        "combined standard uncertainties (about 19 in 20). The difference is outside that: a gain. "
        "30.0 km² drain in between; at the median yield of the day they would give about "
        "0.325 m³/s (11.5 ft³/s)."
    )


@pytest.mark.parametrize(
    ("below", "verdict"),
    [
        (0.80, "no measurable change"),
        (0.88, "no measurable change"),
        (0.89, "gain"),
        (0.73, "no measurable change"),
        (0.72, "loss"),
    ],
)
def test_a_change_is_claimed_outside_two_uncertainties_only(below: float, verdict: str) -> None:
    """With 4 % each 2 u is 0.0867 for 0.080 more, 0.0873 for 0.090 more.

    It is 0.0773 for 0.070 less, and 0.0767 for 0.080 less.
    """
    closure = _closed(*_three(below))
    u = math.hypot(0.024, 0.008, 0.04 * below)

    assert closure.spread is not None
    assert closure.spread.independent_m3s == pytest.approx(u, rel=1e-9)
    assert closure.verdict == verdict


def test_the_balance_with_one_meter_that_is_worked_by_hand() -> None:
    """docs/method.md: 2 % of the 4 % in common, 0.75 × 0.001936 + (0.018 − 0.012 − 0.004)²."""
    closure = _closed(*_three(0.90, shared=2.0, serial="K-7"))

    assert closure.spread is not None
    assert closure.spread.one_meter_m3s**2 == pytest.approx(0.001456, rel=1e-9)
    assert closure.band_m3s == pytest.approx(0.088, rel=1e-12)


FLOWS = st.floats(0.01, 20)
PERCENTS = st.floats(0.5, 20)


@given(
    st.lists(
        st.tuples(FLOWS, PERCENTS, st.floats(0.05, 0.95), st.sampled_from([None, "K7", "K8"])),
        min_size=3,
        max_size=3,
    )
)
def test_uncertainties_are_propagated_as_the_package_does(
    said: list[tuple[float, float, float, str | None]],
) -> None:
    """Independent variables, and one for each meter, as the package uncertainties has them."""
    sites = (UPPER, BROOK, LOWER)
    visits = [
        visit(q, site, id_=site.id, percent=p, shared=p * part, serial=serial)
        for site, (q, p, part, serial) in zip(sites, said, strict=True)
    ]
    closure = _closed(*visits)

    scale = {serial: ufloat(0, 1) for serial in ("K7", "K8")}
    independent = shared = 0.0
    for sign, made in zip((-1, -1, 1), visits, strict=True):
        assert made.result is not None and made.budget is not None
        q, u = made.result.discharge_m3s, made.standard_uncertainty_m3s
        assert u is not None
        independent += sign * ufloat(q, u)
        common = abs(q) * made.budget.parts[1].percent / 100
        meter = made.gauging.meter
        if meter is None:
            shared += sign * ufloat(q, u)
        else:
            own = math.sqrt(u * u - common * common)
            shared += sign * (ufloat(q, own) + common * scale[meter.serial or ""])
    assert closure.difference_m3s == pytest.approx(independent.nominal_value, abs=1e-9)
    assert closure.spread is not None
    assert closure.spread.independent_m3s == pytest.approx(independent.std_dev, rel=1e-9)
    assert closure.spread.one_meter_m3s == pytest.approx(shared.std_dev, rel=1e-6, abs=1e-9)
    larger = max(independent.std_dev, shared.std_dev)
    assert closure.band_m3s == pytest.approx(2 * larger, rel=1e-6)


def test_one_meter_for_what_comes_in_makes_the_band_wider() -> None:
    """Two inflows of 1 m³/s with a common 3 % add to 0.06, and not to 0.0424."""
    visits = [
        visit(1.0, UPPER, id_="u", percent=3.0, shared=3.0, serial="K7"),
        visit(1.0, BROOK, id_="b", percent=3.0, shared=3.0, serial="k-7"),
        visit(2.0, LOWER, id_="l", percent=1.0, shared=1.0, serial="K8"),
    ]
    closure = _closed(*visits)

    assert closure.spread is not None
    assert closure.spread.shared_by == ()  # "K7" and "k-7" are two serial numbers
    visits[1] = visit(1.0, BROOK, id_="b", percent=3.0, shared=3.0, serial="k7")
    closure = _closed(*visits)
    assert closure.spread is not None
    assert closure.spread.shared_by == ("k7",)
    assert closure.spread.one_meter_m3s == pytest.approx(math.hypot(0.06, 0.02), rel=1e-9)
    assert "one meter" in closure.words


def test_what_is_taken_out_counts_as_going_on() -> None:
    """1.0 comes in, 0.3 is taken out and 0.7 goes on: nothing is lost."""
    ditch = SurveySite("ditch", "Alder River", "Ditch head", along_km=6.0)
    survey = attrs.evolve(
        SURVEY,
        sites=(UPPER, LOWER, ditch),
        balances=(Balance("Ditch", above=("upper",), below="lower", taken_out=("ditch",)),),
    )
    closure = _closed(
        visit(1.0, UPPER, id_="u"),
        visit(0.3, ditch, id_="d"),
        visit(0.7, LOWER, id_="l"),
        survey=survey,
    )

    assert closure.difference_m3s == pytest.approx(0.0, abs=1e-12)
    assert closure.outgoing_m3s == pytest.approx(1.0, rel=1e-12)
    assert closure.verdict == "no measurable change"


def test_a_site_that_was_not_gauged_is_named() -> None:
    """Nothing can be told, and the reason stands there."""
    closure = _closed(visit(0.60, UPPER, id_="u"), visit(0.80, LOWER, id_="l"))

    assert (closure.verdict, closure.difference_m3s) == ("cannot be told", None)
    assert closure.reasons == ("Birch Brook, Old mill was not gauged.",)


def test_gaugings_of_another_day_need_a_window() -> None:
    """A day apart is too far for the same day, and near enough within one day."""
    visits = [*_three(0.90)[1:], visit(0.60, UPPER, id_="u", day=NEXT, percent=4.0)]

    apart = _closed(*visits)
    assert apart.reasons == ("Alder River, Upper meadow was gauged on 2026-07-15, 1 day after.",)
    near = _closed(*visits, window_days=1)
    assert near.verdict == "gain"
    assert "Alder River, Upper meadow was gauged on 2026-07-15." in near.remarks


def test_the_nearest_day_within_the_window_counts() -> None:
    """Of two days that are as near the earlier one."""
    visits = [
        *_three(0.90)[1:],
        *(
            visit(m3s, UPPER, id_=f"{m3s}", day=DAY + datetime.timedelta(days=days))
            for m3s, days in ((0.5, -2), (0.6, -1), (0.7, 1))
        ),
    ]

    assert _closed(*visits, window_days=3).above[0].discharge_m3s == pytest.approx(0.6)


def test_a_gauging_that_gives_no_discharge_is_the_reason() -> None:
    """What computing refused is told."""
    closure = _closed(*_three(0.90)[:2], visit(None, LOWER, id_="l"))

    assert closure.verdict == "cannot be told"
    assert "gives no discharge: channels must be at least one" in closure.reasons[0]


def test_a_gauging_under_way_is_the_reason() -> None:
    """Nobody takes half of a section for the stream."""
    visits = _three(0.90)
    visits[1] = attrs.evolve(visits[1], finished=False)

    assert _closed(*visits).reasons == (
        "Birch Brook, Old mill was gauged and gives no discharge: it is not finished.",
    )


def test_a_gauging_without_a_day_is_the_reason() -> None:
    """Nobody knows with which gaugings it belongs."""
    closure = _closed(*_three(0.90)[:2], visit(0.9, LOWER, id_="l", day=None))

    assert (closure.day, closure.verdict) == (None, "cannot be told")
    assert closure.reasons == (
        "Alder River, Lower ford was gauged on a day that is not written down.",
    )


def test_without_an_uncertainty_the_difference_stands_and_the_verdict_does_not() -> None:
    """The figure is told; whether it means anything is not."""
    visits = _three(0.90)
    visits[0] = attrs.evolve(visits[0], budget=None)
    closure = _closed(*visits)

    assert closure.difference_m3s == pytest.approx(0.10, rel=1e-12)
    assert closure.verdict == "cannot be told"
    assert closure.reasons == ("The gauging at Alder River, Upper meadow states no uncertainty.",)


def test_a_dry_tributary_brings_nothing_and_that_is_sure() -> None:
    """No water has no uncertainty: the balance can be told."""
    dry = visit(None, BROOK, id_="b", channels=(DRY,))
    closure = _closed(visit(0.6, UPPER, id_="u"), dry, visit(0.6, LOWER, id_="l"))

    assert closure.verdict == "no measurable change"
    assert closure.band_m3s is not None and closure.band_m3s > 0


def test_repeats_count_by_their_mean_and_are_no_surer_than_one() -> None:
    """0.58 and 0.62 with 4 %: the mean 0.60, u the root mean square of 0.0232 and 0.0248."""
    twice = [visit(q, UPPER, id_=f"u{q}", percent=4.0) for q in (0.58, 0.62)]
    closure = _closed(*twice, *_three(0.90)[1:])

    assert closure.above[0].discharge_m3s == pytest.approx(0.60, rel=1e-12)
    assert closure.above[0].standard_uncertainty_m3s == pytest.approx(
        math.sqrt((0.0232**2 + 0.0248**2) / 2), rel=1e-9
    )
    assert "Alder River, Upper meadow is the mean of 2 gaugings." in closure.remarks


def test_repeats_far_apart_are_less_sure_than_they_state() -> None:
    """0.4 and 0.8 with 4 %: half their difference, 0.2, is the standard deviation of the mean."""
    (flow,) = site_flows([visit(q, UPPER, id_=f"{q}", percent=4.0) for q in (0.4, 0.8)])

    assert flow.standard_uncertainty_m3s == pytest.approx(0.2, rel=1e-9)


def test_the_land_in_between_as_worked_by_hand() -> None:
    """docs/method.md: 30 km² at (0.60 / 40 + 0.20 / 30) / 2 m³/s/km² are 0.325 m³/s."""
    closure = _closed(*_three(1.10))

    assert closure.land is not None and closure.land.gives_m3s is not None
    assert closure.land.km2 == pytest.approx(30.0, rel=1e-12)
    assert closure.land.gives_m3s == pytest.approx(30 * (0.60 / 40 + 0.20 / 30) / 2, rel=1e-9)
    assert (closure.verdict, closure.as_land_yields) == ("gain", True)
    assert closure.words.endswith("The gain is about as much as the land in between yields.")
    assert not _closed(*_three(0.90)).as_land_yields


@pytest.mark.parametrize(("km2", "land"), [(None, None), (69.0, None), (70.0, None), (71.0, 1.0)])
def test_land_in_between_needs_areas_that_are_less_above(
    km2: float | None, land: float | None
) -> None:
    """Above drain 40 and 30 km²."""
    below = attrs.evolve(LOWER, drainage_area_km2=km2)
    survey = attrs.evolve(WITH_BALANCE, sites=(UPPER, BROOK, below))
    closure = _closed(*_three(0.9)[:2], visit(0.9, below, id_="l", percent=4.0), survey=survey)

    assert (closure.land and closure.land.km2) == land


@pytest.mark.parametrize(("second", "told"), [(0.65, True), (0.68, False)])
def test_duplicates_that_disagree_carry_no_balance(second: float, told: bool) -> None:
    """0.60 and 0.65 are 8 % apart, 0.60 and 0.68 12.5 %: no mean of those is to be trusted."""
    visits = [*_three(0.90), visit(second, UPPER, id_="again", percent=4.0)]
    (closure,) = examine_survey(WITH_BALANCE, visits, RULES).balances
    (reach,) = examine_survey(SURVEY, visits, RULES).reaches

    assert closure.difference_m3s is not None
    reasons = () if told else ("The duplicates of Alder River, Upper meadow disagree.",)
    assert closure.reasons == reach.reasons == reasons
    assert (closure.verdict == "cannot be told") != told


def test_a_balance_is_told_for_each_day_below_and_once_where_there_is_none() -> None:
    """Two days of gaugings make two balances; none makes one that says so."""
    days = [m for day in (DAY, NEXT) for m in _three(0.90, day=day)]

    assert [c.day for c in balances_of(WITH_BALANCE, days)] == [DAY, NEXT]
    (none,) = balances_of(WITH_BALANCE, [])
    assert (none.day, none.verdict) == (None, "cannot be told")
    assert none.reasons == ("Alder River, Lower ford was not gauged.",)
