"""Whether a velocity was read where the meter cannot have been under water."""

from __future__ import annotations

from collections.abc import Iterator

from bankside.gauging.checks.examined import Examined
from bankside.gauging.checks.finding import Check, Finding
from bankside.gauging.checks.spots import channel_of, channels_of, in_words, tapes_of
from bankside.kernel.limits import below

__all__ = ["CHECKS"]


def _barely_covered(examined: Examined) -> Iterator[Finding]:
    least = examined.rules["covered_least"]
    bare = [
        spot
        for spot in examined.spots
        if any(spot.points.values())
        and spot.depth_m is not None
        and spot.depth_m > 0
        and below(spot.depth_m, least.si)
    ]
    if not bare:
        return
    where = in_words(examined, bare)
    depths = ", ".join(examined.depth(spot.depth_m or 0.0) for spot in bare)
    yield Finding(
        check="Meter hardly under water",
        severity="note",
        found=f"A velocity was read at {where}, where the water is {depths} deep, less than "
        f"{examined.limit(least)}.",
        advice=f"Look whether the depth at {where} was heard right; where the meter does not go "
        "under, leave the velocity empty, or take a float.",
        channel=channel_of(bare),
        channels=channels_of(bare),
        tapes=tapes_of(bare),
        thresholds=(least,),
    )


CHECKS = (
    Check(
        name="Meter hardly under water",
        trigger="A velocity other than 0 was read in water so shallow that no meter goes under, "
        "however little of the discharge it carries.",
        severities=("note",),
        remedy="The depth as it was, no velocity, or a float.",
        source="common practice, no source",
        find=_barely_covered,
        thresholds=("covered_least",),
    ),
)
