"""Which rule a sheet's own total follows, and where it parts from ours.

Old sheets carry products and totals of their own. They are never used to compute; they are held
against the rules that are known to be in use, so that a difference can be explained vertical by
vertical instead of being wondered at.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from itertools import pairwise

import attrs

from bankside.gauging.records import Gauging
from bankside.gauging.result import Panel, Result
from bankside.gauging.stations import stations_of
from bankside.gauging.units import (
    cubic_metres_per_second_per,
    metres_per,
    metres_per_second_per,
)
from bankside.kernel.section import panel_width, panel_width_full_end, panel_width_triangular

__all__ = ["RULES", "PanelDifference", "Reconciliation", "reconcile", "reconcile_all"]

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

_NOT_READ = ("interpolated", "wall factor")
"""How a velocity came about where the sheet has none; a spreadsheet multiplies by 0 there."""

_CLOSE = 1e-3
"""A filed figure follows a rule when it is within 0.1 % of it, or within its own last digit."""

_MOST = 0.8
"""Share of the rows with flow that must follow a rule before the others are called exceptions."""


@attrs.frozen
class PanelDifference:
    """One vertical's filed product beside our panel discharge, m³/s; `difference` = ours - filed.

    exception: the product does not follow the rule that the sheet's other products follow.
    """

    channel: int
    tape: float
    filed_m3s: float
    ours_m3s: float
    difference_m3s: float
    exception: bool = False


@attrs.frozen
class Reconciliation:
    """A filed total explained.

    rule: the rule that gives the filed figures, None when none does; also: further rules that
    give the same figures here; evidence: "products" or "total", whichever told the rule;
    discharge_m3s: the filed total (or the sum of the filed products); unit: the unit it is in;
    rule_m3s: what the rule gives; difference_m3s and difference_percent: ours minus filed;
    panels: vertical by vertical, where the sheet carries products; widths: what the sheet's width
    column means; sentences: the same in words.
    """

    discharge_m3s: float
    unit: str
    rule: str | None
    also: tuple[str, ...]
    evidence: str | None
    rule_m3s: float | None
    difference_m3s: float
    difference_percent: float | None
    panels: tuple[PanelDifference, ...]
    widths: tuple[str, ...]
    sentences: tuple[str, ...]


@attrs.frozen
class _Station:
    """A vertical in the order in which it stands on the sheet, in SI units, with what was filed."""

    channel: int
    tape: float
    tape_m: float
    depth_m: float
    velocity_ms: float
    ours_m3s: float | None
    width: float | None
    product: float | None


@attrs.frozen
class _Fit:
    """How well a rule, with a unit, gives the filed products or the filed total."""

    rule: str
    unit: str
    factor: float
    total_m3s: float
    matched: float
    exceptions: tuple[int, ...] = ()


def reconcile_all(
    computed: Sequence[tuple[Gauging, Result]],
) -> list[Reconciliation | None]:
    """Return what explains the filed total of each gauging of a file or season.

    Equal spacing lets one total follow several rules. Sheets filed together follow one rule, so
    among the rules that fit a gauging the one that fits most of the others is named.
    """
    alone = [reconcile(gauging, result) for gauging, result in computed]
    counts = Counter(
        rule
        for found in alone
        if found is not None and found.rule is not None
        for rule in (found.rule, *found.also)
    )
    prefer = tuple(sorted(RULES, key=lambda rule: (-counts[rule], RULES.index(rule))))
    return [reconcile(gauging, result, prefer) for gauging, result in computed]


def reconcile(
    gauging: Gauging, result: Result, prefer: Sequence[str] = RULES
) -> Reconciliation | None:
    """Return what explains the filed total of a gauging, None when nothing was filed.

    result: our computation of the same gauging; prefer: the order in which rules that fit equally
    well are named.
    """
    filed = gauging.filed
    if filed is None:
        return None
    stations = _stations(gauging, result)
    products = [s.product for s in stations if s.product is not None]
    if filed.discharge is None and not products:
        return None
    units = _units(gauging)
    fits = _fits_of_products(stations, units) if products else []
    evidence = "products" if fits else None
    if not fits and filed.discharge is not None:
        fits = _fits_of_total(stations, units, filed.discharge)
        evidence = "total" if fits else None
    fits.sort(key=lambda fit: prefer.index(fit.rule))
    unit, factor = (
        (fits[0].unit, fits[0].factor)
        if fits
        else _nearest_unit(
            units, filed.discharge if filed.discharge is not None else _sum(products), result
        )
    )
    total = (filed.discharge if filed.discharge is not None else _sum(products)) * factor
    difference = result.discharge_m3s - total
    panels = _panels(stations, factor, fits[0] if fits else None)
    found = Reconciliation(
        total,
        unit,
        fits[0].rule if fits else None,
        tuple(f.rule for f in fits[1:]),
        evidence,
        fits[0].total_m3s if fits else None,
        difference,
        100.0 * difference / total if total else None,
        panels,
        _width_meanings(gauging, stations),
        (),
    )
    sentences = _sentences(found, result, _sum(products) * factor if products else None)
    return attrs.evolve(found, sentences=tuple(sentences))


def _sum(values: Sequence[float]) -> float:
    total = 0.0
    for value in values:
        total += value
    return total


def _stations(gauging: Gauging, result: Result) -> list[_Station]:
    """Return the verticals in the order of the sheet, the velocity 0 where none was read."""
    ours: dict[tuple[int, int], Panel] = {
        (p.channel, p.vertical): p for p in result.panels if p.tape_to is None
    }
    filed = {(p.channel, p.vertical): p for p in (gauging.filed.panels if gauging.filed else ())}
    per_metre = metres_per(gauging.units.length)
    found = []
    for c, channel in enumerate(gauging.channels):
        stations, _ = stations_of(gauging, channel)
        for station in sorted(stations, key=lambda s: s.index):
            key = (c, station.index)
            panel, mine = ours.get(key), filed.get(key)
            read = station.velocity_from not in _NOT_READ
            found.append(
                _Station(
                    c,
                    station.vertical.tape,
                    station.tape_m,
                    station.depth_m,
                    station.velocity_ms if read else 0.0,
                    None if panel is None else panel.discharge_m3s,
                    None if mine is None or mine.width is None else mine.width * per_metre,
                    None if mine is None else mine.discharge,
                )
            )
    return found


def _units(gauging: Gauging) -> list[tuple[str, float]]:
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


def _widths(rule: str, run: Sequence[_Station]) -> list[float | None]:
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


def _products(rule: str, stations: Sequence[_Station]) -> list[float] | None:
    """Return what a rule gives every vertical (mean-section: the panel after it), m³/s.

    None where the rule cannot be applied (own widths that are not on the sheet, one vertical).
    """
    out: list[float] = []
    for run in _runs(stations):
        if len(run) < 2:
            return None
        if rule == "mean-section":
            for here, there in pairwise(run):
                mean = (here.velocity_ms + there.velocity_ms) / 2.0
                depth = (here.depth_m + there.depth_m) / 2.0
                out.append(mean * depth * abs(there.tape_m - here.tape_m))
            out.append(0.0)
            continue
        widths = _widths(rule, run)
        if all(width is None for width in widths):
            return None
        out.extend(
            (width or 0.0) * s.depth_m * s.velocity_ms for width, s in zip(widths, run, strict=True)
        )
    return out


def _runs(stations: Sequence[_Station]) -> list[list[_Station]]:
    runs: dict[int, list[_Station]] = {}
    for station in stations:
        runs.setdefault(station.channel, []).append(station)
    return list(runs.values())


def _fits_of_products(
    stations: Sequence[_Station], units: Sequence[tuple[str, float]]
) -> list[_Fit]:
    """Return the rules that give the filed products, best first."""
    last_digit = _last_digit([s.product for s in stations if s.product is not None])
    fits = []
    for unit, factor in units:
        for rule in RULES:
            products = _products(rule, stations)
            if products is None:
                continue
            fit = _fit(rule, unit, factor, stations, products, last_digit)
            if fit.matched >= _MOST:
                fits.append(fit)
        if fits:
            break
    best = max((f.matched for f in fits), default=0.0)
    return _named([f for f in fits if f.matched == best])


def _named(fits: list[_Fit]) -> list[_Fit]:
    """Return the fits without the sheet's own widths where a rule with a name fits as well."""
    named = [fit for fit in fits if fit.rule != RULES[-1]]
    return named or fits


