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
from bankside.gauging.checks.finding import SEVERITIES, Check, Finding
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
    chance of about s ln 2 / (2 m), which is less than 1, as m is half a step or more.
    """
    apart = median(abs(b - a) for a, b in pairwise(values)) if len(values) > 1 else 0.0
    return 1.0 if apart == 0 else step(values) * math.log(2) / (2 * apart)


def _depth(spot: Spot) -> float | None:
    return spot.vertical.depth or None


def _velocity(spot: Spot) -> float | None:
    """Return the velocity as called where there is only one, and it is not 0."""
    readings = spot.vertical.velocity
    return (readings[0].value or None) if len(readings) == 1 and spot.depth_m else None


def _again(examined: Examined) -> Iterator[Finding]:
    for channel in examined.channels:
        yield from _again_velocities(examined, channel)
    depths = examined.rules["repeated_depths"]
    for channel in examined.channels:
        yield from _runs(examined, channel, _depth, f"depths {examined.depth_unit}", depths)


def _again_velocities(examined: Examined, channel: ExaminedChannel) -> Iterator[Finding]:
    what = f"velocities {examined.gauging.units.velocity}"
    return _runs(examined, channel, _velocity, what, examined.rules["repeated_velocities"])


def _runs(
    examined: Examined,
    channel: ExaminedChannel,
    value_of: Callable[[Spot], float | None],
    what: str,
    threshold: Threshold,
) -> Iterator[Finding]:
    series = _series(channel, value_of)
    word, _, unit = what.partition(" ")
    for value, spots in series.runs():
        if len(spots) >= threshold.si:
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
        runs = list(_again_velocities(examined, channel))
        for before, here in pairwise(channel.across):
            if _velocity(before) is None or _depth(before) is None:
                continue
            if (_depth(before), _velocity(before)) == (_depth(here), _velocity(here)):
                copy = _copy(examined, before, here, expected)
                if not any(_told_by(run, copy) for run in runs):
                    yield copy


def _told_by(run: Finding, copy: Finding) -> bool:
    """Return whether a run of equal velocities says what a pair within it would say again."""
    milder = SEVERITIES.index(run.severity) > SEVERITIES.index(copy.severity)
    return set(copy.tapes) <= set(run.tapes) and not milder


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
        wades=True,
    ),
    Check(
        name="Same vertical twice",
        trigger="Depth and velocity of a vertical are those of the one before; to be explained "
        "where the section's own differences make that unlikely. A run of equal velocities that is "
        "told already is not told again pair by pair.",
        severities=("explain", "note"),
        remedy="Measure the second vertical again.",
        source="common practice, no source",
        find=_twice,
        wades=True,
    ),
)
