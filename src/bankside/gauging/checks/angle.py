"""Whether the water runs square to the tape."""

from __future__ import annotations

import math
from collections.abc import Iterator

from bankside.gauging.checks.examined import Examined, Spot
from bankside.gauging.checks.finding import Check, Finding
from bankside.gauging.checks.limits import above, below
from bankside.gauging.checks.spots import channel_of, share_of, tapes_of

__all__ = ["CHECKS"]


def _oblique(examined: Examined) -> Iterator[Finding]:
    note, fix = (examined.rules[f"angle_coefficient_{word}"] for word in ("note", "fix"))
    allowed = examined.rules["oblique_share"]
    angled = [(spot, at) for spot in examined.spots if (at := _coefficient(spot)) is not None]
    oblique = [spot for spot, coefficient in angled if below(coefficient, note.si)]
    if not oblique:
        return
    askew = [spot for spot, coefficient in angled if below(coefficient, fix.si)]
    share = share_of(askew)
    wrong = above(share, allowed.si)
    far = f", and {share:.3g} % of the discharge with one below {fix.words()}" if wrong else ""
    yield Finding(
        check="Flow not square to the tape",
        severity="fix now" if wrong else "note",
        found=f"The water runs at an angle to the section, with a coefficient below "
        f"{note.words()}, at {examined.at(*tapes_of(oblique))}{far}.",
        advice=f"Stretch the tape anew at {examined.at(*tapes_of(askew))}, square to the water, "
        "and measure again."
        if wrong
        else f"Read the angle at every vertical, not only at {examined.at(*tapes_of(oblique))}; "
        "where most of them turn the same way, stretch the tape anew.",
        channel=channel_of(oblique),
        tapes=tapes_of(oblique),
        thresholds=(note, fix, allowed) if wrong else (note,),
    )


def _coefficient(spot: Spot) -> float | None:
    """Return the coefficient of the flow's angle at a vertical, None where none was read."""
    if spot.vertical.angle is not None:
        return math.cos(math.radians(spot.vertical.angle))
    return spot.vertical.angle_coefficient


CHECKS = (
    Check(
        name="Flow not square to the tape",
        trigger="The coefficient of the flow's angle is below the first limit at a vertical; "
        "graver where more of the discharge than allowed has one below the second.",
        severities=("fix now", "note"),
        remedy="Stretch the tape anew, or read the angle at every vertical.",
        source="a simulation of ours for the 20° (a tape askew by so much makes the discharge "
        "6.4 % too large); else common practice, no source",
        find=_oblique,
        thresholds=("angle_coefficient_note", "angle_coefficient_fix", "oblique_share"),
    ),
)
