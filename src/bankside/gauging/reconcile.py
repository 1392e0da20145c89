"""Which rule a sheet's own total follows, and where it parts from ours.

Old sheets carry products and totals of their own. They are never used to compute; they are held
against the rules that are known to be in use, so that a difference can be explained vertical by
vertical instead of being wondered at.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from itertools import pairwise

import attrs

from bankside.gauging.filed_figures import FiledFigures, figures_on_sheet, filed_figures
from bankside.gauging.filed_fits import MOST, NOTHING, Fit, Fits, Unit, find_fits, last_digit
from bankside.gauging.filed_rules import (
    MEAN_SECTION,
    RULES,
    FiledVertical,
    channel_runs,
    in_order_sum,
    placed_products,
    widths_by_rule,
)
from bankside.gauging.records import Gauging
from bankside.gauging.result import Result
from bankside.gauging.units import metres_per

__all__ = ["PanelDifference", "Reconciliation", "reconcile", "reconcile_all", "width_meanings"]


@attrs.frozen
class PanelDifference:
    """One filed product beside our panel discharge, m³/s; `difference` = ours - filed.

    tape: of the vertical, as called; tape_to: the vertical at the other side of a mean-section
    panel; exception: the product does not follow the rule that the sheet's other products follow.
    """

    channel: int
    tape: float
    filed_m3s: float
    ours_m3s: float
    difference_m3s: float
    exception: bool = False
    tape_to: float | None = None


@attrs.frozen
class Reconciliation:
    """A filed total explained.

    figure: the filed total as it stands on the sheet, or the sum of the filed products where
    `total_filed` is False; discharge_m3s: the same in m³/s; unit: the unit it is in;
    unit_stated: the unit that the sheet states, None for none; rule: the rule that gives the
    filed figures, None when none does; also: further rules that give the same figures here;
    favoured: among these, `rule` fits the most gaugings of the run; evidence: "products" or
    "total", whichever told the rule; angles_left_out: the rule fits with velocities as read,
    whatever their angle; rule_m3s: what the rule gives; difference_m3s and difference_percent:
    ours minus filed; rounding_m3s: how far the filed figure may be off by its rounding;
    products_m3s: the sum of the filed products; products_rounding_m3s: how far one product may be
    off; apart: the filed total is not the sum of the filed products, not even rounded; panels:
    product by product, where they can be held against panels of ours; exceptions: tape positions
    beside which products do not follow the rule; widths: what the sheet's width column means;
    unread: tape positions with water but without a velocity on the sheet, where a spreadsheet
    multiplies by 0.
    """

    figure: float
    total_filed: bool
    discharge_m3s: float
    unit: str
    unit_stated: str | None
    rule: str | None
    also: tuple[str, ...]
    evidence: str | None
    angles_left_out: bool
    rule_m3s: float | None
    difference_m3s: float
    difference_percent: float | None
    rounding_m3s: float
    products_m3s: float | None
    products_rounding_m3s: float
    apart: bool
    panels: tuple[PanelDifference, ...]
    exceptions: tuple[float, ...]
    widths: tuple[str, ...]
    unread: tuple[float, ...]
    favoured: bool = False


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
    return [
        _favoured(reconcile(gauging, result, prefer), counts) if found and found.also else found
        for found, (gauging, result) in zip(alone, computed, strict=True)
    ]


def _favoured(found: Reconciliation | None, counts: Counter[str]) -> Reconciliation | None:
    if found is None or found.rule is None:
        return found
    most = counts[found.rule] > max(counts[rule] for rule in found.also)
    return attrs.evolve(found, favoured=most)


def reconcile(
    gauging: Gauging, result: Result, prefer: Sequence[str] = RULES
) -> Reconciliation | None:
    """Return what explains the filed total of a gauging, None when nothing was filed.

    result: our computation of the same gauging; prefer: the order in which rules that fit equally
    well are named.
    """
    sheet = figures_on_sheet(gauging, result)
    if sheet is None:
        return None
    found = find_fits(sheet.stations, sheet.units, sheet.unit_stated, sheet.total)
    sheet, found = _with_total_below(sheet, found)
    fits = sorted(found.fits, key=lambda fit: prefer.index(fit.rule))
    best = fits[0] if fits else None
    unit, factor = (best.unit, best.factor) if best else _nearest_unit(sheet, result)
    filed = filed_figures(sheet, factor)
    difference = result.discharge_m3s - filed.discharge_m3s
    nothing = NOTHING * in_order_sum([abs(p.discharge_m3s) for p in result.panels])
    some = abs(filed.discharge_m3s) > nothing
    by_rule = best.total_m3s if best and abs(best.total_m3s) > nothing else 0.0
    by_products = best if found.evidence == "products" else None
    return Reconciliation(
        figure=sheet.figure,
        total_filed=sheet.total is not None,
        discharge_m3s=filed.discharge_m3s,
        unit=unit,
        unit_stated=sheet.unit_stated,
        rule=best.rule if best else None,
        also=tuple(fit.rule for fit in fits[1:]),
        evidence=found.evidence,
        angles_left_out=best is not None and best.angles_left_out,
        rule_m3s=by_rule if best else None,
        difference_m3s=difference if abs(difference) > nothing else 0.0,
        difference_percent=100.0 * difference / filed.discharge_m3s if some else None,
        rounding_m3s=filed.rounding_m3s,
        products_m3s=filed.products_m3s,
        products_rounding_m3s=filed.products_rounding_m3s,
        apart=filed.apart,
        panels=_panels(sheet.stations, factor, best, by_products),
        exceptions=tuple(
            sheet.stations[i].tape for i in (by_products.exceptions if by_products else ())
        ),
        widths=width_meanings(gauging, sheet.stations),
        unread=_unread(sheet.stations, best),
    )


def _with_total_below(sheet: FiledFigures, found: Fits) -> tuple[FiledFigures, Fits]:
    """Return the sheet with its last product taken as the total where that explains it."""
    below = sheet.total_below()
    if below is None or (found.fits and not found.fits[0].exceptions):
        return sheet, found
    return below, find_fits(below.stations, below.units, below.unit_stated, below.total)


def _nearest_unit(sheet: FiledFigures, result: Result) -> Unit:
    """Return the unit in which a total that follows no rule lies nearest to ours."""
    units = [unit for unit in sheet.units if sheet.unit_stated in (None, unit[0])]
    if sheet.figure <= 0 or result.discharge_m3s <= 0:
        return units[0]

    def apart(pair: Unit) -> float:
        ratio = sheet.figure * pair[1] / result.discharge_m3s
        return max(ratio, 1.0 / ratio)

    return min(units, key=apart)


def _panels(
    stations: Sequence[FiledVertical], factor: float, named: Fit | None, by_products: Fit | None
) -> tuple[PanelDifference, ...]:
    """Return the filed products beside our panels, empty where they cannot be matched."""
    exceptions = set(by_products.exceptions) if by_products else set()
    if named is not None and named.rule == MEAN_SECTION:
        ours, ends = _between_verticals(stations, by_products)
    else:
        ours, ends = [s.ours_m3s for s in stations], [(s.tape, None) for s in stations]
    return tuple(
        PanelDifference(
            station.channel,
            tape,
            station.product * factor,
            panel,
            panel - station.product * factor,
            index in exceptions,
            tape_to,
        )
        for index, (station, panel, (tape, tape_to)) in enumerate(
            zip(stations, ours, ends, strict=True)
        )
        if station.product is not None and panel is not None
    )


def _between_verticals(
    stations: Sequence[FiledVertical], by_products: Fit | None
) -> tuple[list[float | None], list[tuple[float, float | None]]]:
    """Return mean-section panels of our velocities on the rows of the filed ones, and their ends.

    Where only the total follows the mean-section rule, nothing tells what the products are.
    """
    nowhere: list[tuple[float, float | None]] = [(s.tape, None) for s in stations]
    if by_products is None:
        return [None] * len(stations), nowhere
    used = [attrs.evolve(s, velocity_ms=s.used_ms) for s in stations]
    ours = dict(placed_products(MEAN_SECTION, used))[by_products.later_row]
    ends: list[tuple[float, float | None]] = []
    for run in channel_runs(stations):
        tapes = [s.tape for s in run]
        pairs: list[tuple[float, float | None]] = list(pairwise(tapes))
        unpaired = [(tapes[0] if by_products.later_row else tapes[-1], None)]
        ends += [*unpaired, *pairs] if by_products.later_row else [*pairs, *unpaired]
    return list(ours), ends


def _unread(stations: Sequence[FiledVertical], fit: Fit | None) -> tuple[float, ...]:
    """Return where there is water without a velocity, to which the rule gives some width."""
    found = []
    for run in channel_runs(stations):
        widths: Sequence[float | None] = [None] * len(run)
        if fit is not None and fit.rule != MEAN_SECTION and len(run) > 1:
            widths = widths_by_rule(fit.rule, run)
        found += [
            station.tape
            for station, width in zip(run, widths, strict=True)
            if not station.read and station.depth_m > 0.0 and width != 0.0
        ]
    return tuple(found)


def width_meanings(gauging: Gauging, stations: Sequence[FiledVertical]) -> tuple[str, ...]:
    """Return what the sheet's widths mean; several where the spacing does not tell them apart.

    stations: as `filed_rules.stations_of_sheet` gives them.
    """
    filed = [s.width for s in stations if s.width is not None]
    if len(filed) < 2:
        return ()
    per_metre = metres_per(gauging.units.length)
    # A little less than half a digit, so that a tie counts in no unit: it tells nothing.
    digit = 0.5 * last_digit([width / per_metre for width in filed]) * per_metre * (1 - 1e-9)
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
            for run in channel_runs(stations)
            if len(run) > 1
            for station, width in zip(run, widths_by_rule(rule, run), strict=True)
            if station.width is not None and width is not None
        ]
        agree = [pair for pair in pairs if abs(pair[0] - pair[1]) <= max(0.01 * pair[1], digit)]
        agreement[meaning] = len(agree) / len(pairs) if pairs else 0.0
    best = max(agreement.values())
    return tuple(m for m, share in agreement.items() if share == best and best >= MOST)
