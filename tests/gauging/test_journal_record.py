"""The record that a journal comes to, finished or not, and what cannot enter it."""

from datetime import date, datetime, timedelta, timezone
from typing import Any

import pytest

from bankside.gauging.compute import compute
from bankside.gauging.journal.entry import entries_from_json
from bankside.gauging.journal.fold import fold
from bankside.gauging.journal.making import EntryFault
from bankside.gauging.journal.record import Place, recorded
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

from .journals import GAUGING, Device, V, crossing, record_of, vertical

ZONE = timezone(timedelta(hours=-7))


def _gauging(device: Device) -> Gauging:
    """The record of a journal in which nothing is wrong."""
    made = record_of(device)
    assert made.faults == ()
    assert made.gauging is not None
    return made.gauging


def _faults(device: Device) -> list[tuple[str, str]]:
    return [(fault.path, fault.message) for fault in record_of(device).faults]


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


def test_verticals_stand_in_the_order_called_between_the_edges() -> None:
    """A slip of the tape stays where it was called; the far edge is last though called first."""
    device = crossing()
    vertical(device, "v4", "14.5", "0.30", "0.1")
    vertical(device, "v5", "4.8", "0.30", "0.1")

    assert _tapes(device) == [1.0, 2.0, 3.0, 4.0, 14.5, 4.8, 5.0]


def test_a_corrected_tape_position_moves_no_vertical() -> None:
    """The order is that of the first call, whatever the tape is found to have said."""
    device = crossing()
    vertical(device, "v4", "14.5", "0.30", "0.1")
    vertical(device, "v5", "4.8", "0.30", "0.1")
    device.say(f"{V}/v4/tape", "4.5", reason="misread")

    assert _tapes(device) == [1.0, 2.0, 3.0, 4.0, 4.5, 4.8, 5.0]


@pytest.mark.parametrize(
    ("start", "expected"),
    [("left", [1.0, 2.0, 3.0, 4.0, 5.0]), ("right", [5.0, 2.0, 3.0, 4.0, 1.0])],
)
def test_the_edge_of_the_start_bank_is_first(start: str, expected: list[float]) -> None:
    """Verticals keep the order called; the edges change their places."""
    device = crossing()
    device.say("start_bank", start)

    assert _tapes(device) == expected


def test_without_a_start_bank_the_edge_called_first_is_first() -> None:
    """An edge that was called after verticals ends the section."""
    device = Device()
    device.say("units/length", "m")
    device.say("units/velocity", "m/s")
    vertical(device, "v1", "2.0", "0.4", "0.2")
    device.say(f"{V}/e1/tape", "5.0")
    device.say(f"{V}/e1/edge", "right")
    vertical(device, "v2", "3.0", "0.4", "0.2")

    assert _tapes(device) == [2.0, 3.0, 5.0]

    device = Device()
    device.say("units/length", "m")
    device.say("units/velocity", "m/s")
    device.say(f"{V}/e1/tape", "5.0")
    device.say(f"{V}/e1/edge", "right")
    vertical(device, "v1", "4.0", "0.4", "0.2")

    assert _tapes(device) == [5.0, 4.0]


@pytest.mark.parametrize(
    ("tape", "place"),
    [("1.5", 1), ("2.5", 2), ("3.5", 3), ("4.5", 4), ("0.5", 1), ("5.5", 4)],
)
def test_an_inserted_vertical_goes_where_the_tape_runs_through_it(tape: str, place: int) -> None:
    """It stands between its neighbours on the tape, and never beyond an edge."""
    device = crossing()
    vertical(device, "x", tape, "0.40", "0.2")
    device.say(f"{V}/x/inserted", True)

    assert _tapes(device).index(float(tape)) == place


