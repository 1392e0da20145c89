"""Which threshold cannot be above which other: a rule set in which one is contradicts itself."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from bankside.gauging.faults import Fault
from bankside.gauging.rule_sets.rule_set import Threshold

__all__ = ["AT_MOST", "order_faults"]

AT_MOST: Final = (
    ("wade_product_caution", "wade_product_stop"),
    ("wade_depth_caution", "wade_depth_stop"),
    ("panel_share_aim", "panel_share_limit"),
    ("gap_narrow", "gap_wide"),
    ("depth_slip_low", "depth_slip_high"),
    ("velocity_explain", "velocity_stop"),
    ("spacing_least", "spacing_least_large"),
    ("slowest", "fastest_small"),
    ("shallowest", "shallowest_large"),
    ("half_depth_below", "one_point_deepest"),
    ("half_depth_below", "one_point_deepest_small"),
    ("reverse_share_explain", "reverse_share_fix"),
    ("angle_coefficient_fix", "angle_coefficient_note"),
    ("stage_change_note", "stage_change_explain"),
    ("stage_change_depth_explain", "stage_change_depth_fix"),
    ("quality_excellent", "quality_good"),
    ("quality_good", "quality_fair"),
    ("duplicate_look", "duplicate_third"),
    ("duplicate_crews_look", "duplicate_crews_third"),
    ("unit_discharge_low", "unit_discharge_high"),
)
"""Pairs of thresholds, the first of which is at most the second."""

# 12 in and 1 ft are the same, and differ in their last bit once they are metres.
_SAME: Final = 1e-9


def order_faults(values: Mapping[str, Threshold]) -> Iterator[Fault]:
    """Yield a sentence for every pair in which the lower threshold is above the upper one."""
    for lower, upper in AT_MOST:
        low, high = values.get(lower), values.get(upper)
        if low is not None and high is not None and low.si > high.si * (1 + _SAME):
            yield Fault(f"{_named(low)} must not be above {_named(high)}", path="values")


def _named(threshold: Threshold) -> str:
    return f'{threshold.name} ({threshold.words()}, said by "{threshold.rule_set}")'
