"""The units in which readings are called and totals are filed, and what they are in SI.

Every factor is exact: the international foot is 0.3048 m and the inch 0.0254 m by the agreement of
1959 between the national standards laboratories.
"""

from collections.abc import Mapping
from typing import Literal

from bankside.gauging.faults import Fault, InputRefused

__all__ = [
    "DischargeUnit",
    "LengthUnit",
    "VelocityUnit",
    "cubic_metres_per_second_per",
    "metres_per",
    "metres_per_second_per",
]

LengthUnit = Literal["ft", "in", "m", "cm", "mm"]
VelocityUnit = Literal["ft/s", "m/s", "cm/s"]
DischargeUnit = Literal["m3/s", "ft3/s", "L/s"]

_METRES: Mapping[str, float] = {"ft": 0.3048, "in": 0.0254, "m": 1.0, "cm": 0.01, "mm": 0.001}
_METRES_PER_SECOND: Mapping[str, float] = {"ft/s": 0.3048, "m/s": 1.0, "cm/s": 0.01}
_CUBIC_METRES_PER_SECOND: Mapping[str, float] = {
    "m3/s": 1.0,
    "ft3/s": 0.028316846592,
    "L/s": 0.001,
}


def metres_per(unit: str) -> float:
    """Return how many metres one `unit` of length is; InputRefused if the unit is unknown."""
    return _factor(_METRES, unit, "length")


def metres_per_second_per(unit: str) -> float:
    """Return how many m/s one `unit` of velocity is; InputRefused if the unit is unknown."""
    return _factor(_METRES_PER_SECOND, unit, "velocity")


def cubic_metres_per_second_per(unit: str) -> float:
    """Return how many m³/s one `unit` of discharge is; InputRefused if the unit is unknown."""
    return _factor(_CUBIC_METRES_PER_SECOND, unit, "discharge")


def _factor(factors: Mapping[str, float], unit: str, quantity: str) -> float:
    if unit not in factors:
        known = ", ".join(factors)
        raise InputRefused([Fault(f'a unit of {quantity} must be one of {known} (got "{unit}")')])
    return factors[unit]
