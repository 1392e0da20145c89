"""Whether somebody read on in the water after a finding had called everybody out of it."""

from __future__ import annotations

from typing import Final

import attrs

from bankside.gauging.checks.finding import Finding
from bankside.gauging.checks.run import check_gauging
from bankside.gauging.records import Gauging
from bankside.gauging.rule_sets.rule_set import RuleSet
from bankside.gauging.units import metres_per
from bankside.practice.session.followed import Followed
from bankside.practice.session.shown import ShownDepth, ShownPoint, ShownStage

__all__ = ["broken_off", "read_on"]

_SAME_MARK: Final = 1e-6
# A gauging was broken off where more of the discharge than this lies beyond its readings (ours).
_UNREAD: Final = 0.1


def read_on(followed: Followed, record: Gauging, rules: RuleSet, finding: Finding) -> bool:
    """Return whether a depth or velocity was read elsewhere after the finding could be told.

    A finding at marks of the tape could be told once the first of them was read; one on the level
    with the gauge reading that brings it. Where nobody can say when, it was read on: what stands
    there was then written wrongly, and is to be put right.
    """
    marks = {tape * metres_per(record.units.length) for tape in finding.tapes}
    if not marks and not followed.readings_at:
        return False
    told = _read_at(followed, marks) if marks else _gauge_told(followed, record, rules, finding)
    if told is None:
        return True
    return any(
        not any(abs(shown.tape - mark) < _SAME_MARK for mark in marks)
        for shown in followed.shown[told + 1 :]
        if isinstance(shown, ShownDepth | ShownPoint)
    )


def broken_off(followed: Followed) -> bool:
    """Return whether a good part of the section was left unread: somebody came out in time."""
    water = followed.water
    places = [one.y for one in followed.shown if isinstance(one, ShownDepth | ShownPoint)]
    if water is None or not places:
        return True
    stream = water.stream
    between = stream.discharge_between(min(places), max(places))
    return between < (1.0 - _UNREAD) * stream.discharge


def _read_at(followed: Followed, marks: set[float]) -> int | None:
    """Return the act at which the first of some marks was read; None where one never was."""
    places = [
        next(
            (
                place
                for place, shown in enumerate(followed.shown)
                if isinstance(shown, ShownDepth | ShownPoint)
                and abs(shown.tape - mark) < _SAME_MARK
            ),
            None,
        )
        for mark in marks
    ]
    known = [place for place in places if place is not None]
    return min(known) if len(known) == len(marks) else None


def _gauge_told(
    followed: Followed, record: Gauging, rules: RuleSet, finding: Finding
) -> int | None:
    """Return the act at which the gauge was read that first brings the finding; None unknown."""
    gauges = [i for i, shown in enumerate(followed.shown) if isinstance(shown, ShownStage)]
    if len(gauges) != len(record.stage):
        return None
    for count, place in enumerate(gauges, 1):
        sofar = attrs.evolve(record, stage=record.stage[:count])
        found = check_gauging(sofar, rules, finished=False)
        if any(one.check == finding.check and one.comes_out for one in found):
            return place
    return gauges[-1] if gauges else None
