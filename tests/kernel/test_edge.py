import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bankside.kernel.edge import (
    WALL_DISTANCE,
    WALL_RATIO,
    edge_velocity_power_law,
    wall_ratio,
    wall_velocity,
)


def test_the_table_holds_at_its_own_points() -> None:
    """At a distance in the table the ratio is the one in the table, to the bit."""
    assert [wall_ratio(distance) for distance in WALL_DISTANCE] == list(WALL_RATIO)


def test_between_the_points_the_ratio_is_straight() -> None:
    """Half way between two distances lies the mean of the two ratios; far out it is one."""
    assert wall_ratio(0.125) == pytest.approx((0.65 + 0.90) / 2)
    assert wall_ratio(0.75) == pytest.approx((0.95 + 1.00) / 2)
    assert wall_ratio(7.0) == wall_ratio(math.inf) == 1.0


@given(st.floats(0.0, 3.0), st.floats(0.0, 3.0))
def test_the_ratio_rises_from_the_wall(near: float, far: float) -> None:
    """Nowhere does the water get slower away from a smooth wall."""
    near, far = sorted((near, far))

    assert 0.65 <= wall_ratio(near) <= wall_ratio(far) <= 1.0


@given(st.floats(-1.0, 3.0), st.floats(0.0, 5.0), st.floats(0.05, 2.0))
def test_the_wall_is_slower_than_its_neighbour(
    neighbour: float, distance: float, depth: float
) -> None:
    """Between the wall and a vertical the velocity falls to 0.65 of it at the least."""
    wall = wall_velocity(neighbour, distance, depth)

    assert 0.65 * abs(neighbour) - 1e-15 <= abs(wall) <= abs(neighbour)
    assert wall * neighbour >= 0.0


def test_the_table_is_used_from_the_neighbour_out_and_back_to_the_wall() -> None:
    """A neighbour at a quarter of the depth runs at 0.90, so the wall at 0.65 / 0.90 of it."""
    assert wall_velocity(0.90, 0.2, 0.8) == pytest.approx(0.65)
    assert wall_velocity(1.00, 2.0, 0.8) == pytest.approx(0.65)


@given(st.floats(-1.0, 3.0), st.floats(0.1, 5.0), st.floats(3.0, 10.0))
def test_the_power_law_runs_from_the_bank_to_the_vertical(
    velocity: float, distance: float, exponent: float
) -> None:
    """It is 0 at the bank and the vertical's own velocity at the vertical."""
    assert edge_velocity_power_law(velocity, distance, 0.0, exponent) == 0.0
    assert edge_velocity_power_law(velocity, distance, distance, exponent) == velocity


@pytest.mark.parametrize(
    "call",
    [
        lambda: wall_ratio(-0.01),
        lambda: wall_velocity(0.4, -0.1, 0.5),
        lambda: wall_velocity(0.4, 0.3, 0.0),
        lambda: edge_velocity_power_law(0.4, 0.0, 0.0, 6.0),
        lambda: edge_velocity_power_law(0.4, 1.0, -0.1, 6.0),
        lambda: edge_velocity_power_law(0.4, 1.0, 1.1, 6.0),
        lambda: edge_velocity_power_law(0.4, 1.0, 0.5, 0.0),
    ],
)
def test_impossible_edges_are_refused(call: object) -> None:
    """A negative distance, a wall without water, a point beyond the vertical: no guess."""
    with pytest.raises(ValueError, match=r"not below 0|above 0"):
        call()  # type: ignore[operator]


def test_the_power_law_by_hand() -> None:
    """A 64th of the way from the bank, to the power 1/6, has half the velocity."""
    assert edge_velocity_power_law(0.8, 3.2, 0.05, 6.0) == pytest.approx(0.4)
    assert edge_velocity_power_law(0.8, 3.2, 0.8, 2.0) == pytest.approx(0.4)
