"""Velocities that fit their neighbours by amount, and have the wrong sign."""

from __future__ import annotations

from collections.abc import Iterator

import attrs

from bankside.gauging.checks.examined import Examined, ExaminedChannel, Spot
from bankside.gauging.checks.expected import VELOCITIES, Expected, Place, expectations
from bankside.gauging.checks.finding import Check, Finding, Severity, Suspect
from bankside.gauging.checks.forward import forward_or_dry, mean_with, runs_back, runs_forward
from bankside.gauging.checks.slip_severity import around

__all__ = ["CHECKS"]

_FITS, _FITS_WELL = 1.5, 1.0
"""How many spreads an amount may be off to be asked about, and to be held for a slip (ours)."""
_CLEARLY = 3.0
"""From so many times the slowest velocity that a meter can tell on, a sign is no chance (ours)."""


@attrs.frozen
class _Turned:
    """A reading with the other sign, the mean of its vertical then, and what was expected there."""

    reading: int
    figure: float
    mean: float
    expected: Expected


def _wrong_sign(examined: Examined) -> Iterator[Finding]:
    for channel in examined.channels:
        for spot in channel.across:
            beside = around(channel.across, spot, 1)
            if not runs_back(spot) or len(beside) < 2 or not all(map(runs_forward, beside)):
                continue
            fits = [t for t in _turned(examined, channel, spot) if abs(_off(t)) <= _FITS]
            if fits:
                best = min(fits, key=lambda turned: abs(_off(turned)))
                yield _finding(examined, channel, spot, best)


def _turned(examined: Examined, channel: ExaminedChannel, spot: Spot) -> Iterator[_Turned]:
    """Yield every negative reading of a vertical with the other sign, clearly moving by then."""
    others = forward_or_dry(channel)
    spots = [s for s in channel.across if s is spot or s in others]
    here = spots.index(spot)
    for index, reading in enumerate(spot.vertical.velocity):
        if reading.value is None or reading.value >= 0:
            continue
        mean = mean_with(examined, spot, index, -reading.value)
        if mean is None or mean <= examined.rules.si("slowest"):
            continue
        values = [mean if s is spot else s.velocity_ms or 0.0 for s in spots]
        places = [Place(s.tape_m, v, s.depth_m == 0) for s, v in zip(spots, values, strict=True)]
        expected = expectations(VELOCITIES, places)[here]
        if expected is not None:
            yield _Turned(index, -reading.value, mean, expected)


def _off(turned: _Turned) -> float:
    return turned.expected.off(turned.mean)


def _severity(
    examined: Examined, channel: ExaminedChannel, spot: Spot, turned: _Turned
) -> Severity:
    """Return fix now where two on each side run downstream, and the amount is right and clear."""
    near = around(channel.across, spot, 2)
    clear = turned.mean > _CLEARLY * examined.rules.si("slowest")
    lone = len(near) == 4 and all(map(runs_forward, near))
    return "fix now" if lone and clear and abs(_off(turned)) <= _FITS_WELL else "explain"


def _finding(examined: Examined, channel: ExaminedChannel, spot: Spot, turned: _Turned) -> Finding:
    at, unit = examined.at(spot.tape), examined.gauging.units.velocity
    return Finding(
        check="Sign looks wrong",
        severity=_severity(examined, channel, spot, turned),
        found=f"The velocity at {at}, {-turned.figure:.10g} {unit}, fits its neighbours but for "
        f"its sign; did you mean {turned.figure:.10g} {unit}?",
        advice=f"See which way the water runs at {at}, and how the meter was held.",
        channel=spot.channel,
        tapes=(spot.tape,),
        instead=turned.figure,
        suspect=Suspect(spot.index, "velocity", turned.reading),
        thresholds=(examined.rules["slowest"],),
    )


CHECKS = (
    Check(
        name="Sign looks wrong",
        trigger="A velocity is negative between two that are not, and its amount fits them "
        "(explain); with two on each side that run downstream, and well (fix now).",
        severities=("fix now", "explain"),
        remedy="See which way the water runs, and how the meter was held.",
        source="common practice, no source",
        find=_wrong_sign,
        thresholds=("slowest",),
        wades=True,
    ),
)
