"""Where verticals stand in the record of a journal, and when they were read."""

import datetime

import pytest

from bankside.gauging.journal.record import Place
from bankside.gauging.records import (
    Gauging,
)

from .journals import Device, V, crossing, record_of, vertical


def _gauging(device: Device) -> Gauging:
    """The record of a journal in which nothing is wrong."""
    made = record_of(device)
    assert made.faults == ()
    assert made.gauging is not None
    return made.gauging


def _tapes(device: Device) -> list[float]:
    return [vertical.tape for vertical in _gauging(device).channels[0].verticals]


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


def test_a_time_that_was_said_of_a_vertical_stands() -> None:
    """It stands before that of the entries, and taken out there is none."""
    device = crossing()
    device.say(f"{V}/v1/at", "2026-07-14T09:58:00-07:00")
    assert _gauging(device).channels[0].verticals[1].at == datetime.datetime(
        2026, 7, 14, 16, 58, tzinfo=datetime.UTC
    )

    device.say(f"{V}/v1/at", None, reason="the watch had stopped")
    assert _gauging(device).channels[0].verticals[1].at is None
