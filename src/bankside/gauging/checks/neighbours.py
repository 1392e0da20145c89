"""Whether neighbouring velocities are too different for the water between them to be known."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from bankside.gauging.checks.adding import half_way, places_in
from bankside.gauging.checks.examined import Examined, ExaminedChannel, Spot
from bankside.gauging.checks.finding import Check, Finding
from bankside.gauging.share_limits import above
from bankside.kernel.limits import clearly_above, velocity_difference

__all__ = ["CHECKS"]

# So many pairs are told where to add a vertical, the most different first (ours, no source).
_FIRST = 3


def _too_different(examined: Examined) -> Iterator[Finding]:
    for channel in examined.channels:
        pairs = _different_pairs(examined, channel)
        if pairs:
            yield _finding(examined, channel, pairs)


def _different_pairs(examined: Examined, channel: ExaminedChannel) -> list[tuple[Spot, Spot]]:
    """Return the pairs above the limit, the most different first.

    Left out are pairs with a vertical at a bank or beside one (by edge or dry ground), where the
    velocity falls off by nature, and panels that carry next to nothing.
    """
    share, most = (examined.rules.si(f"neighbour_{word}") for word in ("share", "velocity"))
    pairs = [
        (a, b)
        for a, b in pairwise(_away_from_banks(channel))
        if a is not None
        and b is not None
        and all(spot.share is not None and above(spot.share, share) for spot in (a, b))
        and clearly_above(_difference(a, b), most)
    ]
    return sorted(pairs, key=lambda pair: _difference(*pair), reverse=True)


def _away_from_banks(channel: ExaminedChannel) -> Iterator[Spot | None]:
    """Yield the verticals along the tape, None in the place of those at a bank or beside one."""
    banks = [spot.ends_water for spot in channel.across]
    for i, spot in enumerate(channel.across):
        near = any(banks[max(i - 1, 0) : i + 2])
        yield None if near or spot.velocity_ms is None else spot


def _difference(a: Spot, b: Spot) -> float:
    """Return by how many percent of the smaller one two velocities differ."""
    if a.velocity_ms is None or b.velocity_ms is None:
        return 0.0
    return velocity_difference(a.velocity_ms, b.velocity_ms)


def _finding(
    examined: Examined, channel: ExaminedChannel, pairs: list[tuple[Spot, Spot]]
) -> Finding:
    limit = examined.rules["neighbour_velocity"]
    a, b = pairs[0]
    figures = " and ".join(examined.velocity(spot.velocity_ms or 0.0) for spot in (a, b))
    worst = examined.at(a.tape, b.tape)
    if len(pairs) == 1:
        found = f"Two neighbouring velocities, {figures} at {worst}, differ"
    else:
        found = (
            f"{len(pairs)} pairs of neighbouring velocities, most those of {figures} at {worst}, "
            "differ"
        )
    between = [half_way(examined, one.tape, other.tape) for one, other in pairs[:_FIRST]]
    places = sorted(place for place in between if place is not None)
    again = f"read {worst} again"
    verticals = "a vertical" if len(places) == 1 else "verticals"
    return Finding(
        check="Neighbouring velocities too different",
        severity="note",
        found=f"{found} by more than {limit.words()} of the smaller one.",
        advice=f"Add {verticals} at {examined.at(*places)}, or {again}."
        if places
        else f"{again.capitalize()}.",
        channel=channel.index,
        tapes=tuple(sorted({spot.tape for pair in pairs for spot in pair})),
        thresholds=(limit, examined.rules["neighbour_share"]),
        places=places_in(channel, places),
    )


CHECKS = (
    Check(
        name="Neighbouring velocities too different",
        trigger="Two neighbouring mean velocities differ too much, of the smaller one, or have "
        "opposite signs; both panels carry a noticeable share and neither vertical is beside a "
        "bank. A note, as most natural streams have such pairs.",
        severities=("note",),
        remedy="Add a vertical between them, or read them again.",
        source="USBR Water Measurement Manual, 3rd ed., ch. 10 sec. 15, banks excepted",
        find=_too_different,
        thresholds=(
            "neighbour_velocity",
            "neighbour_share",
            "spacing_least",
            "spacing_least_large",
        ),
        wades=True,
    ),
)
