import datetime
from typing import Any

import attrs
import pytest

from bankside.gauging.faults import InputRefused
from bankside.gauging.records import (
    Channel,
    CrewMember,
    Filed,
    FiledPanel,
    Gauging,
    Meter,
    PointReading,
    Position,
    RatingPart,
    Site,
    StageReading,
    Units,
    Vertical,
)

METRIC = Units("m", "m/s")
HERE = datetime.timezone(datetime.timedelta(hours=-7))
MORNING = datetime.datetime(2026, 7, 14, 10, 5, tzinfo=HERE)
COUNTED = Channel((Vertical(1, 0.4, (PointReading(seconds=40, counts=12),)),))


def _refusal(record: type, *args: Any, **kwargs: Any) -> list[str]:
    with pytest.raises(InputRefused) as caught:
        record(*args, **kwargs)
    return [str(fault) for fault in caught.value.faults]


@pytest.mark.parametrize(
    ("record", "fields", "path", "must"),
    [
        (Vertical, {"tape": "1"}, "tape", 'a finite number (got "1")'),
        (Vertical, {"tape": True}, "tape", "a finite number (got true)"),
        (Vertical, {"tape": float("nan")}, "tape", "a finite number (got nan)"),
        (Vertical, {"tape": 10**400}, "tape", "a finite number (got a whole number of more"),
        (Vertical, {"tape": None}, "tape", "a finite number (got nothing)"),
        (Vertical, {"tape": 1, "depth": -0.1}, "depth", "a number of at least 0 (got -0.1)"),
        (Vertical, {"tape": 1, "velocity": [1]}, "velocity", "a tuple (a list, in JSON) of Point"),
        (Vertical, {"tape": 1, "velocity": (1,)}, "velocity", "a tuple (a list, in JSON) of Point"),
        (Vertical, {"tape": 1, "edge": "north"}, "edge", 'one of "left", "right" (got "north")'),
        (Vertical, {"tape": 1, "dry": 1}, "dry", "true or false (got 1)"),
        (Vertical, {"tape": 1, "angle": 91}, "angle", "a number from -90 to 90 (got 91)"),
        (Vertical, {"tape": 1, "angle_coefficient": 2}, "angle_coefficient", "a number from 0 to"),
        (Vertical, {"tape": 1, "remark": " "}, "remark", "a text that can be seen"),
        (Vertical, {"tape": 1, "remark": "\u200b\u00ad"}, "remark", "a text that can be seen"),
        (Vertical, {"tape": 1, "remark": "\ud800"}, "remark", "a text that can be seen"),
        (PointReading, {"value": 1, "fraction": 60}, "fraction", "a number from 0 to 1 (got 60)"),
        (PointReading, {"value": 1, "seconds": 0}, "seconds", "a number above 0 (got 0)"),
        (Position, {"lon": 181, "lat": 0}, "lon", "a number from -180 to 180 (got 181)"),
        (Position, {"lon": 0, "lat": -91}, "lat", "a number from -90 to 90 (got -91)"),
        (Position, {"lon": 0, "lat": 0, "accuracy_m": -1}, "accuracy_m", "a number of at least 0"),
        (Site, {"position": (1, 2)}, "position", "one Position record (got a tuple of 2)"),
        (Units, {"length": "yd", "velocity": "m/s"}, "length", 'one of "ft", "in", "m", "cm"'),
        (StageReading, {"value": 1, "at": MORNING.replace(tzinfo=None)}, "at", "a date and time"),
        (StageReading, {"value": 1, "at": "10:05"}, "at", "a date and time with its offset"),
        (CrewMember, {"name": ""}, "name", 'a text that can be seen and that UTF-8 can hold (got'),
        (FiledPanel, {"channel": 0, "vertical": 1.0}, "vertical", "a whole number of at least 0"),
        (Meter, {"rating": (RatingPart(1, 0, 1),) * 3}, "rating", "a tuple (a list, in JSON) of"),
        (Gauging, {"units": METRIC, "channels": (), "date": MORNING}, "date", "a date such as"),
    ],
)  # fmt: skip
def test_a_field_says_what_must_hold(
    record: type, fields: dict[str, Any], path: str, must: str
) -> None:
    """A value of the wrong type or out of range is refused in one sentence with what came."""
    [sentence] = _refusal(record, **fields)

    assert sentence.startswith(f"{path}: {path} must be {must}")


@pytest.mark.parametrize(
    ("fields", "path", "says"),
    [
        ({"bank": "sloping"}, "bank", "beside an edge"),
        ({"edge": "left", "bank": "sloping", "depth": 0.2}, "depth", "sloping edge must be 0"),
        ({"edge": "left", "bank": "steep", "depth": 0}, "depth", "steep edge must be above 0"),
        ({"edge": "left", "bank": "undercut", "depth": 0}, "depth", "undercut edge must be above"),
        ({"dry": True, "depth": 0.2}, "depth", "dry vertical must be 0"),
        ({"dry": True, "velocity": (PointReading(0.2),)}, "velocity[0].value", "0 or left out"),
        (
            {"dry": True, "velocity": (PointReading(seconds=40, counts=3),)},
            "velocity[0].counts",
            "0 or left out",
        ),
        ({"edge": "left", "depth": 0, "wall_factor": 0.6}, "wall_factor", "no water touches"),
        ({"depth": 1, "wall_factor": 0.6}, "wall_factor", "beside an edge"),
        ({"angle": 10, "angle_coefficient": 0.9}, "angle_coefficient", "not both"),
    ],
)
def test_a_vertical_contradicts_itself(fields: dict[str, Any], path: str, says: str) -> None:
    """Fields that cannot hold together are refused at the one that is out of place."""
    [sentence] = _refusal(Vertical, tape=1, **fields)

    assert sentence.startswith(f"{path}: ")
    assert says in sentence


