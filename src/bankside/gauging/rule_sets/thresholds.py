"""Every threshold that a rule set may set: its name, what it means, and its dimension.

A rule set writes a threshold with a unit; the units allowed for a dimension are below. What a
check compares is the value in SI, percent and plain numbers as they are.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final, Literal

import attrs

__all__ = ["MOST", "THRESHOLDS", "UNITS", "Dimension", "ThresholdKind"]

Dimension = Literal[
    "length", "velocity", "depth × velocity", "percent", "number", "count", "time", "steps"
]

UNITS: Final[Mapping[Dimension, Mapping[str, float]]] = {
    "length": {"m": 1.0, "cm": 0.01, "mm": 0.001, "ft": 0.3048, "in": 0.0254},
    "velocity": {"m/s": 1.0, "cm/s": 0.01, "ft/s": 0.3048},
    "depth × velocity": {"m2/s": 1.0, "ft2/s": 0.3048 * 0.3048},
    "percent": {"%": 1.0},
    "number": {"1": 1.0},
    "count": {"1": 1.0},
    "time": {"s": 1.0, "min": 60.0},
    "steps": {"m": 1.0, "ft": 0.3048},
}
"""Dimension → its units, each with what one of it is in SI (or in percent, or as it is)."""


@attrs.frozen
class ThresholdKind:
    """What a threshold means, which units it may be written in, and its least value (SI)."""

    meaning: str
    dimension: Dimension
    least: float = 0.0


def _kinds(dimension: Dimension, **meanings: str) -> dict[str, ThresholdKind]:
    return {name: ThresholdKind(meaning, dimension) for name, meaning in meanings.items()}


MOST: Final[Mapping[Dimension, float]] = {
    "length": 1e4,
    "velocity": 1e2,
    "depth × velocity": 1e4,
    "percent": 1e4,
    "number": 1e4,
    "count": 1e4,
    "time": 1e7,
    "steps": 1e4,
}
"""Dimension → the most that a threshold may be (SI): beyond any stream, and a slip of the pen."""

THRESHOLDS: Final[Mapping[str, ThresholdKind]] = {
    **_kinds(
        "depth × velocity",
        wade_product_stop="depth times velocity from which nobody should wade",
        wade_product_caution="depth times velocity from which the leader decides",
    ),
    **_kinds(
        "length",
        wade_depth_stop="depth above which nobody should wade",
        wade_depth_caution="depth above which a reading has to be explained",
        spacing_least="distance between verticals below which more of them need not be asked for",
        spacing_least_large="distance between verticals to ask for at the least with a large rotor",
        width_difference="difference between filed widths and the distance of the edges",
        depth_slip_least="difference from the neighbours below which a depth is no slip",
        shallowest="least depth for a reading at 0.6 of it, where the meter's papers say nothing",
        shallowest_large="least depth for a large rotor, where the meter's papers say nothing",
        covered_least="depth below which a meter is hardly under water",
        half_depth_below="depth below which the reading is made at half of it",
        weak_depth="mean depth below which a section is weak, if it is slow as well",
        one_point_deepest="depth from which two points are read",
        one_point_deepest_small="depth from which two points are read with a small rotor",
        rod_setting="how far a rod may be set off its mark",
        stage_change_note="change of stage that is noted",
        stage_change_explain="change of stage that is to be explained",
        position_accuracy="how far off a position may be",
        site_distance="how far a position may be from the planned one of its site",
    ),
    **_kinds(
        "velocity",
        velocity_stop="velocity that no wading crew meets",
        velocity_explain="velocity that has to be explained",
        slowest="least velocity, where the meter's papers say nothing",
        fastest_small="highest velocity for a small rotor",
        weak_velocity="mean velocity below which a section is weak, if it is shallow as well",
        zero_velocity="velocity that a meter may show in still water",
    ),
    **_kinds(
        "percent",
        edge_strip_share="share that the panels of an edge and of its neighbour may carry",
        panel_share_limit="share of the discharge that no panel should be above",
        panel_share_aim="share of the discharge that panels should keep to",
        neighbour_velocity="difference between neighbouring velocities, of the smaller one",
        neighbour_share="share from which the velocities of two panels are compared",
        bed_area="change of the area that one more depth may bring",
        width_difference_share="difference between filed widths and the distance of the edges",
        slow_share="share of the discharge that slow water may carry",
        shallow_share="share of the discharge that shallow water may carry",
        rod_setting_share="how far a rod may be set off its mark",
        coarse_share="share of readings that may end in 0 or 5",
        reverse_share_explain="upstream flow, of the amount of all flow, that is to be explained",
        reverse_share_fix="upstream flow, of the amount of all flow, that needs another section",
        oblique_share="share of the discharge that may run obliquely",
        stage_change_depth_explain="change of stage, of the mean depth, that is to be explained",
        stage_change_depth_fix="change of stage, of the mean depth, after which to measure again",
        totals_difference="difference between the written total and the one of the readings",
        quality_excellent="uncertainty up to which a measurement is excellent",
        quality_good="uncertainty up to which a measurement is good",
        quality_fair="uncertainty up to which a measurement is fair",
        duplicate_look="difference of repeats by one crew, of their mean, to look into",
        duplicate_third="difference of repeats by one crew, of their mean, that asks for one more",
        duplicate_crews_look="difference of repeats by two crews, of their mean, to look into",
        duplicate_crews_third="difference of repeats by two crews, of their mean, that asks for "
        "one more",
    ),
    **_kinds(
        "number",
        edge_gap="distance of the first vertical from the edge, over the median distance",
        gap_wide="distance between verticals over the median distance nearby: too wide",
        gap_narrow="distance between verticals over the median distance nearby: too narrow",
        depth_slip_high="depth over the greatest that its neighbours suggest: too deep",
        depth_slip_low="depth over the least that its neighbours suggest: too shallow",
        froude="Froude number at a vertical that wading hardly meets",
        pair_ratio="velocity at 0.2 of the depth over that at 0.8: odd above this",
        angle_coefficient_note="coefficient of the flow's angle below which it is noted",
        angle_coefficient_fix="coefficient of the flow's angle below which the tape is askew",
        mirror_margin="by how much better an earlier section fits turned about, in correlation",
        unit_discharge_low="discharge per drainage area over that of other sites: odd below",
        unit_discharge_high="discharge per drainage area over that of other sites: odd above",
    ),
    **_kinds(
        "count",
        verticals_least="how many verticals a section should have",
        froude_verticals="how many verticals above the Froude number raise the alarm",
        coarse_count="how many readings are needed to judge their last digits",
    ),
    **_kinds(
        "time",
        exposure="how long a velocity is read",
        duration_longest="how long a gauging takes at the most",
        stage_interval="longest time between readings of a stage that changes",
        spin_small="how long a small rotor spins when turned by hand",
        spin_large="how long a large rotor spins when turned by hand",
    ),
    "repeated_velocities": ThresholdKind(
        "how many equal velocities in a row are odd", "count", least=2
    ),
    "repeated_depths": ThresholdKind("how many equal depths in a row are odd", "count", least=2),
    "verticals_by_width": ThresholdKind(
        "how many verticals a section should have, by its width: pairs of a width and a number "
        "that holds from that width on",
        "steps",
    ),
}
"""Name → kind, of every threshold there is."""
