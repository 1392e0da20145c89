"""The constants of the workbook: what formulas call by name, each with its unit and source.

The figures are those of the engine, taken from where it keeps them.
"""

from __future__ import annotations

import inspect
from collections.abc import Callable, Iterator

import attrs

from bankside.gauging.records import Gauging
from bankside.gauging.units import (
    cubic_metres_per_second_per,
    metres_per,
    metres_per_second_per,
)
from bankside.kernel.edge import WALL_DISTANCE, WALL_RATIO
from bankside.kernel.totals import NO_SHARES, ROUNDING
from bankside.kernel.vertical import (
    velocity_by_integration,
    velocity_from_surface,
    velocity_half_depth,
    velocity_two_tenths,
)

__all__ = ["Constant", "constants"]

_FOOT = "the international foot and inch, exact by the agreement of 1959"
_METRE = "the SI, exact"
_WALL = "USGS WSP 2175 vol. 1, about p. 82 (table from memory)"


@attrs.frozen
class Constant:
    """A figure that formulas call by its name."""

    name: str
    value: float
    unit: str
    meaning: str
    source: str


def constants(gauging: Gauging) -> Iterator[Constant]:
    """Yield every constant that the formulas for a gauging may call."""
    yield from _units(gauging)
    yield from _rating(gauging)
    yield from _methods()
    yield from _filed(gauging)
    for i, (distance, ratio) in enumerate(zip(WALL_DISTANCE, WALL_RATIO, strict=True)):
        beside = f"{distance:g} of the depth from a smooth wall"
        yield Constant(f"wall_distance_{i}", distance, "of the depth", beside, _WALL)
        meaning = f"velocity {beside}, as a part of that one depth away"
        yield Constant(f"wall_ratio_{i}", ratio, "1", meaning, _WALL)
    yield Constant(
        "rounding_share",
        ROUNDING,
        "of the amounts",
        "a total this small beside the amounts it is made of is what rounding left of 0",
        "ours, no source",
    )
    yield Constant(
        "no_shares",
        NO_SHARES,
        "of the amounts",
        "panels that cancel to a total this small have no shares that could be told",
        "ours, no source",
    )


def _units(gauging: Gauging) -> Iterator[Constant]:
    units = gauging.units
    depth = units.depth or units.length
    for name, factor, unit, meaning in (
        ("metres_per_tape", metres_per(units.length), f"m per {units.length}", "unit of tape"),
        ("metres_per_depth", metres_per(depth), f"m per {depth}", "unit of depth"),
        (
            "ms_per_velocity",
            metres_per_second_per(units.velocity),
            f"m/s per {units.velocity}",
            "unit of velocity and of the rating",
        ),
        ("metres_per_foot", metres_per("ft"), "m per ft", "foot"),
        ("m3s_per_ft3s", cubic_metres_per_second_per("ft3/s"), "m³/s per ft³/s", "cubic foot"),
        ("m3s_per_litre", cubic_metres_per_second_per("L/s"), "m³/s per L/s", "litre"),
    ):
        source = _FOOT if "ft" in unit or "per in" in unit else _METRE
        yield Constant(name, factor, unit, f"what one {meaning} is in SI", source)


def _rating(gauging: Gauging) -> Iterator[Constant]:
    rating = () if gauging.meter is None else gauging.meter.rating
    of_unit = gauging.units.velocity
    for i, part in enumerate(rating):
        which = ("slow", "fast")[i] if len(rating) > 1 else "only"
        source = "the record: rating of the meter"
        line = f"of the {which} line: velocity for one more revolution a second"
        yield Constant(f"rating_slope_{i}", part.slope, f"{of_unit} per rev/s", line, source)
        line = f"of the {which} line: velocity at no revolutions"
        yield Constant(f"rating_intercept_{i}", part.intercept, of_unit, line, source)
        if part.up_to is not None:
            line = f"up to which the {which} line holds, these included"
            yield Constant(f"rating_up_to_{i}", part.up_to, "rev/s", line, source)


def _filed(gauging: Gauging) -> Iterator[Constant]:
    filed = gauging.filed
    if filed is not None and filed.discharge is not None:
        meaning = "total discharge that the sheet carried; nothing is worked out from it"
        source = "the record, as filed"
        yield Constant("filed_discharge", filed.discharge, filed.unit or "", meaning, source)


def _methods() -> Iterator[Constant]:
    for name, function, parameter, meaning, source in (
        (
            "half_depth_coefficient",
            velocity_half_depth,
            "coefficient",
            "mean velocity as a part of the one at half the depth",
            "ISO 748:2007, 7.1.5 (from memory)",
        ),
        (
            "two_tenths_coefficient",
            velocity_two_tenths,
            "coefficient",
            "mean velocity as a part of the one at 0.2 of the depth",
            "USGS WSP 2175 (from memory)",
        ),
        (
            "surface_coefficient",
            velocity_from_surface,
            "coefficient",
            "mean velocity as a part of the one at the surface",
            "a USGS note that cites Rantz 1982 and Turnipseed & Sauer 2010: 0.84 to 0.90",
        ),
        (
            "bed_exponent",
            velocity_by_integration,
            "bed_exponent",
            "m of the power law (1/m) by which the velocity falls from the lowest point to the bed",
            "ISO 748, 5 to 7 (from memory)",
        ),
    ):
        yield Constant(name, _default(function, parameter), "1", meaning, source)


def _default(function: Callable[..., float], parameter: str) -> float:
    """Return what the engine takes for a parameter where it is told nothing."""
    return float(inspect.signature(function).parameters[parameter].default)
