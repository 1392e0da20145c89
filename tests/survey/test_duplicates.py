"""Repeated gaugings: differences by hand, verdicts at their limits, and who measured with what."""

import statistics
from itertools import combinations

import attrs
import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

from bankside.gauging.records import CrewMember, Meter
from bankside.survey.duplicate_share import duplicate_share
from bankside.survey.duplicates import (
    Duplicates,
    duplicates_of,
    relative_percent_difference,
    same_crew,
    same_meter,
)
from bankside.survey.visits import Visit

from .building import LOWER, RULES, SURVEY, UPPER, at, visit


def _repeated(*flows: float | None, percent: float | None = 4.0) -> Duplicates:
    visits = [
        visit(m3s, UPPER, id_=f"g{n}", percent=None if m3s is None else percent, started=at(9 + n))
        for n, m3s in enumerate(flows)
    ]
    (duplicates,) = duplicates_of(visits, RULES)
    return duplicates


@pytest.mark.parametrize(
    ("one", "other", "percent"),
    [(1.0, 1.1, 100 * 0.1 / 1.05), (0.95, 1.05, 10.0), (-1.0, -1.1, 100 * 0.1 / 1.05)],
)
def test_the_difference_is_of_the_mean(one: float, other: float, percent: float) -> None:
    """|A - B| / mean, by hand, whichever comes first and whichever way the water runs."""
    assert relative_percent_difference(one, other) == pytest.approx(percent, rel=1e-12)
    assert relative_percent_difference(other, one) == pytest.approx(percent, rel=1e-12)


def test_a_mean_of_nothing_has_no_percent() -> None:
    """1 and -1 have the mean 0, of which no percent can be taken; 0 and 0 do not differ."""
    assert relative_percent_difference(1.0, -1.0) is None
    assert relative_percent_difference(0.0, 0.0) == 0.0


@pytest.mark.parametrize(
    ("apart", "verdict"),
    [(0.0, "agree"), (5.0, "agree"), (5.01, "look"), (10.0, "look"), (10.01, "measure again")],
)
def test_the_verdict_at_its_limits(apart: float, verdict: str) -> None:
    """5 % is looked into and 10 % asks for another measurement, each only when it is passed."""
    duplicates = _repeated(1 - apart / 200, 1 + apart / 200)

    assert duplicates.spread_percent == pytest.approx(apart, abs=1e-9)
    assert duplicates.verdict == verdict
    assert bool(duplicates.advice) == (verdict != "agree")


def test_the_limits_are_those_of_the_rule_set() -> None:
    """A programme may choose others, and they are named in what is said."""
    look = attrs.evolve(RULES["duplicate_look"], value=2.0)
    strict = attrs.evolve(RULES, values={**RULES.values, "duplicate_look": look})
    visits = [visit(m3s, UPPER, id_=f"{m3s}") for m3s in (1.0, 1.03)]

    (duplicates,) = duplicates_of(visits, strict)
    assert duplicates.verdict == "look"
    assert "more than 2 %" in duplicates.words


def test_the_words_say_figures_limits_and_what_to_do() -> None:
    """0.95 and 1.05 m³/s are 10 % apart, and 33.5 and 37.1 ft³/s."""
    duplicates = _repeated(0.95, 1.06)

    assert duplicates.words == (
        "2 gaugings of one flow at Alder River, Upper meadow: 0.950 m³/s (33.5 ft³/s) and "
        "1.06 m³/s (37.4 ft³/s), 11 % of their mean apart, more than 10 %."
    )
    assert duplicates.advice.startswith("Measure a third time")


@given(st.floats(0.01, 50), st.floats(0.01, 50), st.floats(0.5, 20), st.floats(0.5, 20))
def test_what_uncertainties_allow_is_that_of_the_difference(
    one: float, other: float, u_one: float, u_other: float
) -> None:
    """Two standard uncertainties of A - B as the package uncertainties propagates them."""
    visits = [
        visit(one, UPPER, id_="a", percent=u_one),
        visit(other, UPPER, id_="b", percent=u_other),
    ]
    (duplicates,) = duplicates_of(visits, RULES)
    (pair,) = duplicates.pairs
    first, second = (v.discharge_m3s for v in (pair.first, pair.second))
    assert first is not None and second is not None
    difference = ufloat(first, first * u_one / 100) - ufloat(second, second * u_other / 100)

    assert pair.allowed_m3s == pytest.approx(2 * difference.std_dev, rel=1e-9)
    assert pair.within_allowed == (abs(difference.nominal_value) <= pair.allowed_m3s)


