"""Whether any range around a discharge can be promised, given what stands about its readings."""

from __future__ import annotations

from collections.abc import Sequence

from bankside.gauging.checks.answers import is_open
from bankside.gauging.checks.finding import Finding
from bankside.gauging.records import Channel, Gauging
from bankside.gauging.result import Result, VerticalResult

__all__ = ["in_doubt", "unmeasured_ends"]


def in_doubt(gauging: Gauging, result: Result, findings: Sequence[Finding]) -> bool:
    """Return whether something stands that no range around a discharge can speak of.

    Something unsafe or nonsensical, a figure that may have slipped, a level that rose fast, or an
    edge of water that nobody measured. `result` must be that of the gauging, `findings` those of
    the checks on it.

    A range around such a discharge would promise what nobody can keep.
    """
    for index, channel in enumerate(gauging.channels):
        own = [vertical for vertical in result.verticals if vertical.channel == index]
        if any(unmeasured_ends(channel, own)):
            return True
    return any(
        is_open(finding)
        and (finding.severity == "stop" or finding.comes_out or finding.suspect is not None)
        for finding in findings
    )


def unmeasured_ends(channel: Channel, verticals: Sequence[VerticalResult]) -> tuple[bool, bool]:
    """Return whether there is water beyond the first and the last vertical, for all we know.

    `verticals` are those of the channel along the tape.
    """
    first, last = (
        channel.verticals[end.vertical].edge is None and end.depth_m > 0
        for end in (verticals[0], verticals[-1])
    )
    return first, last
