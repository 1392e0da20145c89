"""Whether the water runs square to the tape."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from bankside.gauging.checks.examined import Examined, Spot
from bankside.gauging.checks.finding import Check, Finding, Severity
from bankside.gauging.checks.spots import channel_of, channels_of, in_words, share_of, tapes_of
from bankside.kernel.limits import above, below

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
    much = above(share, allowed.si)
    unread = [spot for spot in examined.spots if _moves(spot) and _coefficient(spot) is None]
    severity: Severity = "note" if not much else "fix now" if unread else "explain"
    far = f", and {share:.3g} % of the discharge with one below {fix.words()}" if much else ""
    cost = f"; the cosine takes {_taken_off(angled):.2g} % off the discharge" if much else ""
    yield Finding(
        check="Flow not square to the tape",
        severity=severity,
        found=f"The water runs at an angle to the section, with a coefficient below "
        f"{note.words()}, at {in_words(examined, oblique)}{far}{cost}.",
        advice=_advice(examined, severity, oblique, askew, unread),
        channel=channel_of(oblique),
        channels=channels_of(oblique),
        tapes=tapes_of(oblique),
        thresholds=(note, fix, allowed) if much else (note,),
    )


def _advice(
    examined: Examined,
    severity: Severity,
    oblique: Sequence[Spot],
    askew: Sequence[Spot],
    unread: Sequence[Spot],
) -> str:
    where = in_words(examined, oblique)
    if severity == "fix now":
        return (
            f"Read the angle at {in_words(examined, unread, oblique)} as well, or stretch the tape "
            f"anew at {in_words(examined, askew, unread)}, square to the water, and measure again."
        )
    if severity == "explain":
        return (
            f"Say how the angles at {where} were read: they are applied, and if they are wrong, "
            "so is the discharge, by up to what the cosine takes off."
        )
    if unread:
        return (
            f"Read the angle at every vertical, not only at {where}; where most of them turn the "
            "same way, stretch the tape anew."
        )
    return (
        f"Nothing more at {where}: the angles are applied. Where most of them turn the same way, "
        "stretch the tape anew next time."
    )


def _taken_off(angled: Sequence[tuple[Spot, float]]) -> float:
    """Return the percent by which the discharge would be larger, had every flow been square.

    Of what would then be there. Water with a coefficient of 0 carries nothing either way.
    """
    lost = 0.0
    for spot, coefficient in angled:
        if coefficient > 0:
            share = abs(spot.share or 0.0)
            lost += share / coefficient - share
    return 100 * lost / (100 + lost)


def _moves(spot: Spot) -> bool:
    """Return whether water that moves was read at a vertical: still water shows no angle."""
    return spot.depth_m != 0 and any(velocity != 0 for velocity in spot.points.values())


def _coefficient(spot: Spot) -> float | None:
    """Return the coefficient of the flow's angle at a vertical, None where none was read."""
    if spot.vertical.angle is not None:
        return math.cos(math.radians(spot.vertical.angle))
    return spot.vertical.angle_coefficient


CHECKS = (
    Check(
        name="Flow not square to the tape",
        trigger="The coefficient of the flow's angle is below the first limit at a vertical; "
        "graver where more of the discharge than allowed has one below the second: to be explained "
        "where the angle was read at every vertical, so that the cosine is applied, to be set "
        "right where it was not.",
        severities=("fix now", "explain", "note"),
        remedy="Read the angle at every vertical, or stretch the tape anew.",
        source="a simulation of ours for the 20° (a tape askew by so much makes the discharge "
        "6.4 % too large); else common practice, no source",
        find=_oblique,
        thresholds=("angle_coefficient_note", "angle_coefficient_fix", "oblique_share"),
        wades=True,
    ),
)