def test_without_a_stated_uncertainty_nothing_is_said_about_it() -> None:
    """Dry ground has no uncertainty in percent."""
    one, other = visit(1.0, UPPER, id_="a"), attrs.evolve(visit(1.0, UPPER, id_="b"), budget=None)
    (duplicates,) = duplicates_of([one, other], RULES)

    assert duplicates.pairs[0].within_allowed is None
    assert "cannot be told" in duplicates.pairs[0].words


def test_of_three_the_two_that_agree_settle_it() -> None:
    """1.00 and 1.02 agree, so 1.30 is to be looked into and nobody has to go back."""
    flows = (1.0, 1.30, 1.02)
    duplicates = _repeated(*flows)

    mean = statistics.fmean(flows)
    assert duplicates.mean_m3s == pytest.approx(mean, rel=1e-12)
    assert duplicates.spread_percent == pytest.approx(100 * 0.30 / mean, rel=1e-9)
    assert len(duplicates.pairs) == len(list(combinations(flows, 2)))
    assert duplicates.verdict == "look"
    assert "09:00 and the gauging of 2026-07-14 11:00, 2.0 % apart" in duplicates.words
    assert _repeated(1.0, 1.3, 1.15).verdict == "measure again"
    assert _repeated(1.0, 1.01, 1.02).verdict == "agree"


def test_a_repeat_without_a_discharge_is_told() -> None:
    """Nothing is dropped: the pair stands there, and its difference cannot be told."""
    duplicates = _repeated(1.0, None)

    assert (duplicates.verdict, duplicates.spread_percent) == ("cannot be told", None)
    assert "no discharge" in duplicates.words


def test_a_gauging_under_way_counts_for_nothing_yet() -> None:
    """Half a section carries half the water."""
    whole, half = visit(1.0, UPPER, id_="a"), visit(0.5, UPPER, id_="b")
    half = attrs.evolve(half, finished=False)
    (duplicates,) = duplicates_of([whole, half], RULES)

    assert duplicates.verdict == "cannot be told"
    assert duplicate_share(SURVEY, [whole, half]).duplicated == 0


def test_what_was_filed_is_what_is_compared() -> None:
    """An office filed 1.2 where the readings give 1.0 today."""
    visits = [
        attrs.evolve(visit(1.0, UPPER, id_="a"), filed_m3s=1.2),
        visit(1.2, UPPER, id_="b"),
    ]
    (duplicates,) = duplicates_of(visits, RULES)

    assert duplicates.spread_percent == pytest.approx(0.0, abs=1e-9)


def _named(*crew: str, serial: str | None = None, kind: str | None = None) -> Visit:
    meter = None if serial is None and kind is None else Meter(kind=kind, serial=serial)
    members = tuple(CrewMember(name) for name in crew)
    made = visit(1.0, UPPER)
    return attrs.evolve(made, gauging=attrs.evolve(made.gauging, crew=members, meter=meter))


def test_crews_are_the_same_people_in_whatever_order() -> None:
    """Names are compared without case and accents; a crew that is not written down is no crew."""
    assert same_crew(_named("Ash Mora", "June Quill"), _named("June Quill", "ash mora")) is True
    assert same_crew(_named("Ash Mora"), _named("June Quill")) is False
    assert same_crew(_named("Ash Mora"), _named()) is None


def test_meters_are_told_by_serial_numbers() -> None:
    """One kind without serial numbers may be one meter or two; two kinds are two."""
    assert same_meter(_named(serial="K-7"), _named(serial="k 7")) is True
    assert same_meter(_named(serial="K-7"), _named(serial="K-8")) is False
    assert same_meter(_named(kind="propeller"), _named(kind="propeller")) is None
    assert same_meter(_named(kind="propeller"), _named(kind="magnetic")) is False
    assert same_meter(_named(serial="K-7"), _named()) is None


