"""All checks on one gauging, each finding with the crew's answer where one is kept."""

from __future__ import annotations

import datetime
from collections.abc import Sequence

import attrs

from bankside.gauging.checks import (
    angle,
    barely_covered,
    bed,
    clock,
    depth_slips,
    disturbed,
    edge_strip,
    edges,
    exposure,
    filed_totals,
    gaps,
    header,
    meter_proof,
    neighbours,
    position,
    quality,
    repeated,
    rounding_habits,
    shares,
    sign_slips,
    stage,
    tape_order,
    tape_slips,
    unit_slips,
    velocity_range,
    velocity_slips,
    vertical_count,
    vertical_profile,
    wading,
    whole_flow,
    zeros,
)
from bankside.gauging.checks.answers import matter_answered, matter_of
from bankside.gauging.checks.consequences import with_consequences
from bankside.gauging.checks.examined import Examined, examine
from bankside.gauging.checks.finding import SEVERITIES, Check, Finding, Place
from bankside.gauging.checks.spots import in_words
from bankside.gauging.checks.wadeable import Wadeable, wadeable
from bankside.gauging.records import Gauging
from bankside.gauging.rule_sets.rule_set import RuleSet

__all__ = ["ALL_CHECKS", "check_gauging"]

ALL_CHECKS: tuple[Check, ...] = (
    *wading.CHECKS,
    *velocity_range.CHECKS,
    *barely_covered.CHECKS,
    *vertical_profile.CHECKS,
    *exposure.CHECKS,
    *angle.CHECKS,
    *stage.CHECKS,
    *clock.CHECKS,
    *whole_flow.CHECKS,
    *meter_proof.CHECKS,
    *header.CHECKS,
    *position.CHECKS,
    *disturbed.CHECKS,
    *quality.CHECKS,
    *edges.CHECKS,
    *edge_strip.CHECKS,
    *tape_order.CHECKS,
    *gaps.CHECKS,
    *vertical_count.CHECKS,
    *shares.CHECKS,
    *neighbours.CHECKS,
    *bed.CHECKS,
    *filed_totals.CHECKS,
    *depth_slips.CHECKS,
    *velocity_slips.CHECKS,
    *sign_slips.CHECKS,
    *zeros.CHECKS,
    *tape_slips.CHECKS,
    *unit_slips.CHECKS,
    *repeated.CHECKS,
    *rounding_habits.CHECKS,
)
"""The catalogue, in the order in which it is printed."""

_WADING = {check.name for check in ALL_CHECKS if check.wades}
_NOT_YET = "Only once the leader holds it safe:"


def check_gauging(
    gauging: Gauging,
    rules: RuleSet,
    *,
    finished: bool = True,
    today: datetime.date | None = None,
) -> tuple[Finding, ...]:
    """Return what the checks have to say, the gravest first, otherwise in catalogue order.

    Where a slip is found, findings that hang on it say so and stand behind it.

    An unfinished gauging is told only what can be said so far. An answer is laid beside a finding
    that says word for word what was answered; once the readings change what is found, it is open
    again.
    """

    def laid_out(looked_at: Gauging) -> Examined:
        return examine(looked_at, rules, finished=finished, today=today)

    examined = laid_out(gauging)
    told = with_consequences(gauging, _found(examined), lambda mended: _found(laid_out(mended)))
    told = [_in_channel(gauging, finding) for finding in told]
    answers = {matter_answered(answer): answer for answer in gauging.answers}
    told = [attrs.evolve(finding, answer=answers.get(matter_of(finding))) for finding in told]
    channels = wadeable(examined)
    findings = [_out_of_the_water(finding, told, examined, channels) for finding in told]
    return tuple(sorted(findings, key=lambda finding: SEVERITIES.index(finding.severity)))


def _found(examined: Examined) -> list[Finding]:
    return [finding for check in ALL_CHECKS for finding in check.find(examined)]


def _out_of_the_water(
    finding: Finding,
    findings: Sequence[Finding],
    examined: Examined,
    channels: Sequence[Wadeable],
) -> Finding:
    """Return a finding that sends nobody to where another says to come out, or where it is strong.

    In a channel that nobody wades what is unread stays so, and the advice says no more than that.
    Only the reading that a stop hangs on, a slip of the pen perhaps, is to be looked at all the
    same: its advice begins with what was called. No place is left at which to add a vertical.
    """
    if finding.check not in _WADING or _is_slip(finding):
        return finding
    if finding.hangs_on is None and _in_closed_water(finding, channels):
        return attrs.evolve(finding, advice=_left(finding, examined), places=())
    called_out = any(
        one.answer is None and (one.severity == "stop" or one.comes_out) for one in findings
    )
    if not called_out and not _into_strong_water(finding, examined, channels):
        return finding
    return attrs.evolve(finding, advice=f"{_NOT_YET} {finding.advice}", places=())


def _in_closed_water(finding: Finding, channels: Sequence[Wadeable]) -> bool:
    """Return whether a place that a finding names lies in a channel that nobody wades."""
    if finding.places:
        return any(channels[place.channel].closed for place in finding.places)
    return bool(finding.tapes) and any(one.closed for one in _meant(finding, channels))


def _meant(finding: Finding, channels: Sequence[Wadeable]) -> list[Wadeable]:
    """Return the channels that a finding names, all of them where it names none."""
    named = set(finding.channels) if finding.channel is None else {finding.channel}
    return [one for index, one in enumerate(channels) if not named or index in named]


def _left(finding: Finding, examined: Examined) -> str:
    """Return that it stays as it is, naming no place at which somebody would stand.

    Where a gauging has several channels, each with its tape, they are named.
    """
    of = finding.channels if finding.channel is None else [finding.channel] * len(finding.tapes)
    places = [Place(channel, tape) for channel, tape in zip(of, finding.tapes, strict=True)]
    at = f" at {in_words(examined, places, list(examined.spots))}" if places else ""
    return f"Leave it as it is{at}: nobody is sent in, as the water is too strong to wade."


def _into_strong_water(finding: Finding, examined: Examined, channels: Sequence[Wadeable]) -> bool:
    """Return whether a place that a finding names is, or may well be, too strong to be waded."""
    metres = examined.metres
    if finding.places:
        return not all(
            channels[place.channel].anew(place.tape * metres) for place in finding.places
        )
    meant = _meant(finding, channels)
    return not all(one.again(tape * metres) for tape in finding.tapes for one in meant)


def _is_slip(finding: Finding) -> bool:
    return finding.suspect is not None and finding.instead is not None


def _in_channel(gauging: Gauging, finding: Finding) -> Finding:
    """Return a finding that names its channel where a gauging has several, each with its tape."""
    if finding.channel is None or len(gauging.channels) < 2:
        return finding
    name = gauging.channels[finding.channel].name
    number = f"Channel {finding.channel + 1}"
    where = number if name is None else f"{number}, {name}"
    return attrs.evolve(finding, found=f"{where}: {finding.found}")
