"""What the checks find, as the page shows it: each with the entry or the place that settles it."""

from __future__ import annotations

from decimal import Decimal, InvalidOperation
from typing import Any, Final

from bankside.bank.standing import Standing
from bankside.bank.view_verticals import figure, keys_at
from bankside.gauging.checks.answers import is_open, key_of
from bankside.gauging.checks.finding import Finding
from bankside.gauging.checks.run import ALL_CHECKS
from bankside.note.findings import threshold_words

__all__ = ["finding_view"]

_CHECKS: Final = {check.name: check for check in ALL_CHECKS}

# Whether somebody stands there is for the leader to say, below the limits of a stop as well.
_LEADER_DECIDES = frozenset({"Water too strong to wade", "Deeper than wading work"})

# By how many places a point that was lost or misplaced moves; shorter moves first.
_POINT_SLIPS = (-1, 1, -2, 2, -3, 3)


def finding_view(standing: Standing, finding: Finding) -> dict[str, Any]:
    """Return one finding; verticals and channels are named by their keys."""
    answer = finding.answer
    return {
        "key": key_of(finding),
        "check": finding.check,
        "severity": finding.severity,
        "found": finding.found,
        "advice": finding.advice,
        "channel": None if finding.channel is None else standing.channel_key(finding.channel),
        "verticals": keys_at(standing, finding.channel, finding.tapes),
        "tapes": list(finding.tapes),
        "rule": _CHECKS[finding.check].trigger,
        "source": _CHECKS[finding.check].source,
        "rules": [threshold_words(one, standing.rules) for one in finding.thresholds],
        "instead": _instead(standing, finding),
        "places": [
            {"channel": standing.channel_key(place.channel), "tape": figure(place.tape)}
            for place in finding.places
        ],
        "answer": None if answer is None else {"reason": answer.reason, "by": answer.by},
        "open": is_open(finding),
        "comes_out": finding.comes_out,
        "leader_decides": finding.check in _LEADER_DECIDES,
        "hangs_on": finding.hangs_on,
    }


def _instead(standing: Standing, finding: Finding) -> dict[str, Any] | None:
    """Return the figure that was probably meant, and the entry that would say so.

    `write` is the whole value of that entry: of a velocity, the reading with its other members.
    """
    suspect, meant = finding.suspect, finding.instead
    if suspect is None or meant is None or finding.channel is None:
        return None
    what = standing.what_of(finding.channel, suspect.vertical, suspect.quantity, suspect.reading)
    said = standing.recorded.said.get(what)
    if said is None:
        return None
    if isinstance(said.value, dict):
        was = str(said.value.get("value", said.value.get("counts", "")))
        value = _as_called(was, meant)
        return {"what": what, "value": value, "was": was, "write": {**said.value, "value": value}}
    was = str(said.value)
    value = _as_called(was, meant)
    return {"what": what, "value": value, "was": was, "write": value}


def _as_called(was: str, meant: float) -> str:
    """Return a figure with the digits that were called: 100 meant as 1.00 is "1.00", not "1"."""
    try:
        called = Decimal(was)
    except InvalidOperation:
        return f"{meant:.10g}"
    for places in _POINT_SLIPS:
        if (moved := called.scaleb(places)) and float(moved) == meant:
            return f"{moved:f}"
    decimals = -int(called.as_tuple().exponent)
    same = f"{meant:.{max(decimals, 0)}f}"
    return same if float(same) == meant else f"{meant:.10g}"