def _fit(
    rule: str,
    unit: str,
    factor: float,
    stations: Sequence[_Station],
    products: Sequence[float],
    last_digit: float,
) -> _Fit:
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
    return _Fit(rule, unit, factor, _sum(products), share, tuple(exceptions))


def _fits_of_total(
    stations: Sequence[_Station], units: Sequence[tuple[str, float]], total: float
) -> list[_Fit]:
    """Return the rules whose sum is the filed total."""
    last_digit = min(_last_digit([total]), 0.01 * abs(total))
    fits = []
    for unit, factor in units:
        for rule in RULES:
            products = _products(rule, stations)
            if products is not None and _close(total * factor, _sum(products), last_digit * factor):
                fits.append(_Fit(rule, unit, factor, _sum(products), 1.0))
        if fits:
            break
    return _named(fits)


def _close(filed: float, given: float, last_digit: float) -> bool:
    return abs(filed - given) <= max(_CLOSE * abs(given), 0.5000001 * last_digit)


def _last_digit(values: Sequence[float]) -> float:
    """Return the size of the last decimal that any of the values carries, 0 for long floats."""
    decimals = 0
    for value in values:
        text = f"{value:.10f}".rstrip("0")
        decimals = max(decimals, len(text.partition(".")[2]))
    return 0.0 if decimals >= 9 else 10.0 ** (-decimals)


