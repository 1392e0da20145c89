"""What several verticals have in common: their tape positions, their channel, their share."""

from __future__ import annotations

from collections.abc import Sequence

from bankside.gauging.checks.examined import Spot

__all__ = ["channel_of", "share_of", "tapes_of"]


def tapes_of(spots: Sequence[Spot]) -> tuple[float, ...]:
    """Return the tape positions as called."""
    return tuple(spot.tape for spot in spots)


def channel_of(spots: Sequence[Spot]) -> int | None:
    """Return the channel in which all of them are, None where they are in several."""
    channels = {spot.channel for spot in spots}
    return channels.pop() if len(channels) == 1 else None


def share_of(spots: Sequence[Spot]) -> float:
    """Return the percent of the discharge that they carry, whichever way it runs there."""
    total = 0.0
    for spot in spots:
        total += abs(spot.share or 0.0)
    return total
