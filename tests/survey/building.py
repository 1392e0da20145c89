"""Sites, streams and visits of a fictional basin, with discharges that can be told by heart."""

import datetime
from typing import Any

import attrs

from bankside.gauging.budget import Budget, BudgetPart
from bankside.gauging.records import (
    Channel,
    CrewMember,
    Gauging,
    Meter,
    PointReading,
    Site,
    StageReading,
    Units,
    Vertical,
)
from bankside.gauging.rule_sets.load import load_rule_set
from bankside.survey.records import Stream, Survey, SurveySite
from bankside.survey.visits import Visit, visit_of

RULES = load_rule_set("common-practice")
DAY = datetime.date(2026, 7, 14)
ZONE = datetime.timezone(datetime.timedelta(hours=-7))


def at(hour: int, minute: int = 0, day: datetime.date = DAY) -> datetime.datetime:
    """A moment of that day, or of another one."""
    return datetime.datetime(day.year, day.month, day.day, hour, minute, tzinfo=ZONE)


def section(m3s: float, count: int = 20, depth: float = 0.5) -> Channel:
    """A channel of verticals a metre apart, all alike, which carries so many m³/s."""
    velocity = (PointReading(m3s / (count * depth), 0.6, 60.0),)
    return Channel(
        (
            Vertical(0.0, 0.0, edge="left"),
            *(Vertical(float(i), depth, velocity) for i in range(1, count + 1)),
            Vertical(count + 1.0, 0.0, edge="right"),
        )
    )


DRY = Channel(
    (Vertical(0.0, 0.0, edge="left"), Vertical(1.0, dry=True), Vertical(2.0, 0.0, edge="right"))
)


def gauging(
    m3s: float | None,
    *,
    id_: str | None = None,
    day: datetime.date | None = DAY,
    crew: tuple[str, ...] = (),
    serial: str | None = None,
    stage: float | None = None,
    **members: Any,
) -> Gauging:
    """A gauging that carries so many m³/s, none for a record that gives no discharge."""
    channels = () if m3s is None else (section(m3s),)
    return Gauging(
        **{
            "units": Units("m", "m/s"),
            "channels": channels,
            "id": id_,
            "date": day,
            "crew": tuple(CrewMember(name) for name in crew),
            "meter": None if serial is None else Meter(kind="propeller", serial=serial),
            "stage": () if stage is None else (StageReading(stage),),
            **members,
        }
    )


def visit(
    m3s: float | None,
    site: SurveySite | None,
    /,
    *,
    id_: str = "g",
    percent: float | None = None,
    shared: float = 0.0,
    **members: Any,
) -> Visit:
    """A visit that carries so many m³/s.

    `percent`: its standard uncertainty in the place of the one worked out, of which `shared` is
    common to all gaugings of one meter.
    """
    if site is not None:
        members.setdefault("site", Site(id=site.id))
    made = visit_of(gauging(m3s, id_=id_, **members), RULES, site)
    return made if percent is None else attrs.evolve(made, budget=budget(percent, shared))


def budget(percent: float, shared: float = 0.0) -> Budget:
    """A budget of so many percent, part of it systematic."""
    own = (percent**2 - shared**2) ** 0.5
    parts = (BudgetPart("verticals", own, "given"), BudgetPart("systematic", shared, "given"))
    return Budget("iso-748", "a method", parts, percent)


MAIN = Stream("Alder River")
TRIBUTARY = Stream("Birch Brook", joins="Alder River", joins_at_km=5.0)
UPPER = SurveySite("upper", "Alder River", "Upper meadow", along_km=8.0, drainage_area_km2=40.0)
LOWER = SurveySite("lower", "Alder River", "Lower ford", along_km=2.0, drainage_area_km2=100.0)
BROOK = SurveySite("brook", "Birch Brook", "Old mill", along_km=0.3, drainage_area_km2=30.0)
SURVEY = Survey(
    "low-flow-2026", "Low flow 2026", streams=(MAIN, TRIBUTARY), sites=(UPPER, LOWER, BROOK)
)
