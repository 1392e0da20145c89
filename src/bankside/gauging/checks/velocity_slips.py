"""Velocities that their neighbours contradict, and velocities that nobody wades in."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import attrs

from bankside.gauging.checks.digits import by_writing, decimals, shifted, swapped
from bankside.gauging.checks.examined import Examined, ExaminedChannel, Spot
from bankside.gauging.checks.expected import (
    VELOCITIES,
    Expected,
    Place,
    expectations,
    times_better,
)
from bankside.gauging.checks.finding import Check, Finding, Severity, Suspect
from bankside.gauging.faults import InputRefused
from bankside.gauging.mean_velocity import mean_velocity

__all__ = ["CHECKS"]

_FIX = 1.3
"""From this power of ten on, by which another figure is likelier, the reading is a slip (ours)."""
_EXPLAIN = 0.4
"""From this power of ten on it has to be explained (ours)."""
_FEET = 0.3048


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
        for suspect in _suspects(examined, channel):
            if suspect.better >= _EXPLAIN:
                yield _doubt(examined, suspect)


def _suspects(examined: Examined, channel: ExaminedChannel) -> Iterator[_Suspect]:
    spots = [s for s in channel.across if s.depth_m == 0 or s.velocity_ms is not None]
    places = [
        Place(s.tape_m, 0.0 if s.depth_m == 0 else s.velocity_ms or 0.0, s.depth_m == 0)
        for s in spots
    ]
    for index, expected in enumerate(expectations(VELOCITIES, places)):
        spot = spots[index]
        if expected is None or spot.velocity_ms is None or spot.velocity_ms <= 0:
            continue
        if expected.one_sided and expected.off(spot.velocity_ms) <= 0:
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
        places = decimals((reading.value, *others))
        other_unit = (round(reading.value * factor, places) for factor in (_FEET, 1 / _FEET))
        for figure in (*shifted(reading.value), *swapped(reading.value, places), *other_unit):
            mean = _mean_with(examined, spot, index, figure) if figure else None
            if mean is not None:
                better = times_better(expected, mean, spot.velocity_ms or 0.0)
                better += by_writing(figure, reading.value, others)
                yield _Suspect(spot, expected, reading.value, figure, better, index)


def _mean_with(examined: Examined, spot: Spot, index: int, figure: float) -> float | None:
    """Return the mean velocity of a vertical (m/s), had one of its readings been another figure."""
    readings = list(spot.vertical.velocity)
    rating = () if examined.gauging.meter is None else examined.gauging.meter.rating
    try:
        readings[index] = attrs.evolve(readings[index], value=figure)
        changed = attrs.evolve(spot.vertical, velocity=tuple(readings))
        return mean_velocity(changed, rating, examined.metres_per_second).value_ms
    except InputRefused:
        return None


def _doubt(examined: Examined, suspect: _Suspect) -> Finding:
    at, unit = examined.at(suspect.spot.tape), examined.gauging.units.velocity
    span = suspect.expected.words(examined.metres_per_second, unit)
    return Finding(
        check="Velocity looks misread",
        severity="fix now" if suspect.better >= _FIX else "explain",
        found=f"The velocity at {at}, {suspect.read:.10g} {unit}, does not fit its "
        f"neighbours, which suggest {span}; did you mean {suspect.instead:.10g} {unit}?",
        advice=f"Measure the velocity at {at} again, and look at the unit that the meter shows.",
        channel=suspect.spot.channel,
        tapes=(suspect.spot.tape,),
        instead=suspect.instead,
        suspect=Suspect(suspect.spot.index, "velocity", suspect.reading),
    )


def _too_fast(examined: Examined) -> Iterator[Finding]:
    stop, explain = (examined.rules[f"velocity_{word}"] for word in ("stop", "explain"))
    for spot in examined.spots:
        fastest = max((abs(v) for v in spot.points.values()), default=0.0)
        if fastest <= explain.si:
            continue
        severity: Severity = "stop" if fastest > stop.si else "explain"
        threshold = stop if severity == "stop" else explain
        yield Finding(
            check="Faster than plausible",
            severity=severity,
            found=f"The velocity at {examined.at(spot.tape)}, {examined.velocity(fastest)}, is "
            f"above {examined.limit(threshold)}.",
            advice=f"Look at the unit that the meter shows and measure at "
            f"{examined.at(spot.tape)} again; if it is real, come out.",
            channel=spot.channel,
            tapes=(spot.tape,),
            thresholds=(threshold,),
        )


CHECKS = (
    Check(
        name="Velocity looks misread",
        trigger="A velocity lies outside what the neighbours suggest, and with its point moved, "
        "two digits changed about or in the other unit it would be 2.5 times likelier (explain) "
        "or 20 times (fix now).",
        severities=("fix now", "explain"),
        remedy="Measure the velocity again, and look at the unit that the meter shows.",
        source="common practice, no source",
        find=_misread,
    ),
    Check(
        name="Faster than plausible",
        trigger="A velocity is above the limit.",
        severities=("stop", "explain"),
        remedy="Look at the unit that the meter shows and measure again; if it is real, come out.",
        source="common practice, no source",
        find=_too_fast,
        thresholds=("velocity_stop", "velocity_explain"),
    ),
)
