"""Whether the depths follow the bed closely enough to join them by straight lines."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from bankside.gauging.checks.adding import add, half_way, places_in
from bankside.gauging.checks.examined import Examined, ExaminedChannel
from bankside.gauging.checks.finding import Check, Finding
from bankside.kernel.limits import bed_change, clearly_above
from bankside.kernel.section import section_area

__all__ = ["CHECKS"]


def _not_resolved(examined: Examined) -> Iterator[Finding]:
    if not examined.finished or examined.result is None:
        return
    limit = examined.rules["bed_area"]
    for channel in examined.channels:
        tape = [spot.tape_m for spot in channel.across]
        # Where there is a result every depth is known; 0 is for the type checker.
        depth = [spot.depth_m or 0.0 for spot in channel.across]
        area = section_area(tape, depth)
        if not area > 0:
            continue
        for i, (a, b) in enumerate(pairwise(channel.across)):
            change = bed_change(tape, depth, i)
            percent = 100 * abs(change) / area
            if clearly_above(percent, limit.si):
                yield _finding(examined, channel, (a.tape, b.tape), change, percent)


def _finding(
    examined: Examined,
    channel: ExaminedChannel,
    tapes: tuple[float, float],
    change: float,
    percent: float,
) -> Finding:
    place = half_way(examined, *tapes)
    places = () if place is None else (place,)
    more = "more" if change > 0 else "less"
    return Finding(
        check="Bed not resolved",
        severity="explain" if places else "note",
        found=f"Between {examined.at(*tapes)} the depths beside them bend so that one half-way "
        f"would give about {percent:.1f} % {more} area, above "
        f"{examined.rules['bed_area'].words()}.",
        advice=f"{add(examined, places, tapes)}.",
        channel=channel.index,
        tapes=tapes,
        thresholds=(examined.rules["bed_area"],),
        places=places_in(channel, places),
    )


CHECKS = (
    Check(
        name="Bed not resolved",
        trigger="One more depth half-way between two verticals, taken from the parabola through "
        "the depths around, would change the area of the channel too much (explain; note where "
        "there is no room for one).",
        severities=("explain", "note"),
        remedy="Read a depth there.",
        source="USBR Water Measurement Manual, 3rd ed., ch. 10 sec. 15, straight lines between the "
        "depths; the parabola is ours, no source",
        find=_not_resolved,
        thresholds=("bed_area", "spacing_least", "spacing_least_large"),
        wades=True,
    ),
)
