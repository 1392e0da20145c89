"""Whether the position can be that of the section, and how far off it may be."""

from __future__ import annotations

from collections.abc import Iterator

from bankside.gauging.checks.examined import Examined
from bankside.gauging.checks.finding import Check, Finding
from bankside.gauging.records import Position
from bankside.kernel.limits import above

__all__ = ["CHECKS"]

# A degree of latitude: the metre was meant to be 1/10 000 000 of the way from pole to equator.
_METRES_A_DEGREE = 10_000_000 / 90


def _nowhere(examined: Examined) -> Iterator[Finding]:
    place = examined.gauging.site.position
    if place is None or not _is_odd(place):
        return
    if place.lat == 0:
        found = "The position is latitude 0 and longitude 0, in the sea off Africa."
        advice = "Take it again at the section; a receiver without a fix shows 0."
    else:
        found = f"Latitude and longitude are the same figure, {place.lat:.10g}."
        advice = "Take it again at the section; one of the two was probably written twice."
    yield Finding(check="Position cannot be right", severity="explain", found=found, advice=advice)


def _is_odd(place: Position) -> bool:
    return place.lat == place.lon


def _vague(examined: Examined) -> Iterator[Finding]:
    place = examined.gauging.site.position
    if place is None or _is_odd(place):
        return
    allowed = examined.rules["position_accuracy"]
    digits = max(_decimals(place.lat), _decimals(place.lon))
    rounded = _METRES_A_DEGREE / 10**digits / 2
    if above(rounded, allowed.si):
        yield Finding(
            check="Position too vague",
            severity="note",
            found=f"The position is written to {digits} decimal{'' if digits == 1 else 's'} of a "
            "degree, which is within "
            f"{rounded:,.0f} m, more than {allowed.words()}.",
            advice="Write it to five decimals, which is within a metre.",
            thresholds=(allowed,),
        )
    elif place.accuracy_m is None:
        yield Finding(
            check="Position too vague",
            severity="note",
            found="How far off the position may be is not written down.",
            advice="Write down the accuracy that the receiver shows, standing at the section.",
        )
    if place.accuracy_m is not None and above(place.accuracy_m, allowed.si):
        yield Finding(
            check="Position too vague",
            severity="note",
            found=f"The position may be off by {place.accuracy_m:g} m, more than "
            f"{allowed.words()}.",
            advice="Take it again, standing at the section, and wait until the receiver settles.",
            thresholds=(allowed,),
        )


def _decimals(degrees: float) -> int:
    """Return to how many decimals a coordinate is written; zeros at its end are lost."""
    figures = f"{degrees:.12f}".rstrip("0")
    return len(figures.partition(".")[2])


CHECKS = (
    Check(
        name="Position cannot be right",
        trigger="Latitude and longitude are both 0, or the same figure.",
        severities=("explain",),
        remedy="Take the position again at the section.",
        source="common practice, no source",
        find=_nowhere,
    ),
    Check(
        name="Position too vague",
        trigger="The receiver's accuracy is beyond the limit or not written down, or both "
        "coordinates have so few decimals that rounding alone goes beyond it.",
        severities=("note",),
        remedy="Take it again, standing at the section; write five decimals and the accuracy.",
        source="exchange among taxonomists on field positions, 2010: 10 to 30 m will do",
        find=_vague,
        thresholds=("position_accuracy",),
    ),
)
