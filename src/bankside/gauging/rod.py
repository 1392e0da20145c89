"""Where the meter is held at a depth, and what a top-setting rod is set to for it.

A top-setting rod holds the meter above the bed at 0.4 of what its scale is set to. So the scale is
set to the depth for 0.6 of it, to twice the depth for 0.2 and to half of it for 0.8 (from memory,
common knowledge of the rod), and to 1.25 times the depth for half depth (derived from these).
"""

from __future__ import annotations

from decimal import Decimal
from typing import Final, get_args

import attrs

from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.header_records import RotorSize
from bankside.gauging.rule_sets.rule_set import RuleSet, Threshold
from bankside.gauging.tape_marks import is_length
from bankside.gauging.units import LengthUnit, metres_per
from bankside.kernel.limits import below

__all__ = ["ABOVE_BED", "RodPoint", "rod_points", "scale_for", "two_points_from"]

ABOVE_BED: Final = Decimal("0.4")
"""How high above the bed the meter is, as a part of what the scale of the rod is set to."""

_HALF: Final = Decimal("0.5")
_ONE_POINT: Final = (Decimal("0.6"),)
_TWO_POINTS: Final = (Decimal("0.2"), Decimal("0.8"))


@attrs.frozen
class RodPoint:
    """A point at which the velocity of a vertical is read.

    `fraction` is its part of the depth below the surface, `setting` what the scale of a top-setting
    rod is set to, in the unit of the depth, and `words` say both.
    """

    fraction: float
    setting: str
    words: str


def rod_points(
    depth: Decimal, unit: LengthUnit, rules: RuleSet, rotor: RotorSize | None = None
) -> tuple[RodPoint, ...]:
    """Return the points that a depth in `unit` asks for by the rule set, from the surface down.

    Half depth below `half_depth_below`; 0.2 and 0.8 from `one_point_deepest` on, with a small rotor
    from `one_point_deepest_small` on; else 0.6. No point where there is no water.

    A setting has the decimals of the depth as it was called, and one more where it takes that. Only
    1.25 times a depth can take two more: it is then rounded to one more, to an even digit where two
    are as near, and the words say so.

    Raises:
        InputRefused: A depth that is negative or no length, an unknown unit or rotor, or a rule set
            without a limit.
    """
    metres = _metres(depth, unit)
    if rotor is not None and rotor not in get_args(RotorSize):
        raise InputRefused([Fault(f'the rotor must be small or large (got "{rotor}")')])
    if metres == 0.0:
        return ()
    return tuple(_point(depth, fraction) for fraction in _fractions(metres, rules, rotor))


def two_points_from(rules: RuleSet, rotor: RotorSize | None) -> Threshold:
    """Return the depth from which two points are read with a rotor; InputRefused without one.

    An unknown rotor is taken for a large one.
    """
    return rules.needed("one_point_deepest_small" if rotor == "small" else "one_point_deepest")


def scale_for(depth: Decimal, fraction: Decimal) -> Decimal:
    """Return what the scale is set to for a part of the depth below the surface, exactly."""
    return depth * (1 - fraction) / ABOVE_BED


def _metres(depth: Decimal, unit: LengthUnit) -> float:
    if not is_length(depth) or depth < 0:
        message = (
            f"the depth must be 0 or more, below 1000000, with at most 6 decimals (got {depth})"
        )
        raise InputRefused([Fault(message)])
    return float(depth) * metres_per(unit)


def _fractions(metres: float, rules: RuleSet, rotor: RotorSize | None) -> tuple[Decimal, ...]:
    if below(metres, rules.needed("half_depth_below").si):
        return (_HALF,)
    return _ONE_POINT if below(metres, two_points_from(rules, rotor).si) else _TWO_POINTS


def _point(depth: Decimal, fraction: Decimal) -> RodPoint:
    exact = scale_for(depth, fraction)
    called, needed = _decimals(depth), _decimals(exact.normalize())
    setting = f"{exact:.{min(max(called, needed), called + 1)}f}"
    name = "half depth" if fraction == _HALF else f"{fraction}"
    words = f"{name}: set the rod to {setting}"
    if Decimal(setting) != exact:
        factor = scale_for(Decimal(1), fraction).normalize()
        about = f"{name}: set the rod to about {setting}"
        words = f"{about}, as {factor} times {depth:f} is {exact.normalize():f}"
    return RodPoint(float(fraction), setting, words)


def _decimals(length: Decimal) -> int:
    return max(0, -int(length.as_tuple().exponent))
