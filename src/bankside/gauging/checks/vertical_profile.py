"""Whether the meter was held where the depth asks for it: one point, two points, half the depth."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from bankside.gauging.checks.examined import Examined, Spot
from bankside.gauging.checks.finding import Check, Finding
from bankside.gauging.checks.spots import channel_of, channels_of, in_words, tapes_of
from bankside.gauging.records import PointReading
from bankside.gauging.rod import ABOVE_BED, two_points_from
from bankside.kernel.limits import above, below

__all__ = ["CHECKS"]

# A lone reading at the surface is another method, not one point where two are needed.
_LONE_POINTS = ({0.2}, {0.5}, {0.6})


def _one_point(examined: Examined) -> Iterator[Finding]:
    meter = examined.gauging.meter
    small = meter is not None and meter.rotor == "small"
    limit = two_points_from(examined.rules, "small" if small else None)
    deep = [
        spot
        for spot in examined.spots
        if spot.depth_m is not None
        and not below(spot.depth_m, limit.si)
        and set(spot.points) in _LONE_POINTS
    ]
    if deep:
        rotor = " with a small rotor" if small else ""
        yield Finding(
            check="One reading where two are needed",
            severity="explain",
            found=f"One velocity was read where the water is {examined.limit(limit)} deep or "
            f"more, from which two are read{rotor}: at {_depths(examined, deep)}.",
            advice=f"Read at 0.2 and 0.8 of the depth at {in_words(examined, deep)}.",
            channel=channel_of(deep),
            channels=channels_of(deep),
            tapes=tapes_of(deep),
            thresholds=(limit,),
        )


def _odd_pair(examined: Examined) -> Iterator[Finding]:
    ratio = examined.rules["pair_ratio"]
    odd = [
        spot
        for spot in examined.spots
        if {0.2, 0.8} <= set(spot.points) and 0.6 not in spot.points and _is_odd(spot, ratio.si)
    ]
    if odd:
        pairs = "; ".join(
            f"{examined.velocity(spot.points[0.2])} over {examined.velocity(spot.points[0.8])} at "
            f"{in_words(examined, [spot], odd)}"
            for spot in odd
        )
        yield Finding(
            check="Odd pair of velocities",
            severity="explain",
            found="The velocity at 0.2 of the depth is less than that at 0.8, or more than "
            f"{ratio.words()} times as much: {pairs}.",
            advice=f"Read at 0.6 of the depth as well at {in_words(examined, odd)}: the three "
            "points then make the mean.",
            channel=channel_of(odd),
            channels=channels_of(odd),
            tapes=tapes_of(odd),
            thresholds=(ratio,),
        )


def _is_odd(spot: Spot, ratio: float) -> bool:
    """Return whether a pair is odd, as it runs downstream or, both points together, upstream."""
    upper, lower = spot.points[0.2], spot.points[0.8]
    if upper <= 0 and lower <= 0:
        upper, lower = -upper, -lower
    return upper < lower or (upper > 0 and (lower <= 0 or above(upper / lower, ratio)))


def _half_depth(examined: Examined) -> Iterator[Finding]:
    limit = examined.rules["half_depth_below"]
    shallow = [
        spot
        for spot in examined.spots
        if set(spot.points) == {0.6}
        and spot.depth_m is not None
        and spot.depth_m > 0
        and below(spot.depth_m, limit.si)
    ]
    if shallow:
        yield Finding(
            check="Half depth is due",
            severity="note",
            found="The velocity was read at 0.6 where the water is less than "
            f"{examined.limit(limit)} deep: at {_depths(examined, shallow)}.",
            advice=f"Read at half the depth at {in_words(examined, shallow)}.",
            channel=channel_of(shallow),
            channels=channels_of(shallow),
            tapes=tapes_of(shallow),
            thresholds=(limit,),
        )


def _rod(examined: Examined) -> Iterator[Finding]:
    share, length = examined.rules["rod_setting_share"], examined.rules["rod_setting"]
    for spot in examined.spots:
        for reading in spot.vertical.velocity:
            mark = _mark(spot, reading)
            setting = reading.rod_setting
            if mark is None or setting is None:
                continue
            off = abs(setting - mark) * examined.depth_metres
            allowed = max(length.si, share.si / 100 * mark * examined.depth_metres)
            if above(off, allowed):
                unit = examined.depth_unit
                yield Finding(
                    check="Rod set wrongly",
                    severity="explain",
                    found=f"At {examined.at(spot.tape)} the rod was set to {setting:g} {unit} for "
                    f"{reading.fraction:g} of a depth of {spot.vertical.depth:g} {unit}; its mark "
                    f"is {mark:.4g} {unit}, and it is off by more than {examined.limit(length)} "
                    f"and {share.words()}.",
                    advice=f"Set the rod to {mark:.4g} {unit} and read again at "
                    f"{examined.at(spot.tape)}.",
                    channel=spot.channel,
                    tapes=(spot.tape,),
                    thresholds=(share, length),
                    instead=round(mark, 9),
                )


def _mark(spot: Spot, reading: PointReading) -> float | None:
    """Return what a top-setting rod is set to for a reading, in the unit of depth.

    The scale reads the depth for 0.6, half of it for 0.8 and twice of it for 0.2.
    """
    if reading.fraction is None or not spot.vertical.depth:
        return None
    return (1 - reading.fraction) * spot.vertical.depth / float(ABOVE_BED)


def _depths(examined: Examined, spots: Sequence[Spot]) -> str:
    return ", ".join(
        f"{in_words(examined, [spot], spots)} ({examined.depth(spot.depth_m or 0)})"
        for spot in spots
    )


CHECKS = (
    Check(
        name="One reading where two are needed",
        trigger="One velocity, at a known fraction below the surface, where the water is as deep "
        "as the limit for the rotor or deeper. Nothing is said of a mean velocity without points.",
        severities=("explain",),
        remedy="Read at 0.2 and 0.8 of the depth.",
        source="US Army coastal and hydraulics manual, p. 2.60; CWCB document 55378, p. 17; for "
        "small rotors USGS TWRI 3-A8 (from memory)",
        find=_one_point,
        thresholds=("one_point_deepest", "one_point_deepest_small"),
        wades=True,
    ),
    Check(
        name="Odd pair of velocities",
        trigger="Of two points, the upper velocity is less than the lower, or more than the ratio "
        "times as much, and 0.6 was not read.",
        severities=("explain",),
        remedy="Read at 0.6 as well and take the three-point mean.",
        source="USGS WSP 2175; TM 3-A8 (from memory)",
        find=_odd_pair,
        thresholds=("pair_ratio",),
        wades=True,
    ),
    Check(
        name="Half depth is due",
        trigger="The velocity was read at 0.6 where the water is shallower than the limit.",
        severities=("note",),
        remedy="Read at half the depth.",
        source="stream-flow operating procedure of a Colorado mine permit, 2014, p. 16",
        find=_half_depth,
        thresholds=("half_depth_below",),
        wades=True,
    ),
    Check(
        name="Rod set wrongly",
        trigger="A top-setting rod is off its mark (the depth for 0.6, half of it for 0.8, twice "
        "of it for 0.2) by more than both limits, the length and the percentage of the mark.",
        severities=("explain",),
        remedy="Set it to its mark and read again.",
        source="the marks from memory (common knowledge of the rod); how far off is common "
        "practice, no source",
        find=_rod,
        thresholds=("rod_setting_share", "rod_setting"),
        wades=True,
    ),
)
