import math
from typing import NamedTuple

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

from bankside.kernel.uncertainty import (
    components_uncertainty,
    panels_uncertainty,
    root_sum_of_squares,
    velocity_area_uncertainty,
    velocity_area_uncertainty_equal_panels,
    verticals_component,
)


class Measured(NamedTuple):
    """A section of five unequal panels; percents and numbers of points differ from one to all."""

    width: list[float]
    depth: list[float]
    velocity: list[float]
    points: list[float]
    of_width: list[float]
    of_depth: list[float]
    of_profile: list[float]
    of_meter: list[float]
    of_exposure: list[float]
    of_verticals: float
    systematic: float

    def discharges(self) -> list[float]:
        """The discharges of the panels."""
        panels = zip(self.width, self.depth, self.velocity, strict=True)
        return [width * depth * velocity for width, depth, velocity in panels]

    def uncertainty(self) -> float:
        """What the full form makes of the section."""
        return velocity_area_uncertainty(self.discharges(), *self[3:])


SECTION = Measured(
    width=[0.8, 1.1, 0.5, 1.6, 0.9],
    depth=[0.30, 0.55, 0.90, 0.75, 0.25],
    velocity=[0.15, 0.40, 0.85, 0.60, 0.20],
    points=[1.0, 2.0, 2.0, 5.0, 1.0],
    of_width=[0.5, 0.3, 0.5, 0.2, 0.5],
    of_depth=[1.5, 1.0, 0.7, 1.2, 1.5],
    of_profile=[7.5, 3.5, 3.5, 2.5, 7.5],
    of_meter=[2.5, 1.7, 1.0, 1.0, 2.25],
    of_exposure=[8.5, 4.0, 3.0, 3.0, 6.0],
    of_verticals=3.5,
    systematic=1.0,
)


def test_the_full_form_against_linear_propagation() -> None:
    """The package uncertainties carries the same errors through the measurement equation."""
    common = ufloat(1, SECTION.systematic / 100) * ufloat(1, SECTION.of_verticals / 100)
    total = 0
    for i, points in enumerate(SECTION.points):
        width = SECTION.width[i] * ufloat(1, SECTION.of_width[i] / 100)
        depth = SECTION.depth[i] * ufloat(1, SECTION.of_depth[i] / 100)
        read = [
            SECTION.velocity[i]
            * ufloat(1, SECTION.of_meter[i] / 100)
            * ufloat(1, SECTION.of_exposure[i] / 100)
            for _ in range(int(points))
        ]
        mean = sum(read) / points * ufloat(1, SECTION.of_profile[i] / 100)
        total = total + width * depth * mean
    discharge = common * total

    expected = 100 * discharge.std_dev / discharge.nominal_value
    assert SECTION.uncertainty() == pytest.approx(expected, rel=1e-9)


def test_the_full_form_against_a_monte_carlo() -> None:
    """400,000 measurements with errors drawn at random scatter as the formula says.

    A standard deviation from n draws is uncertain by 1/√(2n) of itself, 0.11 %; four of those are
    allowed, and 0.1 % more for the products of two errors that a linear formula leaves out.
    """
    draws = 400_000
    rng = np.random.default_rng(20260714)

    def factor(percent: float, *size: int) -> np.ndarray:
        return 1 + percent / 100 * rng.standard_normal((*size, draws))

    total = np.zeros(draws)
    for i, points in enumerate(SECTION.points):
        errors = factor(SECTION.of_meter[i], int(points)) * factor(
            SECTION.of_exposure[i], int(points)
        )
        mean = SECTION.velocity[i] * errors.mean(axis=0) * factor(SECTION.of_profile[i])
        depth = SECTION.depth[i] * factor(SECTION.of_depth[i])
        total += SECTION.width[i] * factor(SECTION.of_width[i]) * depth * mean
    total *= factor(SECTION.systematic) * factor(SECTION.of_verticals)

    found = 100 * total.std() / sum(SECTION.discharges())
    assert SECTION.uncertainty() == pytest.approx(found, rel=4 / math.sqrt(2 * draws) + 1e-3)


PERCENTS = st.floats(0, 20)