def test_zeros_contradict_nothing() -> None:
    """Sheets fill a dry place or a sloping edge with zeros: they are kept as they were called."""
    Vertical(1, 0, (PointReading(0), PointReading(seconds=40, counts=0)), dry=True)
    Vertical(1, 0, (PointReading(0),), edge="left", bank="sloping")


@pytest.mark.parametrize(
    ("fields", "path"),
    [({}, "value"), ({"seconds": 40}, "value"), ({"counts": 12}, "seconds")],
)
def test_a_reading_is_a_velocity_or_a_count_in_a_time(fields: dict[str, Any], path: str) -> None:
    """A reading without a value, or with counts and no time, says nothing."""
    assert _refusal(PointReading, **fields)[0].startswith(f"{path}: ")


def test_two_verticals_at_one_tape_are_refused() -> None:
    """At one tape position a channel has one vertical, whatever the spelling of the number."""
    [sentence] = _refusal(Channel, (Vertical(1), Vertical(2), Vertical(1.0)))

    assert sentence.startswith("verticals[2].tape: ")
    assert "(got 1, as at verticals[0])" in sentence


def test_a_channel_has_one_edge_a_side() -> None:
    """A second left edge belongs to a second channel; the tape may start on either bank."""
    [sentence] = _refusal(Channel, (Vertical(1, edge="left"), Vertical(2, edge="left")))

    assert sentence.startswith("verticals[1].edge: a channel must have only one left edge")
    Channel((Vertical(1, edge="right"), Vertical(2, edge="left")))


def test_two_rating_parts_follow_each_other() -> None:
    """The first part ends somewhere and the second ends later, or nowhere."""
    slow, fast = RatingPart(1, 0, 0.5), RatingPart(0.9, 0.05)

    Meter(rating=(slow, fast))
    assert _refusal(Meter, rating=(fast, slow))[0].startswith("rating[0].up_to: ")
    assert _refusal(Meter, rating=(slow, slow))[0].startswith("rating[1].up_to: ")


def test_a_gauging_ends_after_it_started() -> None:
    """Start and end are compared as instants, whatever their offsets from UTC."""
    earlier = MORNING.astimezone(datetime.UTC) - datetime.timedelta(minutes=1)
    [sentence] = _refusal(Gauging, METRIC, (), started=MORNING, ended=earlier)

    assert sentence.startswith("ended: ended must not be before started")
    Gauging(METRIC, (), started=MORNING, ended=MORNING.astimezone(datetime.UTC))


def test_the_date_is_the_day_of_the_start() -> None:
    """The day counts by the clock of the crew, not by UTC."""
    late = MORNING.replace(hour=23)

    Gauging(METRIC, (), date=late.date(), started=late)
    tomorrow = late.date() + datetime.timedelta(days=1)
    [sentence] = _refusal(Gauging, METRIC, (), date=tomorrow, started=late)
    assert sentence.startswith("date: date must be the day of started, 2026-07-14")


def test_counts_need_the_rating_of_a_meter() -> None:
    """Counts alone are refused where no rating turns them into a velocity."""
    for meter in (None, Meter("cup")):
        [sentence] = _refusal(Gauging, METRIC, (COUNTED,), meter=meter)
        assert sentence.startswith("channels[0].verticals[0].velocity[0].value: ")
    Gauging(METRIC, (COUNTED,), meter=Meter(rating=(RatingPart(0.7, 0.01),)))
    both = PointReading(0.3, seconds=40, counts=12)
    Gauging(METRIC, (Channel((Vertical(1, 0.4, (both,)),)),))


@pytest.mark.parametrize(
    ("channel", "vertical", "path"),
    [(1, 0, "filed.panels[0].channel"), (0, 1, "filed.panels[0].vertical")],
)
def test_a_filed_panel_points_at_a_vertical(channel: int, vertical: int, path: str) -> None:
    """What a sheet carried for a panel belongs to a vertical of the record."""
    filed = Filed(panels=(FiledPanel(channel, vertical),))
    [sentence] = _refusal(Gauging, METRIC, (Channel((Vertical(1),)),), filed=filed)

    assert sentence.startswith(f"{path}: ")


def test_every_fault_of_a_record_is_said_at_once() -> None:
    """Fields and rules that do not concern a broken field are all reported together."""
    sentences = _refusal(
        Vertical, tape="x", depth=-1, bank="steep", angle=3, angle_coefficient=0.5, dry=True
    )

    assert [sentence.split(":")[0] for sentence in sentences] == [
        "tape", "depth", "bank", "angle_coefficient",
    ]  # fmt: skip


def test_an_unfinished_gauging_is_a_record() -> None:
    """No channels, no verticals, no edges and no depths contradict nothing."""
    Gauging(METRIC, ())
    Gauging(METRIC, (Channel(()),))
    Gauging(METRIC, (Channel((Vertical(1), Vertical(2, edge="left"), Vertical(3, 0.4))),))


def test_records_are_frozen() -> None:
    """Nothing that was read can be changed in place."""
    with pytest.raises(attrs.exceptions.FrozenInstanceError):
        Vertical(1).depth = 2  # type: ignore[misc]


@pytest.mark.parametrize("year", [1, 9999])
def test_a_moment_at_an_end_of_the_calendar_is_refused(year: int) -> None:
    """No other clock could tell it, so that nothing could be compared with it."""
    edge = {1: (1, 1, 1), 9999: (9999, 12, 31)}[year]
    moment = datetime.datetime(*edge, 23, 59, tzinfo=datetime.timezone(datetime.timedelta(hours=1)))

    [sentence] = _refusal(Gauging, METRIC, (), cleared=moment)

    assert sentence.startswith("cleared: cleared must be a date and time")
