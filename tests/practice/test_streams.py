"""Simulated streams: the same for the same seed, wadeable, and of the kind that they are called."""

import hashlib
import os
import statistics
import subprocess
import sys

import attrs
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bankside.practice.making import make_stream
from bankside.practice.parameters import Range
from bankside.practice.section_type import SectionType
from bankside.practice.section_types import SECTION_TYPES
from bankside.practice.stream import SimulatedStream

KINDS = sorted(SECTION_TYPES)
SEEDS = st.integers(min_value=0, max_value=10**9)

# The whole of a stream and of a visit to it, said by another process.
DIGEST = """
import hashlib
from bankside.practice.crew import draw_crew
from bankside.practice.making import make_stream
from bankside.practice.section_types import SECTION_TYPES
from bankside.practice.simulated_gauging import simulate_gauging
for kind in sorted(SECTION_TYPES):
    stream = make_stream(kind, 11)
    seen = repr((stream, simulate_gauging(stream, draw_crew(11), 11, 20).gauging))
    print(hashlib.sha256(seen.encode()).hexdigest())
"""


def _streams(kind: str, count: int = 40) -> list[SimulatedStream]:
    return [make_stream(kind, seed) for seed in range(count)]


@pytest.fixture(scope="module")
def digests() -> list[str]:
    """What processes with other hash seeds say of the same streams and visits."""
    return [
        subprocess.run(
            [sys.executable, "-c", DIGEST],
            env=os.environ | {"PYTHONHASHSEED": seed},
            capture_output=True,
            text=True,
            check=True,
            timeout=120,
        ).stdout
        for seed in ("0", "12345")
    ]


def test_a_seed_gives_the_same_bytes_in_every_process(digests: list[str]) -> None:
    """Neither the hash seed of Python nor the process changes a stream or what is read in it."""
    assert digests[0] == digests[1]
    assert len(set(digests[0].split())) == len(KINDS)


def test_no_number_comes_from_the_global_generator() -> None:
    """Making a stream leaves the generator that other programs use where it was."""
    import random

    before = random.getstate()
    make_stream("pocket water", 3)

    assert random.getstate() == before


@given(kind=st.sampled_from(KINDS), seed=SEEDS)
def test_depth_is_nowhere_below_zero(kind: str, seed: int) -> None:
    """There is no depth below 0, and some water in every stream, which runs downstream."""
    stream = make_stream(kind, seed)

    assert min(stream.depths) >= 0.0
    assert stream.area > 0.0
    assert stream.discharge > 0.0


@given(kind=st.sampled_from(KINDS), seed=SEEDS)
def test_water_runs_back_a_little_at_most(kind: str, seed: int) -> None:
    """In eddies and behind boulders water runs back, never faster than 0.4 of the mean."""
    stream = make_stream(kind, seed)

    assert min(stream.velocities) >= -0.4 * stream.drawn["velocity"]


@given(kind=st.sampled_from(KINDS), seed=SEEDS)
def test_every_parameter_lies_in_its_range(kind: str, seed: int) -> None:
    """What was drawn is within the bounds that the documents print."""
    drawn = make_stream(kind, seed).drawn

    for field in attrs.fields(SectionType):
        bounds = getattr(SECTION_TYPES[kind], field.name)
        if isinstance(bounds, Range):
            assert bounds.low <= drawn[field.name] <= bounds.high


@pytest.mark.parametrize("kind", KINDS)
def test_a_person_can_wade_it(kind: str) -> None:
    """Widths are 1.5 to 20 m; the water is hip-deep, and hardly anywhere too strong to stand in.

    The limit of 1.2 m²/s is where Australian Rainfall & Runoff (from memory) ends.
    """
    streams = _streams(kind)

    assert all(1.5 <= stream.right - stream.left <= 20.001 for stream in streams)
    assert all(max(stream.depths) < 1.6 for stream in streams)
    strong = [
        max(d * v for d, v in zip(stream.depths, stream.velocities, strict=True)) > 1.2
        for stream in streams
    ]
    assert statistics.fmean(strong) < 0.1


def test_a_riffle_is_shallower_and_faster_than_a_pool() -> None:
    """The types differ as their names say."""
    riffles, pools = _streams("riffle"), _streams("pool")

    def median_of(streams: list[SimulatedStream], power: float) -> float:
        return statistics.median(
            s.discharge / s.area / (s.area / s.drawn["width"]) ** power for s in streams
        )

    assert median_of(riffles, 0.0) > 3.0 * median_of(pools, 0.0)
    assert median_of(riffles, 0.5) > 4.0 * median_of(pools, 0.5)


def test_a_braid_has_channels_with_dry_bars_between() -> None:
    """Each drawn channel is a stretch of water; the bars take the drawn part of the width."""
    for stream in _streams("braid"):
        wide = [
            (low, high)
            for low, high in stream.wet_stretches
            if high - low > 0.05 * stream.drawn["width"]
        ]
        wet = sum(high - low for low, high in stream.wet_stretches)

        assert len(wide) >= 2
        assert 1.0 - wet / stream.drawn["width"] >= 0.9 * stream.drawn["bars"] - 0.02


def test_boulders_of_pocket_water_stand_dry_now_and_then() -> None:
    """In about every second stretch of pocket water a boulder breaks the surface."""
    dry = [len(stream.wet_stretches) > 1 for stream in _streams("pocket water", 100)]

    assert 0.3 < statistics.fmean(dry) < 0.95


def test_an_undercut_bank_is_deep_at_the_edge_and_the_other_slopes() -> None:
    """One bank is undercut with depth at it, be it left or right; the other ends at 0."""
    sides = set()
    for stream in _streams("undercut bank"):
        banks = {stream.left_bank: stream.depths[0], stream.right_bank: stream.depths[-1]}
        sides.add(stream.left_bank)

        assert banks["undercut"] > 0.2 * stream.drawn["depth"]
        assert banks["sloping"] == 0.0
    assert sides == {"undercut", "sloping"}


def test_a_thalweg_carries_most_of_the_flow() -> None:
    """Beside a wide bar, a third of the width carries more than half of the discharge."""
    for stream in _streams("bar and thalweg"):
        third = stream.drawn["width"] * 0.36
        best = max(
            stream.discharge_between(stream.left, stream.left + third),
            stream.discharge_between(stream.right - third, stream.right),
        )
        assert best > 0.5 * stream.discharge


def test_weed_all_but_stops_the_water() -> None:
    """In weed beds water is slow where it is as deep as elsewhere."""
    slow = []
    for stream in _streams("weed bed"):
        deep = [
            v
            for d, v in zip(stream.depths, stream.velocities, strict=True)
            if d > 0.5 * stream.drawn["depth"]
        ]
        slow.append(statistics.fmean(v < 0.5 * max(deep) for v in deep))
    assert statistics.median(slow) > 0.15


def test_streams_of_one_type_differ() -> None:
    """Every seed gives another stream."""
    seen = {
        hashlib.sha256(repr(make_stream("run", seed).depths).encode()).digest()
        for seed in range(50)
    }
    assert len(seen) == 50


def test_an_unknown_type_is_refused() -> None:
    """A type that does not exist is not made up."""
    with pytest.raises(KeyError):
        make_stream("waterfall", 1)
