"""Which findings would go if a slip were put right: one cause is told from its many effects."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

import attrs

from bankside.gauging.checks.finding import SEVERITIES, Finding
from bankside.gauging.faults import InputRefused
from bankside.gauging.notes import tape_positions
from bankside.gauging.records import Gauging, Vertical

__all__ = ["mended", "with_consequences"]

_SURE = ("stop", "fix now")
"""Only a slip as grave as this may explain other findings away."""


def with_consequences(
    gauging: Gauging,
    findings: Sequence[Finding],
    find: Callable[[Gauging], Iterable[Finding]],
) -> list[Finding]:
    """Return the findings, each that goes with a slip saying so, causes before effects.

    `find` gives the findings of a gauging. Nothing is put right in the record: the figure that was
    probably meant is tried, and what is then no longer found hangs on the slip.
    """
    told = list(findings)
    causes: list[Finding] = []
    for cause in findings:
        better = mended(gauging, cause) if cause.severity in _SURE else None
        if better is None:
            continue
        left = list(find(better))
        if any(_stays(cause, other) for other in left):
            continue
        causes.append(cause)
        told = [
            finding
            if finding in causes or any(_stays(finding, other) for other in left)
            else attrs.evolve(finding, hangs_on=finding.hangs_on or _words(gauging, cause))
            for finding in told
        ]
    return sorted(told, key=lambda finding: _rank(finding, causes))


def mended(gauging: Gauging, finding: Finding) -> Gauging | None:
    """Return the gauging with the figure in doubt replaced by the one that was probably meant.

    None where the finding doubts no single figure, or where the record would contradict itself.
    """
    if finding.suspect is None or finding.instead is None or finding.channel is None:
        return None
    channel = gauging.channels[finding.channel]
    verticals = list(channel.verticals)
    try:
        verticals[finding.suspect.vertical] = _vertical(
            verticals[finding.suspect.vertical], finding, finding.instead
        )
        channels = list(gauging.channels)
        channels[finding.channel] = attrs.evolve(channel, verticals=tuple(verticals))
        return attrs.evolve(gauging, channels=tuple(channels))
    except InputRefused:
        return None


def _vertical(vertical: Vertical, finding: Finding, figure: float) -> Vertical:
    suspect = finding.suspect
    if suspect is None or suspect.quantity == "tape":
        return attrs.evolve(vertical, tape=figure)
    if suspect.quantity == "depth":
        return attrs.evolve(vertical, depth=figure)
    readings = [
        attrs.evolve(reading, value=figure) if number == suspect.reading else reading
        for number, reading in enumerate(vertical.velocity)
    ]
    return attrs.evolve(vertical, velocity=tuple(readings))


def _stays(one: Finding, other: Finding) -> bool:
    """Return whether a finding stands on in another: of one check, about one place, no milder."""
    if (one.check, one.channel) != (other.check, other.channel):
        return False
    if SEVERITIES.index(other.severity) > SEVERITIES.index(one.severity):
        return False
    return not one.tapes or not other.tapes or bool(set(one.tapes) & set(other.tapes))


def _words(gauging: Gauging, cause: Finding) -> str:
    at = tape_positions(cause.tapes, gauging.units.length)
    if cause.suspect is not None and cause.suspect.quantity == "tape":
        return f"It goes if {at} is {cause.instead:.10g} {gauging.units.length}."
    if cause.suspect is not None and cause.suspect.quantity == "depth":
        unit = gauging.units.depth or gauging.units.length
        return f"It goes if the depth at {at} is {cause.instead:.10g} {unit}."
    return f"It goes if the velocity at {at} is {cause.instead:.10g} {gauging.units.velocity}."


def _rank(finding: Finding, causes: Sequence[Finding]) -> int:
    return 0 if finding in causes else 2 if finding.hangs_on is not None else 1
