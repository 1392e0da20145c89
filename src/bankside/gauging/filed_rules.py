"""The rules by which totals are filed, and how well each gives what a sheet carries.

Everything is in SI; a unit comes in only as the factor from a filed figure to m³/s.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise

import attrs

from bankside.gauging.records import Gauging
from bankside.gauging.result import Panel, Result
from bankside.gauging.units import (
    cubic_metres_per_second_per,
    metres_per,
    metres_per_second_per,
)
from bankside.kernel.section import panel_width, panel_width_full_end, panel_width_triangular

__all__ = [
    "CLOSE",
    "MOST",
    "RULES",
    "Fit",
    "Station",
    "channel_runs",
    "fits_of_products",
    "fits_of_total",
    "in_order_sum",
    "last_digit",
    "possible_units",
    "products_by_rule",
    "stations_of_sheet",
    "widths_by_rule",
]


RULES = (
    "mid-section",
    "distance to next vertical",
    "distance from last vertical",
    "full cell at the edges",
    "mid-section with triangular edges",
    "mean-section",
    "the sheet's own widths",
)
"""Rules by which totals are filed. The first, fifth and sixth are published (docs/method.md); the
others are habits and slips of spreadsheets: common practice, no source."""


CLOSE = 1e-3
"""A filed figure follows a rule when it is within 0.1 % of it, or within its own last digit."""


MOST = 0.8
"""Share of the rows with flow that must follow a rule before the others are called exceptions."""


@attrs.frozen
class Station:
    """A vertical in the order in which it stands on the sheet, in SI units, with what was filed."""

    channel: int
    tape: float
    tape_m: float
    depth_m: float
    velocity_ms: float
    read: bool
    ours_m3s: float | None
    width: float | None
    product: float | None


@attrs.frozen
class Fit:
    """How well a rule, with a unit, gives the filed products or the filed total."""

    rule: str
    unit: str
    factor: float
    total_m3s: float
    matched: float
    exceptions: tuple[int, ...] = ()


def in_order_sum(values: Sequence[float]) -> float:
    """Return the sum added in order; `sum()` rounds differently from Python 3.12 on."""
    total = 0.0
    for value in values:
        total += value
    return total


def stations_of_sheet(gauging: Gauging, result: Result) -> list[Station]:
    """Return the verticals in the order of the sheet.

    Where no velocity was read it is 0 here, for a spreadsheet multiplies by an empty cell so.
    """
    ours: dict[tuple[int, int], Panel] = {
        (p.channel, p.vertical): p for p in result.panels if p.tape_to is None
    }
    filed = {(p.channel, p.vertical): p for p in (gauging.filed.panels if gauging.filed else ())}
    per_metre = metres_per(gauging.units.length)
    found = []
    for vertical in sorted(result.verticals, key=lambda v: (v.channel, v.vertical)):
        key = (vertical.channel, vertical.vertical)
        panel, mine = ours.get(key), filed.get(key)
        found.append(
            Station(
                vertical.channel,
                vertical.tape,
                vertical.tape * per_metre,
                vertical.depth_m,
                vertical.velocity_ms if vertical.measured else 0.0,
                vertical.measured,
                None if panel is None else panel.discharge_m3s,
                None if mine is None or mine.width is None else mine.width * per_metre,
                None if mine is None else mine.discharge,
            )
        )
    return found


def possible_units(gauging: Gauging) -> list[tuple[str, float]]:
    """Return the units a filed figure may be in, with their size in m³/s; the likeliest first."""
    filed, units = gauging.filed, gauging.units
    if filed is not None and filed.unit is not None:
        return [(filed.unit, cubic_metres_per_second_per(filed.unit))]
    depth = units.depth or units.length
    natural = metres_per(units.length) * metres_per(depth) * metres_per_second_per(units.velocity)
    known = [(name, cubic_metres_per_second_per(name)) for name in ("m3/s", "ft3/s", "L/s")]
    same = [name for name, size in known if abs(size - natural) < 1e-12]
    first = (same[0] if same else f"{units.length} × {depth} × {units.velocity}", natural)
    return [first, *(pair for pair in known if pair[0] != first[0])]


def widths_by_rule(rule: str, run: Sequence[Station]) -> list[float | None]:
    """Return the width that a rule gives every vertical of one channel, in sheet order, m."""
    tape = [s.tape_m for s in run]
    up = sorted(tape)
    place = [up.index(t) for t in tape]
    depth = [0.0] * len(run)
    for station, position in zip(run, place, strict=True):
        depth[position] = station.depth_m
    last = len(run) - 1
    if rule == "distance to next vertical":
        return [abs(tape[i + 1] - tape[i]) if i < last else 0.0 for i in range(len(run))]
    if rule == "distance from last vertical":
        return [abs(tape[i] - tape[i - 1]) if i else 0.0 for i in range(len(run))]
    if rule == "the sheet's own widths":
        return [s.width for s in run]
    by_rule: dict[str, Callable[[int], float]] = {
        "mid-section": lambda i: panel_width(up, i),
        "full cell at the edges": lambda i: panel_width_full_end(up, i),
        "mid-section with triangular edges": lambda i: panel_width_triangular(up, depth, i),
    }
    return [by_rule[rule](position) for position in place]


def products_by_rule(rule: str, stations: Sequence[Station]) -> list[float] | None:
    """Return what a rule gives every vertical (mean-section: the panel after it), m³/s.

    None where the rule cannot be applied (own widths that are not on the sheet, one vertical).
    """
    out: list[float] = []
    for run in channel_runs(stations):
        if len(run) < 2:
            return None
        if rule == "mean-section":
            for here, there in pairwise(run):
                mean = (here.velocity_ms + there.velocity_ms) / 2.0
                depth = (here.depth_m + there.depth_m) / 2.0
                out.append(mean * depth * abs(there.tape_m - here.tape_m))
            out.append(0.0)
            continue
        widths = widths_by_rule(rule, run)
        if all(width is None for width in widths):
            return None
        out.extend(
            (width or 0.0) * s.depth_m * s.velocity_ms for width, s in zip(widths, run, strict=True)
        )
    return out


def channel_runs(stations: Sequence[Station]) -> list[list[Station]]:
    """Return the stations of each channel, in the order of the sheet."""
    runs: dict[int, list[Station]] = {}
    for station in stations:
        runs.setdefault(station.channel, []).append(station)
    return list(runs.values())


def fits_of_products(stations: Sequence[Station], units: Sequence[tuple[str, float]]) -> list[Fit]:
    """Return the rules that give the filed products, best first."""
    digit = last_digit([s.product for s in stations if s.product is not None])
    fits = []
    for unit, factor in units:
        for rule in RULES:
            products = products_by_rule(rule, stations)
            if products is None:
                continue
            fit = _fit(rule, unit, factor, stations, products, digit)
            if fit.matched >= MOST:
                fits.append(fit)
        if fits:
            break
    best = max((f.matched for f in fits), default=0.0)
    return _named([f for f in fits if f.matched == best])


def _named(fits: list[Fit]) -> list[Fit]:
    """Return the fits without the sheet's own widths where a rule with a name fits as well."""
    named = [fit for fit in fits if fit.rule != RULES[-1]]
    return named or fits


