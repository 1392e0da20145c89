"""What several verticals have in common: their tape positions, their channel, their share."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from bankside.gauging.checks.examined import Examined, Spot
from bankside.gauging.checks.finding import Place

__all__ = ["channel_of", "channels_of", "in_words", "share_of", "tapes_of"]


def in_words(
    examined: Examined, spots: Sequence[Spot | Place], among: Sequence[Spot | Place] = ()
) -> str:
    """Return where verticals are, in words: "tapes 1 and 2 ft".

    Where they and those `among` which they are told lie in several channels, each with its tape,
    the channels are named: "tape 1 ft of channel 1 and tapes 1 and 2 ft of channel 2".
    """
    if channel_of([*spots, *among]) is not None:
        return examined.at(*tapes_of(spots))
    return " and ".join(
        f"{examined.at(*(spot.tape for spot in here))} of channel {channel + 1}"
        for channel, here in groupby(spots, key=lambda spot: spot.channel)
    )


def tapes_of(spots: Sequence[Spot | Place]) -> tuple[float, ...]:
    """Return the tape positions as called."""
    return tuple(spot.tape for spot in spots)


def channel_of(spots: Sequence[Spot | Place]) -> int | None:
    """Return the channel in which all of them are, None where they are in several."""
    channels = {spot.channel for spot in spots}
    return channels.pop() if len(channels) == 1 else None


def channels_of(spots: Sequence[Spot]) -> tuple[int, ...]:
    """Return the channel of each of them."""
    return tuple(spot.channel for spot in spots)


def share_of(spots: Sequence[Spot]) -> float:
    """Return the percent of the discharge that they carry, whichever way it runs there."""
    total = 0.0
    for spot in spots:
        total += abs(spot.share or 0.0)
    return total
