"""The published wall table, and the power law of ISO 748 near a bank."""

import pytest
from scipy.integrate import quad

from bankside.kernel.edge import (
    WALL_DISTANCE,
    WALL_RATIO,
    edge_velocity_power_law,
    wall_ratio,
    wall_velocity,
)

from .examples import EXAMPLES, agrees

TABLE = EXAMPLES["wall_table"]["from_memory"]


def test_the_wall_table_is_the_published_one() -> None:
    """WSP 2175 vol. 1 (from memory): 0.65, 0.90, 0.95 and 1.00 at 0, 1/4, 1/2 and 1 depth."""
    assert list(WALL_DISTANCE) == TABLE["distance_over_depth"]
    assert list(WALL_RATIO) == [float(ratio) for ratio in TABLE["ratio"]]
    for distance, ratio in zip(TABLE["distance_over_depth"], TABLE["ratio"], strict=True):
        assert agrees(wall_ratio(distance), ratio)


def test_a_wall_carries_0_65_of_a_vertical_one_depth_away() -> None:
    """The table's 0.65 applies to a vertical at one depth or more from the wall (from memory)."""
    assert agrees(wall_velocity(1.0, 0.8, 0.8), TABLE["ratio"][0])
    assert agrees(wall_velocity(1.0, 2.4, 0.8), TABLE["ratio"][0])


@pytest.mark.parametrize("exponent", [4.0, 5.0, 6.0, 7.0, 10.0])
def test_the_power_law_near_a_bank(exponent: float) -> None:
    """DERIVED from ISO 748's law (from memory): ratio to the power m is x/a, mean is m/(m+1)."""
    half = edge_velocity_power_law(1.0, 2.0, 1.0, exponent)
    mean, _ = quad(lambda x: edge_velocity_power_law(1.0, 1.0, x, exponent), 0.0, 1.0)

    assert half**exponent == pytest.approx(0.5, rel=1e-12)
    assert mean == pytest.approx(exponent / (exponent + 1.0), rel=1e-6)
