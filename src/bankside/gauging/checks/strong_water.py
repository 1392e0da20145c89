"""How strong the water is at each vertical: its depth times its velocity."""

from __future__ import annotations

from collections.abc import Iterator

import attrs

from bankside.gauging.checks.examined import Examined, ExaminedChannel, Spot

__all__ = ["StrongWater", "depth_times_velocity", "product_words"]

_SQUARE_FOOT = 0.3048 * 0.3048


@attrs.frozen
class StrongWater:
    """A vertical with its depth times velocity, m²/s, and whether that velocity was read there."""

    spot: Spot
    product: float
    read: bool


def depth_times_velocity(examined: Examined, channel: ExaminedChannel) -> Iterator[StrongWater]:
    """Yield the verticals of a channel that have water, each with its depth times velocity.

    The velocity is the fastest that was read there, whichever way it ran. Where none was read, that
    of the computation stands in: it is that of the neighbours.
    """
    result = examined.result
    stand_in = {
        vertical.vertical: abs(vertical.velocity_ms)
        for vertical in (() if result is None else result.verticals)
        if vertical.channel == channel.index
    }
    for spot in channel.across:
        if not spot.depth_m:
            continue
        read = [abs(velocity) for velocity in spot.points.values()]
        fastest = max(read) if read else stand_in.get(spot.index)
        if fastest is not None:
            yield StrongWater(spot, spot.depth_m * fastest, bool(read))


def product_words(examined: Examined, product: float) -> str:
    """Return depth times velocity as the crew reads it: "5.1 ft²/s"."""
    feet = examined.gauging.units.length in ("ft", "in")
    return f"{product / _SQUARE_FOOT:.3g} ft²/s" if feet else f"{product:.3g} m²/s"
