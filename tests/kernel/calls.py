"""Calls of the kernel's functions with made-up arguments, for whatever runs the kernel."""

import random
from collections.abc import Iterator
from typing import Any

from .sections import Section

__all__ = [
    "ALONG_THE_TAPE",
    "ALONG_THE_TAPE_ULPS",
    "REFUSED",
    "TOTALS",
    "WITHIN_ONE_ULP",
    "Call",
    "calls",
]

# Functions with cos or pow: a library of the platform computes these, within one unit in the
# last place.  All others are + - * / and square roots, which are the same everywhere.
WITHIN_ONE_ULP = {"normal_velocity", "edge_velocity_power_law", "verticals_component"}

# Functions that carry exponentials along the tape, each within one unit in the last place: what
# they come to agrees to this many units, about 2 in 10 billion.
ALONG_THE_TAPE = {
    "between_evidence",
    "between_variance",
    "local_scale",
    "weight_of",
    "mixture_half_width",
    "shared_variance",
}
ALONG_THE_TAPE_ULPS = 2**20

TOTALS = (
    "last_distance_discharge",
    "mean_section_discharge",
    "mid_section_discharge",
    "mid_section_discharge_full_end",
    "mid_section_discharge_triangular",
    "next_distance_discharge",
)


Call = tuple[str, tuple[Any, ...]]
"""The name of a function and its arguments."""


REFUSED: list[Call] = [
    ("panel_width", ([0.0], 0)),
    ("panel_width", ([0.0, 1.0], 2)),
    ("panel_width", ([0.0, 1.0], -1)),
    ("is_bank", ([0.0, 1.0], 2)),
    ("stretch_end", ([0.0, 1.0], 1)),
    ("stretch_end", ([0.0, 1.0], 2)),
    ("section_area", ([0.0, 1.0], [0.5])),
    ("bed_change", ([0.0, 1.0], [0.5, 0.5], 1)),
    ("share_of", (0.1, 0.0)),
    ("prior_weight", (54,)),
    ("prior_weight", (-1,)),
    ("unevenness_of", (54,)),
    ("mean_unit_discharge", ([0.0, 0.0], [0.1, 0.2])),
    ("profile_length", ([0.0, 0.0], [0.1, 0.2])),
    ("weighted_sum", ([1.0], [0.1, 0.2])),
    ("mid_section_discharge", ([0.0, 1.0], [0.5, 0.5], [0.1])),
    ("mean_section_panel", ([0.0, 1.0], [0.5, 0.5], [0.1, 0.1], 1)),
    ("velocity_by_integration", ([0.6, 0.2], [0.1, 0.2])),
    ("wall_ratio", (-0.1,)),
    ("verticals_uncertainty", (0.5,)),
    ("panels_uncertainty", ([0.1, 0.2], [1.0], 0.3)),
    ("panels_uncertainty", ([0.1, -0.1], [1.0, 1.0], 0.0)),
    ("interpolation_weight", ([0.0, 1.0, 2.0], 0)),
    ("interpolation_weight", ([0.0, 1.0, 2.0], 2)),
    ("interpolated_variance", ([0.0, 1.0, 2.0, 3.0], [0.0, 0.5, 0.5, 0.0])),
    ("local_scale", ([0.0, 1.0], [0.0, 0.5], 2)),
    ("local_scale", ([0.0, 0.0], [0.0, 0.5], 0)),
    ("between_evidence", ([0.0, 1.0], [0.1, 0.2], [1.0], [1.0, 1.0], 1.0, 1.0, 0.1, 1.0)),
    ("between_evidence", ([0.0, 1.0], [0.1, 0.2], [1.0, 1.0], [1.0, 1.0], 1.0, 0.0, 0.1, 1.0)),
    ("between_evidence", ([0.0, 0.0], [0.1, 0.2], [1.0, 1.0], [1.0, 1.0], 1.0, 1.0, 0.1, 1.0)),
    ("between_evidence", ([0.0, 1.0], [0.1, 0.2], [0.0, 0.0], [0.0, 0.0], 0.0, 1.0, 0.1, 1.0)),
    ("between_variance", ([0.0, 1.0], [0.1, 0.2], [1.0], 1.0, 1.0, 0.1, 1.0, 0, 1)),
    ("between_variance", ([0.0, 1.0], [0.1, 0.2], [1.0, 1.0], 1.0, 1.0, 0.1, 1.0, 1, 1)),
    ("between_variance", ([0.0, 1.0], [0.1, 0.2], [1.0, 1.0], 1.0, 1.0, 0.1, 1.0, 0, 2)),
    ("shared_variance", ([0.0, 1.0], [0.1, 0.2], 0.0)),
    ("mixture_half_width", ([1.0], [1.0, 2.0], 0.95)),
    ("mixture_half_width", ([1.0], [1.0], 1.0)),
    ("mixture_half_width", ([1.0], [-1.0], 0.95)),
    ("mixture_half_width", ([0.0], [1.0], 0.95)),
]
"""Calls that the kernel refuses."""


