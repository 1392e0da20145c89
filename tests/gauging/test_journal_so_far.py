"""A journal while the crew is in the water."""

import pytest

from bankside.gauging.journal.so_far import is_over, so_far

from .journals import Device, V, crossing, record_of


def test_a_vertical_of_which_only_the_tape_was_called_waits() -> None:
    """It is left out with a sentence, and the places of the others in the record are known."""
    device = crossing()
    for key, tape in (("x", "4.5"), ("y", "4.7")):
        device.say(f"{V}/{key}/tape", tape)
    device.say(f"{V}/y/depth", "0.1")
    read = so_far(record_of(device))
    assert read.gauging is not None

    assert [v.tape for v in read.gauging.channels[0].verticals] == [1.0, 2.0, 3.0, 4.0, 4.7, 5.0]
    assert read.kept == ((0, 1, 2, 3, 5, 6),)
    assert read.left_out == ("Nothing was read yet at tape 4.5 m: left out of the figures.",)


@pytest.mark.parametrize(
    ("what", "value"),
    [
        ("closed", {"by": "I. Marrow"}),
        ("ended", "2026-07-14T10:52:00-07:00"),
        ("copied/sheet", {}),
    ],
)
def test_when_all_is_over_nothing_waits(what: str, value: object) -> None:
    """A vertical without readings then lacks them, and the computation says so."""
    device = crossing()
    device.say(f"{V}/x/tape", "4.5")
    assert not is_over(record_of(device))
    device.say(what, value)
    made = record_of(device)

    assert is_over(made)
    assert so_far(made).gauging == made.gauging
    assert so_far(made).left_out == ()

    device.say(what, None)
    assert not is_over(record_of(device))


@pytest.mark.parametrize(("name", "value"), [("depth", "0.1"), ("dry", True), ("edge", "left")])
def test_what_was_said_of_a_vertical_keeps_it(name: str, value: object) -> None:
    """An edge, a dry place and a depth alone are something that was read."""
    device = Device()
    device.say("units/length", "m")
    device.say("units/velocity", "m/s")
    device.say(f"{V}/x/tape", "4.5")
    device.say(f"{V}/x/{name}", value)

    assert so_far(record_of(device)).kept == ((0,),)


def test_without_a_record_there_is_nothing_so_far() -> None:
    """Before the units are known nothing can be left out."""
    assert so_far(record_of(Device())).gauging is None
