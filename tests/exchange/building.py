"""A small survey of a fictional basin, with something in every table."""

import datetime
from pathlib import Path

from bankside.exchange.data import SurveyData
from bankside.gauging.records import (
    Answer,
    Channel,
    Correction,
    CrewMember,
    Filed,
    FiledPanel,
    Gauging,
    Meter,
    MeterCheck,
    PointReading,
    Position,
    RatingPart,
    Site,
    StageReading,
    Units,
    Vertical,
)
from bankside.gauging.rule_sets.load import load_rule_set
from bankside.sheets.read import read_sheets
from bankside.survey.records import Balance, Stream, Survey, SurveySite
from bankside.survey.visits import visits_of

__all__ = ["BASIN", "FIRST", "SECOND", "SURVEY", "demo_gaugings", "with_visits"]

ROOT = Path(__file__).parents[2]
ZONE = datetime.timezone(datetime.timedelta(hours=-7))


def at(hour: int, minute: int, second: int = 0) -> datetime.datetime:
    """A moment of the day of the survey, by a clock seven hours behind UTC."""
    return datetime.datetime(2026, 7, 14, hour, minute, second, tzinfo=ZONE)


SURVEY = Survey(
    "larkspur-2026",
    "Low flows of the Larkspur basin",
    basin="Larkspur",
    starts=datetime.date(2026, 7, 1),
    streams=(
        Stream(
            "Larkspur River",
            line=(Position(-1.30, 45.60), Position(-1.25, 45.61), Position(-1.20, 45.615)),
        ),
        Stream("Alder Fork", joins="Larkspur River", joins_at_km=12.5),
    ),
    sites=(
        SurveySite(
            "alder-1",
            "Alder Fork",
            "above the footbridge",
            also=("AF footbridge", "=HYPERLINK(1)"),
            label="AF-01",
            position=Position(-1.2401, 45.6102, 6.0, "AF-01"),
            along_km=3.2,
            drainage_area_km2=41.5,
        ),
        SurveySite("larkspur-1", "Larkspur River", "at the old weir", label="LR-01"),
        SurveySite("larkspur-2", "Larkspur River", "below the ford", label="LR-02"),
    ),
    balances=(Balance("around the fork", ("alder-1", "larkspur-1"), "larkspur-2"),),
    remarks="Keys for the gate at the weir are with the leader.",
)

FIRST = Gauging(
    Units("ft", "ft/s"),
    (
        Channel(
            (
                Vertical(2.0, 0.0, edge="left", bank="sloping"),
                Vertical(4.0, 1.25, (PointReading(0.8, 0.6, 40.0),), at=at(10, 10)),
                Vertical(6.0, 1.5, (PointReading(1.1, 0.2, 41.5), PointReading(0.9, 0.8, 40.0))),
                Vertical(8.0, 1.0, (PointReading(0.7, 0.6, 40.0),), angle=-12.0, remark="weed"),
                Vertical(10.0, 0.4, edge="right", bank="steep", wall_factor=0.8),
            ),
            "main",
        ),
        Channel(
            (
                Vertical(20.0, 0.0, edge="left"),
                Vertical(22.0, 0.5, (PointReading(0.3, 0.6, 40.0),)),
                Vertical(23.0, 0.5),
                Vertical(24.0, 0.0, edge="right"),
            ),
        ),
    ),
    id="af-2026-07-14",
    site=Site("above the footbridge", "Alder Fork", Position(-1.24, 45.61, 5.0), "alder-1"),
    started=at(10, 5),
    ended=at(10, 52, 30),
    meter=Meter(
        "cup meter",
        "CM-11",
        (RatingPart(2.2, 0.02, 1.0), RatingPart(2.25, -0.03)),
        rotor="large",
        slowest=0.1,
        calibrated=datetime.date(2026, 3, 1),
        checks=(MeterCheck("spin", "before", seconds=185.0, at=at(9, 50)),),
    ),
    crew=(CrewMember("Mora, A.", "rod"), CrewMember("Quill, June", "recorder")),
    stage=(StageReading(1.42, at(10, 4)), StageReading(1.41, at(10, 53))),
    whole_flow=True,
    quality="good",
    filed=Filed(4.5, "ft3/s", (FiledPanel(0, 1, 2.0, 2.5, 2.0),)),
    remarks='-7 °C at dawn, "ice" at the edge,\nnone in the section',
    corrections=(Correction("the depth at tape 4", "12.5", "1.25", "a slip", "Quill, June"),),
    answers=(Answer("few-verticals", "3 verticals", "explain", "a ditch", "Mora, A.", at(11, 0)),),
)
SECOND = Gauging(
    Units("m", "m/s", "cm"),
    (
        Channel(
            (
                Vertical(0.0, 0.0, edge="left"),
                Vertical(1.0, 30.0, (PointReading(None, 0.6, 40.0, 52.0),)),
                Vertical(2.0, 42.0, (PointReading(0.4, 0.6, 40.0, rod_setting=42.0),)),
                Vertical(3.0, 0.0, edge="right"),
            )
        ),
    ),
    site=Site("at the old weir", "Larkspur River"),
    date=datetime.date(2026, 7, 15),
    meter=Meter(rating=(RatingPart(0.5, 0.01),)),
    no_gauge=True,
)


def with_visits(data: SurveyData) -> SurveyData:
    """The same survey with what is worked out from its gaugings."""
    sites = data.survey.sites if data.survey is not None else ()
    rules = load_rule_set("common-practice")
    return SurveyData(data.survey, data.gaugings, visits_of(data.gaugings, sites, rules))


BASIN = with_visits(SurveyData(SURVEY, (FIRST, SECOND)))


def demo_gaugings() -> tuple[Gauging, ...]:
    """The gaugings on the sheets of the demo."""
    sheets = sorted((ROOT / "demo" / "sheets").iterdir())
    read = [item.gauging for sheet in sheets for item in read_sheets(sheet).gaugings]
    return tuple(gauging for gauging in read if gauging is not None)
