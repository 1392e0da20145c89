"""Where a vertical is to be added: half-way between two, on the tape, and not too close to them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise

from bankside.gauging.called_marks import mark_between
from bankside.gauging.checks.examined import Examined, ExaminedChannel, Spot
from bankside.gauging.checks.finding import Place
from bankside.gauging.rule_sets.rule_set import Threshold

__all__ = [
    "add",
    "carried",
    "channel_words",
    "half_way",
    "largest_gaps",
    "least_spacing",
    "places_in",
]


def least_spacing(examined: Examined) -> Threshold:
    """Return how close verticals may be asked for: a large rotor needs more room."""
    meter = examined.gauging.meter
    large = meter is not None and meter.rotor == "large"
    return examined.rules["spacing_least_large" if large else "spacing_least"]


def channel_words(examined: Examined, channel: ExaminedChannel) -> str:
    """Return " (channel 2, side)" behind a tape position, nothing where there is one channel.

    Channels may have tapes of their own, on which the same position stands twice.
    """
    if len(examined.channels) == 1:
        return ""
    name = channel.channel.name
    return f" (channel {channel.index + 1}{'' if name is None else f', {name}'})"


def places_in(channel: ExaminedChannel, tapes: Iterable[float]) -> tuple[Place, ...]:
    """Return tape positions of a channel as places at which verticals are to be added."""
    return tuple(Place(channel.index, tape) for tape in tapes)


def half_way(examined: Examined, low: float, high: float) -> float | None:
    """Return the mark half-way between two neighbours on the tape, None where no vertical fits.

    A finer reading than to the usual marks is taken only where none of them will do. No vertical
    fits that would be closer to either neighbour than `least_spacing`.
    """
    return mark_between(examined.gauging.units.length, low, high, least_spacing(examined).si)


def largest_gaps(examined: Examined, channel: ExaminedChannel, count: int) -> tuple[float, ...]:
    """Return where up to `count` verticals help most, in the order of the tape.

    Each goes half-way into the gap that carries most by straight lines between its ends; before
    the discharge is known, into the widest. Half of what a gap carried goes to either side.
    """
    gaps = [(carried(a, b), a.tape, b.tape) for a, b in pairwise(channel.across)]
    added: list[float] = []
    while gaps and len(added) < count:
        most, low, high = gaps.pop(gaps.index(max(gaps, key=lambda gap: gap[0])))
        place = half_way(examined, low, high)
        if place is not None:
            added.append(place)
            gaps += [(most / 2, low, place), (most / 2, place, high)]
    return tuple(sorted(added))


def carried(a: Spot, b: Spot) -> float:
    """Return what runs between two neighbours by straight lines, whichever way, m³/s.

    Before the discharge is known, their distance in metres stands for it.
    """
    width = b.tape_m - a.tape_m
    if a.panel is None or b.panel is None:
        return width
    flows = [abs(p.depth_m * p.velocity_ms) for p in (a.panel, b.panel)]
    return width * (flows[0] + flows[1]) / 2


def add(examined: Examined, tapes: Sequence[float], beside: Sequence[float]) -> str:
    """Return the advice to add verticals, without its full stop.

    Where there is no room for any, it says so of the verticals `beside` which one was wanted.
    """
    if tapes:
        verticals = "a vertical" if len(tapes) == 1 else "verticals"
        return f"Add {verticals} at {examined.at(*tapes)}"
    least = examined.limit(least_spacing(examined))
    return (
        f"No vertical fits beside {examined.at(*beside)} without coming closer "
        f"than {least} to another; a wider section would have room"
    )
