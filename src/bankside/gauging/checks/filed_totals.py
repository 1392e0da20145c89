"""Whether what a sheet itself carries, widths and totals, agrees with its readings."""

from __future__ import annotations

from collections.abc import Iterator

from bankside.gauging.checks.examined import Examined, ExaminedChannel
from bankside.gauging.checks.finding import Check, Finding, Severity
from bankside.gauging.filed_fits import last_digit
from bankside.gauging.filed_rules import (
    OWN_WIDTHS,
    in_order_sum,
    products_by_rule,
    stations_of_sheet,
)
from bankside.gauging.reconcile import PanelDifference, Reconciliation, reconcile, width_meanings
from bankside.gauging.reconcile_words import in_one_sentence
from bankside.gauging.rounding import to_figures
from bankside.gauging.share_limits import above
from bankside.gauging.units import cubic_metres_per_second_per
from bankside.kernel.section import panel_width

__all__ = ["CHECKS"]

# Of the verticals that make a difference the largest few are pointed at (ours, no source).
_FEW = 3
# By what two lengths that are the same on paper may differ, m.
_ROUNDING = 1e-9


def _widths_do_not_add_up(examined: Examined) -> Iterator[Finding]:
    if not examined.finished:
        return
    for channel in examined.channels:
        filed = _filed_widths(examined, channel)
        if len(filed) < 2 or not _ends_in_edges(channel):
            continue
        across = channel.across
        distance = across[-1].tape_m - across[0].tape_m
        total = in_order_sum(list(filed.values())) * examined.metres
        share, least = (examined.rules[f"width_difference{word}"] for word in ("_share", ""))
        allowed = max(share.si / 100 * distance, least.si) + _ROUNDING
        sums = total, total - _rounding(examined, channel, filed)
        if min(abs(s - d) for s in sums for d in _distances(channel, filed)) <= allowed:
            continue
        ends = examined.at(across[0].tape, across[-1].tape)
        missing = tuple(spot.tape for spot in across[1:-1] if spot.index not in filed)
        rows = f"a width at {examined.at(*missing)}" if missing else "a row that is missing"
        yield Finding(
            check="Widths do not add up",
            severity="explain",
            found=f"The filed widths add up to {examined.length(total)}, but the edges at {ends} "
            f"are {examined.length(distance)} apart.",
            advice=f"Look for {rows} and for a wrong edge: {ends}.",
            channel=channel.index,
            tapes=missing or (across[0].tape, across[-1].tape),
            thresholds=(share, least),
        )


def _filed_widths(examined: Examined, channel: ExaminedChannel) -> dict[int, float]:
    """Return the widths that the sheet carries, by the place of their vertical in the record."""
    filed = examined.gauging.filed
    panels = () if filed is None else filed.panels
    return {
        panel.vertical: panel.width
        for panel in panels
        if panel.channel == channel.index and panel.width is not None
    }


def _rounding(examined: Examined, channel: ExaminedChannel, filed: dict[int, float]) -> float:
    """Return what rounding adds to the widths that are those of the panels to their digits, m."""
    half_digit = last_digit(list(filed.values())) / 2 * examined.metres + _ROUNDING
    tapes = [spot.tape_m for spot in channel.across]
    off = [
        filed[spot.index] * examined.metres - panel_width(tapes, i)
        for i, spot in enumerate(channel.across)
        if spot.index in filed
    ]
    return in_order_sum([difference for difference in off if abs(difference) <= half_digit])


def _ends_in_edges(channel: ExaminedChannel) -> bool:
    return channel.across[0].ends_water and channel.across[-1].ends_water


def _distances(channel: ExaminedChannel, filed: dict[int, float]) -> tuple[float, float]:
    """Return what the widths may add up to, m: with the half strips of the edges, and without.

    Where an edge has no width or 0, its half strip, in which nothing flows, was left out.
    """
    across = channel.across
    whole = across[-1].tape_m - across[0].tape_m
    without = whole
    for edge, first in (across[:2], across[:-3:-1]):
        if not filed.get(edge.index):
            without -= abs(first.tape_m - edge.tape_m) / 2
    return whole, without


