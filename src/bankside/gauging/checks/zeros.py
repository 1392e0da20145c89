"""Zeros among water that moves, and among water that is deep: read, or not measured at all?"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

import attrs

from bankside.gauging.checks.examined import Examined, ExaminedChannel, Spot
from bankside.gauging.checks.finding import Check, Finding, Severity, Suspect

__all__ = ["CHECKS", "stands_still", "zero_alone"]

_CLEARLY = 3.0
"""From so many times the slowest velocity that a meter can tell on, water clearly moves (ours)."""
_AT_BANK = 3
"""So many zeros in a row at a bank are more than its own still water (ours)."""
_MANY = 4
"""So many zeros in a channel are told even where no water beside them clearly moves (ours)."""


@attrs.frozen
class _Run:
    """Zeros in a row, with the verticals before and after them, None at the end of the tape."""

    before: Spot | None
    zeros: tuple[Spot, ...]
    after: Spot | None


def stands_still(spot: Spot) -> bool:
    """Return whether there is water whose velocity was written down as 0, and nothing else."""
    return bool(spot.depth_m and spot.points) and not any(spot.points.values())


def zero_alone(channel: ExaminedChannel) -> list[Spot]:
    """Return the verticals with a depth of 0 between two with water, not marked edge or dry.

    Where several are dry side by side, or one is marked, the crew saw an island.
    """
    spots = [spot for spot in channel.across if spot.depth_m is not None]
    return [
        here
        for before, here, after in zip(spots, spots[1:], spots[2:], strict=False)
        if before.depth_m and after.depth_m and _called_zero(here)
    ]


def _called_zero(spot: Spot) -> bool:
    return spot.depth_m == 0 and spot.vertical.edge is None and not spot.vertical.dry


def _still(examined: Examined) -> Iterator[Finding]:
    for channel in examined.channels:
        runs = list(_runs(channel))
        asked = [run for run in runs if _odd(run, _clear(examined))]
        if _nothing_moves(channel):
            asked = runs
        if asked:
            yield _zero_velocities(examined, asked, "explain")
        left = [run for run in runs if run not in asked]
        if sum(len(run.zeros) for run in left) >= _MANY:
            yield _zero_velocities(examined, left, "note")


def _nothing_moves(channel: ExaminedChannel) -> bool:
    """Return whether several velocities were written down, and every one of them is 0."""
    read = [spot for spot in channel.between if spot.depth_m and spot.points]
    return len(read) >= _AT_BANK and all(map(stands_still, read))


def _clear(examined: Examined) -> float:
    meter = examined.gauging.meter
    if meter is not None and meter.slowest is not None:
        return _CLEARLY * meter.slowest * examined.metres_per_second
    return _CLEARLY * examined.rules.si("slowest")


def _runs(channel: ExaminedChannel) -> Iterator[_Run]:
    """Yield the runs of zeros, edges and what has no velocity left out of them."""
    spots = [s for s in channel.across if s.ends_water or s.velocity_ms is not None]
    start = 0
    for zero, group in groupby(spots, key=lambda s: s.vertical.edge is None and stands_still(s)):
        zeros = tuple(group)
        end = start + len(zeros)
        if zero:
            before = spots[start - 1] if start else None
            yield _Run(before, zeros, spots[end] if end < len(spots) else None)
        start = end


def _odd(run: _Run, clear: float) -> bool:
    """Return whether water clearly moves on both sides; of many zeros at a bank, on the other."""
    sides = [side for side in (run.before, run.after) if side is not None]
    moving = [side for side in sides if not side.ends_water]
    wanted = 1 if len(run.zeros) >= _AT_BANK and len(sides) == 2 else 2
    return len(moving) >= wanted and all(abs(side.velocity_ms or 0.0) > clear for side in moving)


def _zero_velocities(examined: Examined, runs: Sequence[_Run], severity: Severity) -> Finding:
    zeros = [spot for run in runs for spot in run.zeros]
    tapes = tuple(spot.tape for spot in zeros)
    where = examined.at(*tapes)
    sides = [side for run in runs for side in (run.before, run.after) if side is not None]
    moves = severity == "explain" and any(side.velocity_ms for side in sides)
    beside = "though the water beside it moves" if moves else "though there is water"
    return Finding(
        check="Zero where water moves",
        severity=severity,
        found=f"The velocity at {where} is 0, {beside}.",
        advice=f"At {where}, was it 0, was it not measured, or did the rotor not turn? Write down "
        "which, and leave empty what was not measured.",
        channel=zeros[0].channel,
        tapes=tapes,
        thresholds=(examined.rules["slowest"],),
        suspect=Suspect(zeros[0].index, "velocity", 0) if severity == "explain" else None,
    )


def _no_depth(examined: Examined) -> Iterator[Finding]:
    least = examined.rules["depth_slip_least"]
    for channel in examined.channels:
        wet = [spot for spot in channel.across if spot.depth_m]
        for zero in zero_alone(channel):
            beside = [
                next(s for s in reversed(wet) if s.tape_m <= zero.tape_m),
                next(s for s in wet if s.tape_m >= zero.tape_m),
            ]
            if all((spot.depth_m or 0.0) > least.si for spot in beside):
                at = examined.at(zero.tape)
                yield Finding(
                    check="Zero where it is deep",
                    severity="explain",
                    found=f"The depth at {at} is 0, though both neighbours are deeper than "
                    f"{examined.limit(least)}.",
                    advice=f"At {at}, was it 0, or was it not measured? Mark what is dry there as "
                    "dry, and leave empty what was not measured.",
                    channel=zero.channel,
                    tapes=(zero.tape,),
                    thresholds=(least,),
                    suspect=Suspect(zero.index, "depth"),
                )


def _no_water(examined: Examined) -> Iterator[Finding]:
    """Yield one finding a channel: a velocity can be read in water only."""
    for channel in examined.channels:
        odd = [s for s in channel.across if _called_zero(s) and any(s.points.values())]
        if odd:
            tapes = tuple(spot.tape for spot in odd)
            at = examined.at(*tapes)
            yield Finding(
                check="Velocity where no depth is",
                severity="fix now",
                found=f"At {at} a velocity was read and the depth is 0, so that nothing flows "
                "there in the figure.",
                advice=f"Ask what the depth at {at} was, and write it down; leave the velocity "
                "empty where there is no water.",
                channel=channel.index,
                tapes=tapes,
                suspect=Suspect(odd[0].index, "depth"),
            )


CHECKS = (
    Check(
        name="Zero where water moves",
        trigger="A velocity of 0 in water stands between velocities above 3 times the slowest that "
        "the meter can tell, or three and more stand between such a one and a bank, or all of "
        "several are 0 (explain); or there are four and more others (note). Once for all of a "
        "channel.",
        severities=("explain", "note"),
        remedy="Say whether it was 0, not measured, or the rotor did not turn.",
        source="common practice, no source",
        find=_still,
        thresholds=("slowest",),
    ),
    Check(
        name="Zero where it is deep",
        trigger="A single depth of 0, marked neither edge nor dry, stands between two that are "
        "clearly deeper.",
        severities=("explain",),
        remedy="Say whether it was dry or not measured.",
        source="common practice, no source",
        find=_no_depth,
        thresholds=("depth_slip_least",),
    ),
    Check(
        name="Velocity where no depth is",
        trigger="A velocity other than 0 stands beside a depth of 0, at no edge of water.",
        severities=("fix now",),
        remedy="Write down the depth, or leave the velocity empty.",
        source="a contradiction; no source needed",
        find=_no_water,
    ),
)
