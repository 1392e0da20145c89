"""How well the rules by which totals are filed give the figures that a sheet carries.

Everything is in SI; a unit comes in only as the factor from a filed figure to m³/s.
"""

from __future__ import annotations

from collections.abc import Sequence

import attrs

from bankside.gauging.filed_rules import (
    OWN_WIDTHS,
    RULES,
    FiledVertical,
    in_order_sum,
    placed_products,
    products_by_rule,
    without_angles,
)
from bankside.gauging.records import Units
from bankside.gauging.rounding import decimals_of
from bankside.gauging.units import (
    cubic_metres_per_second_per,
    metres_per,
    metres_per_second_per,
)

__all__ = [
    "CLOSE",
    "MOST",
    "NOTHING",
    "Fit",
    "Fits",
    "Unit",
    "find_fits",
    "last_digit",
    "total_rounding",
    "units_of_discharge",
]

CLOSE = 1e-3
"""A filed figure follows a rule when it is within 0.1 % of it, or within its own last digit."""


MOST = 0.8
"""Share of the rows with flow that must follow a rule before the others are called exceptions."""


NOTHING = 1e-9
"""Less than this part of what flows through the panels is the rounding of floats."""

_HALF = 0.5000001
"""Half a digit, with room for the rounding of floats."""

_COARSE = 0.1
"""A last digit counts for a tenth of its figure at most: "2" is not all from 1.5 to 2.5."""

_SURE = 0.01
"""A total contradicts its own unit only if its last digit is a smaller part of it than this."""

Unit = tuple[str, float]
"""The name of a unit of discharge, and its size in m³/s."""


@attrs.frozen
class Fit:
    """How well a rule, with a unit, gives the filed products or the filed total.

    exceptions: places in the list of stations whose products the rule does not give; later_row:
    a mean-section product stands beside the second of its two verticals; angles_left_out: the
    rule fits with velocities as read, whatever their angle to the section.
    """

    rule: str
    unit: str
    factor: float
    total_m3s: float
    matched: float
    exceptions: tuple[int, ...] = ()
    later_row: bool = False
    angles_left_out: bool = False


@attrs.frozen
class Fits:
    """All rules that fit equally well, and whether "products" or "total" told so."""

    fits: tuple[Fit, ...] = ()
    evidence: str | None = None


def units_of_discharge(units: Units) -> list[Unit]:
    """Return the units a filed figure may be in; that of width × depth × velocity first."""
    depth = units.depth or units.length
    natural = metres_per(units.length) * metres_per(depth) * metres_per_second_per(units.velocity)
    known = [(name, cubic_metres_per_second_per(name)) for name in ("m3/s", "ft3/s", "L/s")]
    same = [name for name, size in known if abs(size - natural) < 1e-12]
    first = (same[0] if same else f"{units.length} × {depth} × {units.velocity}", natural)
    return [first, *(pair for pair in known if pair[0] != first[0])]


def find_fits(
    stations: Sequence[FiledVertical],
    units: Sequence[Unit],
    stated: str | None,
    total: float | None,
) -> Fits:
    """Return the rules that the filed products follow, else those that the total follows.

    units: in the order in which they are tried; stated: the unit that the sheet states: another
    is tried where nothing fits in this one. Angles are left out where nothing fits with them.
    """
    mine = [unit for unit in units if stated in (None, unit[0])]
    found = _fits_in(stations, mine, total)
    if found.fits or stated is None:
        return found
    sure = total is not None and last_digit([total]) <= _SURE * abs(total)
    others = [unit for unit in units if unit[0] != stated]
    return _fits_in(stations, others, total if sure else None)


def _fits_in(stations: Sequence[FiledVertical], units: Sequence[Unit], total: float | None) -> Fits:
    unturned = without_angles(stations)
    ways = [(False, stations)] + ([(True, unturned)] if unturned is not None else [])
    for left_out, as_filed in ways:
        fits = _fits_of_products(as_filed, units)
        if fits:
            return Fits(_marked(fits, left_out), "products")
    for left_out, as_filed in ways if total is not None else ():
        fits = _fits_of_total(as_filed, units, total or 0.0)
        if fits:
            return Fits(_marked(fits, left_out), "total")
    return Fits()


def _marked(fits: Sequence[Fit], left_out: bool) -> tuple[Fit, ...]:
    return tuple(attrs.evolve(fit, angles_left_out=left_out) for fit in fits)


def _fits_of_products(stations: Sequence[FiledVertical], units: Sequence[Unit]) -> list[Fit]:
    """Return the rules that give the filed products best, in the first unit in which any does."""
    digit = last_digit([s.product for s in stations if s.product is not None])
    fits: list[Fit] = []
    for unit in units:
        for rule in RULES:
            placed = [
                _fit(rule, unit, stations, products, digit, later)
                for later, products in placed_products(rule, stations)
            ]
            if placed:
                best = max(placed, key=lambda fit: fit.matched)
                fits += [best] if best.matched >= MOST else []
        if fits:
            break
    most = max((f.matched for f in fits), default=0.0)
    return _named([f for f in fits if f.matched == most])


def _named(fits: list[Fit]) -> list[Fit]:
    """Return the fits without the sheet's own widths where a rule with a name fits as well."""
    named = [fit for fit in fits if fit.rule != OWN_WIDTHS]
    return named or fits


def _fit(
    rule: str,
    unit: Unit,
    stations: Sequence[FiledVertical],
    products: Sequence[float],
    digit: float,
    later_row: bool,
) -> Fit:
    name, factor = unit
    flowing = matched = 0
    exceptions = []
    for index, (station, product) in enumerate(zip(stations, products, strict=True)):
        if station.product is None:
            continue
        filed = station.product * factor
        if filed == 0.0 and abs(product) <= _HALF * digit * factor:
            continue  # Too little to be seen in the last digit tells nothing of a rule.
        flowing += 1
        if _close(filed, product, _HALF * digit * factor):
            matched += 1
        else:
            exceptions.append(index)
    share = matched / flowing if flowing >= 2 else 0.0
    return Fit(rule, name, factor, in_order_sum(products), share, tuple(exceptions), later_row)


def _fits_of_total(
    stations: Sequence[FiledVertical], units: Sequence[Unit], total: float
) -> list[Fit]:
    """Return the rules whose sum is the filed total."""
    fits = []
    for name, factor in units:
        for rule in RULES:
            products = products_by_rule(rule, stations)
            if products is None:
                continue
            given = in_order_sum(products)
            nothing = NOTHING * in_order_sum([abs(product) for product in products])
            rounding = max(total_rounding(total) * factor, nothing)
            if _close(total * factor, given, rounding):
                fits.append(Fit(rule, name, factor, given, 1.0))
        if fits:
            break
    return _named(fits)


def _close(filed: float, given: float, rounding: float) -> bool:
    return abs(filed - given) <= max(CLOSE * abs(given), rounding)


def total_rounding(total: float) -> float:
    """Return how far a filed total may be from the exact one by rounding alone."""
    return _HALF * min(last_digit([total]), _COARSE * abs(total))


def last_digit(values: Sequence[float]) -> float:
    """Return the size of the last decimal that any of the values carries, 0 for long floats."""
    decimals = 0
    for value in values:
        own = decimals_of(value)
        if own is None:
            return 0.0
        decimals = max(decimals, own)
    return 10.0**-decimals
