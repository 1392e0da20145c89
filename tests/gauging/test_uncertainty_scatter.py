"""Which stations give residuals, and what is said about them."""

import math
import random

import attrs
import numpy as np
import pytest

from bankside.gauging.records import Gauging, PointReading, Units, Vertical

from .worked import SI, WORKED, between_banks, budgets, even, percents, read

KEY = "interpolated-variance"


def _basis(gauging: Gauging, name: str) -> str:
    return next(part.basis for part in budgets(gauging)[KEY].parts if part.name == name)


def test_the_scatter_is_told_in_the_units_called() -> None:
    """By hand, docs/method.md: 0.124 m and 0.0664 m/s from four residuals each."""
    assert _basis(WORKED, "scatter of depth").startswith("0.124 m from 4 residuals")
    assert _basis(WORKED, "scatter of velocity").startswith("0.0664 m/s from 4 residuals")
    in_feet = attrs.evolve(WORKED, units=Units("ft", "ft/s", "in"))
    assert _basis(in_feet, "scatter of depth").startswith("0.124 in from 4 residuals")


def test_an_even_section_has_only_what_is_assumed() -> None:
    """By hand: no scatter, 10 equal panels of 0.5 % width and 1 % in common, √(0.025 + 1)."""
    budget = budgets(Gauging(SI, (even(10),)))[KEY]

    assert percents(budget)["scatter of velocity"] == pytest.approx(0.0, abs=1e-12)
    assert budget.standard_percent == pytest.approx(1.025**0.5)


def test_a_sounding_gives_a_residual_of_depth_alone() -> None:
    """Its velocity is interpolated: as a residual it would be 0 and make the scatter too small."""
    verticals = list(WORKED.channels[0].verticals)
    sounded = [*verticals[:4], Vertical(4.0, 0.85), *verticals[4:]]
    gauging = attrs.evolve(WORKED, channels=(between_banks(*sounded[1:-1], right=8.0),))

    assert "from 5 residuals" in _basis(gauging, "scatter of depth")
    # The scatter of velocity is that of the section without it.
    assert _basis(gauging, "scatter of velocity") == _basis(WORKED, "scatter of velocity")
    remarks = budgets(gauging)[KEY].remarks
    assert any("No velocity was read at tape 4 m" in remark for remark in remarks)


def test_stretches_share_one_scatter() -> None:
    """By hand: 4 residuals with s² = 0.0152976 and 4 with none make half of that, s = 0.0875 m."""
    gauging = Gauging(SI, (*WORKED.channels, even(6, left=20.0)))

    assert _basis(gauging, "scatter of depth").startswith("0.0875 m from 8 residuals")


def test_short_stretches_lean_on_the_others() -> None:
    """A side channel of three verticals gives no residual and has the scatter of the main one."""
    gauging = Gauging(SI, (*WORKED.channels, even(2, left=20.0)))

    assert "from 4 residuals" in _basis(gauging, "scatter of depth")


def test_how_sure_the_scatter_is() -> None:
    """By hand: from 4 residuals it is uncertain by 1/√8, 35 %."""
    assert any("about 35 %" in remark for remark in budgets(WORKED)[KEY].remarks)


def test_reading_noise_is_found_again() -> None:
    """Over 400 gaugings of one straight section with noise, the mean square of the figure is true.

    The true spread is taken from the discharges themselves: a standard deviation from 400 is
    uncertain by 3.5 %, so 12 % on it is allowed. What is common and the width are switched off by
    subtracting them.
    """
    rng = random.Random(7)
    flows, squares = [], []
    for _ in range(400):
        verticals = []
        for x in range(1, 21):
            depth, velocity = 0.6 + 0.01 * x + rng.gauss(0, 0.03), 0.5 + rng.gauss(0, 0.03)
            verticals.append(Vertical(float(x), depth, (PointReading(velocity, 0.6, 60.0),)))
        budget = budgets(Gauging(SI, (between_banks(*verticals, right=21.0),)))[KEY]
        parts = percents(budget)
        squares.append(parts["scatter of depth"] ** 2 + parts["scatter of velocity"] ** 2)
        flows.append(
            sum(
                v.depth * v.velocity[0].value
                for v in verticals
                if v.depth is not None and v.velocity[0].value is not None
            )
        )
    true = 100 * float(np.std(flows) / np.mean(flows))

    assert math.sqrt(float(np.mean(squares))) == pytest.approx(true, rel=0.12)


def test_a_rough_section_is_less_sure_than_a_smooth_one() -> None:
    """The tables see no difference between the two; the scatter does."""
    smooth = even(12)
    rough = between_banks(
        *(read(float(x), 0.3 + 0.4 * (x % 2), 0.6) for x in range(1, 13)), right=13.0
    )
    figures = [budgets(Gauging(SI, (channel,))) for channel in (smooth, rough)]

    assert figures[1][KEY].standard_percent > 5 * figures[0][KEY].standard_percent
    iso = [figure["iso-748"] for figure in figures]
    assert percents(iso[0])["verticals"] == percents(iso[1])["verticals"]
