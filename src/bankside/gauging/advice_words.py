"""What advice says to the crew: one sentence an act, the figures in it."""

from __future__ import annotations

import math
from typing import Final

from bankside.gauging.advice_acts import Possible
from bankside.gauging.advice_outlook import MOST_MORE, Outlook
from bankside.gauging.checks.adding import channel_words
from bankside.gauging.checks.examined import Examined
from bankside.gauging.rounding import to_figures

__all__ = [
    "NOT_ALONE",
    "act_words",
    "common_in_the_way",
    "elsewhere_words",
    "enough_words",
    "left_out_words",
    "no_more_words",
]

NOT_ALONE: Final = "Nobody goes in alone."
"""What is added where nobody wrote down who is there."""

_MOSTLY_COMMON: Final = 0.8
# Percent, beyond which a percent of the discharge says nothing (ours, as elsewhere in the budget).
_WHOLE: Final = 100.0
# How many units of the last digit two figures are apart at the least, and how many digits they take
# for it at the most (ours).
_UNITS_APART: Final = 3
_MOST_DIGITS: Final = 4


def common_in_the_way(floor: float, target: float) -> bool:
    """Return whether it is rod, meter and profile that keep a target out of reach, not the bed.

    That is where what is the same at all verticals is most of the target (ours: 0.8 of it).
    """
    return floor > _MOSTLY_COMMON * target


def act_words(examined: Examined, one: Possible, after: float, outlook: Outlook, bank: str) -> str:
    """Return what an act is, and what it brings, in one sentence.

    `bank` says from which bank it is done, in words, where strong water parts the section.
    """
    at = f"{examined.at(one.tape)}{_channel(examined, one)}{f', {bank}' if bank else ''}"
    beyond = ", beyond what the rule set asks" if one.beyond else ""
    what = {
        "vertical": f"Read a vertical at {at}",
        "second point": f"Read 0.2 and 0.8 of the depth as well at {at}, as the rule set asks",
        "longer exposure": f"Read longer at {at}, {_seconds(examined)} more a point{beyond}",
    }[one.kind]
    return f"{what}: {_brings(outlook.now, after)}{_why(examined, one)}{_still(one, outlook)}."


def _brings(now: float, after: float) -> str:
    if now > _WHOLE:
        return (
            "half the interval, now more than the discharge itself, becomes about "
            f"{to_figures(after / now, 2)} of that"
        )
    return "{} becomes about {}".format(*_apart(now, after))


def _seconds(examined: Examined) -> str:
    return f"{examined.rules.si('exposure'):g} s"


def _why(examined: Examined, one: Possible) -> str:
    if one.between is None or not one.share:
        return ""
    return (
        f", as {to_figures(100.0 * one.share, 2)} % of what is open between verticals lies between "
        f"{examined.at(*one.between)}"
    )


def _still(one: Possible, outlook: Outlook) -> str:
    if outlook.missing and outlook.reached:
        return f"; {_target(outlook)} is reached, {outlook.missing} more are asked for by " + (
            f'the rule set "{outlook.rules}"'
        )
    if outlook.reached:
        return f"; {_target(outlook)} is reached, {_heavy(outlook)}"
    if outlook.missing and outlook.target is None and one.kind == "vertical":
        return f'; the rule set "{outlook.rules}" asks for {outlook.missing} more'
    if outlook.needed is None or outlook.needed <= 1:
        return ""
    minutes = max(round(outlook.needed * one.seconds / 60.0), 1)
    time = f", some {minutes} min in the water," if one.kind == "vertical" else ""
    return f"; about {outlook.needed} more verticals{time} to {_target(outlook)}"


def enough_words(outlook: Outlook) -> str:
    """Return that the target is reached, and what the rule set has to say to that."""
    reached = f"{_percent(outlook.now)} reached with {_verticals(outlook.read)}"
    if not outlook.departs:
        return f"Enough: {reached}."
    wanted = f'yet the rule set "{outlook.rules}" asks for {outlook.read + outlook.missing}'
    if not outlook.missing:
        wanted = _heavy(outlook)
    return f"{reached}, {wanted}: who stops here departs from it and says so."


def _heavy(outlook: Outlook) -> str:
    return (
        f'yet the rule set "{outlook.rules}" wants no panel above {outlook.share_limit:g} % of the '
        "discharge"
    )


def no_more_words(outlook: Outlook, left_out: str) -> str:
    """Return that no act is worth its time, and by how little it would lower the interval.

    Where something better is left out, that nothing is left where somebody may be sent.
    """
    if left_out:
        return "Nothing that is worth its time is left where somebody may be sent."
    part = f"{to_figures(outlook.least_gain, 1)} off {_percent(outlook.now)}"
    if outlook.now > _WHOLE:
        part = f"{to_figures(outlook.least_gain / outlook.now, 1)} of it off half the interval"
    return (
        "No more vertical, second point or longer exposure is worth its time: each would take "
        f"less than {part}."
    )


def left_out_words(examined: Examined, one: Possible) -> str:
    """Return where a vertical would bring more, but nobody is sent."""
    assert one.between is not None
    where = f"{examined.at(*one.between)}{_channel(examined, one)}"
    return (
        f"A vertical between {where} would bring more, but nobody is "
        "sent there: there or on the way the water is, or may well be, too deep or too fast."
    )


def elsewhere_words(outlook: Outlook) -> str:
    """Return that the target cannot be reached in this section, and what would help."""
    still = f"{_most(outlook)} would still leave {_percent(outlook.at_best)}"
    if outlook.target is not None and common_in_the_way(outlook.floor, outlook.target):
        return (
            f"{_target(outlook)} is not to be reached here: rod, meter and profile, the same at "
            f"all verticals, alone leave {_percent(outlook.floor)}, and {still}; take another "
            "target, or a section with a more even bed where wading is safe."
        )
    return (
        f"{_target(outlook)} is not to be reached here, find a smoother section where wading is "
        f"safe: {still}."
    )


def _channel(examined: Examined, one: Possible) -> str:
    return channel_words(examined, examined.channels[one.channel])


def _most(outlook: Outlook) -> str:
    if outlook.room == MOST_MORE:
        return f"{MOST_MORE} more verticals, or second points in their time,"
    if not outlook.room:
        return "second points, as there is no place for one more vertical,"
    return f"the {_verticals(outlook.room)} more that have a place, or second points,"


def _target(outlook: Outlook) -> str:
    return f"± {outlook.target:g} %"


def _percent(value: float) -> str:
    return "more than the discharge either way" if value > _WHOLE else f"± {to_figures(value, 2)} %"


def _apart(now: float, then: float) -> tuple[str, str]:
    """Return two figures with two digits, with more where these would distort their difference."""
    digits, unit = 2, 10.0 ** (math.floor(math.log10(now)) - 1)
    while digits < _MOST_DIGITS and now - then < _UNITS_APART * unit:
        digits, unit = digits + 1, unit / 10.0
    return f"± {to_figures(now, digits)} %", f"± {to_figures(then, digits)} %"


def _verticals(count: int) -> str:
    return "1 vertical" if count == 1 else f"{count} verticals"
