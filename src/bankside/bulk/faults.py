"""Which gaugings of a table cannot be worked out, and why: the kernel sees none of these."""

from __future__ import annotations

import math

from bankside.bulk.columns import Column, Columns, Flags, Whole
from bankside.bulk.compiled import compiled

__all__ = ["SOUND", "find_faults", "find_unread", "sentence"]

SOUND = 0
_TOO_FEW, _NOT_FINITE, _BACKWARDS, _NEGATIVE, _UNREAD, _POINTS = range(1, 7)


def _find_faults(
    first: int,
    last: int,
    starts: Whole,
    channels: Whole,
    counts: Whole,
    tape: Column,
    depth: Column,
    velocity: Column,
    measured: Flags,
    fault: Whole,
    where: Whole,
) -> None:
    """Fill in the first fault of each gauging, and the station of the table that has it."""
    for k in range(first, last):
        fault[k], where[k] = SOUND, starts[k]
        start = starts[k]
        for c in range(channels[k], channels[k + 1]):
            stop = start + counts[c]
            if counts[c] < 2:
                fault[k], where[k] = _TOO_FEW, start
                break
            unread = -1
            for j in range(start, stop):
                # One sum tells of three: what is not finite makes it so.
                if not math.isfinite(tape[j] + depth[j] + velocity[j]) and not (
                    math.isfinite(tape[j])
                    and math.isfinite(depth[j])
                    and math.isfinite(velocity[j])
                ):
                    fault[k], where[k] = _NOT_FINITE, j
                    break
                if depth[j] < 0.0:
                    fault[k], where[k] = _NEGATIVE, j
                    break
                if j > start and not tape[j] > tape[j - 1]:
                    fault[k], where[k] = _BACKWARDS, j
                    break
                # Water in which nothing was read, between dry places or the ends.
                if depth[j] > 0.0:
                    if unread < 0:
                        unread = j
                    if measured[j]:
                        unread = stop
                if depth[j] == 0.0 or j == stop - 1:
                    if 0 <= unread < stop:
                        fault[k], where[k] = _UNREAD, unread
                        break
                    unread = -1
            if fault[k] != SOUND:
                break
            start = stop
        if channels[k] == channels[k + 1]:
            fault[k] = _TOO_FEW


def _find_unread(
    first: int,
    last: int,
    starts: Whole,
    points: Column,
    meter: Column,
    exposure: Column,
    fault: Whole,
    where: Whole,
) -> None:
    """Fill in where it is odd how a velocity was read; said is all of it or, as NaN, nothing."""
    for k in range(first, last):
        for j in range(starts[k], starts[k + 1]):
            unsaid = math.isnan(points[j]) and math.isnan(meter[j]) and math.isnan(exposure[j])
            sound = (
                points[j] >= 1.0 and 0.0 <= meter[j] < math.inf and 0.0 <= exposure[j] < math.inf
            )
            if fault[k] == SOUND and not (unsaid or sound):
                fault[k], where[k] = _POINTS, j


find_faults = compiled(_find_faults)
find_unread = compiled(_find_unread)


def sentence(columns: Columns, fault: int, at: int) -> str:
    """Return what is wrong at a station, what was found and what would be right."""
    if fault == _TOO_FEW:
        return "each channel must have at least two stations"
    if fault == _UNREAD:
        return (
            "velocity must be measured at least once in every stretch of water between banks or "
            f"dry places (got none from tape_m {_shown(columns.tape_m[at])} on)"
        )
    if fault == _POINTS and columns.read is not None:
        read = columns.read
        got = ", ".join(
            _shown(column[at])
            for column in (read.points, read.meter_percent, read.exposure_percent)
        )
        return (
            "points must be 1 or more, meter_percent and exposure_percent not below 0 "
            f"(got {got} at tape_m {_shown(columns.tape_m[at])})"
        )
    found = {
        _NOT_FINITE: ("tape_m, depth_m and velocity_ms must be finite numbers", None),
        _NEGATIVE: ("depth_m must not be below 0", columns.depth_m),
        _BACKWARDS: ("tape_m must increase from station to station", columns.tape_m),
    }
    wanted, values = found[fault]
    if values is None:
        got = ", ".join(
            _shown(column[at]) for column in (columns.tape_m, columns.depth_m, columns.velocity_ms)
        )
        return f"{wanted} (got {got})"
    got = _shown(values[at])
    if fault == _BACKWARDS:
        got += f" after {_shown(values[at - 1])}"
        return f"{wanted} (got {got})"
    return f"{wanted} (got {got} at tape_m {_shown(columns.tape_m[at])})"


def _shown(value: float) -> str:
    return f"{value:.10g}"
