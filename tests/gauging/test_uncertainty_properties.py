"""What must hold for the budgets of any gauging."""

import math
from typing import Any

import attrs
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bankside.gauging.budget import Budget
from bankside.gauging.compute import compute
from bankside.gauging.faults import InputRefused
from bankside.gauging.records import Channel, Gauging, Units
from bankside.gauging.uncertainty import uncertainty_budgets, uncertainty_refusals

from .strategies import complete_gaugings, gaugings
from .worked import CALIBRATED

# By a meter's own rating the tables have no step, so that rounding moves no figure over one.
COMPLETE = complete_gaugings().map(lambda gauging: attrs.evolve(gauging, meter=CALIBRATED))
FOOT = 0.3048


def _budgets(gauging: Gauging) -> tuple[Budget, ...]:
    return uncertainty_budgets(gauging, compute(gauging))


def _same(one: Gauging, other: Gauging) -> None:
    for found, expected in zip(_budgets(one), _budgets(other), strict=True):
        assert found.key == expected.key
        assert found.standard_percent == pytest.approx(expected.standard_percent, rel=1e-6)
        pairs = zip(found.parts, expected.parts, strict=True)
        for part, twin in pairs:
            assert part.percent == pytest.approx(
                twin.percent, rel=1e-6, abs=1e-6 * expected.standard_percent
            )


def _changed(gauging: Gauging, change: Any) -> Gauging:
    return attrs.evolve(
        gauging,
        channels=tuple(Channel(tuple(change(c.verticals)), c.name) for c in gauging.channels),
    )


@given(COMPLETE)
def test_the_squares_of_the_parts_add_up(gauging: Gauging) -> None:
    """Every budget is the root of the squares of its parts, worked out apart from them."""
    for budget in _budgets(gauging):
        squares = math.fsum(part.percent**2 for part in budget.parts)
        assert budget.standard_percent == pytest.approx(math.sqrt(squares), rel=1e-9)
        assert all(part.percent >= 0 for part in budget.parts)


@given(complete_gaugings())
def test_each_method_is_stated_or_says_why_not(gauging: Gauging) -> None:
    """Either there are four budgets, or sentences for those that are missing."""
    result = compute(gauging)
    stated = [budget.key for budget in uncertainty_budgets(gauging, result)]
    refusals = uncertainty_refusals(gauging, result)

    if stated:
        assert len(stated) + len(refusals) == 4
        assert stated[0] == "between-verticals"
        assert stated[-1] == "components"
    else:
        assert len(refusals) == 1


@given(gaugings())
def test_any_gauging_that_is_computed_has_finite_budgets(gauging: Gauging) -> None:
    """No reading, however large, gives a figure that is not finite, or an error."""
    try:
        result = compute(gauging)
    except InputRefused:
        return
    for budget in uncertainty_budgets(gauging, result):
        assert all(math.isfinite(part.percent) for part in budget.parts)
        assert math.isfinite(budget.expanded_percent)


@given(COMPLETE)
def test_the_bank_where_the_tape_starts_changes_no_budget(gauging: Gauging) -> None:
    """A tape from the other bank mirrors the section and leaves every part."""
    _same(
        _changed(gauging, lambda vs: [attrs.evolve(v, tape=50 - v.tape) for v in vs]),
        gauging,
    )


@given(COMPLETE, st.randoms(use_true_random=False))
def test_the_order_of_calls_changes_no_budget(gauging: Gauging, random: Any) -> None:
    """Verticals called in any order have the same budgets."""
    _same(_changed(gauging, lambda vs: random.sample(vs, len(vs))), gauging)


@given(COMPLETE)
def test_the_direction_of_the_water_changes_no_budget(gauging: Gauging) -> None:
    """With all water running the other way every percent is the same."""
    _same(
        _changed(
            gauging,
            lambda vs: [
                attrs.evolve(
                    v, velocity=tuple(attrs.evolve(p, value=-(p.value or 0)) for p in v.velocity)
                )
                for v in vs
            ],
        ),
        gauging,
    )


@given(COMPLETE)
def test_the_units_change_no_budget(gauging: Gauging) -> None:
    """The same water called in feet and in metres has the same percents."""
    metric = attrs.evolve(gauging, units=Units("m", "m/s"))
    feet = attrs.evolve(
        _changed(
            metric,
            lambda vs: [
                attrs.evolve(
                    v,
                    tape=v.tape / FOOT,
                    depth=None if v.depth is None else v.depth / FOOT,
                    velocity=tuple(
                        attrs.evolve(p, value=(p.value or 0) / FOOT) for p in v.velocity
                    ),
                )
                for v in vs
            ],
        ),
        units=Units("ft", "ft/s"),
    )
    _same(feet, metric)


@given(COMPLETE)
def test_longer_exposure_is_never_worse(gauging: Gauging) -> None:
    """With three minutes at every point no method gives more than with 30 seconds.

    Of the model that holds for the readings alone: surer ones may tell that a bed is rougher.
    """

    def for_seconds(seconds: float) -> list[Budget]:
        return list(
            _budgets(
                _changed(
                    gauging,
                    lambda vs: [
                        attrs.evolve(
                            v,
                            velocity=tuple(attrs.evolve(p, seconds=seconds) for p in v.velocity),
                        )
                        for v in vs
                    ],
                )
            )
        )

    for long, short in zip(for_seconds(180), for_seconds(30), strict=True):
        if long.key == "between-verticals":
            (of_long,), (of_short,) = (
                [part.percent for part in one.parts if part.name == "readings"]
                for one in (long, short)
            )
            assert of_long <= of_short * (1 + 1e-12)
            continue
        assert long.standard_percent <= short.standard_percent * (1 + 1e-12)
