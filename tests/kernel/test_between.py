import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import multivariate_normal, norm

from bankside.kernel.between import (
    between_evidence,
    between_variance,
    local_scale,
    mixture_half_width,
    shared_variance,
)

from .sections import Section, forward

TAPE = [0.0, 0.5, 1.2, 1.9, 2.3, 3.4, 4.0]
CARRIED = [0.0, 0.11, 0.3, 0.42, 0.35, 0.2, 0.0]
SCALE = [0.1, 0.15, 0.24, 0.3, 0.28, 0.2, 0.12]
READ = [1e-8, 1e-4, 3e-4, 2e-4, 2e-4, 1e-4, 1e-8]
# Deviation and length of the shape, unevenness and its length.
CHOICE = (0.4, 1.1, 0.3, 0.6)


def _covariance(x: np.ndarray, y: np.ndarray, scale_x: np.ndarray, scale_y: np.ndarray) -> Any:
    deviation, length, rough, rough_length = CHOICE
    apart = np.abs(x[:, None] - y[None, :])
    shape = deviation**2 * (1 + apart / length) * np.exp(-apart / length)
    return shape + rough**2 * scale_x[:, None] * scale_y[None, :] * np.exp(-apart / rough_length)


def test_the_evidence_is_that_of_the_whole_matrix() -> None:
    """The filter along the tape gives the normal density of all readings at once, by SciPy."""
    x, scale = np.array(TAPE), np.array(SCALE)
    matrix = _covariance(x, x, scale, scale) + np.diag(READ)
    expected = multivariate_normal(cov=matrix).logpdf(CARRIED)

    found = between_evidence(TAPE, CARRIED, READ, SCALE, *CHOICE)

    constant = 0.5 * len(TAPE) * math.log(2 * math.pi)
    assert found - constant == pytest.approx(expected, rel=1e-10)


def _dense_error_variance(first: int, last: int, parts: int) -> float:
    """The variance of the error of straight lines between stations, on a fine grid."""
    nodes, weights = [], []
    for i in range(first, last):
        edges = np.linspace(TAPE[i], TAPE[i + 1], parts + 1)
        middle = (edges[1:] + edges[:-1]) / 2
        nodes += [*middle, TAPE[i], TAPE[i + 1]]
        width = TAPE[i + 1] - TAPE[i]
        weights += [*([width / parts] * parts), -width / 2, -width / 2]
    x, w = np.array(nodes), np.array(weights)
    scale = np.interp(x, TAPE, SCALE)
    return float(w @ _covariance(x, x, scale, scale) @ w)


@pytest.mark.parametrize("intervals", [(0, 6), (2, 3)])
def test_the_variance_between_stations_is_that_of_a_fine_grid(intervals: tuple[int, int]) -> None:
    """Five points an interval come within 3 % of what hundreds give, in standard deviation."""
    first, last = intervals
    found = between_variance(TAPE, CARRIED, SCALE, *CHOICE, first, last)

    assert math.sqrt(found) == pytest.approx(
        math.sqrt(_dense_error_variance(first, last, 200)), rel=0.03
    )


def test_close_readings_leave_the_variance_of_a_pinned_walk() -> None:
    """Where stations are far nearer than unevenness reaches, an interval errs by σ² h³ / 12.

    That is the variance of the area under a Brownian bridge; σ² is 2 R² s² / L.
    """
    h, rough, length = 0.01, 0.3, 5.0
    found = between_variance([0.0, h], [0.2, 0.2], [1.0, 1.0], 0.0, 1.0, rough, length, 0, 1)
    walk = 2 * rough**2 / length

    # Simpson's rule on five points makes it 13/12 of that (worked by hand from its weights).
    assert found == pytest.approx(walk * h**3 / 12 * 13 / 12, rel=0.01)


def test_no_flow_at_either_end_leaves_nothing_between() -> None:
    """A dry gap between two waters has no error, and parts them."""
    tape = [0.0, 1.0, 2.0, 3.0, 4.0, 5.0]
    carried = [0.0, 0.3, 0.0, 0.0, 0.3, 0.0]
    scale = [0.2] * 6

    def variance(first: int, last: int) -> float:
        return between_variance(tape, carried, scale, 0.0, 1.0, 0.3, 0.1, first, last)

    alone = [variance(i, i + 1) for i in range(5)]

    assert alone[2] == 0.0
    assert alone[0] == pytest.approx(alone[4])
    assert variance(0, 5) == pytest.approx(2 * variance(0, 2), rel=1e-4)


