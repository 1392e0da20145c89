"""Whether the crew should be in the water at all: depth times velocity, and depth alone."""

from __future__ import annotations

from collections.abc import Iterator

from bankside.gauging.checks.examined import Examined, Spot
from bankside.gauging.checks.finding import Check, Finding, Severity
from bankside.gauging.checks.limits import above, below

__all__ = ["CHECKS"]


def _too_strong(examined: Examined) -> Iterator[Finding]:
    stop, caution = (examined.rules[f"wade_product_{word}"] for word in ("stop", "caution"))
    for spot in examined.spots:
        if spot.depth_m is None:
            continue
        fastest = max((abs(v) for v in spot.points.values()), default=0.0)
        product = spot.depth_m * fastest
        severity: Severity
        if not below(product, stop.si):
            severity, threshold = "stop", stop
            advice = f"Come out at {examined.at(spot.tape)}: use a bridge, another section or day."
        elif not below(product, caution.si):
            severity, threshold = "explain", caution
            advice = (
                f"Let the leader decide before anybody stands at {examined.at(spot.tape)} again; "
                "less is safe for light people, in cold water or on a soft bed."
            )
        else:
            continue
        yield Finding(
            check="Water too strong to wade",
            severity=severity,
            found=f"At {examined.at(spot.tape)} depth times velocity is "
            f"{_product(examined, product)}, from {examined.limit(threshold)} on.",
            advice=advice,
            channel=spot.channel,
            tapes=(spot.tape,),
            thresholds=(threshold,),
        )


def _product(examined: Examined, product: float) -> str:
    feet = examined.gauging.units.length in ("ft", "in")
    return f"{product / 0.3048**2:.3g} ft²/s" if feet else f"{product:.3g} m²/s"


def _too_deep(examined: Examined) -> Iterator[Finding]:
    stop, caution = (examined.rules[f"wade_depth_{word}"] for word in ("stop", "caution"))
    for spot in examined.spots:
        if spot.depth_m is None or not above(spot.depth_m, caution.si):
            continue
        deepest = above(spot.depth_m, stop.si)
        yield _deep(examined, spot, "stop" if deepest else "explain")


def _deep(examined: Examined, spot: Spot, severity: Severity) -> Finding:
    threshold = examined.rules["wade_depth_stop" if severity == "stop" else "wade_depth_caution"]
    return Finding(
        check="Deeper than wading work",
        severity=severity,
        found=f"The depth at {examined.at(spot.tape)}, {examined.depth(spot.depth_m or 0)}, is "
        f"above {examined.limit(threshold)}.",
        advice=f"Check the decimal of the depth at {examined.at(spot.tape)}; if it is real, do not "
        "wade there.",
        channel=spot.channel,
        tapes=(spot.tape,),
        thresholds=(threshold,),
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
        remedy="Come out. Use a bridge, another section or another day.",
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
