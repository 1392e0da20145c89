"""Which velocities say something about their neighbours: those of water that runs downstream."""

from __future__ import annotations

import attrs

from bankside.gauging.checks.examined import Examined, ExaminedChannel, Spot
from bankside.gauging.checks.zeros import zero_alone
from bankside.gauging.faults import InputRefused
from bankside.gauging.mean_velocity import mean_velocity

__all__ = ["forward_or_dry", "mean_with", "runs_back", "runs_forward"]


def forward_or_dry(channel: ExaminedChannel) -> list[Spot]:
    """Return the verticals, along the tape, where water runs downstream, and where there is none.

    A velocity of 0 may not have been measured, an eddy follows nothing that lies beside it, and a
    single depth of 0 in the water is hardly a bank.
    """
    unread = zero_alone(channel)
    return [
        spot
        for spot in channel.across
        if runs_forward(spot) or (spot.depth_m == 0 and spot not in unread)
    ]


def runs_forward(spot: Spot) -> bool:
    """Return whether the water of a vertical runs downstream at every point that was read."""
    if spot.depth_m == 0 or spot.velocity_ms is None or spot.velocity_ms <= 0:
        return False
    return all(velocity > 0 for velocity in spot.points.values())


def runs_back(spot: Spot) -> bool:
    """Return whether the water of a vertical runs upstream at any point that was read."""
    return any(velocity < 0 for velocity in spot.points.values())


def mean_with(examined: Examined, spot: Spot, index: int, figure: float) -> float | None:
    """Return the mean velocity of a vertical (m/s), had one of its readings been another figure."""
    readings = list(spot.vertical.velocity)
    rating = () if examined.gauging.meter is None else examined.gauging.meter.rating
    try:
        readings[index] = attrs.evolve(readings[index], value=figure)
        changed = attrs.evolve(spot.vertical, velocity=tuple(readings))
        return mean_velocity(changed, rating, examined.metres_per_second).value_ms
    except InputRefused:
        return None