def _nearest_unit(
    units: Sequence[tuple[str, float]], total: float, result: Result
) -> tuple[str, float]:
    """Return the unit in which a total that follows no rule lies nearest to ours."""
    if total <= 0 or result.discharge_m3s <= 0:
        return units[0]

    def apart(pair: tuple[str, float]) -> float:
        ratio = total * pair[1] / result.discharge_m3s
        return max(ratio, 1.0 / ratio)

    return min(units, key=apart)


def _panels(
    stations: Sequence[_Station], factor: float, fit: _Fit | None
) -> tuple[PanelDifference, ...]:
    exceptions = set(fit.exceptions) if fit is not None else set()
    return tuple(
        PanelDifference(
            s.channel,
            s.tape,
            s.product * factor,
            s.ours_m3s,
            s.ours_m3s - s.product * factor,
            index in exceptions,
        )
        for index, s in enumerate(stations)
        if s.product is not None and s.ours_m3s is not None
    )


def _width_meanings(gauging: Gauging, stations: Sequence[_Station]) -> tuple[str, ...]:
    """Return what the sheet's widths mean; several where the spacing does not tell them apart."""
    filed = [s.width for s in stations if s.width is not None]
    if len(filed) < 2:
        return ()
    per_metre = metres_per(gauging.units.length)
    digit = 0.5 * _last_digit([width / per_metre for width in filed]) * per_metre
    meanings = {
        "panel width": "mid-section",
        "distance to the next vertical": "distance to next vertical",
        "distance from the last vertical": "distance from last vertical",
        "panel width with a full cell at the edges": "full cell at the edges",
    }
    agreement: dict[str, float] = {}
    for meaning, rule in meanings.items():
        pairs = [
            (station.width, width)
            for run in _runs(stations)
            if len(run) > 1
            for station, width in zip(run, _widths(rule, run), strict=True)
            if station.width is not None and width is not None
        ]
        agree = [pair for pair in pairs if abs(pair[0] - pair[1]) <= max(0.01 * pair[1], digit)]
        agreement[meaning] = len(agree) / len(pairs) if pairs else 0.0
    best = max(agreement.values())
    return tuple(m for m, share in agreement.items() if share == best and best >= _MOST)


def _sentences(found: Reconciliation, result: Result, products_m3s: float | None) -> list[str]:
    """Return the reconciliation in words."""
    total = f"{found.discharge_m3s:.4g} m³/s"
    said = []
    if found.rule is None:
        said.append(f"The filed total, {total}, follows none of the known rules.")
    else:
        said.append(f'The filed total, {total}, follows "{found.rule}".')
    ours = f"{result.discharge_m3s:.4g} m³/s"
    edges = f" ({result.edge_rule} edges)" if result.edge_rule else ""
    name = f"{result.method.capitalize()}{edges}"
    if found.difference_percent is None or abs(found.difference_percent) < 0.005:
        here = " here" if found.rule != RULES[0] else ""
        said.append(f"{name} gives the same{here}, {ours}.")
    else:
        more = "more" if found.difference_percent > 0 else "less"
        said.append(
            f"{name} gives {ours}, {abs(found.difference_percent):.2g} % {more}"
            + _where(found)
            + "."
        )
    if (
        products_m3s is not None
        and found.discharge_m3s
        and abs(products_m3s - found.discharge_m3s) > _CLOSE * abs(found.discharge_m3s)
    ):
        said.append(f"The filed total is not the sum of its own products, {products_m3s:.4g} m³/s.")
    odd = [p for p in found.panels if p.exception]
    if odd and found.rule is not None:
        tapes = ", ".join(f"{p.tape:g}" for p in odd[:5])
        said.append(f"The products at tape {tapes} do not follow that rule.")
    if found.widths:
        several = " (the spacing does not tell which)" if len(found.widths) > 1 else ""
        said.append(f"The sheet's widths are the {' or the '.join(found.widths)}{several}.")
    return said


def _where(found: Reconciliation) -> str:
    """Return which verticals make the difference: the fewest that make four fifths of it."""
    ranked = sorted(found.panels, key=lambda p: -abs(p.difference_m3s))
    whole = _sum([abs(p.difference_m3s) for p in ranked])
    if whole <= 0:
        return ""
    chosen: list[PanelDifference] = []
    so_far = 0.0
    for panel in ranked:
        if so_far >= 0.8 * whole:
            break
        chosen.append(panel)
        so_far += abs(panel.difference_m3s)
    if len(chosen) > 4:
        return f"; {len(chosen)} verticals make the difference"
    tapes = ", ".join(f"{p.tape:g} ({p.difference_m3s:+.2g} m³/s)" for p in chosen)
    verb = "makes" if len(chosen) == 1 else "make"
    noun = "the vertical" if len(chosen) == 1 else "the verticals"
    return f"; {noun} at tape {tapes} {verb} the difference"
