"""Velocities that their neighbours contradict, and velocities that nobody wades in."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

import attrs

from bankside.gauging.checks.digits import by_writing, decimals, finer, shifted, swapped
from bankside.gauging.checks.examined import Examined, ExaminedChannel, Spot
from bankside.gauging.checks.expected import (
    VELOCITIES,
    Expected,
    Place,
    expectations,
    most_better,
    times_better,
)
from bankside.gauging.checks.finding import Check, Finding, Severity, Suspect
from bankside.gauging.checks.forward import forward_or_dry, mean_with, runs_back
from bankside.gauging.checks.side_by_side import told_apart
from bankside.gauging.checks.slip_severity import LEAST_BETTER, around, as_odd, slip_severity
from bankside.gauging.checks.zeros import stands_still
from bankside.gauging.rule_sets.rule_set import Threshold

__all__ = ["CHECKS"]

_FEET = 0.3048
_UPSIDE_DOWN = 1.25
"""No figure is proposed that makes deeper water so many times as fast as water above it (ours)."""
_EDDY = 2
"""So many verticals from water that runs upstream an eddy may slow or speed up the water (ours)."""


@attrs.frozen
class _Suspect:
    """A velocity, what was to be expected, the likeliest other figure, by which power of ten."""

    spot: Spot
    expected: Expected
    read: float
    instead: float
    better: float
    reading: int


def _misread(examined: Examined) -> Iterator[Finding]:
    for channel in examined.channels:
        suspects = told_apart(
            forward_or_dry(channel), lambda spots, of: _suspects(examined, spots, of), _is_odd
        )
        for suspect in suspects:
            severity = _severity(channel, suspect, suspects)
            if severity is not None:
                yield _doubt(examined, suspect, severity)


def _is_odd(suspect: _Suspect) -> bool:
    return suspect.better >= LEAST_BETTER


def _severity(
    channel: ExaminedChannel, suspect: _Suspect, others: Sequence[_Suspect]
) -> Severity | None:
    beside = around(channel.across, suspect.spot, 1)
    still = any(spot.ends_water or stands_still(spot) for spot in beside)
    low = (suspect.spot.velocity_ms or 0.0) < suspect.expected.low
    eddy = any(runs_back(spot) for spot in around(channel.across, suspect.spot, _EDDY))
    never = eddy or (low and still) or _beside_odd(suspect, others, beside)
    return slip_severity(suspect.better, unsure=still, never=never)


def _beside_odd(suspect: _Suspect, others: Sequence[_Suspect], beside: Sequence[Spot]) -> bool:
    return any(as_odd(other.better, suspect.better) for other in others if other.spot in beside)


def _suspects(
    examined: Examined, spots: Sequence[Spot], asked: Collection[int]
) -> Iterator[_Suspect]:
    places = [Place(s.tape_m, s.velocity_ms or 0.0, s.depth_m == 0) for s in spots]
    for index, expected in enumerate(expectations(VELOCITIES, places)):
        spot = spots[index]
        if expected is None or spot.index not in asked:
            continue
        if expected.one_sided and expected.off(spot.velocity_ms or 0.0) <= 0:
            continue
        others = [value for k, s in enumerate(spots) if k != index for value in _values(s)]
        options = list(_options(examined, spot, expected, others))
        if options:
            yield max(options, key=lambda option: option.better)


def _values(spot: Spot) -> Iterator[float]:
    """Yield the velocities called at a vertical, without those that are 0."""
    for reading in spot.vertical.velocity:
        if reading.value:
            yield reading.value


def _options(
    examined: Examined, spot: Spot, expected: Expected, others: Sequence[float]
) -> Iterator[_Suspect]:
    """Yield what another figure for one of the readings of a vertical would make of it."""
    for index, reading in enumerate(spot.vertical.velocity):
        if not reading.value:
            continue
        # Whatever could not be likelier by enough is not tried: there are many figures to try.
        most = most_better(expected, spot.velocity_ms or 0.0) + finer(reading.value, others)
        if most < LEAST_BETTER:
            continue
        places = decimals((reading.value, *others))
        other_unit = (round(reading.value * factor, places) for factor in (_FEET, 1 / _FEET))
        for figure in (*shifted(reading.value), *swapped(reading.value, places), *other_unit):
            if not figure or finer(figure, (reading.value, *others)):
                continue
            if _upside_down(spot, index, figure):
                continue
            mean = mean_with(examined, spot, index, figure)
            if mean is not None:
                better = times_better(expected, mean, spot.velocity_ms or 0.0)
                better += by_writing(figure, reading.value, others)
                yield _Suspect(spot, expected, reading.value, figure, better, index)


def _upside_down(spot: Spot, index: int, figure: float) -> bool:
    """Return whether a figure would make deeper water run much faster than water above it."""
    here = spot.vertical.velocity[index].fraction
    for other in spot.vertical.velocity:
        if here is None or other.fraction is None or not other.value or other.fraction == here:
            continue
        deep, high = (figure, other.value) if here > other.fraction else (other.value, figure)
        if deep > _UPSIDE_DOWN * high:
            return True
    return False


def _doubt(examined: Examined, suspect: _Suspect, severity: Severity) -> Finding:
    at, unit = examined.at(suspect.spot.tape), examined.gauging.units.velocity
    span = suspect.expected.words(examined.metres_per_second, unit)
    fast = abs(suspect.spot.velocity_ms or 0.0) > examined.rules.si("velocity_explain")
    return Finding(
        check="Velocity looks misread",
        severity=severity,
        found=f"The velocity at {at}, {suspect.read:.10g} {unit}, does not fit its "
        f"neighbours, which suggest {span}; did you mean {suspect.instead:.10g} {unit}?",
        advice=_first_the_meter(at)
        if fast
        else f"Look at the unit that the meter shows, and measure the velocity at {at} again.",
        channel=suspect.spot.channel,
        tapes=(suspect.spot.tape,),
        instead=suspect.instead,
        suspect=Suspect(suspect.spot.index, "velocity", suspect.reading),
    )


def _first_the_meter(at: str) -> str:
    """Return what to do where the water would be too fast to stand in, were it real."""
    return (
        "Come out. From the bank, look at the unit that the meter shows; go back to "
        f"{at} only if it was the wrong one."
    )


def _too_fast(examined: Examined) -> Iterator[Finding]:
    stop, explain = (examined.rules[f"velocity_{word}"] for word in ("stop", "explain"))
    for channel in examined.channels:
        worst_first = sorted(channel.across, key=_fastest, reverse=True)
        beyond = [spot for spot in worst_first if _fastest(spot) > stop.si]
        below = [spot for spot in worst_first if explain.si < _fastest(spot) <= stop.si]
        if beyond:
            yield _fast(examined, beyond, "stop", stop)
        if below:
            yield _fast(examined, below, "explain", explain)


def _fastest(spot: Spot) -> float:
    return max((abs(velocity) for velocity in spot.points.values()), default=0.0)


def _fast(
    examined: Examined, spots: Sequence[Spot], severity: Severity, threshold: Threshold
) -> Finding:
    tapes = tuple(spot.tape for spot in spots)
    one = len(spots) == 1
    at, fastest = examined.at(*tapes), examined.velocity(_fastest(spots[0]))
    advice = (
        _first_the_meter(at)
        if severity == "stop"
        else f"Before anybody stands at {at} again, look at the unit that the meter shows, from "
        "the bank."
    )
    return Finding(
        check="Faster than plausible",
        severity=severity,
        found=f"The velocity at {at}, {fastest}, is above {examined.limit(threshold)}."
        if one
        else f"The velocities at {at} are above {examined.limit(threshold)}, the first of them "
        f"{fastest}.",
        advice=advice,
        channel=spots[0].channel,
        tapes=tapes,
        thresholds=(threshold,),
    )


CHECKS = (
    Check(
        name="Velocity looks misread",
        trigger="A velocity lies outside what the neighbours suggest, and with its point moved, "
        "two digits changed about or in the other unit it would be 2.5 times likelier (explain) "
        "or 20 times (fix now; 90 times beside a bank or still water; never beside "
        "another odd velocity, for slow water beside a bank or still water, nor within two "
        "verticals of water that runs upstream). Neither zeros nor water that runs "
        "upstream count as neighbours, nor two side by side for those beside them where each, "
        "without the other, would be 20 times likelier as another figure, and nothing on the other "
        "side of those is odd then; not where more than 12 are odd.",
        severities=("fix now", "explain"),
        remedy="Measure the velocity again, and look at the unit that the meter shows.",
        source="common practice, no source",
        find=_misread,
        wades=True,
    ),
    Check(
        name="Faster than plausible",
        trigger="A velocity is above the limit; once for all of a channel, the worst first.",
        severities=("stop", "explain"),
        remedy="Come out; from the bank, look at the unit that the meter shows, and go back only "
        "if it was the wrong one.",
        source="common practice, no source",
        find=_too_fast,
        thresholds=("velocity_stop", "velocity_explain"),
    ),
)
