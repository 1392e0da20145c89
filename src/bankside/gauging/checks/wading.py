"""Whether the crew should be in the water at all: depth times velocity, and depth alone."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from bankside.gauging.checks.examined import Examined, Spot
from bankside.gauging.checks.finding import Check, Finding, Severity
from bankside.gauging.checks.stage import risen
from bankside.gauging.checks.strong_water import (
    StrongWater,
    depth_times_velocity,
    product_words,
)
from bankside.gauging.rule_sets.rule_set import Threshold
from bankside.kernel.limits import above, below

__all__ = ["CHECKS"]


_INSTEAD = "use a bridge, another section or another day."
# Another section of the same stream rises as well.
_RISING = "the water rose, so leave it; measure again only when the leader says so."


def _too_strong(examined: Examined) -> Iterator[Finding]:
    """Yield a finding a channel for what nobody should wade, and one for what the leader decides.

    Where no velocity was read, that of the computation stands in: it is that of the neighbours.
    """
    stop, caution = (examined.rules[f"wade_product_{word}"] for word in ("stop", "caution"))
    for channel in examined.channels:
        strong = [*depth_times_velocity(examined, channel)]
        out = [one for one in strong if not below(one.product, stop.si)]
        doubtful = [one for one in strong if one not in out and not below(one.product, caution.si)]
        if out:
            yield _strong(examined, out, "stop", stop)
        if doubtful:
            yield _strong(examined, doubtful, "explain", caution)


def _strong(
    examined: Examined, strong: Sequence[StrongWater], severity: Severity, limit: Threshold
) -> Finding:
    tapes = tuple(one.spot.tape for one in strong)
    at, worst = examined.at(*tapes), max(strong, key=lambda one: one.product)
    several = len(strong) > 1
    unread = tuple(one.spot.tape for one in strong if not one.read)
    by = f" (at {examined.at(*unread)} by the velocity of the neighbours)" if unread else ""
    most = f"up to {product_words(examined, worst.product)}, most at {examined.at(worst.spot.tape)}"
    figure = most if several else product_words(examined, worst.product)
    return Finding(
        check="Water too strong to wade",
        severity=severity,
        found=f"At {at} depth times velocity is {figure}{by}; the limit is "
        f"{examined.limit(limit)}.",
        advice=_advice(at, severity, risen(examined)),
        channel=worst.spot.channel,
        tapes=tapes,
        thresholds=(limit,),
    )


def _advice(at: str, severity: Severity, rose: Severity | None) -> str:
    """Return what to do; `rose` is how grave a rise of the stage is, None where there was none."""
    if severity != "stop" and rose in (None, "note"):
        return (
            f"Let the leader decide whether anybody stands at {at}; less is safe for light "
            "people, in cold water or on a soft bed."
        )
    return f"Come out at {at}: {_INSTEAD if rose is None else _RISING}"


def _too_deep(examined: Examined) -> Iterator[Finding]:
    stop, caution = (examined.rules[f"wade_depth_{word}"] for word in ("stop", "caution"))
    for channel in examined.channels:
        deep = [s for s in channel.across if s.depth_m is not None and above(s.depth_m, caution.si)]
        out = [spot for spot in deep if above(spot.depth_m or 0.0, stop.si)]
        doubtful = [spot for spot in deep if spot not in out]
        if out:
            yield _deep(examined, out, "stop", stop)
        if doubtful:
            yield _deep(examined, doubtful, "explain", caution)


def _deep(
    examined: Examined, deep: Sequence[Spot], severity: Severity, limit: Threshold
) -> Finding:
    tapes = tuple(spot.tape for spot in deep)
    at = examined.at(*tapes)
    deepest = max(deep, key=lambda spot: spot.depth_m or 0.0)
    most = f"up to {examined.depth(deepest.depth_m or 0.0)}, most at {examined.at(deepest.tape)}"
    figure = most if len(deep) > 1 else examined.depth(deepest.depth_m or 0.0)
    return Finding(
        check="Deeper than wading work",
        severity=severity,
        found=f"The depth at {at} is {figure}, above {examined.limit(limit)}.",
        advice=f"Check the decimal of the depth at {at}; if it is real, do not wade there.",
        channel=deepest.channel,
        tapes=tapes,
        thresholds=(limit,),
    )


def _alone(examined: Examined) -> Iterator[Finding]:
    crew = {member.name.casefold() for member in examined.gauging.crew}
    if len(crew) == 1:
        yield Finding(
            check="Alone at the stream",
            severity="explain",
            found=f"One name is written down as the crew, {examined.gauging.crew[0].name}.",
            advice="Do not wade alone: somebody watches from the bank, downstream, with a throw "
            "bag. If somebody was there, write down who.",
        )


CHECKS = (
    Check(
        name="Water too strong to wade",
        trigger="Depth times velocity is at the limit or above it at a vertical.",
        severities=("stop", "explain"),
        remedy="Come out. Use a bridge, another section or another day; while the stage rises, "
        "only leave the water.",
        source="USGS and EPA field guidance (from memory); British Columbia manual D.2.1.2 has a "
        "rule of the kind",
        find=_too_strong,
        thresholds=("wade_product_stop", "wade_product_caution"),
    ),
    Check(
        name="Deeper than wading work",
        trigger="A depth is above the limit.",
        severities=("stop", "explain"),
        remedy="Check the decimal; if it is real, do not wade.",
        source="Florida DEP FT 1800",
        find=_too_deep,
        thresholds=("wade_depth_stop", "wade_depth_caution"),
    ),
    Check(
        name="Alone at the stream",
        trigger="The crew that is written down is one person.",
        severities=("explain",),
        remedy="Do not wade alone; write down who watched from the bank.",
        source="common practice, no source: nobody wades alone",
        find=_alone,
    ),
)
