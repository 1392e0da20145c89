"""Readings that come again and again: a meter that is stuck, or a line copied down.

How odd a repetition is depends on the section: where neighbours differ by a few of the steps in
which they are read, they will often be equal. The chance of that is taken from the section itself.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from itertools import groupby, pairwise
from statistics import median

import attrs

from bankside.gauging.checks.digits import step
from bankside.gauging.checks.examined import Examined, ExaminedChannel, Spot
from bankside.gauging.checks.finding import Check, Finding
from bankside.gauging.rule_sets.rule_set import Threshold

__all__ = ["CHECKS"]

_RUN_BY_CHANCE, _TWICE_BY_CHANCE = 0.1, 1.0
"""How often a section like this may be expected to show a repetition: to be explained where that
is less often (ours)."""


@attrs.frozen
class _Series:
    """The verticals with a reading, the readings as called, and the chance that two are equal."""

    spots: tuple[Spot, ...]
    values: tuple[float, ...]
    chance: float

    def runs(self) -> Iterator[tuple[float, list[Spot]]]:
        """Yield each value with the verticals in a row that have it."""
        pairs = zip(self.values, self.spots, strict=True)
        for value, group in groupby(pairs, key=lambda pair: pair[0]):
            yield value, [spot for _, spot in group]


def _series(channel: ExaminedChannel, value_of: Callable[[Spot], float | None]) -> _Series:
    read = [(spot, value_of(spot)) for spot in channel.across]
    found = [(spot, value) for spot, value in read if value is not None]
    values = tuple(value for _, value in found)
    return _Series(tuple(spot for spot, _ in found), values, _chance(values))


def _chance(values: Sequence[float]) -> float:
    """Return the chance that neighbours are equal, as their differences and their step let expect.

    Differences that follow Laplace's distribution with the median m fall into one step s with a
    chance of about s ln 2 / (2 m).
    """
    apart = median(abs(b - a) for a, b in pairwise(values)) if len(values) > 1 else 0.0
    return 1.0 if apart == 0 else min(1.0, step(values) * math.log(2) / (2 * apart))


def _depth(spot: Spot) -> float | None:
    return spot.vertical.depth or None


def _velocity(spot: Spot) -> float | None:
    """Return the velocity as called where there is only one, and it is not 0."""
    readings = spot.vertical.velocity
    return (readings[0].value or None) if len(readings) == 1 and spot.depth_m else None


def _again(examined: Examined) -> Iterator[Finding]:
    units = examined.gauging.units
    for word, value_of, name, unit in (
        ("velocities", _velocity, "repeated_velocities", units.velocity),
        ("depths", _depth, "repeated_depths", examined.depth_unit),
    ):
        threshold = examined.rules[name]
        for channel in examined.channels:
            series = _series(channel, value_of)
            for value, spots in series.runs():
                if len(spots) < threshold.si:
                    continue
                expected = len(series.values) * series.chance ** (len(spots) - 1)
                yield _run(examined, spots, f"{word} {value:.10g} {unit}", threshold, expected)


def _run(
    examined: Examined, spots: Sequence[Spot], what: str, threshold: Threshold, expected: float
) -> Finding:
    tapes = tuple(spot.tape for spot in spots)
    kind, _, figure = what.partition(" ")
    return Finding(
        check="Same value again and again",
        severity="explain" if expected < _RUN_BY_CHANCE else "note",
        found=f"The {kind} at {examined.at(*tapes)} are all {figure}.",
        advice=f"Was the meter stuck, or a line copied down? Read {kind} again from "
        f"{examined.at(tapes[1])} on.",
        channel=spots[0].channel,
        tapes=tapes,
        thresholds=(threshold,),
    )


def _twice(examined: Examined) -> Iterator[Finding]:
    for channel in examined.channels:
        depths, velocities = _series(channel, _depth), _series(channel, _velocity)
        expected = len(velocities.values) * depths.chance * velocities.chance
        for before, here in pairwise(channel.across):
            if _velocity(before) is None or _depth(before) is None:
                continue
            if (_depth(before), _velocity(before)) == (_depth(here), _velocity(here)):
                yield _copy(examined, before, here, expected)


def _copy(examined: Examined, before: Spot, here: Spot, expected: float) -> Finding:
    return Finding(
        check="Same vertical twice",
        severity="explain" if expected < _TWICE_BY_CHANCE else "note",
        found=f"Depth and velocity at {examined.at(here.tape)} are those at "
        f"{examined.at(before.tape)}: {_depth(here):.10g} {examined.depth_unit} and "
        f"{_velocity(here):.10g} {examined.gauging.units.velocity}.",
        advice=f"Was the line copied down? Measure at {examined.at(here.tape)} again.",
        channel=here.channel,
        tapes=(before.tape, here.tape),
    )


CHECKS = (
    Check(
        name="Same value again and again",
        trigger="Several velocities in a row, or several depths, are equal; to be explained where "
        "the section's own differences make that unlikely.",
        severities=("explain", "note"),
        remedy="See whether the meter is stuck, or a line was copied down.",
        source="common practice, no source",
        find=_again,
        thresholds=("repeated_velocities", "repeated_depths"),
    ),
    Check(
        name="Same vertical twice",
        trigger="Depth and velocity of a vertical are those of the one before; to be explained "
        "where the section's own differences make that unlikely.",
        severities=("explain", "note"),
        remedy="Measure the second vertical again.",
        source="common practice, no source",
        find=_twice,
    ),
)
