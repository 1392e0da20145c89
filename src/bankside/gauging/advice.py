"""What to do next in the water: the act that lowers the uncertainty most for its time, or stop.

Every act is judged by what it would leave of the interval of 95 % (`section_as_read`), with what
the readings tell of the section taken as it is now. What is the same at all verticals (rod, zero,
calibration) no act can lower.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, Literal

import attrs

from bankside.gauging.advice_acts import SECONDS_TO_MOVE, Possible, possible_acts
from bankside.gauging.advice_design import Cut, HowRead, at_two_points, cuts, first_of, with_cuts
from bankside.gauging.advice_words import Outlook, act_words, elsewhere_words, stop_words
from bankside.gauging.between_section import BetweenSection
from bankside.gauging.checks import wading
from bankside.gauging.checks.answers import is_open
from bankside.gauging.checks.examined import Examined
from bankside.gauging.checks.finding import Finding
from bankside.gauging.checks.vertical_count import is_reading, verticals_wanted, water_width
from bankside.gauging.uncertainty_between import section_as_read
from bankside.gauging.uncertainty_flow import Assumed, flow_of

__all__ = ["MOST_MORE", "Act", "advise", "is_doubt"]

MOST_MORE: Final = 25
"""What the time of so many more verticals would bring tells whether a target can be reached."""

# The rest of the characters would move a figure by less than anybody reads (ours).
_LIKELY: Final = 1e-3
_ASKS_FOR_THE_LEADER: Final = {check.name for check in wading.CHECKS}


@attrs.frozen
class Act:
    """What to do next, in one sentence for the crew.

    `channel` is an index into the record and `tape` a position as called, both None for `stop` and
    `elsewhere`. `seconds` is what the act takes, `percent` half the interval of 95 % that it is
    expected to leave; for `elsewhere`, what the time of 25 more verticals would.
    """

    kind: Literal["vertical", "second point", "longer exposure", "stop", "elsewhere"]
    channel: int | None
    tape: float | None
    seconds: float
    percent: float
    words: str


def advise(
    examined: Examined,
    findings: Sequence[Finding] = (),
    *,
    target: float | None = None,
    common: bool = True,
) -> tuple[Act, ...]:
    """Return what to do next, the best first; nothing where nothing can be said.

    Args:
        examined: The gauging; both edges of water of every channel have been read.
        findings: Those of the checks. Nobody is sent anywhere while one calls the crew out of the
            water, doubts a figure, or says that somebody is alone, nor at or beside a vertical
            where the leader decides.
        target: Half the interval of 95 % that is wanted, in percent of the discharge; without one
            there is no end.
        common: Whether the interval counts what is the same at all verticals too.
    """
    section = _section(examined)
    if section is None or any(map(_holds_back, findings)):
        return ()
    meter = examined.gauging.meter
    how = HowRead.by(examined.rules, large_rotor=meter is not None and meter.rotor == "large")
    likely = section.of_the_likely(_LIKELY)
    planned = cuts(likely, MOST_MORE, how.least_m)
    outlook = _outlook(examined, section, likely, planned, how, target, common=common)
    asked_for = any(is_open(finding) and finding.severity == "fix now" for finding in findings)
    if outlook.reached and not outlook.missing and not asked_for:
        return (_end("stop", outlook.now, stop_words(outlook)),)
    acts = _best(examined, likely, planned, how, findings, outlook)
    if outlook.reached:  # what is missing is verticals
        acts = tuple(act for act in acts if act.kind == "vertical")
        return acts if asked_for else (*acts, _end("stop", outlook.now, stop_words(outlook)))
    if outlook.hopeless:
        return (_end("elsewhere", outlook.at_best, elsewhere_words(outlook)), *acts)
    return acts


def _section(examined: Examined) -> BetweenSection | None:
    if examined.result is None:
        return None
    for channel in examined.channels:
        across = channel.across
        if not across or not (across[0].ends_water and across[-1].ends_water):
            return None
    flow = flow_of(examined.gauging, examined.result)
    if not flow.has_percents:
        return None
    return section_as_read(examined.gauging, flow, Assumed())


def _holds_back(finding: Finding) -> bool:
    """Return whether nobody is to be sent into the water while this stands."""
    alone = finding.check in _ASKS_FOR_THE_LEADER and finding.channel is None
    return is_doubt(finding) or (alone and is_open(finding))


def is_doubt(finding: Finding) -> bool:
    """Return whether no figure of a gauging is to be built on while this stands."""
    return is_open(finding) and (
        finding.severity == "stop"
        or finding.comes_out
        or (finding.suspect is not None and finding.severity == "fix now")
    )


def _outlook(
    examined: Examined,
    section: BetweenSection,
    likely: BetweenSection,
    planned: Sequence[Cut],
    how: HowRead,
    target: float | None,
    *,
    common: bool,
) -> Outlook:
    wanted, _ = verticals_wanted(examined, sum(map(water_width, examined.channels)))
    read = sum(is_reading(spot) for spot in examined.spots)
    now = section.half_width(0.95, common=common)
    at_best = needed = None
    if target is not None and now > target:
        at_best = _at_best(likely, planned, how, common=common)
        then = with_cuts(likely, planned, how)
        if then.half_width(0.95, common=common) <= target:
            needed = _needed(likely, planned, how, target, common=common)
    return Outlook(
        rules=examined.rules.name,
        target=target,
        now=now,
        at_best=now if at_best is None else at_best,
        floor=section.floor if common else 0.0,
        read=read,
        missing=max(int(wanted) - read, 0),
        needed=needed,
        common=common,
    )


def _at_best(
    section: BetweenSection, planned: Sequence[Cut], how: HowRead, *, common: bool
) -> float:
    """Return what would be left after the time of 25 more verticals, in percent.

    All of it is spent on them, or half of it, or none, and the rest on second points.
    """
    second = SECONDS_TO_MOVE + 2.0 * how.seconds
    left = []
    for verticals in (MOST_MORE, MOST_MORE // 2, 0):
        time = (MOST_MORE - verticals) * (SECONDS_TO_MOVE + how.seconds)
        then = at_two_points(with_cuts(section, planned[:verticals], how), int(time / second))
        left.append(then.half_width(0.95, common=common))
    return min(left)


def _needed(
    section: BetweenSection, planned: Sequence[Cut], how: HowRead, target: float, *, common: bool
) -> int:
    """Return how many of the planned verticals reach the target, as all of them do."""
    low, high = 0, len(planned)
    while high - low > 1:
        middle = (low + high) // 2
        then = with_cuts(section, planned[:middle], how)
        if then.half_width(0.95, common=common) <= target:
            high = middle
        else:
            low = middle
    return high


def _best(
    examined: Examined,
    section: BetweenSection,
    planned: Sequence[Cut],
    how: HowRead,
    findings: Sequence[Finding],
    outlook: Outlook,
) -> tuple[Act, ...]:
    """Return the acts that lower the interval most a second, those that do at all."""
    shut = {
        (finding.channel, tape)
        for finding in findings
        if finding.check in _ASKS_FOR_THE_LEADER and is_open(finding)
        if finding.channel is not None
        for tape in finding.tapes
    }
    to_come = first_of(planned, outlook.needed or (outlook.missing if outlook.reached else 1))
    now = section.half_width(0.95, common=outlook.common)
    found = []
    for one in possible_acts(examined.gauging, section, how, shut, to_come):
        gain = now - one.after.half_width(0.95, common=outlook.common)
        # Rounded, so that two sides of a symmetric section are equal, and the tape decides.
        rate = round(gain / one.seconds, 9)
        if rate > 0.0:
            found.append((-rate, one.channel, one.tape, one.kind, outlook.now - gain, one))
    found.sort(key=lambda each: each[:4])
    return tuple(_act(examined, one, after, outlook) for *_, after, one in found)


def _act(examined: Examined, one: Possible, after: float, outlook: Outlook) -> Act:
    return Act(
        kind=one.kind,
        channel=one.channel,
        tape=one.tape,
        seconds=one.seconds,
        percent=after,
        words=act_words(examined, one, after, outlook),
    )


def _end(kind: Literal["stop", "elsewhere"], percent: float, words: str) -> Act:
    return Act(kind=kind, channel=None, tape=None, seconds=0.0, percent=percent, words=words)
