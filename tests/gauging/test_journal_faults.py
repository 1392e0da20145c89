"""What cannot enter the record is named with its entries, and the rest is made."""

from typing import Any

import pytest

from bankside.gauging.journal.making import EntryFault
from bankside.gauging.records import (
    Meter,
    PointReading,
)

from .journals import Device, V, crossing, record_of, vertical


def _faults(device: Device) -> list[tuple[str, str]]:
    return [(fault.path, fault.message) for fault in record_of(device).faults]


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
        ("units/depth", "yd", 'depth must be one of "ft", "in", "m", "cm", "mm" (got "yd")'),
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