@given(forward, st.floats(0.05, 5.0), st.floats(0.01, 1.0), st.floats(0.05, 3.0))
def test_a_section_and_its_mirror_err_alike(
    section: Section, shape_length: float, rough: float, rough_length: float
) -> None:
    """From the other bank evidence, variance and scale are the same."""
    tape = section.tape
    carried = [d * v for d, v in zip(section.depth, section.velocity, strict=True)]
    if not any(carried):
        return
    mirror = [-x for x in reversed(tape)]
    back = list(reversed(carried))
    scale = [local_scale(tape, carried, i) for i in range(len(tape))]
    scale_back = [local_scale(mirror, back, i) for i in range(len(tape))]
    assert scale_back == pytest.approx(list(reversed(scale)), rel=1e-9)
    read = [1e-3] * len(tape)
    choice = (0.5, shape_length, rough, rough_length)
    assert between_evidence(mirror, back, read, scale_back, *choice) == pytest.approx(
        between_evidence(tape, carried, read, scale, *choice), rel=1e-6, abs=1e-6
    )
    ends = (0, len(tape) - 1)
    assert between_variance(mirror, back, scale_back, *choice, *ends) == pytest.approx(
        between_variance(tape, carried, scale, *choice, *ends), rel=1e-6, abs=1e-12
    )


@given(st.lists(st.floats(0.01, 2.0), min_size=2, max_size=12), st.floats(0.05, 5.0))
def test_shared_errors_are_the_sum_over_all_pairs(steps: list[float], length: float) -> None:
    """One walk along the tape gives what the double sum gives."""
    tape = np.cumsum(steps)
    deviation = np.array([0.1 + 0.05 * (i % 3) for i in range(len(steps))])
    apart = np.abs(tape[:, None] - tape[None, :])
    expected = deviation @ np.exp(-apart / length) @ deviation

    found = shared_variance([float(x) for x in tape], [float(s) for s in deviation], length)

    assert found == pytest.approx(expected, rel=1e-9)


def test_the_scale_follows_the_flow_and_keeps_its_mean() -> None:
    """It is larger where more flows; twice the flow everywhere makes it twice as large."""
    scale = [local_scale(TAPE, CARRIED, i) for i in range(len(TAPE))]
    assert max(scale) == scale[3] and min(scale) in (scale[0], scale[-1])
    doubled = [local_scale(TAPE, [2 * q for q in CARRIED], i) for i in range(len(TAPE))]
    assert doubled == pytest.approx([2 * s for s in scale])
    even = [local_scale([0.0, 1.0, 2.0, 3.0], [0.4] * 4, i) for i in range(4)]
    assert even == pytest.approx([0.4] * 4)


@pytest.mark.parametrize("probability", [0.5, 0.68, 0.95])
def test_the_interval_holds_as_much_as_it_says(probability: float) -> None:
    """One deviation gives the normal quantile; of several, SciPy's distributions hold so much."""
    alone = mixture_half_width([3.0], [0.2], probability)
    assert alone == pytest.approx(0.2 * norm.ppf((1 + probability) / 2), rel=1e-12)

    weights, deviations = [1.0, 2.0, 0.5], [0.1, 0.4, 1.5]
    half = mixture_half_width(weights, deviations, probability)
    held = [w * (2 * norm.cdf(half / s) - 1) for w, s in zip(weights, deviations, strict=True)]
    assert sum(held) / sum(weights) == pytest.approx(probability, rel=1e-10)


def test_an_error_that_cannot_be_is_held_by_any_interval() -> None:
    """Weight on a deviation of 0 counts as within."""
    assert mixture_half_width([1.0, 1.0], [0.0, 1.0], 0.5) == pytest.approx(0.0, abs=1e-12)
    half = mixture_half_width([1.0, 1.0], [0.0, 1.0], 0.75)
    assert half == pytest.approx(norm.ppf(0.75), rel=1e-9)


def test_the_scale_is_a_mean_weighed_by_a_normal_curve() -> None:
    """By NumPy and SciPy: near stations by a normal curve of 6 % of the width, to the power 0.4.

    The rest of the power is the mean of the whole section.
    """
    tape, carried = np.array(TAPE) + 3.0, -np.array(CARRIED)
    panels = np.convolve(np.diff(tape), [0.5, 0.5])
    whole = np.trapezoid(np.abs(carried), tape) / 4.0
    for i in range(7):
        weights = panels * norm.pdf(tape, tape[i], 0.06 * 4.0)
        near = np.average(np.abs(carried), weights=weights)
        expected = near**0.4 * whole**0.6
        assert local_scale(tape.tolist(), carried.tolist(), i) == pytest.approx(expected, rel=1e-9)


def test_the_interval_goes_with_the_deviations_however_small() -> None:
    """A trillionth of them, in any order, and what weighs nothing, change nothing else."""
    of_one = norm.ppf(0.975)
    tiny = mixture_half_width([1.0], [1e-12], 0.95)
    assert tiny == pytest.approx(1e-12 * of_one, rel=1e-9, abs=0.0)
    assert mixture_half_width([0.0, 1.0], [5.0, 1.0], 0.95) == pytest.approx(of_one, rel=1e-9)
    last_certain = mixture_half_width([1.0, 1.0], [1.0, 0.0], 0.75)
    assert last_certain == pytest.approx(norm.ppf(0.75), rel=1e-9)