def test_the_stage_between_them_is_told() -> None:
    """0.52 m and then 0.49 m is 0.03 m lower."""
    visits = [
        visit(1.0, UPPER, id_=f"{s}", stage=s, started=at(h)) for s, h in ((0.52, 9), (0.49, 11))
    ]
    (duplicates,) = duplicates_of(visits, RULES)

    assert duplicates.pairs[0].stage_change_m == pytest.approx(-0.03, abs=1e-12)
    assert "the stage 0.030 m (0.10 ft) lower at the second" in duplicates.pairs[0].words


@pytest.mark.parametrize(("moved", "told"), [(0.04, True), (0.06, False)])
def test_two_gaugings_at_two_stages_are_no_duplicate(moved: float, told: bool) -> None:
    """The mean depth is 10 / 21 m: 0.04 m is less than a tenth of it, 0.06 m is more."""
    visits = [
        visit(q, UPPER, id_=f"{q}", stage=stage, started=at(hour))
        for q, stage, hour in ((1.0, 0.40, 9), (1.3, 0.40 + moved, 15))
    ]
    (duplicates,) = duplicates_of(visits, RULES)
    share = duplicate_share(SURVEY, visits)

    assert duplicates.verdict == ("measure again" if told else "cannot be told")
    assert (duplicates.stage_moved_m is None) == told
    assert (share.visits, share.duplicated) == (1, int(told))
    if not told:
        assert duplicates.words.endswith(
            "Whether they agree cannot be told: the stage moved by 0.060 m (0.20 ft)."
        )
        assert "1 further visit was measured twice at two stages" in share.words


def test_of_three_those_at_a_similar_stage_are_held_together() -> None:
    """1.00 and 1.02 at one stage agree; 1.40 was measured after the water had risen."""
    visits = [
        visit(q, UPPER, id_=f"{q}", stage=stage, started=at(hour))
        for q, stage, hour in ((1.0, 0.40, 9), (1.02, 0.41, 10), (1.4, 0.50, 15))
    ]
    (duplicates,) = duplicates_of(visits, RULES)

    assert duplicates.verdict == "agree"
    assert duplicates.spread_percent == pytest.approx(100 * 0.02 / 1.01, rel=1e-9)
    assert duplicate_share(SURVEY, visits).duplicated == 1


@pytest.mark.parametrize(
    ("crews", "apart", "verdict"),
    [
        (("Ash", "Ash"), 6.0, "look"),
        (("Ash", "June"), 6.0, "agree"),
        (("Ash", "June"), 8.01, "look"),
        (("Ash", "June"), 10.01, "measure again"),
    ],
)
def test_two_crews_may_be_further_apart(crews: tuple[str, str], apart: float, verdict: str) -> None:
    """5 % for one crew and 8 % between crews, each only when it is passed."""
    visits = [
        visit(1 + side * apart / 200, UPPER, id_=f"{side}", crew=(name,))
        for side, name in zip((-1, 1), crews, strict=True)
    ]
    (duplicates,) = duplicates_of(visits, RULES)

    assert duplicates.verdict == verdict
    assert ("between crews" in duplicates.words) == (crews[0] != crews[1])


@pytest.mark.parametrize(
    ("target", "missing"), [(None, 0), (0.0, 0), (25.0, 0), (25.1, 1), (50.0, 1), (100.0, 3)]
)
def test_the_share_of_visits_that_were_measured_twice(target: float | None, missing: int) -> None:
    """One of four visits was measured three times, 25 %; a failed gauging counts for nothing."""
    thrice = [visit(1.0, UPPER, id_=f"u{n}") for n in range(3)]
    once = [visit(1.0, LOWER, id_="l"), visit(1.0, None, id_="x"), visit(1.0, None, id_="y")]
    failed = visit(None, LOWER, id_="failed")
    survey = attrs.evolve(SURVEY, duplicates_percent=target)

    share = duplicate_share(survey, [*thrice, *once, failed])
    assert (share.visits, share.duplicated, share.percent) == (4, 1, 25.0)
    assert (share.target_percent, share.missing) == (target, missing)
    assert share.words.startswith("1 of 4 visits were measured twice or more, 25 %")


def test_without_visits_there_is_no_share() -> None:
    """Nothing is divided by nothing."""
    share = duplicate_share(attrs.evolve(SURVEY, duplicates_percent=10.0), [])
    assert (share.percent, share.missing) == (None, 0)
