"""Where one more vertical pays most: in the gap between two that carries most of the discharge."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import attrs

from bankside.gauging.checks import wading
from bankside.gauging.checks.adding import carried, channel_words, half_way
from bankside.gauging.checks.answers import is_open
from bankside.gauging.checks.examined import Examined, ExaminedChannel, Spot
from bankside.gauging.checks.finding import Finding, Place
from bankside.gauging.rounding import to_figures

__all__ = ["OneMore", "one_more"]

_LEADER_DECIDES = {check.name for check in wading.CHECKS}


@attrs.frozen
class OneMore:
    """Where one more vertical pays most, and why, in a sentence."""

    place: Place
    why: str


def one_more(examined: Examined, findings: Sequence[Finding]) -> OneMore | None:
    """Return where one more vertical pays most; None where there is no such place, or not yet.

    It stands half-way in the gap that carries most by straight lines between its ends, no closer to
    them than the rules ask. Nobody is sent there before all shares are known, while a finding
    calls the crew out or doubts a figure, nor beside a vertical at which the leader has to decide.
    `findings` are those of the checks on the gauging.
    """
    result = examined.result
    if result is None or not examined.finished or any(map(_holds_back, findings)):
        return None
    doubtful = {
        (finding.channel, tape)
        for finding in findings
        if finding.check in _LEADER_DECIDES and is_open(finding)
        for tape in finding.tapes
    }
    gaps = [
        (carried(a, b), channel, a, b)
        for channel in examined.channels
        for a, b in pairwise(channel.across)
        if not {(channel.index, a.tape), (channel.index, b.tape)} & doubtful
    ]
    for most, channel, a, b in sorted(gaps, key=lambda gap: gap[0], reverse=True):
        place = half_way(examined, a.tape, b.tape)
        if place is not None and most > 0 and a.share is not None:
            share = 100 * most / abs(result.discharge_m3s)
            return OneMore(Place(channel.index, place), _why(examined, channel, (a, b), share))
    return None


def _holds_back(finding: Finding) -> bool:
    return is_open(finding) and (
        finding.severity == "stop"
        or finding.comes_out
        or (finding.suspect is not None and finding.severity == "fix now")
    )


def _why(
    examined: Examined, channel: ExaminedChannel, ends: tuple[Spot, Spot], share: float
) -> str:
    at = examined.at(*(end.tape for end in ends))
    return (
        f"Between {at}{channel_words(examined, channel)} runs {to_figures(share, 2)} % of the "
        "discharge, the most of all gaps with room for a vertical."
    )
