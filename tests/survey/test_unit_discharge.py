"""Discharge per drainage area: figures by hand, medians against numpy, and the limits."""

import datetime
import math

import attrs
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bankside.survey.records import SurveySite
from bankside.survey.unit_discharge import (
    KM2_PER_MI2,
    UnitDischarge,
    per_area,
    unit_discharges_of,
)
from bankside.survey.visits import Visit

from .building import DAY, RULES, visit


def _site(number: int, km2: float | None = 10.0) -> SurveySite:
    return SurveySite(f"s{number}", "Alder River", f"Site {number}", drainage_area_km2=km2)


def _of(visits: list[Visit], site: int, window_days: int = 0) -> UnitDischarge:
    return next(
        u for u in unit_discharges_of(visits, RULES, window_days) if u.site.id == f"s{site}"
    )


def test_units_by_hand() -> None:
    """0.7 m³/s from 40 km²; a square mile is 2.589988110336 km² (NIST SP 811, from memory)."""
    litres, feet = per_area(0.7, 40.0)

    assert math.isclose(KM2_PER_MI2, 2.589988110336, rel_tol=1e-12)
    assert litres == pytest.approx(17.5, rel=1e-12)
    assert feet == pytest.approx(17.5 * 0.0353146667 * 2.58998811, rel=1e-8)


@given(st.lists(st.floats(0.01, 5), min_size=3, max_size=9))
def test_the_median_is_that_of_the_others(flows: list[float]) -> None:
    """It is what numpy makes of all but the site itself."""
    visits = [visit(m3s, _site(n), id_=f"g{n}") for n, m3s in enumerate(flows)]
    found = unit_discharges_of(visits, RULES)

    assert len(found) == len(flows)
    for n, one in enumerate(sorted(found, key=lambda u: u.site.id)):
        expected = float(np.median([100 * m3s for i, m3s in enumerate(flows) if i != n]))
        assert one.median_l_s_km2 == pytest.approx(expected, rel=1e-9)
        assert one.ratio == pytest.approx(100 * flows[n] / expected, rel=1e-9)


@pytest.mark.parametrize(
    ("m3s", "odd"), [(0.1, False), (0.2, False), (0.201, True), (0.05, False), (0.0499, True)]
)
def test_half_and_twice_are_the_limits(m3s: float, odd: bool) -> None:
    """Beside two sites of 10 L/s/km², at the limit itself nothing is odd."""
    visits = [visit(m3s, _site(0), id_="a")]
    visits += [visit(0.1, _site(n), id_=f"g{n}") for n in (1, 2)]
    one = _of(visits, 0)

    assert one.odd is odd
    assert ("outside" in one.words) == odd


def test_the_words_say_both_units() -> None:
    """10 L/s/km² are 0.915 ft³/s/mi²."""
    visits = [visit(0.1, _site(n), id_=f"g{n}") for n in range(3)]

    assert _of(visits, 0).words == (
        "Alder River, Site 0, 2026-07-14: 10.0 L/s/km² (0.915 ft³/s/mi²), 1.0 times the median of "
        "2 other sites, 10.0 L/s/km²: within 0.5 to 2 times."
    )


def test_one_other_site_is_no_measure() -> None:
    """Nobody can tell which of the two is odd."""
    one = _of([visit(0.1, _site(0), id_="a"), visit(0.9, _site(1), id_="b")], 0)

    assert (one.others, one.median_l_s_km2, one.ratio, one.odd) == (1, None, None, None)
    assert "cannot be judged" in one.words


def test_only_gaugings_near_that_day_are_others() -> None:
    """Three days away counts within a window of three days."""
    there = [visit(0.1, _site(n), id_=f"g{n}", day=DAY) for n in (1, 2)]
    later = visit(0.9, _site(0), id_="a", day=DAY + datetime.timedelta(days=3))

    assert _of([later, *there], 0).odd is None
    assert _of([later, *there], 0, window_days=3).odd is True


def test_repeats_count_once_and_sites_without_an_area_not_at_all() -> None:
    """Two gaugings of one site are one figure, their mean."""
    visits = [visit(m3s, _site(1), id_=f"{m3s}") for m3s in (0.1, 0.3)]
    visits += [visit(0.4, _site(2), id_="c"), visit(9.0, _site(3, None), id_="d")]
    found = unit_discharges_of([*visits, visit(0.3, _site(0), id_="a")], RULES)

    assert sorted(u.site.id for u in found) == ["s0", "s1", "s2"]
    own = next(u for u in found if u.site.id == "s0")
    assert own.median_l_s_km2 == pytest.approx(30.0, rel=1e-9)


def test_duplicates_that_disagree_are_told_and_measure_nobody() -> None:
    """0.1 and 0.3 have a mean that says nothing, neither of their site nor of the others."""
    visits = [visit(m3s, _site(0), id_=f"{m3s}") for m3s in (0.1, 0.3)]
    visits += [visit(0.1, _site(n), id_=f"g{n}") for n in (1, 2)]
    found = unit_discharges_of(visits, RULES, disputed={"0.1", "0.3"})

    assert [(u.site.id, u.others, bool(u.remark)) for u in found] == [
        ("s0", 2, True),
        ("s1", 1, False),
        ("s2", 1, False),
    ]
    assert found[0].words.endswith("neither figure is to be trusted, nor their mean.")


def test_dry_others_give_no_ratio() -> None:
    """Nothing is so many times nothing."""
    visits = [visit(0.0, _site(n), id_=f"g{n}") for n in (1, 2)]
    one = _of([visit(0.1, _site(0), id_="a"), *visits], 0)

    assert (one.median_l_s_km2, one.ratio, one.odd) == (0.0, None, None)


def test_the_limits_are_those_of_the_rule_set() -> None:
    """A karst basin may set wider ones."""
    wide = attrs.evolve(RULES["unit_discharge_high"], value=10.0)
    rules = attrs.evolve(RULES, values={**RULES.values, "unit_discharge_high": wide})
    visits = [visit(q, _site(n), id_=f"g{n}") for n, q in enumerate((0.5, 0.1, 0.1))]

    assert [u.odd for u in unit_discharges_of(visits, RULES)] != [False] * 3
    assert _of(visits, 0).odd is True
    assert next(u for u in unit_discharges_of(visits, rules) if u.site.id == "s0").odd is False
