"""Whole columns in another unit than the sheet says, seen without any other gauging.

A velocity in the wrong unit stays possible water nearly everywhere: only a stream that is fast
already gives it away. A depth in the wrong unit changes the shape of the section.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import sqrt

from bankside.gauging.checks.digits import decimals
from bankside.gauging.checks.examined import Examined
from bankside.gauging.checks.finding import Check, Finding
from bankside.gauging.checks.spots import channel_of, channels_of, in_words, tapes_of
from bankside.gauging.rounding import to_figures
from bankside.gauging.units import metres_per

__all__ = ["CHECKS"]

_GRAVITY = 9.81
_FAST, _VERY_FAST = 0.35, 0.5
"""Froude number of a whole section from which the unit of velocity is asked for, by a note (ours:
riffles have it), and from which the answer has to be written down (ours: of 94 sections of a
published survey 2 are so fast as filed, and 31 with velocities in feet taken for metres)."""
_NARROWEST, _WIDEST = 9.0, 150.0
"""Width over mean depth that streams waded seldom leave (ours)."""
_TRENCH = 8.0
"""Width over mean depth below which a section has to be explained (ours: of 94 sections of a
published survey 1 is so narrow as filed, and 58 with depths in metres taken for feet)."""
_METRIC, _FEET = ("cm", "mm", "m"), ("in", "ft")
_INCHES_COUNT = 8
_MOST_INCHES = 11


def _froude(depth: float, velocity: float) -> float:
    return abs(velocity) / sqrt(_GRAVITY * depth)


def _velocity_unit(examined: Examined) -> Iterator[Finding]:
    limit, count = examined.rules["froude"], examined.rules["froude_verticals"]
    fast = [
        spot
        for spot in examined.spots
        if spot.depth_m
        and spot.velocity_ms is not None
        and _froude(spot.depth_m, spot.velocity_ms) > limit.si
    ]
    unit = examined.gauging.units.velocity
    advice = f"From the bank, look at the unit that the meter shows: is it {unit}?"
    if len(fast) >= count.si:
        yield Finding(
            check="Velocity unit wrong",
            severity="fix now",
            found=f"At {in_words(examined, fast)} the water would run faster than its waves: the "
            f"Froude number is above {limit.words()}.",
            advice=f"Come out. {advice} Go back to {in_words(examined, fast)} only if it is not.",
            channel=channel_of(fast),
            channels=channels_of(fast),
            tapes=tapes_of(fast),
            thresholds=(limit, count),
        )
        return
    result = examined.result
    if result is None or result.mean_velocity_ms is None or not result.mean_depth_m:
        return
    number = _froude(result.mean_depth_m, result.mean_velocity_ms)
    if number > _FAST:
        yield Finding(
            check="Velocity unit wrong",
            severity="explain" if number > _VERY_FAST else "note",
            found=f"The water is fast for its depth: {examined.velocity(result.mean_velocity_ms)} "
            f"at a mean depth of {examined.depth(result.mean_depth_m)}, a Froude number of "
            f"{to_figures(number, 2)}.",
            advice=advice,
        )


def _depth_unit(examined: Examined) -> Iterator[Finding]:
    result = examined.result
    if not examined.finished or result is None or not result.mean_depth_m:
        return
    shape = result.width_m / result.mean_depth_m
    if _NARROWEST <= shape <= _WIDEST:
        return
    unit = _likeliest_unit(examined, shape)
    yield Finding(
        check="Depth unit wrong",
        severity="note" if _TRENCH <= shape < _NARROWEST else "explain",
        found=f"The section is {examined.length(result.width_m)} wide and "
        f"{examined.depth(result.mean_depth_m)} deep in the mean: {shape:.3g} times as wide as "
        "deep.",
        advice="Look at the scale of the rod and at the edges of water."
        if unit is None
        else f"Look at the scale of the rod: is its unit {unit}, not {examined.depth_unit}?",
    )


def _likeliest_unit(examined: Examined, shape: float) -> str | None:
    """Return the unit in which the depths make a usual shape, one of the same system first."""
    here = examined.depth_metres
    units = _METRIC + _FEET if examined.depth_unit in _METRIC else _FEET + _METRIC
    for unit in units:
        if _NARROWEST <= shape * here / metres_per(unit) <= _WIDEST and metres_per(unit) != here:
            return unit
    return None


def _inches(examined: Examined) -> Iterator[Finding]:
    if examined.depth_unit != "ft":
        return
    depths = [s.vertical.depth for s in examined.spots if s.vertical.depth]
    if len(depths) < _INCHES_COUNT or decimals(depths) != 2 or max(depths) < 1:
        return
    hundredths = [round(depth % 1 * 100) for depth in depths]
    if max(hundredths) <= _MOST_INCHES and len(set(hundredths)) > 2:
        yield Finding(
            check="Inches, not tenths",
            severity="fix now",
            found=f"None of {len(depths)} depths has more than {_MOST_INCHES} hundredths of a "
            "foot: they look like feet and inches.",
            advice="Look at the scale of the rod; 1 ft 7 in is 1.58 ft.",
        )


CHECKS = (
    Check(
        name="Velocity unit wrong",
        trigger="The Froude number is above the limit at several verticals (fix now); in the mean "
        "of the section it is above 0.5 (explain) or 0.35 (note: riffles have that).",
        severities=("fix now", "explain", "note"),
        remedy="Look at the unit that the meter shows, from the bank, before anybody goes back.",
        source="common practice, no source; ft/s taken for m/s change the discharge by 228 % "
        "(computed)",
        find=_velocity_unit,
        thresholds=("froude", "froude_verticals"),
    ),
    Check(
        name="Depth unit wrong",
        trigger="The section is more than 150 or less than 8 times as wide as it is deep "
        "(explain), or less than 9 times (note).",
        severities=("explain", "note"),
        remedy="Look at the scale of the rod.",
        source="common practice, no source",
        find=_depth_unit,
    ),
    Check(
        name="Inches, not tenths",
        trigger="Of eight depths in feet or more, none has more than 11 hundredths.",
        severities=("fix now",),
        remedy="Look at the scale of the rod and convert.",
        source="common practice, no source; inches taken for tenths change the discharge by 10 % "
        "(7 to 20, computed)",
        find=_inches,
    ),
)
