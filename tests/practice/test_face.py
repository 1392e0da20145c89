"""What a section shows from the bank: seen from its own bed and water, and no depth told."""

import attrs
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bankside.practice.making import stream_of
from bankside.practice.section_types import SECTION_TYPES
from bankside.practice.session.face import DARKEST, Face, face_of
from bankside.practice.session.practice_streams import PRACTICE_STREAMS
from bankside.practice.session.reach import make_reach
from bankside.practice.stream import SimulatedStream

from .building import plain

SEEDS = st.integers(0, 10_000)
NAMES = st.sampled_from(sorted(PRACTICE_STREAMS))


def with_depths(depths: list[float], velocities: list[float]) -> SimulatedStream:
    """A plain section with this bed and these velocities, at nodes 0.1 m apart."""
    made = stream_of(plain(), 1)
    angles, modes = [0.0] * len(depths), ([0.0] * len(depths),) * 3
    return attrs.evolve(
        made, step=0.1, depths=depths, velocities=velocities, angles=angles, modes=modes
    )


def face(depths: list[float], velocities: list[float] | None = None) -> Face:
    """What it shows; half a metre a second if nothing is said."""
    return face_of(with_depths(depths, velocities or [0.5] * len(depths)))


def ripple(seen: Face) -> float:
    """The mean unevenness of the surface where there is water."""
    wet = [one.ripple for one in seen.places if not one.dry]
    return sum(wet) / len(wet)


@settings(max_examples=20, deadline=None)
@given(NAMES, SEEDS)
def test_a_seed_always_shows_the_same(name: str, seed: int) -> None:
    """Every section of a reach, made anew."""
    shown = [face_of(one.water.stream) for one in make_reach(name, seed).sections]
    make_reach.cache_clear()
    again = [face_of(one.water.stream) for one in make_reach(name, seed).sections]

    assert shown == again


@settings(max_examples=20, deadline=None)
@given(NAMES, SEEDS)
def test_nothing_is_seen_that_is_not_there(name: str, seed: int) -> None:
    """Dry where the bed is dry, backwards where it runs back, and steps of dark, no depths."""
    for one in make_reach(name, seed).sections:
        stream, seen = one.water.stream, face_of(one.water.stream)
        for place in seen.places:
            y = stream.left + place.at * (stream.right - stream.left)
            assert place.dry == (not stream.depth_at(y) > 0.0)
            surface = 0.0 if place.dry else stream.mean_speed_at(y) / 0.85
            assert place.speed == pytest.approx(surface)
            assert isinstance(place.dark, int)
            assert 0 <= place.dark <= DARKEST
        for low, high in seen.stones:
            middle = stream.left + 0.5 * (low + high) * (stream.right - stream.left)
            assert stream.depth_at(middle) < 0.05
        assert (seen.left_bank, seen.right_bank) == (stream.left_bank, stream.right_bank)


def test_leaves_drift_at_the_surface() -> None:
    """A vertical whose mean is 0.51 m/s has a surface of 0.6: the coefficient is 0.85."""
    assert face([0.4] * 101, [0.51] * 101).places[24].speed == pytest.approx(0.6)


def test_deep_is_dark() -> None:
    """In four depths, each darker than the one before; dry ground is not water."""
    dark = [face([depth] * 101).places[24].dark for depth in (0.02, 0.2, 0.5, 1.5)]

    assert dark == sorted(set(dark))
    assert face([0.3] * 40 + [0.0] * 21 + [0.3] * 40).places[24].dry


def test_the_surface_over_a_bump_departs_by_froude() -> None:
    """A bed that swings by 2 cm under 0.5 m/s and 0.4 m: F² = 0.0637; by hand 1.4 mm."""
    bed = [0.42 if i % 2 else 0.38 for i in range(101)]
    still = attrs.evolve(with_depths(bed, [0.5] * 101), drawn={"intensity": 0.0})

    assert ripple(face_of(still)) == pytest.approx(0.00136, abs=0.00006)


def test_fast_and_shallow_is_rough() -> None:
    """Twice as fast, or half as deep, is rougher; so is a rougher bed."""
    bed = [0.42 if i % 2 else 0.38 for i in range(101)]
    slow = ripple(face(bed))

    assert ripple(face(bed, [1.0] * 101)) > 3.0 * slow
    assert ripple(face([0.5 * depth for depth in bed])) > slow
    assert ripple(face([0.4] * 101)) < slow


def test_stones_and_dead_water_are_where_they_are() -> None:
    """A dry stone, a hump under water, an eddy at the left bank, all by their nodes."""
    depths = [0.0, *[0.4] * 39, 0.0, 0.0, *[0.4] * 18, 0.15, 0.15, *[0.4] * 38, 0.0]
    velocities = [0.0, *[-0.05] * 9, *[0.5] * 91]
    seen = face(depths, velocities)

    assert seen.stones == ((pytest.approx(0.395), pytest.approx(0.415)),)
    assert seen.under == ((pytest.approx(0.595), pytest.approx(0.615)),)
    assert seen.dead == seen.back == ((pytest.approx(0.005), pytest.approx(0.095)),)


def test_what_is_wrong_with_a_section_shows() -> None:
    """Riffles and pocket water are rougher than runs, and pools darker, in the mean of 40."""

    def mean(kind: str, what: str) -> float:
        total = 0.0
        for seed in range(40):
            seen = face_of(stream_of(SECTION_TYPES[kind], seed))
            total += sum(getattr(one, what) for one in seen.places) / len(seen.places)
        return total / 40

    assert mean("riffle", "ripple") > 3.0 * mean("run", "ripple")
    assert mean("pocket water", "ripple") > 1.5 * mean("run", "ripple")
    assert mean("pool", "dark") > mean("run", "dark") > mean("riffle", "dark")