def test_verticals_are_inserted_on_a_tape_that_runs_down() -> None:
    """Where the figures fall from the start bank on, they do so for inserted ones as well."""
    device = crossing()
    device.say("start_bank", "right")
    for key in ("v1", "v2", "v3"):
        device.say(f"{V}/{key}/tape", None)
    for key, tape in (("n1", "4.0"), ("n2", "3.0"), ("n3", "2.0")):
        device.say(f"{V}/{key}/tape", tape)
    for key, tape in (("x", "3.5"), ("y", "1.2")):
        device.say(f"{V}/{key}/tape", tape)
        device.say(f"{V}/{key}/inserted", True)

    assert _tapes(device) == [5.0, 4.0, 3.5, 3.0, 2.0, 1.2, 1.0]


def test_a_slip_of_the_tape_does_not_draw_an_inserted_vertical() -> None:
    """It goes to its near neighbours, though it would fit between far ones as well."""
    device = crossing()
    vertical(device, "v4", "33.0", "0.40", "0.2")
    device.say(f"{V}/right/tape", "6.0")
    vertical(device, "v5", "5.0", "0.40", "0.2")
    vertical(device, "x", "2.5", "0.40", "0.2")
    device.say(f"{V}/x/inserted", True)

    assert _tapes(device) == [1.0, 2.0, 2.5, 3.0, 4.0, 33.0, 5.0, 6.0]


def test_no_longer_inserted() -> None:
    """What was marked by mistake goes back to the order called."""
    device = crossing()
    vertical(device, "x", "2.5", "0.40", "0.2")
    device.say(f"{V}/x/inserted", True)
    device.say(f"{V}/x/inserted", False)

    assert _tapes(device) == [1.0, 2.0, 3.0, 4.0, 2.5, 5.0]


def test_a_vertical_was_read_when_its_first_reading_was() -> None:
    """Else when its depth was called, else its tape position; corrections come later."""
    device = crossing()
    device.say(f"{V}/v1/readings/r1", {"value": "0.21", "fraction": 0.6}, reason="misheard")
    device.say(f"{V}/x/tape", "4.5")
    device.say(f"{V}/y/tape", "4.6")
    device.say(f"{V}/y/depth", "0.2")
    at = {entry.what: entry.moment for entry in reversed(device.entries)}
    verticals = {one.tape: one for one in _gauging(device).channels[0].verticals}

    assert verticals[2.0].at == at[f"{V}/v1/readings/r1"]
    assert verticals[4.5].at == at[f"{V}/x/tape"]
    assert verticals[4.6].at == at[f"{V}/y/depth"]


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


def test_places_and_keys() -> None:
    """A finding about a figure of the record leads to what was said, and back."""
    device = crossing()
    device.say("channels/2/name", "right arm")
    device.say("channels/2/verticals/v1/tape", "7.0")
    made = record_of(device)

    assert made.key_of(0, 0) == ("1", "left")
    assert made.key_of(1, 0) == ("2", "v1")
    assert made.what_of(0, 2, "depth") == f"{V}/v2/depth"
    assert made.what_of(0, 2, "velocity", 0) == f"{V}/v2/readings/r1"
    assert made.place_of(f"{V}/v2/readings/r1") == Place(0, 2, 0)
    assert made.place_of(f"{V}/right/edge") == Place(0, 4)
    assert made.place_of("channels/2/name") == Place(1)
    assert made.place_of("channels/3/name") is None
    assert made.place_of("site/stream") is None
    with pytest.raises(IndexError):
        made.key_of(0, 5)