def _fit(
    rule: str,
    unit: str,
    factor: float,
    stations: Sequence[Station],
    products: Sequence[float],
    last_digit: float,
) -> Fit:
    flowing = matched = 0
    exceptions = []
    for index, (station, product) in enumerate(zip(stations, products, strict=True)):
        if station.product is None:
            continue
        filed = station.product * factor
        if filed == 0.0 and product == 0.0:
            continue
        flowing += 1
        if _close(filed, product, last_digit * factor):
            matched += 1
        else:
            exceptions.append(index)
    share = matched / flowing if flowing >= 2 else 0.0
    return Fit(rule, unit, factor, in_order_sum(products), share, tuple(exceptions))


def fits_of_total(
    stations: Sequence[Station], units: Sequence[tuple[str, float]], total: float
) -> list[Fit]:
    """Return the rules whose sum is the filed total."""
    digit = min(last_digit([total]), 0.1 * abs(total))
    fits = []
    for unit, factor in units:
        for rule in RULES:
            products = products_by_rule(rule, stations)
            if products is not None and _close(
                total * factor, in_order_sum(products), digit * factor
            ):
                fits.append(Fit(rule, unit, factor, in_order_sum(products), 1.0))
        if fits:
            break
    return _named(fits)


def _close(filed: float, given: float, last_digit: float) -> bool:
    return abs(filed - given) <= max(CLOSE * abs(given), 0.5000001 * last_digit)


def last_digit(values: Sequence[float]) -> float:
    """Return the size of the last decimal that any of the values carries, 0 for long floats."""
    decimals = 0
    for value in values:
        text = f"{value:.10f}".rstrip("0")
        decimals = max(decimals, len(text.partition(".")[2]))
    return 0.0 if decimals >= 9 else 10.0 ** (-decimals)
