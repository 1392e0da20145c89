"""Whether there are enough verticals."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from bankside.gauging.checks.adding import (
    channel_words,
    largest_gaps,
    least_spacing,
    places_in,
)
from bankside.gauging.checks.examined import Examined, ExaminedChannel, Spot
from bankside.gauging.checks.finding import Check, Finding
from bankside.gauging.rule_sets.rule_set import Threshold

__all__ = ["CHECKS", "is_reading", "verticals_wanted", "water_width"]

# So many places at the most are named at once; the next look names further ones (ours, no source).
_MOST_NAMED = 5
# By what two lengths that are the same on paper may differ, as a part.
_ROUNDING = 1e-9


def _too_few(examined: Examined) -> Iterator[Finding]:
    if not examined.finished:
        return
    width = sum(water_width(channel) for channel in examined.channels)
    wanted, thresholds = verticals_wanted(examined, width)
    count = sum(is_reading(spot) for spot in examined.spots)
    chosen = _chosen(examined, int(wanted) - count)
    if not chosen:
        return
    most = "the discharge is largest" if examined.result else "the gaps are widest"
    room = (
        ""
        if len(thresholds) == 1
        else f", as no closer than {examined.limit(thresholds[1])} is asked"
    )
    yield Finding(
        check="Too few verticals",
        severity="explain",
        found=f"{count} {'vertical was' if count == 1 else 'verticals were'} read in "
        f"{examined.length(width)} of water, fewer than {wanted:g}{room}.",
        advice=f"Add verticals where {most}, first at {_words(examined, chosen)}.",
        thresholds=thresholds,
        places=tuple(place for channel, tapes in chosen for place in places_in(channel, tapes)),
    )


def verticals_wanted(examined: Examined, width_m: float) -> tuple[float, tuple[Threshold, ...]]:
    """Return how many verticals are asked for, and by which thresholds."""
    by_width = examined.rules.get("verticals_by_width")
    if by_width is not None:
        threshold, wanted = by_width, by_width.step_for(width_m)
    else:
        threshold = examined.rules["verticals_least"]
        wanted = threshold.si
    spacing = least_spacing(examined)
    room = width_m / spacing.si * (1 + _ROUNDING) - 1 if spacing.si > 0 else wanted
    return (wanted, (threshold,)) if wanted <= room else (math.floor(room), (threshold, spacing))


def _chosen(examined: Examined, missing: int) -> list[tuple[ExaminedChannel, tuple[float, ...]]]:
    """Return where verticals fit, by channel; nothing where all stand as close as is asked."""
    return [
        (channel, tapes)
        for channel in examined.channels
        if (tapes := largest_gaps(examined, channel, min(missing, _MOST_NAMED)))
    ]


def _words(examined: Examined, chosen: Sequence[tuple[ExaminedChannel, tuple[float, ...]]]) -> str:
    return " and at ".join(
        f"{examined.at(*tapes)}{channel_words(examined, channel)}" for channel, tapes in chosen
    )


def is_reading(spot: Spot) -> bool:
    """Return whether depth and velocity of water were read there."""
    return bool(spot.depth_m) and bool(spot.vertical.velocity)


def water_width(channel: ExaminedChannel) -> float:
    """Return the width of the water, m: without the stretches between two dry verticals."""
    return sum(
        b.tape_m - a.tape_m for a, b in pairwise(channel.across) if a.depth_m != 0 or b.depth_m != 0
    )


CHECKS = (
    Check(
        name="Too few verticals",
        trigger="Fewer verticals with a velocity were read than the rule set asks for, by width "
        "where it says so, and more would fit without coming closer than the least spacing.",
        severities=("explain",),
        remedy="Add verticals where the discharge is largest.",
        source="HYDRO21676, p. 31; ISO 748 by width (from memory)",
        find=_too_few,
        thresholds=(
            "verticals_least",
            "verticals_by_width",
            "spacing_least",
            "spacing_least_large",
        ),
        wades=True,
    ),
)
