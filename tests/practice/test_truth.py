"""The true discharge and area of a simulated stream, held against other ways to them."""

import itertools
import math

import attrs
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bankside.practice.making import make_stream, stream_of
from bankside.practice.parameters import Range, of
from bankside.practice.section_type import SectionType
from bankside.practice.section_types import SECTION_TYPES
from bankside.practice.stream import SimulatedStream

KINDS = sorted(SECTION_TYPES)


def _by_midpoints(stream: SimulatedStream, cells: int) -> tuple[float, float]:
    """Discharge and area by adding up narrow strips, each with what is true in its middle."""
    step = (stream.right - stream.left) / cells
    middles = [stream.left + (i + 0.5) * step for i in range(cells)]
    return (
        math.fsum(stream.depth_at(y) * stream.velocity_at(y) for y in middles) * step,
        math.fsum(stream.depth_at(y) for y in middles) * step,
    )


def _smooth(**ranges: Range) -> SectionType:
    """A section without roughness, bend, eddy or walls."""
    plain = dict.fromkeys(
        (
            *("bed_roughness", "bed_waves", "velocity_roughness", "tilt", "eddy_width"),
            *("depth_power", "distortion", "angle", "angle_deviation"),
        ),
        of(0.0),
    )
    return attrs.evolve(
        SECTION_TYPES["run"],
        name="plain",
        width=of(10.0, unit="m"),
        depth=of(0.6, unit="m"),
        velocity=of(0.5, unit="m/s"),
        **(plain | ranges),
    )


@pytest.mark.parametrize("kind", KINDS)
def test_a_finer_integration_changes_less_than_a_millionth(kind: str) -> None:
    """Strips of half the width come to the same discharge and area, to 1e-6."""
    for seed in range(5):
        stream = make_stream(kind, seed)
        cells = 16 * (len(stream.depths) - 1)
        coarse, fine = _by_midpoints(stream, cells), _by_midpoints(stream, 2 * cells)
        # The error of strips falls with the square of their width.
        discharge = fine[0] + (fine[0] - coarse[0]) / 3.0

        assert fine[0] == pytest.approx(coarse[0], rel=2e-5)
        assert stream.discharge == pytest.approx(discharge, rel=1e-6)
        assert stream.area == pytest.approx(fine[1], rel=1e-9)


@given(
    kind=st.sampled_from(KINDS),
    seed=st.integers(0, 1000),
    cuts=st.lists(st.floats(0.0, 1.0), max_size=6),
)
def test_parts_add_up_to_the_whole(kind: str, seed: int, cuts: list[float]) -> None:
    """However a section is cut, the discharges of its parts are the discharge."""
    stream = make_stream(kind, seed)
    width = stream.right - stream.left
    ends = sorted([-1.0, *(stream.left + cut * width for cut in cuts), stream.right + 1.0])
    parts = [stream.discharge_between(a, b) for a, b in itertools.pairwise(ends)]

    assert math.fsum(parts) == pytest.approx(stream.discharge, rel=1e-9)


def test_a_plain_parabola_has_the_discharge_of_the_formula() -> None:
    """A parabola 10 m wide and 0.6 m deep has 2/3 × 10 × 0.6 = 4 m²; at 0.5 m/s it carries 2."""
    stream = stream_of(_smooth(thalweg=of(0.5), peakedness=of(2.0)), 1)

    assert stream.area == pytest.approx(4.0, rel=1e-4)
    assert stream.discharge == pytest.approx(2.0, rel=1e-4)
    assert stream.depth_at(stream.left + 2.5) == pytest.approx(0.45, rel=1e-4)


def test_a_plain_trapezoid_has_the_area_of_the_formula() -> None:
    """Slopes of a fifth of 10 m on both sides leave 6 m of 0.6 m: 3.6 + 1.2 = 4.8 m²."""
    section = attrs.evolve(_smooth(), form="trapezoid", slope=of(0.2))

    assert stream_of(section, 1).area == pytest.approx(4.8, rel=1e-6)


def test_velocity_goes_with_the_power_of_depth() -> None:
    """With a power of 2/3, an eighth of the depth has a quarter of the velocity."""
    stream = stream_of(_smooth(thalweg=of(0.5), peakedness=of(2.0), depth_power=of(2.0 / 3.0)), 1)
    # A parabola has an eighth of its depth at (1 - sqrt(7/8)) / 2 of its width.
    shallow = stream.left + 10.0 * (1.0 - math.sqrt(7.0 / 8.0)) / 2.0

    middle = stream.velocity_at(stream.left + 5.0)
    assert stream.velocity_at(shallow) / middle == pytest.approx(0.25, rel=2e-3)


def test_water_at_an_upright_wall_is_slower_by_the_table() -> None:
    """At a wall 0.65, half a depth away 0.95, a depth away 1: USGS WSP 2175 (from memory)."""
    section = attrs.evolve(
        _smooth(near_bank=of(1.0), far_bank=of(1.0), wall=of(0.65)), form="trapezoid"
    )
    stream = stream_of(section, 1)
    outside = stream.velocity_at(stream.left + 0.6)

    assert stream.left_bank == stream.right_bank == "steep"
    for distance, ratio in ((0.0, 0.65), (0.3, 0.95), (0.6, 1.0), (3.0, 1.0)):
        assert stream.velocity_at(stream.left + distance) / outside == pytest.approx(ratio)


def test_only_the_part_square_to_the_tape_is_discharge() -> None:
    """A flow at 30° to the square line is faster along itself by 1 / cos 30°, not more water."""
    straight = stream_of(_smooth(), 1)
    oblique = stream_of(_smooth(angle=of(30.0, unit="°")), 1)
    y = straight.left + 4.0

    assert oblique.discharge == straight.discharge
    assert oblique.mean_speed_at(y) / straight.mean_speed_at(y) == pytest.approx(1.1547, rel=1e-4)


def test_beyond_the_edges_there_is_nothing() -> None:
    """On dry land there is no depth and no velocity."""
    stream = make_stream("undercut bank", 5)

    for y in (stream.left - 0.001, stream.right + 0.001):
        assert stream.depth_at(y) == 0.0
        assert stream.velocity_at(y) == 0.0
    assert max(stream.depth_at(stream.left), stream.depth_at(stream.right)) > 0.1


def test_the_edges_have_the_depth_of_the_last_node() -> None:
    """Rounding of a tape position at the edge itself never makes a wall of water vanish."""
    for kind in ("canal", "undercut bank"):
        for seed in range(200):
            stream = make_stream(kind, seed)

            assert stream.depth_at(stream.left) == stream.depths[0]
            assert stream.depth_at(stream.right) == pytest.approx(stream.depths[-1], abs=1e-9)
