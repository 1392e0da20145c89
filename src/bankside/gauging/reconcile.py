"""Which rule a sheet's own total follows, and where it parts from ours.

Old sheets carry products and totals of their own. They are never used to compute; they are held
against the rules that are known to be in use, so that a difference can be explained vertical by
vertical instead of being wondered at.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

import attrs

from bankside.gauging.filed_rules import (
    MOST,
    RULES,
    Fit,
    Station,
    channel_runs,
    fits_of_products,
    fits_of_total,
    in_order_sum,
    last_digit,
    possible_units,
    stations_of_sheet,
    widths_by_rule,
)
from bankside.gauging.records import Gauging
from bankside.gauging.result import Result
from bankside.gauging.units import (
    metres_per,
)

__all__ = ["PanelDifference", "Reconciliation", "reconcile", "reconcile_all"]


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
    products_m3s: the sum of the filed products; panels: vertical by vertical, where the sheet
    carries products; widths: what the sheet's width column means; unread: tape positions with
    water but without a velocity on the sheet, where a spreadsheet multiplies by 0.
    """

    discharge_m3s: float
    unit: str
    rule: str | None
    also: tuple[str, ...]
    evidence: str | None
    rule_m3s: float | None
    difference_m3s: float
    difference_percent: float | None
    products_m3s: float | None
    panels: tuple[PanelDifference, ...]
    widths: tuple[str, ...]
    unread: tuple[float, ...]


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
    stations = stations_of_sheet(gauging, result)
    products = [s.product for s in stations if s.product is not None]
    if filed.discharge is None and not products:
        return None
    units = possible_units(gauging)
    fits = fits_of_products(stations, units) if products else []
    evidence = "products" if fits else None
    if not fits and filed.discharge is not None:
        fits = fits_of_total(stations, units, filed.discharge)
        evidence = "total" if fits else None
    fits.sort(key=lambda fit: prefer.index(fit.rule))
    filed_sum = in_order_sum(products)
    figure = filed.discharge if filed.discharge is not None else filed_sum
    best = fits[0] if fits else None
    unit, factor = (best.unit, best.factor) if best else _nearest_unit(units, figure, result)
    total = figure * factor
    difference = result.discharge_m3s - total
    return Reconciliation(
        discharge_m3s=total,
        unit=unit,
        rule=best.rule if best else None,
        also=tuple(fit.rule for fit in fits[1:]),
        evidence=evidence,
        rule_m3s=best.total_m3s if best else None,
        difference_m3s=difference,
        difference_percent=100.0 * difference / total if total else None,
        products_m3s=filed_sum * factor if products else None,
        panels=_panels(stations, factor, best),
        widths=_width_meanings(gauging, stations),
        unread=tuple(s.tape for s in stations if not s.read and s.depth_m > 0.0),
    )


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
    stations: Sequence[Station], factor: float, fit: Fit | None
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


def _width_meanings(gauging: Gauging, stations: Sequence[Station]) -> tuple[str, ...]:
    """Return what the sheet's widths mean; several where the spacing does not tell them apart."""
    filed = [s.width for s in stations if s.width is not None]
    if len(filed) < 2:
        return ()
    per_metre = metres_per(gauging.units.length)
    digit = 0.5 * last_digit([width / per_metre for width in filed]) * per_metre
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