@given(
    st.integers(1, 40),
    st.integers(1, 6),
    st.lists(PERCENTS, min_size=7, max_size=7),
    st.floats(1e-3, 1e6),
)
def test_the_short_form_is_the_full_form_for_equal_panels(
    verticals: int, points: int, percents: list[float], discharge: float
) -> None:
    """With m panels of one discharge and one percent each, the two forms say the same."""
    *of_panels, number, systematic = percents
    columns = [[percent] * verticals for percent in of_panels]
    full = velocity_area_uncertainty(
        [discharge / verticals] * verticals,
        [float(points)] * verticals,
        *columns,
        number,
        systematic,
    )
    short = velocity_area_uncertainty_equal_panels(
        float(verticals), float(points), *of_panels, number, systematic
    )

    assert full == pytest.approx(short, rel=1e-9, abs=1e-150)


@given(st.sampled_from([-3.0, -1.0, 0.3048**3, 1000.0]))
def test_neither_unit_nor_direction_changes_a_percent(scale: float) -> None:
    """Discharges in another unit, or all of them the other way, have the same percent."""
    scaled = [scale * q for q in SECTION.discharges()]

    assert velocity_area_uncertainty(scaled, *SECTION[3:]) == pytest.approx(
        SECTION.uncertainty(), rel=1e-12
    )


def test_the_parts_make_the_whole() -> None:
    """The panels' parts, each alone, and the common ones add up in squares to the full form."""
    flows, total = SECTION.discharges(), sum(SECTION.discharges())
    by_points = [
        [percent / math.sqrt(n) for percent, n in zip(column, SECTION.points, strict=True)]
        for column in (SECTION.of_meter, SECTION.of_exposure)
    ]
    columns = [SECTION.of_width, SECTION.of_depth, SECTION.of_profile, *by_points]
    parts = [panels_uncertainty(flows, column, total) for column in columns]

    whole = root_sum_of_squares([*parts, SECTION.of_verticals, SECTION.systematic])
    assert whole == pytest.approx(SECTION.uncertainty(), rel=1e-12)


def test_water_that_runs_back_makes_percents_larger() -> None:
    """By hand: 5 and -1 make 4; 10 % of each are 0.5 and 0.1, √0.26 of 4, 12.7 percent."""
    assert panels_uncertainty([5.0, -1.0], [10.0, 10.0], 4.0) == pytest.approx(12.747549, rel=1e-7)


def test_a_triangle_of_3_4_and_5() -> None:
    """Independent 3 and 4 percent come to 5."""
    assert root_sum_of_squares([3.0, 4.0]) == 5.0
    assert root_sum_of_squares([]) == 0.0


def test_twice_the_verticals_by_components() -> None:
    """A power law: twice the verticals, 2^-0.88 = 0.54337 of the uncertainty; one has 32 %."""
    assert verticals_component(1.0) == 32.0
    assert verticals_component(24.0) / verticals_component(12.0) == pytest.approx(0.54337, abs=5e-6)


def test_what_cannot_be_combined() -> None:
    """Unequal lengths, less than one point or vertical, and a total of 0 are refused."""
    ones = [1.0, 1.0]
    fine = [ones] * 7
    for place in range(1, 7):
        short = [*fine[:place], [1.0], *fine[place + 1 :]]
        with pytest.raises(ValueError, match="one value for every panel"):
            velocity_area_uncertainty(*short, 1.0, 1.0)
    with pytest.raises(ValueError, match="discharge of 0"):
        velocity_area_uncertainty([1.0, -1.0], *fine[1:], 1.0, 1.0)
    with pytest.raises(ValueError, match="at least one point"):
        velocity_area_uncertainty(ones, [1.0, 0.0], *fine[2:], 1.0, 1.0)
    with pytest.raises(ValueError, match="one value for every panel"):
        panels_uncertainty(ones, [1.0], 2.0)
    with pytest.raises(ValueError, match="discharge of 0"):
        panels_uncertainty(ones, ones, 0.0)
    for counts in ((0.0, 1.0), (1.0, 0.0)):
        with pytest.raises(ValueError, match="one vertical and one point"):
            velocity_area_uncertainty_equal_panels(*counts, *[1.0] * 7)
    with pytest.raises(ValueError, match="at least one vertical"):
        verticals_component(0.0)


def test_what_is_systematic_bounds_what_many_verticals_are_worth() -> None:
    """By hand: 1 % by the angle and three times 0.5 % leave √1.75; 1.5 % by verticals make it 2."""
    assert components_uncertainty(0.0) == pytest.approx(1.3228757)
    assert components_uncertainty(1.5) == pytest.approx(2.0)
