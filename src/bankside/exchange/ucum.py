"""Units as the open formats spell them: the codes of UCUM, which OGC's standards ask for.

Source of the codes: The Unified Code for Units of Measure, 2.1, tables of base units and of
international customary units (from memory); OGC 15-018r2 takes them for `uom`.
"""

from __future__ import annotations

from collections.abc import Mapping

from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.fields import shown

__all__ = ["UCUM", "product_ucum", "ucum_of", "unit_of_ucum"]

UCUM: Mapping[str, str] = {
    "ft": "[ft_i]",
    "in": "[in_i]",
    "m": "m",
    "cm": "cm",
    "mm": "mm",
    "ft/s": "[ft_i]/s",
    "m/s": "m/s",
    "cm/s": "cm/s",
    "m3/s": "m3/s",
    "ft3/s": "[ft_i]3/s",
    "L/s": "L/s",
}
"""Every unit in which something is called or filed → its code."""

# Other codes of the same units that valid documents of others hold.
_ALSO: Mapping[str, str] = {
    "[cft_i]/s": "ft3/s",
    "l/s": "L/s",
    "m.s-1": "m/s",
    "m3.s-1": "m3/s",
    "[ft_i].s-1": "ft/s",
    "[ft_i]3.s-1": "ft3/s",
}


def ucum_of(unit: str) -> str:
    """Return the code of a unit of the record; InputRefused if it has none."""
    if unit not in UCUM:
        known = ", ".join(UCUM)
        raise InputRefused([Fault(f"a unit must be one of {known} (got {shown(unit)})")])
    return UCUM[unit]


def product_ucum(one: str, other: str) -> str:
    """Return the code of the product of two units, such as a width times a depth."""
    first, second = ucum_of(one), ucum_of(other)
    return f"{first}2" if first == second else f"{first}.{second}"


def unit_of_ucum(code: str, units: tuple[str, ...]) -> str:
    """Return which of these units of the record a code means; InputRefused if it means none."""
    known = {UCUM[unit]: unit for unit in units}
    known |= {also: unit for also, unit in _ALSO.items() if unit in units}
    if code not in known:
        right = ", ".join(UCUM[unit] for unit in units)
        raise InputRefused([Fault(f"a unit must be one of {right}, by UCUM (got {shown(code)})")])
    return known[code]
