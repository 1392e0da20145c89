"""Discharge of a section: velocity times area, by panels.

`tape`, `depth` and `velocity` have one value for every vertical, the edges of water among them;
`velocity` is the mean velocity of the vertical at right angles to the section, positive
downstream.  Metres and metres a second give cubic metres a second; feet and feet a second give
cubic feet a second.  Every total is the sum of (width x depth) x velocity in the order of the
tape, so adding up the panels gives it to the last bit.
"""

from bankside.kernel.section import (
    Floats,
    _require_pairs,
    distance_from_last,
    distance_to_next,
    panel_width,
    panel_width_full_end,
    panel_width_triangular,
    trapezoid_area,
)

__all__ = [
    "last_distance_discharge",
    "mean_gauge_height_by_discharge",
    "mean_gauge_height_by_time",
    "mean_section_discharge",
    "mean_section_panel",
    "mid_section_discharge",
    "mid_section_discharge_full_end",
    "mid_section_discharge_triangular",
    "next_distance_discharge",
]


def mid_section_discharge(tape: Floats, depth: Floats, velocity: Floats) -> float:
    """Discharge by the mid-section method with half-width ends: sum of `panel_width` d v.

    Raises ValueError for fewer than two verticals or unequal lengths.

    Source: USBR Water Measurement Manual, 3rd ed., ch. 10 sec. 15, eq. 10-6; Manual of Standard
    Operating Procedures for Hydrometric Surveys in British Columbia, 1998, D.3.2.
    """
    _require_pairs(tape, depth)
    _require_pairs(tape, velocity)
    total = 0.0
    for i in range(len(tape)):
        total += panel_width(tape, i) * depth[i] * velocity[i]
    return total


def mid_section_discharge_triangular(tape: Floats, depth: Floats, velocity: Floats) -> float:
    """Discharge by the mid-section method with the triangular rule at sloping banks.

    Raises ValueError for fewer than two verticals or unequal lengths.

    Source: Subramanya, Engineering Hydrology, ch. 4 (from memory); see `panel_width_triangular`.
    """
    _require_pairs(tape, depth)
    _require_pairs(tape, velocity)
    total = 0.0
    for i in range(len(tape)):
        total += panel_width_triangular(tape, depth, i) * depth[i] * velocity[i]
    return total


def mid_section_discharge_full_end(tape: Floats, depth: Floats, velocity: Floats) -> float:
    """Discharge by the mid-section method where the banks are not written down.

    Raises ValueError for fewer than two verticals or unequal lengths.

    Source: Raghunath, Hydrology, ch. 6; see `panel_width_full_end`.
    """
    _require_pairs(tape, depth)
    _require_pairs(tape, velocity)
    total = 0.0
    for i in range(len(tape)):
        total += panel_width_full_end(tape, i) * depth[i] * velocity[i]
    return total


def mean_section_panel(tape: Floats, depth: Floats, velocity: Floats, i: int) -> float:
    """Discharge between vertical `i` and vertical `i` + 1 by the mean-section method.

    The area of the trapezoid times the mean of the two velocities.

    Raises ValueError for fewer than two verticals or unequal lengths, IndexError when one of the
    two verticals does not exist.

    Source: Shaw, Hydrology in Practice, sec. 7; USGS WSP 245 (1910).
    """
    _require_pairs(tape, velocity)
    return trapezoid_area(tape, depth, i) * ((velocity[i] + velocity[i + 1]) / 2.0)


def mean_section_discharge(tape: Floats, depth: Floats, velocity: Floats) -> float:
    """Discharge by the mean-section method: the sum of `mean_section_panel`.

    Raises ValueError for fewer than two verticals or unequal lengths.

    Source: Shaw, Hydrology in Practice, sec. 7; USGS WSP 245 (1910).
    """
    _require_pairs(tape, depth)
    _require_pairs(tape, velocity)
    total = 0.0
    for i in range(len(tape) - 1):
        total += mean_section_panel(tape, depth, velocity, i)
    return total


def next_distance_discharge(tape: Floats, depth: Floats, velocity: Floats) -> float:
    """Discharge when every vertical stands for the whole distance to the next one.

    Not a method to measure by: some sheets are worked out so, and this is how to recognise them.

    Raises ValueError for fewer than two verticals or unequal lengths.
    """
    _require_pairs(tape, depth)
    _require_pairs(tape, velocity)
    total = 0.0
    for i in range(len(tape)):
        total += distance_to_next(tape, i) * depth[i] * velocity[i]
    return total


def last_distance_discharge(tape: Floats, depth: Floats, velocity: Floats) -> float:
    """Discharge when every vertical stands for the whole distance back to the one before.

    Not a method to measure by: some sheets are worked out so, and this is how to recognise them.

    Raises ValueError for fewer than two verticals or unequal lengths.
    """
    _require_pairs(tape, depth)
    _require_pairs(tape, velocity)
    total = 0.0
    for i in range(len(tape)):
        total += distance_from_last(tape, i) * depth[i] * velocity[i]
    return total


def _weighted_mean(values: Floats, weights: Floats) -> float:
    """Sum of values times weights over the sum of weights."""
    if len(values) < 1 or len(weights) != len(values):
        raise ValueError("there is at least one stage and one weight for every stage")
    weighted = 0.0
    total = 0.0
    for i in range(len(values)):
        weighted += weights[i] * values[i]
        total += weights[i]
    if total == 0.0:
        raise ValueError("the weights of the stages must not add up to 0")
    return weighted / total


def mean_gauge_height_by_discharge(stage: Floats, discharge: Floats) -> float:
    """Mean stage of a gauging weighted by the discharge that ran while each stage stood.

    Raises ValueError for no stages, unequal lengths, or discharges that add up to 0.

    Source: USGS WSP 2175 vol. 1; TWRI 3-A8 (formula from memory).
    """
    return _weighted_mean(stage, discharge)


def mean_gauge_height_by_time(stage: Floats, duration: Floats) -> float:
    """Mean stage of a gauging weighted by how long each stage stood, in any one unit of time.

    Raises ValueError for no stages, unequal lengths, or durations that add up to 0.

    Source: USGS WSP 2175 vol. 1; TWRI 3-A8 (formula from memory).
    """
    return _weighted_mean(stage, duration)
