"""Depths that their neighbours contradict, and the figure that was probably read."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

import attrs

from bankside.gauging.checks.digits import by_writing, decimals, finer, shifted, swapped
from bankside.gauging.checks.examined import Examined, ExaminedChannel, Spot
from bankside.gauging.checks.expected import (
    DEPTHS,
    Expected,
    Place,
    expectations,
    most_better,
    times_better,
)
from bankside.gauging.checks.finding import Check, Finding, Severity, Suspect
from bankside.gauging.checks.side_by_side import told_apart
from bankside.gauging.checks.slip_severity import LEAST_BETTER, around, as_odd, slip_severity
from bankside.gauging.checks.zeros import stands_still, zero_alone
from bankside.kernel.limits import above, below

__all__ = ["CHECKS"]

_LEAST_READ = 0.005
"""No depth below this (m) is proposed: no rod shows it (ours)."""


@attrs.frozen
class _Suspect:
    """A depth, what was to be expected, the likeliest other figure, by which power of ten."""

    spot: Spot
    expected: Expected
    instead: float
    better: float


def _misread(examined: Examined) -> Iterator[Finding]:
    for channel in examined.channels:
        suspects = told_apart(
            _read(channel),
            lambda spots, of: _suspects(examined, spots, of),
            lambda suspect: suspect.better >= LEAST_BETTER or _sticks_out(examined, suspect),
        )
        for suspect in suspects:
            severity = _severity(channel, suspect, suspects)
            if severity is not None:
                yield _doubt(examined, suspect, severity)
            elif _sticks_out(examined, suspect):
                yield _odd(examined, suspect)


def _severity(
    channel: ExaminedChannel, suspect: _Suspect, others: Sequence[_Suspect]
) -> Severity | None:
    beside = around(channel.across, suspect.spot, 1)
    bank = any(spot.ends_water for spot in beside)
    low = (suspect.spot.depth_m or 0.0) < suspect.expected.low
    # Shallow beside a bank may be its shelf; shallow and still, the top of a stone.
    natural = low and (bank or stands_still(suspect.spot))
    never = natural or _beside_odd(suspect, others, beside)
    return slip_severity(suspect.better, unsure=bank, never=never)


def _beside_odd(suspect: _Suspect, others: Sequence[_Suspect], beside: Sequence[Spot]) -> bool:
    return any(as_odd(other.better, suspect.better) for other in others if other.spot in beside)


def _read(channel: ExaminedChannel) -> list[Spot]:
    # A zero that may not have been measured says nothing about its neighbours.
    unread = zero_alone(channel)
    return [spot for spot in channel.across if spot.depth_m is not None and spot not in unread]


def _suspects(
    examined: Examined, spots: Sequence[Spot], asked: Collection[int]
) -> Iterator[_Suspect]:
    places = [Place(spot.tape_m, spot.depth_m or 0.0, not spot.depth_m) for spot in spots]
    depths = [spot.vertical.depth or 0.0 for spot in spots]
    for index, expected in enumerate(expectations(DEPTHS, places)):
        spot = spots[index]
        if expected is None or spot.vertical.edge is not None or spot.index not in asked:
            continue
        # Whether the bed rises to a bank there cannot be told before the next vertical is called.
        if expected.one_sided and expected.off(places[index].value) <= 0:
            continue
        others = [depth for k, depth in enumerate(depths) if depth and k != index]
        better, instead = _likeliest(expected, depths[index], others, examined.depth_metres)
        yield _Suspect(spot, expected, instead, better)


def _likeliest(
    expected: Expected, depth: float, others: Sequence[float], unit: float
) -> tuple[float, float]:
    """Return by which power of ten the likeliest other figure is likelier, and the figure."""
    found = (0.0, depth)
    # Whatever could not be likelier by enough is not tried: there are many figures to try.
    if most_better(expected, depth * unit) + finer(depth, others) < LEAST_BETTER:
        return found
    for figure in (*shifted(depth), *swapped(depth, decimals((depth, *others)))):
        if figure * unit >= _LEAST_READ and not finer(figure, (depth, *others)):
            better = times_better(expected, figure * unit, depth * unit)
            found = max(found, (better + by_writing(figure, depth, others), figure))
    return found


def _sticks_out(examined: Examined, suspect: _Suspect) -> bool:
    depth, expected = suspect.spot.depth_m or 0.0, suspect.expected
    high, low, least = (
        examined.rules.si(f"depth_slip_{word}") for word in ("high", "low", "least")
    )
    if depth > expected.high:
        return not below(depth, high * expected.high) and above(depth - expected.high, least)
    return not above(depth, low * expected.low) and above(expected.low - depth, least)


def _doubt(examined: Examined, suspect: _Suspect, severity: Severity) -> Finding:
    at, unit = examined.at(suspect.spot.tape), examined.depth_unit
    depth = suspect.spot.depth_m or 0.0
    return Finding(
        check="Depth looks misread",
        severity=severity,
        found=f"The depth at {at}, {examined.depth(depth)}, does not fit its neighbours, "
        f"which suggest {suspect.expected.words(examined.depth_metres, unit)}; did you mean "
        f"{suspect.instead:.10g} {unit}?",
        advice=f"Ask what was called; if that does not settle it, read the depth at {at} again.",
        channel=suspect.spot.channel,
        tapes=(suspect.spot.tape,),
        instead=suspect.instead,
        suspect=Suspect(suspect.spot.index, "depth"),
    )


def _odd(examined: Examined, suspect: _Suspect) -> Finding:
    at = examined.at(suspect.spot.tape)
    depth = suspect.spot.depth_m or 0.0
    names = ("depth_slip_high" if depth > suspect.expected.high else "depth_slip_low",)
    span = suspect.expected.words(examined.depth_metres, examined.depth_unit)
    thresholds = tuple(examined.rules[name] for name in (*names, "depth_slip_least"))
    return Finding(
        check="Depth looks misread",
        severity="explain",
        found=f"The depth at {at}, {examined.depth(depth)}, is {thresholds[0].words()} times "
        f"what its neighbours suggest ({span}), or further off.",
        advice=f"Read the depth at {at} again; if it is real, note the hole or the stone.",
        channel=suspect.spot.channel,
        tapes=(suspect.spot.tape,),
        thresholds=thresholds,
    )


CHECKS = (
    Check(
        name="Depth looks misread",
        trigger="A depth lies outside what the neighbours suggest, and with its point moved or two "
        "digits changed about it would be 2.5 times likelier (explain) or 20 times (fix now; 90 "
        "times beside a bank; never beside another odd depth, where it is shallow beside a bank, "
        "or over a stone, with a velocity of 0); or it lies outside by the factors of the rule set "
        "(explain). Two side by side do not count as neighbours of those beside them where each, "
        "without the other, would be 20 times likelier as another figure, and nothing on the other "
        "side of those is odd then; not where more than 12 are odd.",
        severities=("fix now", "explain"),
        remedy="Read the depth again.",
        source="common practice, no source; a depth ten times too large changes the discharge by "
        "60 % (22 to 93), ten times too small by −6 % (computed)",
        find=_misread,
        thresholds=("depth_slip_high", "depth_slip_low", "depth_slip_least"),
        wades=True,
    ),
)
