"""What a gauging lacks however near it came: luck is no measuring."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from statistics import median
from typing import Final, Literal

import attrs

from bankside.gauging.checks.run import check_gauging
from bankside.gauging.records import Gauging, StageReading
from bankside.gauging.rule_sets.rule_set import RuleSet
from bankside.gauging.units import metres_per
from bankside.practice.debrief.heeded import Heeded
from bankside.practice.session.followed import Followed
from bankside.practice.session.shown import ShownPoint, ShownStage

__all__ = ["Lack", "lacks_of"]

Lack = Literal["nobody looked", "too short", "wading unexplained"]
"""The level rose beyond what calls people out, and no gauge told it while somebody read on; the
meter was held too briefly; a finding that the leader decides about wading was left open."""

# Of the exposure of the rule set at the median point (ours).
_EXPOSED: Final = 0.75
_LEVEL: Final = "Level changed"
_WADING: Final = frozenset({"Water too strong to wade", "Deeper than wading work"})


def lacks_of(
    followed: Followed, record: Gauging, rules: RuleSet, rows: Sequence[Heeded]
) -> tuple[Lack, ...]:
    """Return what a gauging lacks, by what was done and by what became of the findings."""
    return tuple(_lacks(followed, record, rules, rows))


def _lacks(
    followed: Followed, record: Gauging, rules: RuleSet, rows: Sequence[Heeded]
) -> Iterator[Lack]:
    if _nobody_looked(followed, record, rules, rows):
        yield "nobody looked"
    if _median_exposure(followed, rules.si("exposure")) < _EXPOSED * rules.si("exposure"):
        yield "too short"
    if any(
        row.check in _WADING and row.severity == "explain" and row.fate == "left open"
        for row in rows
    ):
        yield "wading unexplained"


def _nobody_looked(
    followed: Followed, record: Gauging, rules: RuleSet, rows: Sequence[Heeded]
) -> bool:
    """Return whether somebody read on in water that rose too far, and no gauge had told it.

    A gauge that was looked at and not written down tells nobody.
    """
    reads = followed.readings_at
    looks = [one.at for one in followed.shown if isinstance(one, ShownStage)]
    if not reads:
        return False
    begun = min([reads[0], *looks])
    metre = metres_per(record.units.length)

    def rose(at: float) -> bool:
        """Return whether the true level calls people out at a second."""
        stage = tuple(StageReading(followed.gauge_at(one) / metre) for one in (begun, at))
        true = attrs.evolve(record, stage=stage, no_gauge=False)
        found = check_gauging(true, rules, finished=False)
        return any(one.check == _LEVEL and one.comes_out for one in found)

    if followed.gauge_at(reads[-1]) <= followed.gauge_at(begun):
        return False
    if not rose(reads[-1]):
        return False
    looked = any(rose(at) for at in looks if at <= reads[-1])
    return not looked or not any(row.check == _LEVEL and row.calls_out for row in rows)


def _median_exposure(followed: Followed, usual: float) -> float:
    """Return how long the meter was held at the median point, in s; what was repeated adds up."""
    held: dict[tuple[float, float], float] = {}
    for one in followed.shown:
        if isinstance(one, ShownPoint):
            point = (one.tape, one.fraction)
            held[point] = held.get(point, 0.0) + one.seconds
    return median(held.values()) if held else usual