@pytest.mark.parametrize(
    ("what", "value", "says"),
    [
        (f"{V}/v2/depth", "0,5", 'depth must be a figure as called, .*"1.05".* (got "0,5")'),
        (f"{V}/v2/depth", "O.5", '(got "O.5")'),
        (f"{V}/v2/depth", "1e3", '(got "1e3")'),
        (f"{V}/v2/depth", "", '(got "")'),
        (f"{V}/v2/depth", " 0.5", '(got " 0.5")'),
        (f"{V}/v2/depth", "0.5 m", '(got "0.5 m")'),
        (f"{V}/v2/depth", "1_0", '(got "1_0")'),
        (f"{V}/v2/depth", "٣", '(got "٣")'),
        (f"{V}/v2/depth", "nan", '(got "nan")'),
        (f"{V}/v2/depth", "9" * 400, "(got "),
        (f"{V}/v2/depth", 0.5, "depth must be a figure as called.*(got 0.5)"),
        (f"{V}/v2/depth", "-0.5", "depth must be a number of at least 0 (got -0.5)"),
        (f"{V}/v2/dry", "yes", 'dry must be true or false (got "yes")'),
        (f"{V}/v2/angle", "91", "angle must be a number from -90 to 90 (got 91.0)"),
        (f"{V}/v2/bank", "steep", "bank must stand beside an edge"),
        (f"{V}/v2/remark", " ", "remark must be a text that can be seen"),
        (f"{V}/v2/remark", "\ud800", "UTF-8 can hold"),
        (f"{V}/left/depth", "0.5", None),
        ("channels/1/name", 1, "name must be a text (got 1)"),
        ("units/depth", "cm", 'depth must be one of "ft", "m" (got "cm")'),
        ("started", "2026-07-14 10:05", "started must be a date and time"),
        ("ended", "2026-07-14T10:05:00", "ended must be a date and time"),
        ("quality", "fine", "quality must be one of"),
        ("rule_set", "", "rule_set must be a text that can be seen"),
        ("crew/k", "T. Quayle", "crew member must be an object"),
        ("crew/k", {"role": "rod"}, "name of the crew member must be given"),
        ("crew/k", {"name": "T. Quayle", "hat": "red"}, 'no member but name, role (got "hat")'),
        ("stage/k", {"value": "1,3"}, 'value of the stage must be a figure.*(got "1,3")'),
        ("meter/slowest", "-1", "slowest must be a number of at least 0"),
        ("meter/calibrated", "2026-02-30", "calibrated must be a date such as 2026-07-14"),
        ("meter/rating", [{"slope": "0", "intercept": "0"}], "slope must be a number above 0"),
        ("meter/rating", [{"slope": "1"}], "intercept of the rating, item 1 must be given"),
        ("meter/rating", {"slope": "1"}, "rating must be a list"),
        ("meter/checks/k", {"kind": "spin", "when": "before"}, "seconds must be given for a spin"),
        ("site/position", {"lat": 95, "lon": 1}, "lat must be a number from -90 to 90"),
        ("plan", ["4.0"], "plan must be an object"),
        ("photos/p", {"purpose": "sky", "sha256": "0", "bytes": 1, "type": "t"}, "purpose of the"),
        ("closed", True, "closed must be an object"),
        ("site/colour", "green", '"site/colour" must be something that can be said'),
        (f"{V}/v2", "x", "must be something that can be said"),
        (f"{V}/v2/readings/r1", "0.3", "velocity must be an object"),
        (f"{V}/v2/readings/r1", {"value": "0.3", "fraction": 60}, "fraction must be a number from"),
        (f"{V}/v2/readings/r1", {"value": "0.3", "seconds": "0"}, "seconds must be a number above"),
        (f"{V}/v2/readings/r1", {"value": "O.3"}, 'value of the velocity must be a figure'),
        (f"{V}/v2/readings/r1", {}, "value must be given, or counts and seconds"),
        (f"{V}/v2/readings/r1", {"counts": "20", "seconds": "40"}, "the meter has no rating"),
        (f"{V}/v2/readings/r1", {"counts": "20"}, "seconds must be given with counts"),
    ],
)  # fmt: skip
def test_what_cannot_enter_the_record_is_named_and_the_rest_is_made(
    what: str, value: Any, says: str | None
) -> None:
    """One fault, with the id of its entry; the crossing around it stands as it was."""
    device = crossing()
    entry = device.say(what, value)
    made = record_of(device)

    assert made.gauging is not None
    if says is None:  # an edge with a depth is one whose form was not called
        assert made.faults == ()
        return
    ((message, path, entries),) = [(f.message, f.path, f.entries) for f in made.faults]
    assert (path, entries) == (what, (entry.id,))
    for part in says.split(".*"):
        assert part in message
    tapes = [one.tape for one in made.gauging.channels[0].verticals]
    assert tapes == [1.0, 2.0, 3.0, 4.0, 5.0]


