"""What is assumed of readings after the simulated streams is what these have."""

import math

import pytest

from bankside.kernel import between_assumed
from bankside.kernel.vertical import velocity_from_surface
from bankside.practice.making import make_stream
from bankside.practice.section_types import SECTION_TYPES
from bankside.practice.stream import SimulatedStream

# So shallow or slow, a departure over the velocity says nothing.
_SHALLOW_M, _SLOW_MS = 0.05, 0.02


def _deviation(stream: SimulatedStream, fraction: float, coefficient: float) -> float:
    """How far velocities at this fraction depart from their verticals' means, by the flow.

    Over the velocity, about what they all have in common.
    """
    rows = []
    for i in range(1, 16):
        y = stream.left + (stream.right - stream.left) * i / 16.0
        depth, mean = stream.depth_at(y), stream.mean_speed_at(y)
        if depth > _SHALLOW_M and abs(mean) > _SLOW_MS:
            departure = coefficient * stream.speed_at(y, fraction) / mean - 1.0
            rows.append((depth * abs(mean), departure))
    whole = math.fsum(weight for weight, _ in rows)
    common = math.fsum(weight * one for weight, one in rows) / whole
    return math.fsum(weight * (one - common) ** 2 for weight, one in rows) / whole


@pytest.mark.parametrize("kind", SECTION_TYPES)
def test_a_surface_departs_so_many_times_as_far_as_a_point_inside(kind: str) -> None:
    """On every type the surface, by its coefficient, departs as many times as far as is assumed."""
    streams = [make_stream(kind, 20_000_000 + 100 * i) for i in range(25)]
    coefficient = velocity_from_surface(1.0)
    surface = math.fsum(_deviation(stream, 0.0, coefficient) for stream in streams)
    inside = math.fsum(_deviation(stream, 0.6, 1.0) for stream in streams)

    assert math.sqrt(surface / inside) == pytest.approx(between_assumed.AT_SURFACE, abs=0.3)
