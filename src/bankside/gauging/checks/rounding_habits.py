"""Depths that were rounded further than the rod can be read."""

from __future__ import annotations

from collections.abc import Iterator
from statistics import fmean

from bankside.gauging.checks.digits import decimals, ends_in_0_or_5
from bankside.gauging.checks.examined import Examined
from bankside.gauging.checks.finding import Check, Finding

__all__ = ["CHECKS"]

_COARSE_PART = 0.05
"""The part of the mean depth below which rounding does no harm (ours)."""


def _coarse(examined: Examined) -> Iterator[Finding]:
    share, count = examined.rules["coarse_share"], examined.rules["coarse_count"]
    depths = [spot.vertical.depth for spot in examined.spots if spot.vertical.depth]
    if len(depths) < count.si:
        return
    unit = 1 / 10 ** decimals(depths)
    rounded = sum(ends_in_0_or_5(depth, decimals(depths)) for depth in depths)
    if rounded * 100 <= share.si * len(depths) or 5 * unit < _COARSE_PART * fmean(depths):
        return
    yield Finding(
        check="Rounded too coarse",
        severity="note",
        found=f"{rounded} of {len(depths)} depths end in 0 or 5, read to {5 * unit:.10g} "
        f"{examined.depth_unit}.",
        advice=f"Read the rod to {unit:.10g} {examined.depth_unit}.",
        thresholds=(share, count),
    )


CHECKS = (
    Check(
        name="Rounded too coarse",
        trigger="Of enough depths most end in 0 or 5, and that is coarse beside the mean depth.",
        severities=("note",),
        remedy="Read the rod finer.",
        source="common practice, no source; depths rounded to 0.1 ft change the discharge by "
        "1.5 % (computed)",
        find=_coarse,
        thresholds=("coarse_share", "coarse_count"),
        wades=True,
    ),
)
