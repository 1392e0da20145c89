"""Small tables for the bank: where to set the rod, and how fast water may be at a depth."""

from __future__ import annotations

import math
from collections.abc import Mapping
from decimal import Decimal
from typing import Final, Literal

import attrs

from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.rule_sets.rule_set import RuleSet, Threshold
from bankside.gauging.units import metres_per

__all__ = [
    "RodSetting",
    "TapeUnit",
    "WadingLimit",
    "method_words",
    "rod_settings",
    "threshold",
    "wading_limits",
    "wading_words",
]

TapeUnit = Literal["ft", "m"]

_ROD_DEPTHS: Final[Mapping[TapeUnit, str]] = {
    "ft": "0.2 0.5 1.0 1.5 2.0 2.5 3.0 3.5",
    "m": "0.08 0.20 0.30 0.40 0.50 0.60 0.80 1.00",
}
_WADING_DEPTHS: Final[Mapping[TapeUnit, str]] = {
    "ft": "1.0 1.5 2.0 2.5 3.0 3.5 4.0 5.0",
    "m": "0.3 0.4 0.5 0.6 0.8 1.0 1.2 1.5",
}
_VELOCITY_DECIMALS: Final[Mapping[TapeUnit, int]] = {"ft": 1, "m": 2}
# Far below what can be read, far above what arithmetic in floats loses.
_TOLERANCE: Final = 1e-9


@attrs.frozen
class RodSetting:
    """What a top-setting rod is set to at a depth, besides the depth itself for 0.6; where to read.

    `read_at` is "0.6", "0.2, 0.8", "0.6 *" where a small rotor is read at two points, or "half"
    for half of the depth.
    """

    depth: str
    at_02: str
    at_08: str
    read_at: str


@attrs.frozen
class WadingLimit:
    """The velocities at a depth from which the leader decides, and from which nobody wades."""

    depth: str
    leader: str
    nobody: str


def rod_settings(unit: TapeUnit, rules: RuleSet) -> tuple[RodSetting, ...]:
    """Return settings of a top-setting rod for usual depths in `unit`, exact.

    The scale is set to the depth for 0.6 of the depth, to twice the depth for 0.2 and to half of
    it for 0.8 (from memory): the rod puts the meter at 0.4 of the scale above the bed. Half depth
    is therefore 1.25 times the depth (derived). InputRefused where the rule set lacks a limit.
    """
    return tuple(
        RodSetting(
            depth=text,
            at_02=_two(2 * depth),
            at_08=_two(depth / 2),
            read_at=_read_at(depth, unit, rules),
        )
        for text in _ROD_DEPTHS[unit].split()
        for depth in (Decimal(text),)
    )


def _read_at(depth: Decimal, unit: TapeUnit, rules: RuleSet) -> str:
    """Return the points at which a vertical of this depth is read by the rule set."""
    metres = float(depth) * metres_per(unit) + _TOLERANCE
    if metres < threshold(rules, "half_depth_below").si:
        return "half"
    if metres >= threshold(rules, "one_point_deepest").si:
        return "0.2, 0.8"
    if metres >= threshold(rules, "one_point_deepest_small").si:
        return "0.6 *"
    return "0.6"


def method_words(unit: TapeUnit, rules: RuleSet) -> str:
    """Return in a sentence at which depths one point, two points or half depth are read."""
    half, two, small = (
        threshold(rules, name).words_in(unit)
        for name in ("half_depth_below", "one_point_deepest", "one_point_deepest_small")
    )
    return (
        f"Half depth below {half}, the scale set to 1.25 times the depth; 0.2 and 0.8 from {two} "
        f"on (* with a small rotor from {small} on); else 0.6."
    )


def wading_limits(unit: TapeUnit, rules: RuleSet) -> tuple[WadingLimit, ...]:
    """Return, for usual depths, the velocities in ft/s or m/s at which the wading limits lie.

    Velocity = limit of depth times velocity, over depth; rounded down, so that no printed figure
    is above the limit, and never above the velocity that no wading crew meets. InputRefused where
    the rule set lacks a limit.
    """
    return tuple(_wading_limit(text, unit, rules) for text in _WADING_DEPTHS[unit].split())


def _wading_limit(text: str, unit: TapeUnit, rules: RuleSet) -> WadingLimit:
    metres = float(text) * metres_per(unit)
    if metres > threshold(rules, "wade_depth_stop").si + _TOLERANCE:
        return WadingLimit(text, "–", "any")
    leader = _fastest("wade_product_caution", metres, unit, rules)
    if metres > threshold(rules, "wade_depth_caution").si + _TOLERANCE:
        leader = "any"
    return WadingLimit(text, leader, _fastest("wade_product_stop", metres, unit, rules))


def _fastest(name: str, metres: float, unit: TapeUnit, rules: RuleSet) -> str:
    """Return the velocity at which a limit of depth times velocity is reached, rounded down."""
    decimals = _VELOCITY_DECIMALS[unit]
    steps = 10**decimals
    si = min(threshold(rules, name).si / metres, threshold(rules, "velocity_stop").si)
    return f"{math.floor(si / metres_per(unit) * steps + _TOLERANCE) / steps:.{decimals}f}"


def wading_words(unit: TapeUnit, rules: RuleSet) -> str:
    """Return in a sentence which limits the wading table stands on."""
    product, leader, depth, deepest, fastest = (
        threshold(rules, name).words_in(unit)
        for name in (
            "wade_product_stop",
            "wade_product_caution",
            "wade_depth_caution",
            "wade_depth_stop",
            "velocity_stop",
        )
    )
    return (
        f"Depth × velocity: the leader decides from {leader}, nobody wades from {product} on. "
        f"Above {depth} the leader decides at any velocity; above {deepest} or from {fastest} on "
        "nobody wades. Less for a bad bed, cold water or a light person."
    )


def threshold(rules: RuleSet, name: str) -> Threshold:
    """Return a threshold that a sheet cannot do without; InputRefused where it is not set."""
    found = rules.get(name)
    if found is None:
        raise InputRefused([Fault(f'the rule set "{rules.name}" must set {name}')])
    return found


def _two(length: Decimal) -> str:
    return f"{length:.2f}"
