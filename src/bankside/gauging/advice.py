"""What to do next in the water: the act that lowers the uncertainty most for its time, or enough.

Every act is judged by what it would leave of the interval of 95 % (`section_as_read`), with what
the readings tell of the section taken as it is now. What is the same at all verticals (rod, zero,
calibration) no act can lower. Nobody is sent into water that is, or may well be, too strong
(`checks.wadeable`).
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, Literal

import attrs

from bankside.gauging.advice_acts import Possible, possible_acts
from bankside.gauging.advice_design import Cut, cuts, first_of
from bankside.gauging.advice_grounds import Grounds, grounds_of
from bankside.gauging.advice_outlook import MOST_MORE, Outlook, outlook_of
from bankside.gauging.advice_sides import sides
from bankside.gauging.advice_words import (
    NOT_ALONE,
    act_words,
    elsewhere_words,
    enough_words,
    left_out_words,
    no_more_words,
)
from bankside.gauging.checks import wading
from bankside.gauging.checks.answers import is_open
from bankside.gauging.checks.examined import Examined
from bankside.gauging.checks.finding import Finding

__all__ = ["Act", "ActKind", "advise", "is_doubt"]

ActKind = Literal["vertical", "second point", "longer exposure", "no more", "enough", "elsewhere"]

# The rest of the characters would move a figure by less than anybody reads (ours).
_LIKELY: Final = 1e-3
_ABOUT_WADING: Final = {check.name for check in wading.CHECKS}


@attrs.frozen
class Act:
    """What to do next, in a sentence for the crew, and one more where the best place is left out.

    `channel` is an index into the record and `tape` a position as called, both None for `no more`,
    `enough` and `elsewhere`. `seconds` is what the act takes, `percent` half the interval of 95 %
    that it is expected to leave; for `elsewhere`, what the time of 25 more verticals would.
    """

    kind: ActKind
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
            water or doubts a figure; nor after one that told of water that rose, or that somebody
            is alone, whatever was answered to it.
        target: Half the interval of 95 % that is wanted, in percent of the discharge; without one
            there is no end.
        common: Whether the interval counts what is the same at all verticals too.
    """
    if any(map(_holds_back, findings)):
        return ()
    asked_for = any(is_open(finding) and finding.severity == "fix now" for finding in findings)
    told = [
        _from(examined, grounds, target, common=common, asked_for=asked_for)
        for side in sides(examined)
        if (grounds := grounds_of(examined, side)) is not None
    ]
    return max(told, key=lambda one: one.rate).acts if told else ()


@attrs.frozen
class _Told:
    """What is told of one side, and the fall of the interval a second of its best act."""

    acts: tuple[Act, ...]
    rate: float = 0.0


def _from(
    examined: Examined, grounds: Grounds, target: float | None, *, common: bool, asked_for: bool
) -> _Told:
    likely = attrs.evolve(grounds, section=grounds.section.of_the_likely(_LIKELY))
    planned = cuts(likely.section, MOST_MORE, likely.how.least_m, likely.open_to_cuts)
    outlook = outlook_of(examined, grounds, likely, planned, target, common=common)
    if outlook.reached and not outlook.departs and not asked_for:
        return _Told((_end("enough", outlook.now, enough_words(outlook)),))
    acts, rate, left_out = _best(examined, likely, planned, outlook)
    acts = _in_company(examined, acts)
    if outlook.reached:
        last = () if asked_for else (_end("enough", outlook.now, enough_words(outlook)),)
        acts = (*acts, *last)
    elif outlook.hopeless:
        acts = (_end("elsewhere", outlook.at_best, elsewhere_words(outlook)), *acts)
    elif not acts:
        acts = (_end("no more", outlook.now, no_more_words(outlook, left_out)),)
    return _Told(_with_words(acts, left_out), rate)


def _in_company(examined: Examined, acts: tuple[Act, ...]) -> tuple[Act, ...]:
    """Return the acts; where no crew is written, the first says that nobody goes in alone."""
    return acts if examined.gauging.crew else _with_words(acts, NOT_ALONE)


def _with_words(acts: tuple[Act, ...], more: str) -> tuple[Act, ...]:
    """Return the acts, the first of which says one thing more."""
    if not acts or not more:
        return acts
    return (attrs.evolve(acts[0], words=f"{acts[0].words} {more}"), *acts[1:])


def _holds_back(finding: Finding) -> bool:
    """Return whether nobody is to be sent into the water while this stands."""
    alone = finding.check in _ABOUT_WADING and finding.channel is None
    return is_doubt(finding) or finding.comes_out or alone


def is_doubt(finding: Finding) -> bool:
    """Return whether no figure of a gauging is to be built on while this stands."""
    return is_open(finding) and (
        finding.severity == "stop"
        or finding.comes_out
        or (finding.suspect is not None and finding.severity == "fix now")
    )


def _best(
    examined: Examined, grounds: Grounds, planned: Sequence[Cut], outlook: Outlook
) -> tuple[tuple[Act, ...], float, str]:
    """Return the acts that lower the interval most a second, those that are worth it.

    With the fall a second of the first of them, and a sentence where the best of all is left out,
    as nobody is sent there.
    """
    to_come = first_of(planned, outlook.needed or (outlook.missing if outlook.reached else 1))
    section, common = grounds.section, outlook.common
    now = section.half_width(0.95, common=common)
    found = []
    for one in possible_acts(grounds, to_come):
        gain = now - one.after.half_width(0.95, common=common)
        held = section.less_between(one.after, one.emphasis).half_width(0.95, common=common)
        # Rounded, so that two sides of a symmetric section are equal, and the tape decides.
        rate = round((now - held) / one.seconds, 9)
        if rate > 0.0 and _counts(one, gain, outlook):
            found.append((-rate, one.channel, one.tape, one.kind, outlook.now - gain, one))
    found.sort(key=lambda each: each[:4])
    safe = [each for each in found if each[-1].safe]
    acts = tuple(_act(examined, one, after, outlook, grounds.bank) for *_, after, one in safe)
    best = found[0][-1] if found else None
    left_out = left_out_words(examined, best) if best is not None and not best.safe else ""
    return acts, -safe[0][0] if safe else 0.0, left_out


def _counts(one: Possible, gain: float, outlook: Outlook) -> bool:
    """Return whether an act is told that takes so much off half the interval, in percent.

    A vertical that the rule set asks for is told whatever it takes; once the target is reached,
    nothing else is.
    """
    relief = outlook.share_limit is not None and one.relieves
    asked_for = one.kind == "vertical" and (outlook.missing > 0 or relief)
    worth_it = not outlook.reached and gain >= outlook.least_gain
    return gain > 0.0 and (asked_for or worth_it)


def _act(examined: Examined, one: Possible, after: float, outlook: Outlook, bank: str) -> Act:
    return Act(
        kind=one.kind,
        channel=one.channel,
        tape=one.tape,
        seconds=one.seconds,
        percent=after,
        words=act_words(examined, one, after, outlook, bank),
    )


def _end(kind: ActKind, percent: float, words: str) -> Act:
    return Act(kind=kind, channel=None, tape=None, seconds=0.0, percent=percent, words=words)