def _widths_are_gaps(examined: Examined) -> Iterator[Finding]:
    gauging, result = examined.gauging, examined.result
    if not examined.finished or result is None or gauging.filed is None:
        return
    stations = stations_of_sheet(gauging, result)
    meanings = width_meanings(gauging, stations)
    if not meanings or any(meaning.startswith("panel width") for meaning in meanings):
        return
    products = products_by_rule(OWN_WIDTHS, stations) or []
    theirs, ours = in_order_sum(products), result.discharge_m3s
    most = examined.rules["totals_difference"]
    off = abs(theirs - ours) > most.si / 100 * abs(ours) + _ROUNDING
    severity: Severity = "explain" if off else "note"
    yield Finding(
        check="Width column looks like gaps",
        severity=severity,
        found=f"The filed widths are the {' or the '.join(meanings)}: with them the discharge is "
        f"{_discharge(examined, theirs)}, with the widths of the panels "
        f"{_discharge(examined, ours)}.",
        advice="Take the discharge from the tape positions; a panel reaches half-way to both "
        "neighbours.",
        thresholds=(most,),
    )


def _discharge(examined: Examined, cubic_metres: float) -> str:
    if examined.gauging.units.length in ("ft", "in"):
        return f"{to_figures(cubic_metres / cubic_metres_per_second_per('ft3/s'))} ft³/s"
    return f"{to_figures(cubic_metres)} m³/s"


def _totals_disagree(examined: Examined) -> Iterator[Finding]:
    result, most = examined.result, examined.rules["totals_difference"]
    if not examined.finished or result is None:
        return
    found = reconcile(examined.gauging, result)
    if found is None or abs(found.difference_m3s) <= found.rounding_m3s:
        return
    percent = found.difference_percent
    if percent is not None and not above(percent, most.si):
        return
    if not found.difference_m3s:
        return
    largest = sorted(_largest_differences(found), key=lambda panel: panel.tape)
    tapes = tuple(panel.tape for panel in largest)
    channels = tuple(panel.channel for panel in largest)
    where = f"the products filed at {examined.at(*tapes)}" if tapes else "the sheet's arithmetic"
    yield Finding(
        check="Two totals disagree",
        severity="explain",
        found=in_one_sentence(found, result),
        advice=f"Look at {where}, and correct the total or say which of the two holds.",
        channel=channels[0] if len(set(channels)) == 1 else None,
        channels=channels,
        tapes=tapes,
        thresholds=(most,),
    )


def _largest_differences(found: Reconciliation) -> list[PanelDifference]:
    """Return the few panels whose filed products differ most from ours."""
    off = [p for p in found.panels if abs(p.difference_m3s) > found.products_rounding_m3s]
    return sorted(off, key=lambda panel: -abs(panel.difference_m3s))[:_FEW]


_COLORADO = "stream-flow operating procedure of a Colorado mine permit, 2014"

CHECKS = (
    Check(
        name="Widths do not add up",
        trigger="The filed widths of a channel differ from the distance between its edges by more "
        "than both limits; a width that is its panel's to the last digit counts as that.",
        severities=("explain",),
        remedy="Find the missing row or the wrong edge.",
        source=f"{_COLORADO}: widths add up to the distance of the edges",
        find=_widths_do_not_add_up,
        thresholds=("width_difference_share", "width_difference"),
    ),
    Check(
        name="Width column looks like gaps",
        trigger="The filed widths are the distances from one vertical to the next or from the last "
        "one: an explanation is asked for where that moves the total, otherwise it is a note.",
        severities=("explain", "note"),
        remedy="Work the discharge out from the tape positions.",
        source="common practice, no source",
        find=_widths_are_gaps,
        thresholds=("totals_difference",),
    ),
    Check(
        name="Two totals disagree",
        trigger="The filed total, or the sum of the filed products, differs from the one worked "
        "out from the readings, by more than its rounding.",
        severities=("explain",),
        remedy="Look at the panels that make the difference.",
        source=f"{_COLORADO}: the arithmetic is checked by a second person",
        find=_totals_disagree,
        thresholds=("totals_difference",),
    ),
)
