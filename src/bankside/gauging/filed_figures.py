"""The total and the products that a sheet carries, and whether they agree with one another."""

from __future__ import annotations

import math
from collections.abc import Sequence

import attrs

from bankside.gauging.filed_fits import (
    CLOSE,
    Unit,
    last_digit,
    total_rounding,
    units_of_discharge,
)
from bankside.gauging.filed_rules import FiledVertical, in_order_sum, stations_of_sheet
from bankside.gauging.records import Gauging
from bankside.gauging.result import Result

__all__ = ["FiledFigures", "FiledInSI", "figures_on_sheet", "filed_figures"]


@attrs.frozen
class FiledFigures:
    """What the sheet carries, in its own unit; `units` are those that it may be in."""

    stations: tuple[FiledVertical, ...]
    total: float | None
    unit_stated: str | None
    units: tuple[Unit, ...]

    @property
    def products(self) -> list[float]:
        """The filed products in the order of the sheet."""
        return [s.product for s in self.stations if s.product is not None]

    @property
    def figure(self) -> float:
        """The filed total, or the sum of the products where there is none."""
        return in_order_sum(self.products) if self.total is None else self.total

    def total_below(self) -> FiledFigures | None:
        """Return the same with the product of the last row as the total, None where it is none.

        It is the total where the sheet has no other, nothing flows on that row, and it is the sum
        of two or more products above it, within their rounding.
        """
        last = self.stations[-1]
        if self.total is not None or not last.product or last.depth_m * last.velocity_ms != 0.0:
            return None
        above = [product for product in self.products[:-1] if product]
        rounding = total_rounding(last.product) + _sum_rounding(above)
        if len(above) < 2 or _differ(in_order_sum(above), last.product, rounding):
            return None
        kept = (*self.stations[:-1], attrs.evolve(last, product=None))
        return attrs.evolve(self, stations=kept, total=last.product)


@attrs.frozen
class FiledInSI:
    """The filed figures in m³/s, with how far each may be off by rounding alone.

    products_m3s: their sum, None where a flowing vertical has none. apart: the total is not the sum
    of the products, not even where all of them are rounded.
    """

    discharge_m3s: float
    rounding_m3s: float
    products_m3s: float | None
    products_rounding_m3s: float
    apart: bool


def figures_on_sheet(gauging: Gauging, result: Result) -> FiledFigures | None:
    """Return what the sheet carries of totals and products, None for neither.

    None as well where they are too large to be added: nothing can be told of them.
    """
    filed = gauging.filed
    if filed is None:
        return None
    units = tuple(units_of_discharge(gauging.units))
    stations = tuple(stations_of_sheet(gauging, result))
    sheet = FiledFigures(stations, filed.discharge, filed.unit, units)
    carries = filed.discharge is not None or bool(sheet.products)
    return sheet if carries and math.isfinite(in_order_sum(sheet.products)) else None


def filed_figures(sheet: FiledFigures, factor: float) -> FiledInSI:
    """Return the filed figures in m³/s, by the size of their unit."""
    products = sheet.products
    filed_sum = in_order_sum(products)
    of_sum = _sum_rounding(products)
    of_total = of_sum if sheet.total is None else total_rounding(sheet.total)
    # Where a flowing vertical has no product, the products are not all that the total adds up.
    whole = bool(products) and all(
        s.product is not None for s in sheet.stations if s.depth_m * s.used_ms != 0.0
    )
    return FiledInSI(
        discharge_m3s=sheet.figure * factor,
        rounding_m3s=of_total * factor,
        products_m3s=filed_sum * factor if whole else None,
        products_rounding_m3s=0.5 * last_digit(products) * factor if products else 0.0,
        apart=whole and _differ(filed_sum, sheet.figure, of_total + of_sum),
    )


def _sum_rounding(products: Sequence[float]) -> float:
    """Return how far a sum of rounded products may be from that of the exact ones."""
    flowing = [product for product in products if product]
    return 0.5 * last_digit(flowing) * len(flowing) if flowing else 0.0


def _differ(here: float, there: float, rounding: float) -> bool:
    return abs(here - there) > max(CLOSE * abs(there), rounding)
