"""What advice says to the crew: one sentence an act, the figures in it."""

from __future__ import annotations

from typing import Final

import attrs

from bankside.gauging.advice_acts import Possible
from bankside.gauging.checks.adding import channel_words
from bankside.gauging.checks.examined import Examined
from bankside.gauging.rounding import to_figures

__all__ = ["Outlook", "act_words", "common_in_the_way", "elsewhere_words", "stop_words"]

_MOSTLY_COMMON: Final = 0.8

# Fewer readings than this tell too little of a section to send a crew away from it, and the margin
# that one of them asks for: tried on simulated streams (docs/advice.md).
_FEWEST_TO_TELL: Final = 8
_MARGIN: Final = 2.0


def common_in_the_way(floor: float, target: float) -> bool:
    """Return whether it is rod, meter and profile that keep a target out of reach, not the bed.

    That is where what is the same at all verticals is most of the target (ours: 0.8 of it).
    """
    return floor > _MOSTLY_COMMON * target


@attrs.frozen
class Outlook:
    """How a gauging stands to its target; all percents are half an interval of 95 %.

    `now` is what is open, `at_best` what 25 more verticals would leave, or second points in their
    time, `floor` what is the same at all verticals. `read` verticals have been read, `missing` more
    does the rule set called `rules` want, `needed` more reach the target, None where 25 do not or
    there is none. `common` says whether what is the same at all verticals counts.
    """

    rules: str
    target: float | None
    now: float
    at_best: float
    floor: float
    read: int
    missing: int
    needed: int | None
    common: bool

    @property
    def reached(self) -> bool:
        """Whether there is a target, and it is met."""
        return self.target is not None and self.now <= self.target

    @property
    def hopeless(self) -> bool:
        """Whether there is a target that not even 25 more verticals are likely to meet.

        What few readings make likely turns out too dark as often as too bright, so that they need
        a margin, which goes with their number.
        """
        if self.target is None or self.reached or self.read < _FEWEST_TO_TELL:
            return False
        return self.at_best > self.target * (1.0 + _MARGIN / self.read)


def act_words(examined: Examined, one: Possible, after: float, outlook: Outlook) -> str:
    """Return what an act is, and what it brings, in one sentence."""
    where = ""
    if len(examined.channels) > 1:
        where = channel_words(examined, examined.channels[one.channel])
    at = f"{examined.at(one.tape)}{where}"
    what = {
        "vertical": f"Read a vertical at {at}",
        "second point": f"Read 0.2 and 0.8 of the depth as well at {at}",
        "longer exposure": f"Read longer at {at}, {_seconds(examined)} more a point",
    }[one.kind]
    brings = "{} becomes about {}".format(*_apart(outlook.now, after))
    return f"{what}: {brings}{_why(examined, one)}{_still(outlook)}."


def _seconds(examined: Examined) -> str:
    return f"{examined.rules.si('exposure'):g} s"


def _why(examined: Examined, one: Possible) -> str:
    if one.between is None or not one.share:
        return ""
    return (
        f", as {to_figures(100.0 * one.share, 2)} % of what is open between verticals lies between "
        f"{examined.at(*one.between)}"
    )


def _still(outlook: Outlook) -> str:
    if outlook.reached:
        return f"; {_target(outlook)} is reached, {outlook.missing} more are asked for by " + (
            f'the rule set "{outlook.rules}"'
        )
    if outlook.needed is None or outlook.needed <= 1:
        return ""
    return f"; about {outlook.needed} more verticals to {_target(outlook)}"


def stop_words(outlook: Outlook) -> str:
    """Return that the target is reached, and what the rule set has to say to that."""
    reached = f"{_percent(outlook.now)} reached with {_verticals(outlook.read)}"
    if not outlook.missing:
        return f"Stop: {reached}."
    return (
        f'{reached}, yet the rule set "{outlook.rules}" asks for '
        f"{outlook.read + outlook.missing}: who stops here departs from it and says so."
    )


def elsewhere_words(outlook: Outlook) -> str:
    """Return that the target cannot be reached in this section, and what would help."""
    still = (
        "25 more verticals, or second points in their time, would still leave "
        f"{_percent(outlook.at_best)}"
    )
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


def _target(outlook: Outlook) -> str:
    return f"± {outlook.target:g} %"


def _percent(value: float) -> str:
    return f"± {to_figures(value, 2)} %"


def _apart(now: float, then: float) -> tuple[str, str]:
    """Return two figures with two digits, or three where two do not tell them apart."""
    digits = 2 if to_figures(now, 2) != to_figures(then, 2) else 3
    return f"± {to_figures(now, digits)} %", f"± {to_figures(then, digits)} %"


def _verticals(count: int) -> str:
    return "1 vertical" if count == 1 else f"{count} verticals"
