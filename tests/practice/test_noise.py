"""Roughness along the tape and pulsation in time: variance, correlation, means over exposures."""

import math
import random
import statistics

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bankside.practice.making import make_stream
from bankside.practice.parameters import normal, seeded
from bankside.practice.roughness import correlated
from bankside.practice.turbulence import exposure_variance


def _correlation(values: list[float], lag: int) -> float:
    products = [a * b for a, b in zip(values, values[lag:], strict=False)]
    return statistics.fmean(products) / statistics.fmean(v * v for v in values)


@pytest.mark.parametrize(("step", "length"), [(0.02, 0.15), (0.05, 1.0), (0.025, 0.4)])
def test_roughness_has_its_deviation_and_its_length(step: float, length: float) -> None:
    """Over a very long section the deviation is 0.1 and the correlation falls as exp(-x / L)."""
    values = correlated(random.Random(5), 400_000, step, 0.1, length)

    assert statistics.fmean(values) == pytest.approx(0.0, abs=0.004)
    assert statistics.pstdev(values) == pytest.approx(0.1, rel=0.03)
    for distance in (0.5 * length, length, 2.0 * length):
        lag = round(distance / step)
        assert _correlation(values, lag) == pytest.approx(math.exp(-lag * step / length), abs=0.03)


def test_roughness_is_as_strong_at_the_bank_as_inside() -> None:
    """The first value of a series scatters as much as the last: the noise is stationary."""
    series = [correlated(random.Random(seed), 60, 0.02, 1.0, 0.3) for seed in range(4000)]

    assert statistics.pstdev(s[0] for s in series) == pytest.approx(1.0, rel=0.04)
    assert statistics.pstdev(s[-1] for s in series) == pytest.approx(1.0, rel=0.04)


@pytest.mark.parametrize(("time_scale", "seconds"), [(1.0, 40.0), (10.0, 40.0), (20.0, 5.0)])
def test_the_mean_over_an_exposure_scatters_as_the_formula_says(
    time_scale: float, seconds: float
) -> None:
    """Means over many exposures of a simulated series of velocities have that variance."""
    step = min(0.1, time_scale / 20.0)
    count = round(seconds / step)
    rng = random.Random(8)
    means = [statistics.fmean(correlated(rng, count, step, 0.1, time_scale)) for _ in range(1500)]

    expected = exposure_variance(0.1, time_scale, seconds)
    assert statistics.pvariance(means) == pytest.approx(expected, rel=0.12)


@given(
    time_scale=st.floats(0.05, 100.0),
    seconds=st.floats(0.01, 1e6),
    longer=st.floats(1.001, 100.0),
)
def test_a_longer_exposure_is_never_worse(time_scale: float, seconds: float, longer: float) -> None:
    """The variance lies between 0 and that of a moment, and falls as the exposure grows."""
    short = exposure_variance(1.0, time_scale, seconds)

    assert 0.0 < exposure_variance(1.0, time_scale, seconds * longer) <= short <= 1.0 + 1e-9


def test_the_limits_of_the_exposure_formula() -> None:
    """A moment has the whole variance, a very long exposure 2 τ / T of it."""
    assert exposure_variance(0.2, 5.0, 1e-4) == pytest.approx(0.04, rel=1e-4)
    assert exposure_variance(0.2, 5.0, 1e6) == pytest.approx(0.04 * 2.0 * 5.0 / 1e6, rel=1e-4)


def test_the_two_forms_of_the_exposure_formula_meet() -> None:
    """Where the series for short exposures takes over, nothing jumps."""
    below = exposure_variance(1.0, 999.0, 1.0)
    above = exposure_variance(1.0, 1001.0, 1.0)

    assert below == pytest.approx(above, abs=2e-6)


def test_normal_numbers_are_normal() -> None:
    """Mean 0, deviation 1, and one in twenty beyond 1.96."""
    rng = seeded("a test")
    values = [normal(rng) for _ in range(50_000)]

    assert statistics.fmean(values) == pytest.approx(0.0, abs=0.02)
    assert statistics.pstdev(values) == pytest.approx(1.0, abs=0.02)
    assert statistics.fmean(abs(v) > 1.96 for v in values) == pytest.approx(0.05, abs=0.005)


def test_rough_water_pulses_more_than_smooth_and_slow_water_longer() -> None:
    """The scatter of a 40 s exposure is several percent, more in pocket water than in a canal."""

    def typical(kind: str) -> float:
        shares = []
        for seed in range(60):
            stream = make_stream(kind, seed)
            y = stream.left + 0.5 * stream.drawn["width"]
            v = stream.velocity_at(y)
            if stream.depth_at(y) > 0.1 and v > 0.1:
                shares.append(stream.exposure_deviation(y, 40.0) / v)
        return statistics.median(shares)

    assert 0.005 < typical("canal") < typical("cobble bed") < typical("pocket water") < 0.15
