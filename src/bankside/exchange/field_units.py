"""The unit of every number in the records: one and the same, or the one in which it was called."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Literal

from bankside.exchange.ucum import product_ucum, ucum_of
from bankside.gauging.records import (
    Filed,
    FiledPanel,
    Gauging,
    Meter,
    MeterCheck,
    PointReading,
    Position,
    RatingPart,
    StageReading,
    Vertical,
)
from bankside.survey.records import Stream, Survey, SurveySite

__all__ = ["AS_CALLED", "FIXED", "UNIT_COLUMNS", "Quantity", "common_unit"]

Quantity = Literal["length", "depth", "velocity", "rating slope", "filed area", "filed discharge"]

AS_CALLED: Mapping[tuple[type, str], Quantity] = {
    (Vertical, "tape"): "length",
    (Vertical, "depth"): "depth",
    (PointReading, "value"): "velocity",
    (PointReading, "rod_setting"): "depth",
    (StageReading, "value"): "length",
    (Meter, "slowest"): "velocity",
    (Meter, "shallowest"): "depth",
    (MeterCheck, "value"): "velocity",
    (RatingPart, "slope"): "rating slope",
    (RatingPart, "intercept"): "velocity",
    (Filed, "discharge"): "filed discharge",
    (FiledPanel, "width"): "length",
    (FiledPanel, "area"): "filed area",
    (FiledPanel, "discharge"): "filed discharge",
}
"""Record and field → the quantity whose unit the gauging names."""

FIXED: Mapping[tuple[type, str], str] = {
    (PointReading, "fraction"): "1",
    (PointReading, "seconds"): "s",
    (PointReading, "counts"): "1",
    (Vertical, "angle"): "deg",
    (Vertical, "angle_coefficient"): "1",
    (Vertical, "wall_factor"): "1",
    (MeterCheck, "seconds"): "s",
    (RatingPart, "up_to"): "/s",
    (Position, "lon"): "deg",
    (Position, "lat"): "deg",
    (Position, "accuracy_m"): "m",
    (Stream, "joins_at_km"): "km",
    (SurveySite, "along_km"): "km",
    (SurveySite, "drainage_area_km2"): "km2",
    (SurveySite, "visits_planned"): "1",
    (Survey, "duplicates_percent"): "%",
    (Survey, "days_apart"): "d",
}
"""Record and field → the code of its unit, by UCUM, which is the same in every record."""

UNIT_COLUMNS: Mapping[Quantity, str] = {
    "length": "gaugings.units_length",
    "depth": "gaugings.units_depth, where that is empty gaugings.units_length",
    "velocity": "gaugings.units_velocity",
    "rating slope": "gaugings.units_velocity, times a second",
    "filed area": "gaugings.units_length times that of the depth",
    "filed discharge": "gaugings.filed_unit",
}
"""Quantity → the column that says its unit, gauging by gauging."""


def common_unit(quantity: Quantity, gaugings: Iterable[Gauging]) -> str | None:
    """Return the code of the one unit of a quantity in all these gaugings, None if they differ."""
    found = {_unit(quantity, gauging) for gauging in gaugings}
    return found.pop() if len(found) == 1 else None


def _unit(quantity: Quantity, gauging: Gauging) -> str | None:
    units = gauging.units
    if quantity == "velocity":
        return ucum_of(units.velocity)
    if quantity == "rating slope":
        return ucum_of(units.velocity.removesuffix("/s"))
    if quantity == "filed discharge":
        filed = gauging.filed
        return None if filed is None or filed.unit is None else ucum_of(filed.unit)
    depth = units.depth or units.length
    if quantity == "filed area":
        return product_ucum(units.length, depth)
    return ucum_of(depth if quantity == "depth" else units.length)
