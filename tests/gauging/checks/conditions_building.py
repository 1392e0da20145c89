"""Gaugings made by hand for the checks, in feet, and the findings of some checks on them."""

from collections.abc import Iterable, Mapping
from datetime import UTC, date, datetime, timedelta
from typing import Any

import attrs

from bankside.gauging.checks.examined import examine
from bankside.gauging.checks.finding import Check, Finding
from bankside.gauging.records import (
    Channel,
    CrewMember,
    Gauging,
    Meter,
    MeterCheck,
    PointReading,
    Position,
    Site,
    StageReading,
    Units,
    Vertical,
)
from bankside.gauging.rule_sets.load import load_rule_set

from .wording import hold_wording

RULES = load_rule_set("common-practice")
START = datetime(2026, 7, 14, 10, 0, tzinfo=UTC)
FEET = Units("ft", "ft/s")
METRIC = Units("m", "m/s")


def minute(minutes: float) -> datetime:
    """A moment that many minutes after ten o'clock."""
    return START + timedelta(minutes=minutes)


def point(value: float, fraction: float | None = 0.6, **fields: Any) -> PointReading:
    """A velocity as called, at 0.6 of the depth unless it is said otherwise."""
    return PointReading(value, fraction, **fields)


def section(
    count: int = 20,
    depth: float = 1.0,
    velocity: float = 1.0,
    fraction: float | None = 0.6,
    others: Mapping[int, Vertical] | None = None,
) -> tuple[Channel, ...]:
    """A channel with an edge at either end and verticals at 1, 2, 3 … ft, all alike.

    Each panel is 1 ft wide, so it carries depth times velocity. others: place, from 1 → vertical.
    """
    alike = {
        place: Vertical(float(place), depth, (point(velocity, fraction),))
        for place in range(1, count + 1)
    }
    return (
        Channel(
            (
                Vertical(0.0, 0.0, edge="left", bank="sloping"),
                *{**alike, **(others or {})}.values(),
                Vertical(count + 1.0, 0.0, edge="right", bank="sloping"),
            )
        ),
    )


def gauging(channels: tuple[Channel, ...] | None = None, **fields: Any) -> Gauging:
    """A gauging of a section, with nothing around it but what is said."""
    return Gauging(FEET, section() if channels is None else channels, **fields)


def lone(vertical: Vertical, **fields: Any) -> Gauging:
    """A gauging that has just begun: one vertical and no edge."""
    return Gauging(FEET, (Channel((vertical,)),), **fields)


COMPLETE = gauging(
    section(velocity=1.0),
    site=Site("above the weir", "Alder Fork", Position(-1.23456, 45.67891, 4.0)),
    date=START.date(),
    started=START,
    ended=minute(45),
    crew=(CrewMember("A. Mora", "rod"), CrewMember("B. Lind", "recorder")),
    meter=Meter(
        "propeller",
        "P-7",
        rotor="small",
        calibration_due=date(2027, 3, 1),
        checks=(
            MeterCheck("spin", "before", seconds=45.0),
            MeterCheck("spin", "after", seconds=44.0),
        ),
    ),
    stage=(StageReading(2.5, START), StageReading(2.5, minute(45))),
    whole_flow=True,
    cleared=minute(-30),
    quality="good",
)
"""A gauging with everything around it, and nothing that a check of the conditions could find."""


def findings(
    checks: Iterable[Check],
    record: Gauging,
    *,
    finished: bool = True,
    today: date | None = None,
) -> list[Finding]:
    """What some checks find, each held to what its check says that it may find."""
    examined = examine(record, RULES, finished=finished, today=today)
    found = []
    for check in checks:
        for finding in check.find(examined):
            assert finding.check == check.name
            assert finding.severity in check.severities
            assert {t.name for t in finding.thresholds} <= set(check.thresholds)
            hold_wording(finding)
            found.append(finding)
    return found


def severities(
    checks: Iterable[Check], record: Gauging, *, finished: bool = True, today: date | None = None
) -> list[tuple[str, str]]:
    """Name and severity of what some checks find."""
    found = findings(checks, record, finished=finished, today=today)
    return [(finding.check, finding.severity) for finding in found]


def with_meter(**fields: Any) -> Gauging:
    """The complete gauging with a meter of other fields."""
    assert COMPLETE.meter is not None
    return attrs.evolve(COMPLETE, meter=attrs.evolve(COMPLETE.meter, **fields))
