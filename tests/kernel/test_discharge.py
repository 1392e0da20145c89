from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bankside.kernel.discharge import (
    last_distance_discharge,
    mean_gauge_height_by_discharge,
    mean_gauge_height_by_time,
    mean_section_discharge,
    mean_section_panel,
    mid_section_discharge,
    mid_section_discharge_full_end,
    mid_section_discharge_triangular,
    next_distance_discharge,
)

TAPE = [0.0, 1.0, 3.0, 4.0]
DEPTH = [0.0, 0.5, 1.0, 0.0]
VELOCITY = [0.0, 0.2, 0.4, 0.0]

# Worked by hand: widths 1.5 and 1.5; 2 and 2; 1.5 and 1.5; trapezoids; 2 and 1; 1 and 2.
BY_HAND = {
    mid_section_discharge: 1.5 * 0.5 * 0.2 + 1.5 * 1.0 * 0.4,
    mid_section_discharge_triangular: 2.0 * 0.5 * 0.2 + 2.0 * 1.0 * 0.4,
    mid_section_discharge_full_end: 1.5 * 0.5 * 0.2 + 1.5 * 1.0 * 0.4,
    mean_section_discharge: 0.25 * 0.1 + 1.5 * 0.3 + 0.5 * 0.2,
    next_distance_discharge: 2.0 * 0.5 * 0.2 + 1.0 * 1.0 * 0.4,
    last_distance_discharge: 1.0 * 0.5 * 0.2 + 2.0 * 1.0 * 0.4,
}

GAUGE_HEIGHTS = [mean_gauge_height_by_discharge, mean_gauge_height_by_time]


@pytest.mark.parametrize("total", BY_HAND, ids=lambda total: total.__name__)
def test_a_section_worked_by_hand(total: Callable[..., float]) -> None:
    """Every rule gives what pencil and paper give."""
    assert total(TAPE, DEPTH, VELOCITY) == pytest.approx(BY_HAND[total], rel=1e-14)


def test_water_at_the_first_vertical_is_gauged_half_way() -> None:
    """With water at the first vertical the end rules differ by half a spacing of it."""
    tape, depth, velocity = [0.6, 1.2, 1.8], [0.3, 1.0, 0.0], [0.2, 0.4, 0.0]

    half = mid_section_discharge(tape, depth, velocity)
    full = mid_section_discharge_full_end(tape, depth, velocity)

    assert full - half == pytest.approx(0.3 * 0.3 * 0.2)


@pytest.mark.parametrize("total", BY_HAND, ids=lambda total: total.__name__)
@pytest.mark.parametrize(
    ("tape", "depth", "velocity"),
    [
        ([], [], []),
        ([0.0], [0.5], [0.1]),
        (TAPE, DEPTH[:3], VELOCITY),
        (TAPE, DEPTH, VELOCITY[:3]),
        (TAPE[:3], DEPTH, VELOCITY),
        (TAPE, DEPTH, [*VELOCITY, 0.0]),
    ],
)
def test_values_that_do_not_pair_are_refused(
    total: Callable[..., float], tape: list[float], depth: list[float], velocity: list[float]
) -> None:
    """One depth and one velocity for every vertical, and two verticals at the least."""
    with pytest.raises(ValueError, match=r"two verticals|one value for every vertical"):
        total(tape, depth, velocity)


@pytest.mark.parametrize("i", [-1, 3])
def test_a_panel_that_does_not_exist_is_refused(i: int) -> None:
    """A mean-section panel needs a vertical at either side."""
    with pytest.raises(IndexError, match="no two neighbouring verticals"):
        mean_section_panel(TAPE, DEPTH, VELOCITY, i)


def test_a_mean_section_panel_needs_every_velocity() -> None:
    """A velocity too few is refused even where the panel asked for would not need it."""
    with pytest.raises(ValueError, match="one value for every vertical"):
        mean_section_panel(TAPE, DEPTH, VELOCITY[:3], 0)


def test_a_mean_gauge_height_worked_by_hand() -> None:
    """Two thirds of the water at 1.20, one third at 1.50: the mean is 1.30."""
    assert mean_gauge_height_by_discharge([1.2, 1.5], [0.4, 0.2]) == pytest.approx(1.3)
    assert mean_gauge_height_by_time([1.2, 1.5], [20.0, 10.0]) == pytest.approx(1.3)


@pytest.mark.parametrize("mean", GAUGE_HEIGHTS)
@given(
    pairs=st.lists(st.tuples(st.floats(0.0, 5.0), st.floats(0.01, 900.0)), min_size=1, max_size=20)
)
def test_a_mean_gauge_height_lies_among_the_readings(
    mean: Callable[..., float], pairs: list[tuple[float, float]]
) -> None:
    """It is no lower than the lowest and no higher than the highest stage read."""
    stage, weights = (list(column) for column in zip(*pairs, strict=True))

    assert min(stage) - 1e-12 <= mean(stage, weights) <= max(stage) + 1e-12


@pytest.mark.parametrize("mean", GAUGE_HEIGHTS)
@pytest.mark.parametrize(
    ("stage", "weights"), [([], []), ([1.2], []), ([1.2, 1.3], [1.0]), ([1.2, 1.3], [0.5, -0.5])]
)
def test_a_mean_gauge_height_without_weights_is_refused(
    mean: Callable[..., float], stage: list[float], weights: list[float]
) -> None:
    """No readings, a weight too few, or weights that cancel give no mean."""
    with pytest.raises(ValueError, match=r"one weight for every stage|must not add up to 0"):
        mean(stage, weights)
