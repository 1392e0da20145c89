"""The record that a journal comes to, finished or not, and what cannot enter it."""

from datetime import date, datetime, timedelta, timezone

import pytest

from bankside.gauging.compute import compute
from bankside.gauging.journal.entry import entries_from_json
from bankside.gauging.journal.fold import fold
from bankside.gauging.journal.record import recorded
from bankside.gauging.records import (
    Answer,
    CrewMember,
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

from .journals import GAUGING, Device, V, crossing, record_of

ZONE = timezone(timedelta(hours=-7))


def _gauging(device: Device) -> Gauging:
    """The record of a journal in which nothing is wrong."""
    made = record_of(device)
    assert made.faults == ()
    assert made.gauging is not None
    return made.gauging


def _tapes(device: Device) -> list[float]:
    return [vertical.tape for vertical in _gauging(device).channels[0].verticals]


def test_no_entries_make_no_record_and_no_fault() -> None:
    """Before anything was said there is nothing to say about it."""
    made = record_of(Device())

    assert (made.gauging, made.faults, made.notes) == (None, (), ())
    assert (made.closed, made.plan, made.said.gauging) == (False, None, None)


def test_without_units_there_is_no_record_yet() -> None:
    """A figure without its unit is none, and the units that lack are named."""
    device = Device()
    device.say("units/length", "ft")
    device.say("site/stream", "Alder Fork")
    made = record_of(device)

    assert made.gauging is None
    assert [(fault.path, fault.entries) for fault in made.faults] == [("units/velocity", ())]


def test_a_whole_header() -> None:
    """Everything that can be said around the readings stands where the record has its place."""
    device = Device()
    for what, value in {
        "site/stream": "Alder Fork",
        "site/name": "above the footbridge",
        "site/label": "AF-01",
        "site/position": {"lon": "-1.23", "lat": 45.6, "accuracy_m": 4.0, "fixes": 12},
        "units/length": "ft",
        "units/velocity": "ft/s",
        "units/depth": "m",
        "rule_set": "common-practice",
        "crew/k1": {"name": "T. Quayle", "role": "rod"},
        "crew/k2": {"name": "J. Ostrander"},
        "meter/kind": "cup",
        "meter/serial": "0042",
        "meter/rotor": "small",
        "meter/slowest": "0.10",
        "meter/shallowest": ".3",
        "meter/calibrated": "2026-01-10",
        "meter/calibration_due": "2027-01-10",
        "meter/rating": [
            {"slope": "0.98", "intercept": "0.02", "up_to": "1.5"},
            {"slope": "1.01", "intercept": "-0.025"},
        ],
        "meter/checks/c1": {"kind": "spin", "when": "before", "seconds": "185"},
        "meter/checks/c2": {"kind": "zero", "when": "after", "value": "0.0"},
        "stage/s1": {"value": "1.32", "at": "2026-07-14T10:00:00-07:00"},
        "stage/s2": {"value": "1.33"},
        "whole_flow": True,
        "repeats": "g-other",
        "cleared": "2026-07-14T09:50:00-07:00",
        "moved": "two stones",
        "started": "2026-07-14T10:05:00-07:00",
        "ended": "2026-07-14T10:52:00-07:00",
        "quality": "good",
        "remarks": "trüb",
        "zero_bank": "left",
        "start_bank": "left",
        "wading/w1": {"safe": True, "by": "I. Marrow"},
        "plan": {"rule": "equal", "verticals": 25, "resolution": "0.1", "positions": ["4.0"]},
        "decimals": {"tape": 1, "depth": 2, "velocity": 2},
        "answers/a1": {
            "check": "Header gaps",
            "finding": "Not written down: the meter.",
            "severity": "note",
            "reason": "it was lent",
        },
        "photos/p1": {"purpose": "upstream", "sha256": "0" * 64, "bytes": 9, "type": "image/jpeg"},
        "closed": {"by": "I. Marrow", "discharge": "12.3"},
    }.items():
        by = {"by": "I. Marrow"} if what == "answers/a1" else {}
        device.say(what, value, at="2026-07-14T10:59:00.250-07:00", **by)
    said_at = datetime(2026, 7, 14, 10, 59, 0, 250_000, tzinfo=ZONE)
    made = record_of(device)

    assert made.faults == ()
    assert made.closed
    assert made.plan is not None and made.plan["positions"] == ["4.0"]
    assert made.gauging == Gauging(
        Units("ft", "ft/s", "m"),
        (),
        id=GAUGING,
        site=Site("above the footbridge", "Alder Fork", Position(-1.23, 45.6, 4.0, "AF-01")),
        date=date(2026, 7, 14),
        started=datetime(2026, 7, 14, 10, 5, tzinfo=ZONE),
        ended=datetime(2026, 7, 14, 10, 52, tzinfo=ZONE),
        meter=Meter(
            "cup",
            "0042",
            (RatingPart(0.98, 0.02, 1.5), RatingPart(1.01, -0.025)),
            "small",
            0.1,
            0.3,
            date(2026, 1, 10),
            date(2027, 1, 10),
            (
                MeterCheck("spin", "before", seconds=185.0, at=said_at),
                MeterCheck("zero", "after", value=0.0, at=said_at),
            ),
        ),
        crew=(CrewMember("T. Quayle", "rod"), CrewMember("J. Ostrander")),
        stage=(
            StageReading(1.32, datetime(2026, 7, 14, 10, 0, tzinfo=ZONE)),
            StageReading(1.33),
        ),
        whole_flow=True,
        repeats="g-other",
        cleared=datetime(2026, 7, 14, 9, 50, tzinfo=ZONE),
        moved="two stones",
        quality="good",
        rule_set="common-practice",
        remarks="trüb",
        answers=(
            Answer(
                "Header gaps",
                "Not written down: the meter.",
                "note",
                "it was lent",
                "I. Marrow",
                said_at,
            ),
        ),
    )


def test_a_whole_vertical() -> None:
    """Everything that can be read at a vertical stands in it."""
    device = Device()
    device.say("units/length", "m")
    device.say("units/velocity", "m/s")
    device.say("meter/rating", [{"slope": "0.25", "intercept": "0.01"}])
    for name, value in {
        "tape": "2.50",
        "depth": "1.0",
        "angle": "-12",
        "remark": "behind a stone",
        "readings/r1": {"value": "0.45", "fraction": 0.2, "seconds": "40", "rod_setting": "2.0"},
        "readings/r2": {"counts": "30", "seconds": "42", "fraction": 0.8},
        "readings/r3": {"value": "-0.05"},
    }.items():
        device.say(f"{V}/v1/{name}", value)
    edge = {"tape": "9", "edge": "right", "bank": "steep", "depth": "0.3", "wall_factor": "0.65"}
    for name, value in edge.items():
        device.say(f"{V}/right/{name}", value)
    first, last = _gauging(device).channels[0].verticals

    assert first == Vertical(
        2.5,
        1.0,
        (
            PointReading(0.45, 0.2, 40.0, None, 2.0),
            PointReading(None, 0.8, 42.0, 30.0),
            PointReading(-0.05),
        ),
        angle=-12.0,
        remark="behind a stone",
        at=first.at,
    )
    assert last == Vertical(9.0, 0.3, (), "right", "steep", wall_factor=0.65, at=last.at)


def test_a_crossing_gives_its_discharge() -> None:
    """The record of a journal goes into the computation like any other."""
    gauging = _gauging(crossing())

    # Mid-section by hand: half-widths 1 m each; 1·0.4·0.2 + 1·0.5·0.3 + 1·0.4·0.2.
    assert compute(gauging).discharge_m3s == pytest.approx(0.31, rel=1e-12)


@pytest.mark.parametrize("count", range(1, 21))
def test_every_beginning_of_a_journal_makes_a_record(count: int) -> None:
    """An edge alone, a depth without its velocity: what is unfinished is no fault."""
    entries = crossing().entries
    assert len(entries) == 18
    made = recorded(fold(entries[:count]))

    if count < 2:
        assert [fault.path for fault in made.faults] == ["units/velocity"]
    else:
        assert made.faults == ()
        assert made.gauging is not None


def test_a_depth_without_a_velocity_is_a_sounding_so_far() -> None:
    """What was not read yet is absent, never 0."""
    device = crossing()
    device.say(f"{V}/v4/tape", "4.5")
    device.say(f"{V}/v4/depth", "0.1")
    (channel,) = _gauging(device).channels

    assert channel.verticals[-2] == Vertical(4.5, 0.1, at=channel.verticals[-2].at)


def test_a_vertical_that_was_taken_out_is_out_with_all_that_was_read_there() -> None:
    """Nothing of it stands in the record, and nothing of it is a fault any more."""
    device = crossing()
    device.say(f"{V}/v2/depth", "0,5")
    device.say(f"{V}/v2/tape", None, reason="beside the tape")
    made = record_of(device)

    assert made.faults == ()
    assert made.place_of(f"{V}/v2/depth") is None
    assert _tapes(device) == [1.0, 2.0, 4.0, 5.0]


def test_a_reading_that_was_taken_out_is_out_alone() -> None:
    """The vertical stays, and with it the other readings."""
    device = crossing()
    device.say(f"{V}/v2/readings/r2", {"value": "0.34", "fraction": 0.6})
    device.say(f"{V}/v2/readings/r1", None, reason="weed in the rotor")
    made = record_of(device)
    assert made.gauging is not None

    assert [r.value for r in made.gauging.channels[0].verticals[2].velocity] == [0.34]
    assert made.what_of(0, 2, "velocity", 0) == f"{V}/v2/readings/r2"
    assert made.place_of(f"{V}/v2/readings/r1") is None


def test_reopened() -> None:
    """A gauging is closed until that is taken back."""
    device = crossing()
    assert not record_of(device).closed
    device.say("closed", {"by": "I. Marrow"})
    assert record_of(device).closed
    device.say("closed", None, reason="one more vertical")
    assert not record_of(device).closed


def test_what_two_devices_say_differently_is_told() -> None:
    """The last of both stands, and a sentence has both until someone settles it."""
    first = crossing()
    second = Device("b", first.entries)
    first.say(f"{V}/v1/depth", "0.45")
    second.say(f"{V}/v1/depth", "0.48")
    first.learn(second.entries)
    (note,) = record_of(first).notes
    assert 'Depth at tape 2.0: "0.45" and "0.48" were both said' in note
    assert _gauging(first).channels[0].verticals[1].depth == 0.48

    first.say(f"{V}/v1/depth", "0.45", reason="read again")
    assert record_of(first).notes == ()
    assert _gauging(first).channels[0].verticals[1].depth == 0.45


def test_a_label_waits_for_its_position() -> None:
    """The record has no place for a label alone, and that is told."""
    device = crossing()
    device.say("site/label", "AF-01")
    assert record_of(device).notes == ('The label "AF-01" enters the record only with a position.',)

    device.say("site/position", {"lat": 45.6, "lon": -1.23})
    assert record_of(device).notes == ()
    assert _gauging(device).site.position == Position(-1.23, 45.6, label="AF-01")


def test_entries_of_the_web_app_are_read_as_they_are_written() -> None:
    """Milliseconds, a Z and an empty list of replaced entries are as good as any."""
    item = {
        "id": "0f8fad5b-d9cb-469f-a165-70867728950e",
        "gauging": GAUGING,
        "device": "d-1",
        "sequence": 1,
        "at": "2026-07-14T17:12:03.250Z",
        "what": "site/stream",
        "value": "Alder Fork",
        "replaces": [],
    }
    (entry,) = entries_from_json([item])

    assert entry.moment == datetime(2026, 7, 14, 10, 12, 3, 250_000, tzinfo=ZONE)
    assert entry.replaces == ()
