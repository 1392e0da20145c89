"""Sections whose area and discharge are known integrals, sampled ever more finely."""

import math
from collections.abc import Callable
from itertools import pairwise
from typing import NamedTuple

import pytest
from scipy.integrate import quad

from bankside.kernel.discharge import (
    mean_section_discharge,
    mid_section_discharge,
    mid_section_discharge_triangular,
)
from bankside.kernel.section import section_area, water_width, wetted_perimeter
from bankside.kernel.vertical import velocity_by_integration

WIDTH = 8.0
MAX_DEPTH = 1.2
MAX_VELOCITY = 0.9

Shape = Callable[[float], float]


class Stream(NamedTuple):
    """Depth and velocity over s, which runs from -1 at one bank to 1 at the other."""

    depth: Shape
    velocity: Shape
    mid_order: float  # power of the spacing with which the error of the mid-section method falls
    mean_order: float  # and that of the mean-section method


def _parabola(s: float) -> float:
    return MAX_DEPTH * (1.0 - s * s)


def _triangle(s: float) -> float:
    return MAX_DEPTH * (1.0 - abs(s))


def _power(exponent: float, scale: float) -> Shape:
    return lambda s: scale * (1.0 - abs(s)) ** exponent


STREAMS = {
    # Velocity times depth leaves the banks level, where the mid-section sum gains two orders.
    "parabola": Stream(_parabola, _parabola, 4.0, 2.0),
    "triangle": Stream(_triangle, _power(1.0, MAX_VELOCITY), 2.0, 2.0),
    # Near the bank the product runs as distance to the 1/2 + 1/6: the order is 1 + 2/3.
    "power law": Stream(_power(1 / 2, MAX_DEPTH), _power(1 / 6, MAX_VELOCITY), 5 / 3, 5 / 3),
}


def _sampled(stream: Stream, panels: int) -> tuple[list[float], list[float], list[float]]:
    s = [-1.0 + 2.0 * i / panels for i in range(panels + 1)]
    tape = [WIDTH / 2 * value for value in s]
    return tape, [stream.depth(value) for value in s], [stream.velocity(value) for value in s]


def _integral(shape: Shape) -> float:
    value, _ = quad(shape, -1.0, 1.0, points=[0.0], epsabs=1e-12, epsrel=1e-12)
    return WIDTH / 2 * float(value)


def _true_discharge(stream: Stream) -> float:
    return _integral(lambda s: stream.depth(s) * stream.velocity(s))


def _errors(method: Callable[..., float], stream: Stream) -> list[float]:
    true = _true_discharge(stream)
    return [abs(method(*_sampled(stream, n)) - true) / true for n in (32, 64, 128, 256)]


def _orders(errors: list[float]) -> list[float]:
    return [math.log2(coarse / fine) for coarse, fine in pairwise(errors)]


@pytest.mark.parametrize("stream", STREAMS.values(), ids=STREAMS)
def test_discharge_closes_in_on_the_integral(stream: Stream) -> None:
    """Each halving of the spacing cuts the error as the shape of the banks lets it."""
    mid = _errors(mid_section_discharge, stream)
    mean = _errors(mean_section_discharge, stream)

    assert _orders(mid) == pytest.approx([stream.mid_order] * 3, abs=0.05)
    assert _orders(mean) == pytest.approx([stream.mean_order] * 3, abs=0.1)
    assert max(mid[-1], mean[-1]) < 5e-4


@pytest.mark.parametrize("stream", STREAMS.values(), ids=STREAMS)
def test_twenty_five_verticals_err_by_little_on_smooth_sections(stream: Stream) -> None:
    """With 25 verticals in the water both methods are within 1.5 %, mean-section the lower."""
    true = _true_discharge(stream)
    mid = mid_section_discharge(*_sampled(stream, 26))
    mean = mean_section_discharge(*_sampled(stream, 26))

    assert mid == pytest.approx(true, rel=0.015)
    assert mean == pytest.approx(true, rel=0.015)
    assert mean < mid


@pytest.mark.parametrize("panels", [2, 4, 10, 64])
def test_the_area_of_a_parabola_misses_one_part_in_n_squared(panels: int) -> None:
    """The trapezoids under a parabola are its area times 1 - 1/n^2, n panels of one width."""
    tape, depth, _ = _sampled(STREAMS["parabola"], panels)
    true = 2.0 / 3.0 * WIDTH * MAX_DEPTH

    assert _integral(_parabola) == pytest.approx(true, rel=1e-12)
    assert section_area(tape, depth) == pytest.approx(true * (1 - 1 / panels**2), rel=1e-13)


