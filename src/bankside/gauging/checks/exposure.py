"""Whether the meter was held long enough at each point."""

from __future__ import annotations

from collections.abc import Iterator

from bankside.gauging.checks.examined import Examined, Spot
from bankside.gauging.checks.finding import Check, Finding
from bankside.gauging.checks.spots import channel_of, channels_of, in_words, tapes_of
from bankside.kernel.limits import below

__all__ = ["CHECKS"]


def _short(examined: Examined) -> Iterator[Finding]:
    least = examined.rules["exposure"]
    times = [(spot, _shortest(spot)) for spot in examined.spots]
    short = [(spot, s) for spot, s in times if s is not None and below(s, least.si)]
    if short:
        spots = [spot for spot, _ in short]
        shortest = min(seconds for _, seconds in short)
        yield Finding(
            check="Count too short",
            severity="explain",
            found=f"The velocity was read for less than {least.words()} at "
            f"{in_words(examined, spots)}, the shortest for {shortest:g} s.",
            advice=f"Read for {least.words()} or longer at {in_words(examined, spots)}; if the "
            "stage was changing fast, write that down.",
            channel=channel_of(spots),
            channels=channels_of(spots),
            tapes=tapes_of(spots),
            thresholds=(least,),
        )


def _shortest(spot: Spot) -> float | None:
    """Return the shortest time over the points of a vertical; repeats at a point add up."""
    held: dict[float | None, float] = {}
    untimed = set()
    for reading in spot.vertical.velocity:
        if reading.seconds is None:
            untimed.add(reading.fraction)
        held[reading.fraction] = held.get(reading.fraction, 0.0) + (reading.seconds or 0.0)
    return min((s for at, s in held.items() if at not in untimed), default=None)


CHECKS = (
    Check(
        name="Count too short",
        trigger="The meter was held at a point for less than the exposure time; readings repeated "
        "there add up. Nothing is said where a time is missing.",
        severities=("explain",),
        remedy="Read for longer, or write down that the stage was changing.",
        source="MDPI Water 2018, 10, 1010; stream-flow operating procedure of a Colorado mine "
        "permit, 2014",
        find=_short,
        thresholds=("exposure",),
        wades=True,
    ),
)
