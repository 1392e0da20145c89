"""Small tables for the bank: where to set the rod, and how fast water may be at a depth."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Final, Literal

import attrs

from bankside.gauging.rod import rod_points, scale_for, two_points_from
from bankside.gauging.rule_sets.rule_set import RuleSet
from bankside.gauging.units import metres_per

__all__ = [
    "RodSetting",
    "TapeUnit",
    "WadingLimit",
    "method_words",
    "rod_settings",
    "wading_limits",
    "wading_words",
]

TapeUnit = Literal["ft", "m"]

_ROD_DEPTHS: Final[Mapping[TapeUnit, str]] = {
    "ft": "0.2 0.5 1.0 1.5 2.0 2.5 3.0 3.5",
    "m": "0.08 0.20 0.30 0.40 0.50 0.60 0.80 1.00",
}
_WADING_DEPTHS: Final[Mapping[TapeUnit, str]] = {
    "ft": "1.0 1.5 2.0 2.5 3.0 3.5 4.0",
    "m": "0.3 0.4 0.5 0.6 0.8 1.0 1.2",
}
_UPPER, _LOWER = Decimal("0.2"), Decimal("0.8")
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
    """The velocities at a depth at which the leader decides, and at which nobody wades.

    Each with its sign: "≥" where the limit itself counts, ">" where it is still allowed.
    """

    depth: str
    leader: str
    nobody: str


def rod_settings(unit: TapeUnit, rules: RuleSet) -> tuple[RodSetting, ...]:
    """Return settings of a top-setting rod for usual depths in `unit`, exact.

    InputRefused where the rule set lacks a limit.
    """
    return tuple(
        RodSetting(
            depth=text,
            at_02=_two(scale_for(depth, _UPPER)),
            at_08=_two(scale_for(depth, _LOWER)),
            read_at=_read_at(depth, unit, rules),
        )
        for text in _ROD_DEPTHS[unit].split()
        for depth in (Decimal(text),)
    )


def _read_at(depth: Decimal, unit: TapeUnit, rules: RuleSet) -> str:
    """Return the points at which a vertical of this depth is read by the rule set."""
    points, small = (rod_points(depth, unit, rules, rotor) for rotor in (None, "small"))
    if points[0].fraction == 0.5:
        return "half"
    words = ", ".join(f"{point.fraction:g}" for point in points)
    return f"{words} *" if len(small) > len(points) else words


def method_words(unit: TapeUnit, rules: RuleSet) -> str:
    """Return in a sentence at which depths one point, two points or half depth are read."""
    half, two, small = (
        limit.words_in(unit)
        for limit in (
            rules.needed("half_depth_below"),
            two_points_from(rules, None),
            two_points_from(rules, "small"),
        )
    )
    return (
        f"Half depth below {half}, the scale set to 1.25 times the depth; 0.2 and 0.8 from {two} "
        f"on (* with a small rotor from {small} on); else 0.6."
    )


def wading_limits(unit: TapeUnit, rules: RuleSet) -> tuple[WadingLimit, ...]:
    """Return, for usual depths, the velocities in ft/s or m/s at which the wading limits lie.

    Velocity = limit of depth times velocity, over depth, from which on the limit holds ("≥ 3.5");
    where a velocity of its own has a lower limit, that one, above which it holds ("> 5.0"), as in
    the checks. Rounded down, so that no printed figure is above the limit. Depths beyond the one
    up to which the leader need not be asked are left out, and that at which nobody wades.
    InputRefused where the rule set lacks a limit.
    """
    caution, stop = (rules.needed(f"wade_depth_{word}").si for word in ("caution", "stop"))
    return tuple(
        WadingLimit(
            depth=text,
            leader=_fastest("wade_product_caution", "velocity_explain", metres, unit, rules),
            nobody=_fastest("wade_product_stop", "velocity_stop", metres, unit, rules),
        )
        for text in _WADING_DEPTHS[unit].split()
        for metres in (float(text) * metres_per(unit),)
        if metres <= caution + _TOLERANCE and metres < stop - _TOLERANCE
    )


def _fastest(product: str, velocity: str, metres: float, unit: TapeUnit, rules: RuleSet) -> str:
    """Return the velocity at which the first of two limits is reached, and how it is reached."""
    decimals = _VELOCITY_DECIMALS[unit]
    steps = 10**decimals
    by_product, own = rules.needed(product).si / metres, rules.needed(velocity).si
    sign, si = ("≥", by_product) if by_product <= own else (">", own)
    return f"{sign} {math.floor(si / metres_per(unit) * steps + _TOLERANCE) / steps:.{decimals}f}"


def wading_words(unit: TapeUnit, rules: RuleSet) -> str:
    """Return in sentences which limits the wading table stands on.

    A limit for the leader that is no other than that for everybody is left out.
    """
    products, *others = (
        _leader_and_nobody(caution, stop, unit, rules)
        for caution, stop in (
            ("wade_product_caution", "wade_product_stop"),
            ("wade_depth_caution", "wade_depth_stop"),
            ("velocity_explain", "velocity_stop"),
        )
    )
    asked = _limits(products[0], [leader for leader, _ in others])
    out = _limits(products[1], [nobody for _, nobody in others])
    return (
        f"The leader decides: {asked}. " if asked else ""
    ) + f"Nobody wades: {out}. Less for a bad bed, cold water or a light person."


def _limits(product: str, others: Sequence[str]) -> str:
    """Return limits in words: of depth times velocity from, of either alone above."""
    above = " or ".join(words for words in others if words)
    said = (
        f"depth × velocity from {product}" if product else "",
        f"above {above}" if above else "",
    )
    return ", ".join(words for words in said if words)


def _leader_and_nobody(caution: str, stop: str, unit: TapeUnit, rules: RuleSet) -> tuple[str, str]:
    """Return two limits in words, the first empty where it is no other than the second."""
    low, high = rules.needed(caution), rules.needed(stop)
    return "" if low.si >= high.si - _TOLERANCE else low.words_in(unit), high.words_in(unit)


def _two(length: Decimal) -> str:
    return f"{length:.2f}"
