"""Whether the water between an edge and the vertical next to it was left to too few readings."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from statistics import median

from bankside.gauging.checks.adding import add, half_way, places_in
from bankside.gauging.checks.examined import Examined, ExaminedChannel, Spot
from bankside.gauging.checks.finding import Check, Finding, Severity
from bankside.gauging.rule_sets.rule_set import Threshold
from bankside.gauging.share_limits import above

__all__ = ["CHECKS"]

# A median of fewer distances says nothing of the spacing (ours, no source).
_FEWEST_DISTANCES = 3
# By what two ratios that are the same on paper may differ.
_ROUNDING = 1e-9


def _big_jump(examined: Examined) -> Iterator[Finding]:
    for channel in examined.channels:
        if len(channel.across) < 3:
            continue
        for edge, first in (channel.across[:2], channel.across[:-3:-1]):
            marked = edge.vertical.edge is not None
            if marked or (examined.finished and edge.depth_m == 0):
                yield from _jump(examined, channel, edge, first)


def _jump(
    examined: Examined, channel: ExaminedChannel, edge: Spot, first: Spot
) -> Iterator[Finding]:
    share = _strip_share(edge, first)
    spacing = _spacing(channel)
    gap = abs(first.tape_m - edge.tape_m)
    rules = examined.rules
    said: list[str] = []
    thresholds: list[Threshold] = []
    if share is not None and above(share, rules.si("edge_strip_share")):
        thresholds.append(rules["edge_strip_share"])
        said.append(f"carries {share:.1f} % of the discharge, above {thresholds[-1].words()}")
    if spacing is not None and gap > rules.si("edge_gap") * spacing * (1 + _ROUNDING):
        thresholds.append(rules["edge_gap"])
        said.append(
            f"is {examined.length(gap)} wide, more than {thresholds[-1].words()} times the median "
            f"spacing, {examined.length(spacing)}"
        )
    if not said:
        return
    place = half_way(examined, *sorted((edge.tape, first.tape)))
    places = () if place is None else (place,)
    heavy = thresholds[0].name == "edge_strip_share"
    severity: Severity = "explain" if heavy and places else "note"
    panel = " with the panel beside it" if heavy else ""
    yield Finding(
        check="Too big a jump from the bank",
        severity=severity,
        found=f"The water from the edge at {examined.at(edge.tape)} to {examined.at(first.tape)}"
        f"{panel} {' and '.join(said)}.",
        advice=f"{add(examined, places, (first.tape,))}.",
        channel=channel.index,
        tapes=(edge.tape, first.tape),
        thresholds=tuple(thresholds),
        places=places_in(channel, places),
    )


def _strip_share(edge: Spot, first: Spot) -> float | None:
    """Return the percent that the panels of the edge and of the vertical beside it carry."""
    if edge.share is None or first.share is None:
        return None
    return abs(edge.share) + abs(first.share)


def _spacing(channel: ExaminedChannel) -> float | None:
    """Return the median distance between the verticals, those to the ends left out, m."""
    first, last = (channel.across[i].ends_water for i in (0, -1))
    inner = channel.across[first : len(channel.across) - last]
    gaps = [b.tape_m - a.tape_m for a, b in pairwise(inner)]
    return median(gaps) if len(gaps) >= _FEWEST_DISTANCES else None


CHECKS = (
    Check(
        name="Too big a jump from the bank",
        trigger="The panels of an edge and of the vertical beside it carry too much of the "
        "discharge (explain), or their distance is far above the median spacing of the other "
        "verticals (note).",
        severities=("explain", "note"),
        remedy="Add a vertical nearer to the bank.",
        source="British Columbia manual, 1998, D.3.2: first and last verticals as close to the "
        "edges as can be",
        find=_big_jump,
        thresholds=("edge_strip_share", "edge_gap", "spacing_least", "spacing_least_large"),
        wades=True,
    ),
)
