"""Which gaugings of a table cannot be worked out, and why: the kernel sees none of these."""

from __future__ import annotations

import math

from bankside.bulk.columns import Columns, Read, Stations, Whole
from bankside.bulk.compiled import compiled

__all__ = ["SOUND", "find_faults", "find_unread", "sentence"]

SOUND = 0
_TOO_FEW, _NO_CHANNEL, _NOT_FINITE, _BACKWARDS, _NEGATIVE, _UNREAD, _POINTS = range(1, 8)


def _find_faults(first: int, last: int, stations: Stations, fault: Whole, where: Whole) -> None:
    """Fill in the first fault of each gauging, and the station or the channel that has it."""
    tape, depth, velocity = stations.tape, stations.depth, stations.velocity
    for k in range(first, last):
        fault[k], where[k] = SOUND, stations.starts[k]
        start = stations.starts[k]
        for c in range(stations.channels[k], stations.channels[k + 1]):
            stop = start + stations.counts[c]
            if stations.counts[c] < 2:
                fault[k], where[k] = _TOO_FEW, c
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
                    if stations.measured[j]:
                        unread = stop
                if depth[j] == 0.0 or j == stop - 1:
                    if 0 <= unread < stop:
                        fault[k], where[k] = _UNREAD, unread
                        break
                    unread = -1
            if fault[k] != SOUND:
                break
            start = stop
        if stations.channels[k] == stations.channels[k + 1]:
            fault[k] = _NO_CHANNEL


def _find_unread(
    first: int, last: int, stations: Stations, read: Read, fault: Whole, where: Whole
) -> None:
    """Fill in where it is odd how a velocity was read; said is all of it or, as NaN, nothing."""
    points, meter, exposure = read.points, read.meter_percent, read.exposure_percent
    for k in range(first, last):
        for j in range(stations.starts[k], stations.starts[k + 1]):
            unsaid = math.isnan(points[j]) and math.isnan(meter[j]) and math.isnan(exposure[j])
            sound = (
                points[j] >= 1.0 and 0.0 <= meter[j] < math.inf and 0.0 <= exposure[j] < math.inf
            )
            if fault[k] == SOUND and not (unsaid or sound):
                fault[k], where[k] = _POINTS, j


find_faults = compiled(_find_faults)
find_unread = compiled(_find_unread)


def sentence(columns: Columns, fault: int, at: int) -> str:
    """Return what is wrong at a station or in a channel: what was found, what would be right."""
    words = {
        _TOO_FEW: _too_few,
        _NO_CHANNEL: _no_channel,
        _NOT_FINITE: _not_finite,
        _BACKWARDS: _backwards,
        _NEGATIVE: _negative,
        _UNREAD: _unread,
        _POINTS: _points,
    }
    return words[fault](columns, at)


def _too_few(columns: Columns, channel: int) -> str:
    return f"each channel must have at least two verticals (found {columns.counts[channel]})"


def _no_channel(columns: Columns, at: int) -> str:
    return "a gauging must have at least one channel (found none)"


def _not_finite(columns: Columns, at: int) -> str:
    """Return which column says nothing, or something infinite, of a vertical."""
    names = ("tape_m", "depth_m", "velocity_ms")
    name = next(name for name in names if not math.isfinite(getattr(columns, name)[at]))
    found = _shown(getattr(columns, name)[at])
    dry = ", 0 where there is no water" if name != "tape_m" else ""
    return f"{name} must be a number at every vertical{dry} (found {found} at {_at(columns, at)})"


def _backwards(columns: Columns, at: int) -> str:
    tape = columns.tape_m
    return (
        "tape_m must increase from vertical to vertical "
        f"(found {_shown(tape[at])} after {_shown(tape[at - 1])})"
    )


def _negative(columns: Columns, at: int) -> str:
    found = _shown(columns.depth_m[at])
    return f"depth_m must not be below 0 (found {found} at {_at(columns, at)})"


def _unread(columns: Columns, at: int) -> str:
    return (
        "velocity must be measured at least once in every stretch of water between banks or "
        f"dry places (found none from {_at(columns, at)} on)"
    )


def _points(columns: Columns, at: int) -> str:
    read = columns.read
    assert read is not None  # only what is said of readings can be odd
    found = ", ".join(
        _shown(column[at]) for column in (read.points, read.meter_percent, read.exposure_percent)
    )
    return (
        "points must be 1 or more, meter_percent and exposure_percent not below 0 "
        f"(found {found} at {_at(columns, at)})"
    )


def _at(columns: Columns, at: int) -> str:
    """Return which vertical a station is: "vertical 2 of 3, tape_m 1.5"."""
    k = int(columns.starts.searchsorted(at, "right")) - 1
    start, stop = int(columns.starts[k]), int(columns.starts[k + 1])
    tape = columns.tape_m[at]
    known = f", tape_m {_shown(tape)}" if math.isfinite(tape) else ""
    return f"vertical {at - start + 1} of {stop - start}{known}"


def _shown(value: float) -> str:
    return "no value" if math.isnan(value) else f"{value:.10g}"
