"""The verticals of a gauging along the tape, as the page draws and lists them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal
from math import isfinite
from typing import Any

from bankside.bank.standing import Standing
from bankside.gauging.checks.examined import Examined, ExaminedChannel, Spot
from bankside.gauging.faults import InputRefused
from bankside.gauging.rod import rod_points

__all__ = ["figure", "keys_at", "largest_shares", "rod_view", "verticals_view"]

_LARGEST = 3


def figure(tape: float) -> str:
    """Return a tape position as it would be typed: "4.5", "12"."""
    return f"{tape:.10g}"


def verticals_view(standing: Standing, examined: Examined) -> list[dict[str, Any]]:
    """Return the verticals along the tape, channel by channel, in the units called.

    A share and the reach of a panel are told where they are known: shares not before all readings
    are there.
    """
    return [
        _vertical(standing, examined, channel, place)
        for channel in examined.channels
        for place in range(len(channel.across))
    ]


def _vertical(
    standing: Standing, examined: Examined, channel: ExaminedChannel, place: int
) -> dict[str, Any]:
    spot = channel.across[place]
    start, end = _panel(examined, channel, place)
    velocity, measured = _velocity(examined, spot)
    fractions = {r.fraction for r in spot.vertical.velocity if r.fraction is not None}
    return {
        "key": standing.vertical_key(channel.index, spot.index),
        "channel": standing.channel_key(channel.index),
        "tape": spot.tape,
        "depth": 0.0 if spot.vertical.dry else spot.vertical.depth,
        "velocity": velocity,
        "share": spot.share,
        "start": start,
        "end": end,
        "measured": measured,
        "edge": spot.vertical.edge,
        "fractions": sorted(fractions),
        "readings": len(spot.vertical.velocity),
    }


def _velocity(examined: Examined, spot: Spot) -> tuple[float | None, bool]:
    """Return the mean velocity in the unit called, and whether it was read at the vertical."""
    own = spot.velocity_ms
    if own is None and examined.result is not None:
        for vertical in examined.result.verticals:
            if (vertical.channel, vertical.vertical) == (spot.channel, spot.index):
                return _finite(vertical.velocity_ms / examined.metres_per_second), False
    if own is None:
        return None, False
    return _finite(own / examined.metres_per_second), True


def _panel(
    examined: Examined, channel: ExaminedChannel, place: int
) -> tuple[float | None, float | None]:
    """Return from where to where the panel of a vertical reaches: half way to its neighbours."""
    if examined.result is None:
        return None, None
    across = channel.across
    tape = across[place].tape
    before = across[max(place - 1, 0)].tape
    after = across[min(place + 1, len(across) - 1)].tape
    return _finite(before + (tape - before) / 2), _finite(tape + (after - tape) / 2)


def _finite(value: float) -> float | None:
    return value if isfinite(value) else None


def largest_shares(standing: Standing, examined: Examined) -> list[dict[str, Any]]:
    """Return the three verticals whose panels carry most, whichever way the water runs there."""
    told = [(spot, spot.share) for spot in examined.spots if spot.share is not None]
    told.sort(key=lambda pair: -abs(pair[1]))
    return [
        {
            "vertical": standing.vertical_key(spot.channel, spot.index),
            "tape": figure(spot.tape),
            "share": share,
        }
        for spot, share in told[:_LARGEST]
        if share
    ]


def rod_view(standing: Standing, examined: Examined) -> dict[str, list[dict[str, Any]]]:
    """Return the points that each depth asks for, with the settings of the rod, by vertical."""
    return {
        standing.vertical_key(spot.channel, spot.index): points
        for spot in examined.spots
        if spot.vertical.depth and (points := list(_points(standing, examined, spot)))
    }


def _points(standing: Standing, examined: Examined, spot: Spot) -> Iterator[dict[str, Any]]:
    what = standing.what_of(spot.channel, spot.index, "depth")
    meter = examined.gauging.meter
    try:
        points = rod_points(
            Decimal(str(standing.recorded.said[what].value)),
            examined.gauging.units.depth or examined.gauging.units.length,
            standing.rules,
            None if meter is None else meter.rotor,
        )
    except InputRefused:
        return  # no length that a rod could be set to: the checks say so
    for point in points:
        yield {"fraction": point.fraction, "setting": point.setting, "words": point.words}


def keys_at(standing: Standing, channel: int | None, tapes: Sequence[float]) -> list[str]:
    """Return the keys of the verticals at tape positions, of one channel or of all."""
    gauging = standing.gauging
    if gauging is None:
        return []
    return [
        standing.vertical_key(c, v)
        for c, one in enumerate(gauging.channels)
        if channel is None or c == channel
        for v, vertical in enumerate(one.verticals)
        if vertical.tape in tapes
    ]
