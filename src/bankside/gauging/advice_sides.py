"""From which bank the crew goes in, where strong water parts the section in two.

Nobody is sent through it: acts on both sides would make somebody cross.
"""

from __future__ import annotations

import math

import attrs

from bankside.gauging.checks.examined import Examined, ExaminedChannel, Spot
from bankside.gauging.checks.wadeable import Wadeable, wadeable

__all__ = ["Side", "sides"]


@attrs.frozen
class Side:
    """Where each channel of the record may be waded from one bank.

    `bank` says which, in words such as "from the left bank", empty where nothing parts the section.
    """

    wading: tuple[Wadeable, ...]
    bank: str = ""


def sides(examined: Examined) -> tuple[Side, ...]:
    """Return from where the crew may go: one side, or two of which one is to be chosen.

    Channels stand in the order in which they were crossed. Where one is closed, what lies behind
    strong water is out of reach from either bank.
    """
    wading = wadeable(examined)
    strong = [i for i, one in enumerate(wading) if one.keeps_out is not None]
    if not strong:
        return (Side(wading),)
    channels = examined.channels
    first, last = strong[0], strong[-1]
    near = tuple(
        one if i < first else _up_to(one, channels[i], near=True) if i == first else one.shut()
        for i, one in enumerate(wading)
    )
    here = Side(near, _bank(examined, _end(channels[0], near=True)))
    if any(one.closed for one in wading):
        return (here,)
    far = tuple(
        one if i > last else _up_to(one, channels[i], near=False) if i == last else one.shut()
        for i, one in enumerate(wading)
    )
    return here, Side(far, _bank(examined, _end(channels[-1], near=False)))


def _up_to(wades: Wadeable, channel: ExaminedChannel, *, near: bool) -> Wadeable:
    """Return where a channel may be waded on one side of its strong water."""
    assert wades.keeps_out is not None
    low, high = wades.keeps_out
    rises = _end(channel, near=True) is channel.across[0]
    keeps_out = (low, math.inf) if near == rises else (-math.inf, high)
    return attrs.evolve(wades, keeps_out=keeps_out)


def _end(channel: ExaminedChannel, *, near: bool) -> Spot:
    """Return the end at which a channel was begun, or the other one."""
    rises = channel.called[0].tape <= channel.called[-1].tape
    return channel.across[0 if near == rises else -1]


def _bank(examined: Examined, end: Spot) -> str:
    if end.vertical.edge is None:
        return f"from the side of {examined.at(end.tape)}"
    return f"from the {end.vertical.edge} bank"