@pytest.mark.parametrize("panels", [2, 6, 30])
def test_the_area_of_a_triangle_is_exact(panels: int) -> None:
    """A bed of straight lines between the verticals is measured without error."""
    tape, depth, _ = _sampled(STREAMS["triangle"], panels)

    assert section_area(tape, depth) == pytest.approx(WIDTH * MAX_DEPTH / 2, rel=1e-14)
    assert wetted_perimeter(tape, depth) == pytest.approx(
        2 * math.sqrt((WIDTH / 2) ** 2 + MAX_DEPTH**2), rel=1e-14
    )
    assert water_width(tape, depth) == WIDTH


def test_the_perimeter_of_a_parabola_closes_in_from_below() -> None:
    """Chords are shorter than the arc; halving the spacing cuts what is missing to a quarter."""
    arc = _integral(lambda s: math.sqrt(1.0 + (2 * MAX_DEPTH * s / (WIDTH / 2)) ** 2))
    missing = [arc - wetted_perimeter(*_sampled(STREAMS["parabola"], n)[:2]) for n in (16, 32, 64)]

    assert all(value > 0.0 for value in missing)
    for coarse, fine in pairwise(missing):
        assert coarse / fine == pytest.approx(4.0, abs=0.02)
    assert missing[-1] / arc < 2e-5


def test_uniform_velocity_makes_discharge_the_area_times_velocity() -> None:
    """With one velocity at every wet vertical the mid-section total is that velocity times area."""
    tape, depth, _ = _sampled(STREAMS["parabola"], 20)
    still_banks = [0.0, *[0.5] * 19, 0.0]

    assert mid_section_discharge(tape, depth, still_banks) == pytest.approx(
        0.5 * section_area(tape, depth), rel=1e-13
    )


@pytest.mark.parametrize("panels", [10, 20, 40])
def test_what_the_triangular_rule_adds_to_even_spacing(panels: int) -> None:
    """With even spacing it adds an eighth to each of the two panels next to the banks."""
    tape, depth, velocity = _sampled(STREAMS["parabola"], panels)
    spacing = WIDTH / panels
    added = spacing / 8 * (depth[1] * velocity[1] + depth[-2] * velocity[-2])

    assert mid_section_discharge_triangular(tape, depth, velocity) == pytest.approx(
        mid_section_discharge(tape, depth, velocity) + added, rel=1e-13
    )


@pytest.mark.parametrize("exponent", [4.0, 6.0, 10.0])
def test_integration_of_a_power_law_closes_in_on_its_mean(exponent: float) -> None:
    """More points in a vertical bring the integral to m/(m+1) of the surface velocity."""

    def profile(fraction: float) -> float:
        return float((1.0 - fraction) ** (1.0 / exponent))

    true, _ = quad(profile, 0.0, 1.0, epsabs=1e-12)
    assert true == pytest.approx(exponent / (exponent + 1.0), rel=1e-9)

    errors = []
    for points in (10, 20, 40):
        fraction = [0.9 * i / (points - 1) for i in range(points)]
        mean = velocity_by_integration(fraction, [profile(f) for f in fraction], exponent)
        errors.append(abs(mean - true) / true)

    assert errors[0] > 3 * errors[1] > 9 * errors[2]
    assert errors[-1] < 1e-4


@pytest.mark.parametrize("exponent", [4.0, 6.0, 10.0])
@pytest.mark.parametrize("lowest", [0.6, 0.8, 0.95])
def test_below_the_lowest_point_the_integral_is_exact(exponent: float, lowest: float) -> None:
    """One point alone: constant above it, and below it the integral of the power law."""
    below, _ = quad(
        lambda f: ((1.0 - f) / (1.0 - lowest)) ** (1.0 / exponent), lowest, 1.0, epsabs=1e-12
    )

    assert velocity_by_integration([lowest], [0.7], exponent) == pytest.approx(
        0.7 * (lowest + below), rel=1e-9
    )


@pytest.mark.parametrize("exponent", [4.0, 6.0, 10.0])
@pytest.mark.parametrize("fraction", [(0.5, 0.75), (0.5, 0.9), (0.6, 0.8), (0.6, 0.9)])
def test_points_of_the_lower_half_alone_come_out_low(
    exponent: float, fraction: tuple[float, ...]
) -> None:
    """With nothing read above half the depth a power law is integrated 2 to 10 % too low."""
    velocity = [(1.0 - f) ** (1.0 / exponent) for f in fraction]
    true = exponent / (exponent + 1.0)
    low = 1.0 - velocity_by_integration(list(fraction), velocity) / true

    assert low == pytest.approx(0.06, abs=0.04)
