"""Hand-made sections for the checks on slips: smooth ones, in which one figure is changed."""

from collections.abc import Mapping, Sequence
from typing import Any

from bankside.gauging.checks.examined import examine
from bankside.gauging.checks.finding import Check, Finding
from bankside.gauging.records import Channel, Gauging, PointReading, Units, Vertical
from bankside.gauging.rule_sets.load import BASE, load_rule_set

from .wording import hold_wording

FEET = Units("ft", "ft/s")
METRIC = Units("m", "m/s")
RULES = load_rule_set(BASE)

TAPES = (2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0, 10.0, 11.0, 12.0)
DEPTHS = (0.0, 0.42, 0.71, 0.88, 1.02, 1.13, 1.08, 0.93, 0.74, 0.47, 0.0)
VELOCITIES = (0.0, 0.63, 0.87, 1.04, 1.16, 1.24, 1.19, 1.07, 0.92, 0.68, 0.0)
"""A trough eleven verticals wide, the first and the last of them edges; feet and ft/s."""


def section(
    tapes: Sequence[float] = TAPES,
    depths: Sequence[float] = DEPTHS,
    velocities: Sequence[float] = VELOCITIES,
    units: Units = FEET,
) -> Gauging:
    """One channel, its verticals in the order given, edges at both ends."""
    rows = list(zip(tapes, depths, velocities, strict=True))
    between = [Vertical(t, d, (PointReading(v, 0.6),)) for t, d, v in rows[1:-1]]
    left = Vertical(*rows[0][:2], edge="left")
    right = Vertical(*rows[-1][:2], edge="right")
    return Gauging(units, (Channel((left, *between, right)),))


def changed(values: Sequence[float], changes: Mapping[int, float]) -> list[float]:
    """The values with some replaced, by their place."""
    return [changes.get(place, value) for place, value in enumerate(values)]


def of(checks: Sequence[Check], name: str, gauging: Gauging, **how: Any) -> list[Finding]:
    """What the check of that name finds; finished unless told otherwise."""
    (check,) = (check for check in checks if check.name == name)
    found = list(check.find(examine(gauging, RULES, finished=how.get("finished", True))))
    for finding in found:
        assert finding.check == name and finding.severity in check.severities
        assert {threshold.name for threshold in finding.thresholds} <= set(check.thresholds)
        hold_wording(finding)
    return found


def first(gauging: Gauging, count: int) -> Gauging:
    """The gauging as far as it has been called after so many verticals."""
    return Gauging(gauging.units, (Channel(gauging.channels[0].verticals[:count]),))