def test_only_the_wrong_figure_is_left_out() -> None:
    """A wrong velocity leaves the depth where it stands, and wrong seconds leave the velocity."""
    device = crossing()
    device.say(f"{V}/v1/readings/r1", {"value": "O.2", "fraction": 0.6})
    device.say(f"{V}/v2/readings/r1", {"value": "0.3", "fraction": 0.6, "seconds": "4O"})
    made = record_of(device)
    assert made.gauging is not None
    _, first, second, *_ = made.gauging.channels[0].verticals

    assert len(made.faults) == 2
    assert (first.depth, first.velocity) == (0.4, ())
    assert second.velocity == (PointReading(0.3, 0.6),)


def test_one_tape_position_twice() -> None:
    """The second vertical waits outside the record, and both are named."""
    device = crossing()
    first = device.say(f"{V}/v1/tape", "2.0")
    vertical(device, "x", "2.0", "0.30", "0.1")
    second = next(entry for entry in device.entries if entry.what == f"{V}/x/tape")
    made = record_of(device)

    assert made.faults == (
        EntryFault(
            "tape must differ from vertical to vertical (got 2 twice)",
            f"{V}/x/tape",
            (second.id, first.id),
        ),
    )
    assert made.place_of(f"{V}/x/tape") is None


@pytest.mark.parametrize("start", ["left", "right"])
@pytest.mark.parametrize("bank", ["left", "right"])
def test_one_edge_twice(start: str, bank: str) -> None:
    """Wherever the crew started, it is the edge called later that waits outside the record."""
    device = crossing()
    device.say("start_bank", start)
    device.say(f"{V}/x/tape", "9.0")
    device.say(f"{V}/x/edge", bank)
    ((path, message),) = _faults(device)

    assert path == f"{V}/x/tape"
    assert f"a channel must have only one {bank} edge" in message
    assert "9" in message


def test_figures_without_a_tape_position() -> None:
    """A depth called before its tape position is kept in the journal and named."""
    device = crossing()
    depth = device.say(f"{V}/x/depth", "0.2")

    assert record_of(device).faults == (
        EntryFault(
            "tape must be given for what was read at a vertical (got nothing)",
            f"{V}/x/tape",
            (depth.id,),
        ),
    )


def test_a_rating_is_taken_whole_or_not_at_all() -> None:
    """Half a rating would give other velocities."""
    device = crossing()
    parts = [{"slope": "0.25", "intercept": "0.01"}, {"slope": "0.26", "intercept": "0.0"}]
    device.say("meter/rating", parts)
    device.say("meter/kind", "cup")
    made = record_of(device)
    assert made.gauging is not None

    assert [fault.path for fault in made.faults] == ["meter/rating"]
    assert made.gauging.meter == Meter("cup")


def test_contradictions_between_header_entries() -> None:
    """What contradicts another entry is left out and named by its entry."""
    device = crossing()
    device.say("started", "2026-07-14T10:05:00-07:00")
    device.say("ended", "2026-07-14T09:05:00-07:00")
    device.say("no_gauge", True)
    device.say("stage/s", {"value": "1.3"})
    device.say("meter/calibrated", "2026-01-10")
    device.say("meter/calibration_due", "2025-01-10")

    assert {path for path, _ in _faults(device)} == {"meter/calibration_due", "no_gauge", "ended"}


def test_a_vertical_in_which_two_things_contradict_each_other() -> None:
    """A dry vertical has no water: its depth and velocity wait outside the record."""
    device = crossing()
    device.say(f"{V}/v2/dry", True)
    made = record_of(device)
    assert made.gauging is not None

    assert {fault.path for fault in made.faults} == {f"{V}/v2/depth", f"{V}/v2/readings/r1"}
    assert made.gauging.channels[0].verticals[2].dry


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