def calls(rng: random.Random, section: Section) -> Iterator[Call]:
    """Calls of every public function, those that take a section with this one."""
    yield from _section_calls(rng, section)
    yield from _other_calls(rng, section)
    yield from _uncertainty_calls(rng, section)
    yield from _between_calls(rng, section)
    # A start of their own, so that the calls before them stay as they are.
    own = random.Random(repr(section))
    yield from _limit_calls(own, section)
    yield from _part_calls(own, section)


def _profile(rng: random.Random) -> tuple[list[float], list[float]]:
    fraction = sorted({rng.choice((0.0, 1.0, rng.random())) for _ in range(rng.randint(1, 9))})
    return fraction, [rng.gauss(0.4, 0.4) for _ in fraction]


def _section_calls(rng: random.Random, section: Section) -> Iterator[Call]:
    tape, depth, velocity = section
    i = rng.randrange(len(tape))
    yield "panel_width", (tape, i)
    yield "panel_width_full_end", (tape, i)
    yield "distance_to_next", (tape, i)
    yield "distance_from_last", (tape, i)
    for j in (0, min(1, i), i, max(len(tape) - 2, 0), len(tape) - 1):
        yield "panel_width_triangular", (tape, depth, j)
        yield "is_bank", (depth, j)
    yield "trapezoid_area", (tape, depth, min(i, len(tape) - 2))
    yield "mean_section_panel", (tape, depth, velocity, min(i, len(tape) - 2))
    for name in ("section_area", "water_width", "wetted_perimeter"):
        yield name, (tape, depth)
    for name in TOTALS:
        yield name, (tape, depth, velocity)


def _other_calls(rng: random.Random, section: Section) -> Iterator[Call]:
    points = [rng.gauss(0.4, 0.4) for _ in range(6)]
    weights = [abs(v) + 0.01 for v in section.velocity]
    length, other = rng.uniform(0.01, 5.0), rng.uniform(0.01, 5.0)
    yield "mean_gauge_height_by_discharge", (section.tape, weights)
    yield "mean_gauge_height_by_time", (section.tape, weights)
    yield "hydraulic_radius", (length, other)
    yield "mean_depth", (length, other)
    yield "froude_number", (points[0], length)
    yield "velocity_one_point", (points[0],)
    for name in ("velocity_half_depth", "velocity_two_tenths", "velocity_from_surface"):
        yield name, (points[0],)
        yield name, (points[0], points[1])
    yield "velocity_two_point", tuple(points[:2])
    yield "velocity_three_point", tuple(points[:3])
    yield "velocity_five_point", tuple(points[:5])
    yield "velocity_six_point", tuple(points)
    yield "velocity_by_integration", _profile(rng)
    yield "velocity_by_integration", (*_profile(rng), rng.uniform(2.0, 12.0))
    yield "normal_velocity", (points[0], rng.uniform(-90.0, 90.0))
    yield "wall_ratio", (rng.uniform(0.0, 1.5),)
    yield "wall_velocity", (points[0], length, other)
    yield "edge_velocity_power_law", (points[0], length, length * rng.random(), 2.0 + other)
    yield "revolutions_per_second", (float(rng.randrange(200)), length)
    yield "velocity_from_rating", (length, other, points[0])
    yield "velocity_from_two_part_rating", (length, *points[:4], other)


def _uncertainty_calls(rng: random.Random, section: Section) -> Iterator[Call]:
    speed, seconds = rng.uniform(0.0, 1.2), rng.choice((10.0, 30.0, 45.0, 150.0, 200.0))
    number, points = float(rng.randint(1, 50)), float(rng.randint(1, 6))
    yield "verticals_uncertainty", (number,)
    yield "verticals_component", (number,)
    yield "profile_uncertainty", (points,)
    yield "exposure_uncertainty", (speed, seconds, rng.random())
    yield "meter_uncertainty_individual", (speed,)
    yield "meter_uncertainty_group", (speed,)
    tape, depth, velocity = section
    percents = [[rng.uniform(0.1, 10.0) for _ in tape] for _ in range(5)]
    flows = [rng.uniform(0.01, 1.0) for _ in tape]
    numbers = [float(rng.randint(1, 5)) for _ in tape]
    yield "root_sum_of_squares", (percents[0],)
    yield "panels_uncertainty", (velocity, percents[0], 1.0 + rng.random())
    yield "velocity_area_uncertainty", (flows, numbers, *percents, 2.5, 1.0)
    scalars = [values[0] for values in percents]
    yield "velocity_area_uncertainty_equal_panels", (number, points, *scalars, 2.5, 1.0)
    full = [abs(v) + 0.01 for v in velocity]
    widths = [rng.uniform(0.1, 2.0) for _ in tape]
    deep = [d + 0.01 for d in depth]
    yield "interpolated_variance_uncertainty", (widths, deep, full, 0.01, 0.02, 0.5, 1.0)
    if len(tape) >= 5:
        yield "interpolation_weight", (tape, 2)
        yield "interpolation_residual", (tape, depth, 2)
        yield "interpolated_variance", (tape, velocity)


