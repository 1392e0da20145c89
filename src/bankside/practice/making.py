"""Making a stream of a section type from a seed: the same stream for the same seed, everywhere."""

import math
import random
from collections.abc import Mapping, Sequence

import attrs

from bankside.gauging.records import Bank
from bankside.practice.current import mean_velocities, velocity_length
from bankside.practice.obstacles import place_stones, place_weed
from bankside.practice.parameters import Range, seeded
from bankside.practice.profile import MODES, Profile
from bankside.practice.roughness import correlated
from bankside.practice.section_type import SectionType
from bankside.practice.section_types import SECTION_TYPES
from bankside.practice.shapes import smooth_depths
from bankside.practice.stream import SimulatedStream

__all__ = ["draw_parameters", "make_stream", "stream_of"]

# Nodes of the grid: some 2.5 cm apart where that needs no fewer and no more than these (ours).
_NODE_DISTANCE = 0.025
_FEWEST, _MOST = 161, 481
# An edge shallower than this part of the deepest place is a sloping one (ours).
_UPRIGHT = 0.1
# The flow never turns further than this from the square line, in degrees (ours).
_WIDEST_ANGLE = 45.0
# Tape positions of the left edge lie up to here, in m: a tape's zero is seldom at the water.
_TAPE_ZERO = 3.0


def draw_parameters(section_type: SectionType, rng: random.Random) -> dict[str, float]:
    """Return one value for every range of a section type, by the name of its field."""
    return {
        field.name: value.draw(rng)
        for field in attrs.fields(SectionType)
        if isinstance(value := getattr(section_type, field.name), Range)
    }


def make_stream(kind: str, seed: int) -> SimulatedStream:
    """Return the stream of a section type (a key of SECTION_TYPES) that belongs to a seed.

    KeyError for a type that does not exist.
    """
    return stream_of(SECTION_TYPES[kind], seed)


def stream_of(section_type: SectionType, seed: int) -> SimulatedStream:
    """Return the stream of a section type, perhaps one of your own, that belongs to a seed."""
    rng = seeded("stream", section_type.name, seed)
    drawn = draw_parameters(section_type, rng)
    mirrored = rng.random() < 0.5
    left = round(_TAPE_ZERO * rng.random(), 3)
    count = min(_MOST, max(_FEWEST, 1 + round(drawn["width"] / _NODE_DISTANCE)))
    step = drawn["width"] / (count - 1)
    smooth = smooth_depths(section_type.form, drawn, count, rng, _UPRIGHT)
    if mirrored:
        smooth.reverse()
    broad, depths = _bed(rng, drawn, smooth, step)
    velocities = mean_velocities(rng, drawn, broad, step, mirrored)
    place_stones(rng, drawn, step, depths, velocities)
    place_weed(rng, drawn, step, velocities)
    spread = [drawn["distortion"] * mode for mode in MODES]
    length = velocity_length(drawn)
    shear, bend, wave = (correlated(rng, count, step, each, length) for each in spread)
    return SimulatedStream(
        kind=section_type.name,
        seed=seed,
        drawn=drawn,
        left=left,
        step=step,
        depths=depths,
        velocities=velocities,
        angles=_angles(rng, drawn, count, step),
        modes=(shear, bend, wave),
        profile=Profile(drawn["exponent"], drawn["logarithmic"] > 0.5),
        left_bank=_bank(depths[0], section_type.undercut and not mirrored),
        right_bank=_bank(depths[-1], section_type.undercut and mirrored),
    )


def _bed(
    rng: random.Random, drawn: Mapping[str, float], smooth: Sequence[float], step: float
) -> tuple[list[float], list[float]]:
    """Return the depths with broad bed forms, and those with the bed's roughness as well.

    The bed is rougher in metres where it is deeper, with the square root of the depth, so that a
    margin may fall dry here and there but the edges of water stay where they are.
    """
    count, deepest = len(smooth), drawn["depth"]
    waves = correlated(
        rng, count, step, drawn["bed_waves"], drawn["bed_wave_length"] * drawn["width"]
    )
    grains = correlated(rng, count, step, drawn["bed_roughness"], drawn["bed_length"])
    broad, depths = [], []
    for depth, wave, grain in zip(smooth, waves, grains, strict=True):
        scale = math.sqrt(deepest * depth)
        broad.append(max(0.0, depth + scale * wave))
        depths.append(max(0.0, depth + scale * (wave + grain)))
    return broad, depths


def _angles(rng: random.Random, drawn: Mapping[str, float], count: int, step: float) -> list[float]:
    length = drawn["angle_length"] * drawn["width"]
    turns = correlated(rng, count, step, drawn["angle_deviation"], length)
    mean = drawn["angle"]
    return [min(_WIDEST_ANGLE, max(-_WIDEST_ANGLE, mean + turn)) for turn in turns]


def _bank(depth: float, undercut: bool) -> Bank:
    if depth <= 0.0:
        return "sloping"
    return "undercut" if undercut else "steep"