def _between_calls(rng: random.Random, section: Section) -> Iterator[Call]:
    tape = section.tape
    carried = [d * v for d, v in zip(section.depth, section.velocity, strict=True)]
    scale = [abs(value) + 0.01 for value in carried]
    variances = [rng.uniform(1e-8, 1e-3) for _ in tape]
    shape = (rng.uniform(0.01, 1.0), rng.uniform(0.1, 10.0))
    rough = (rng.uniform(0.01, 1.0), rng.uniform(0.05, 2.0))
    yield "local_scale", (tape, scale, rng.randrange(len(tape)))
    yield "between_evidence", (tape, carried, variances, scale, *shape, *rough)
    yield "between_variance", (tape, carried, scale, *shape, *rough, 0, len(tape) - 1)
    first = rng.randrange(len(tape) - 1)
    yield "between_variance", (tape, carried, scale, *shape, *rough, first, first + 1)
    yield "shared_variance", (tape, scale, rough[1])
    yield "mixture_half_width", ([0.2, 1.0, 0.5], [0.0, *shape], rng.uniform(0.5, 0.99))


def _limit_calls(rng: random.Random, section: Section) -> Iterator[Call]:
    tape, depth, velocity = section
    total, limit = rng.gauss(0.0, 0.5), rng.choice((0.0, 5.0, 10.0))
    yield "components_uncertainty", (rng.uniform(0.0, 30.0),)
    yield "amount_of", (velocity,)
    yield "without_rounding", (rng.choice((total, 1e-14)), 0.5)
    yield "has_shares", (rng.choice((total, 1e-4)), 0.5)
    yield "share_of", (rng.gauss(0.0, 0.1), total)
    for name in ("above", "below", "clearly_above"):
        yield name, (limit + rng.choice((-1e-10, 1e-10, 0.1, -0.1)), limit)
    for share in (limit + 0.05, limit + 0.25, -rng.uniform(0.0, 20.0), 1e12):
        yield "printed_above", (share, limit)
    for other in (velocity[0], 0.0, rng.gauss(0.4, 0.4)):
        yield "velocity_difference", (velocity[0], other)
    for i in range(len(tape) - 1):
        yield "bed_change", (tape, depth, i)
        yield "stretch_end", (depth, i)


def _part_calls(rng: random.Random, section: Section) -> Iterator[Call]:
    tape, depth, velocity = section
    panels = [rng.uniform(0.05, 1.0) for _ in tape]
    carried = [d * v for d, v in zip(depth, velocity, strict=True)]
    points, percent = float(rng.randint(0, 6)), rng.uniform(0.0, 20.0)
    character = rng.randrange(54)
    yield "mean_unit_discharge", (tape, carried)
    yield "reading_variance_of", (depth[0], velocity[0], points, percent, rng.random() < 0.5)
    yield "reading_variance_of", (0.4, velocity[0], points, percent, rng.random() < 0.5)
    yield "profile_deviation", (rng.random(),)
    by_surface = [float(rng.random() < 0.3) for _ in carried]
    yield "profile_share", (points, by_surface[0] != 0.0)
    yield "profile_length", (panels, depth)
    yield "readings_variance", (panels, [abs(value) for value in carried])
    yield "widths_variance", (panels, carried, percent)
    yield "rod_variance", (panels, velocity)
    yield "zero_variance", (panels, depth)
    yield "meter_variance", (panels, carried, velocity, by_surface[0] != 0.0)
    yield "common_profile_variance", (panels, carried, by_surface)
    for name in ("prior_weight", "shape_length_of", "unevenness_of", "unevenness_length_of"):
        yield name, (character,)
    yield "least_variance", (abs(carried[-1]),)
    yield "weight_of", (-rng.uniform(0.0, 20.0), 0.0)
    yield "weighted_sum", (panels, carried)
    yield "total_of", (carried,)
