"""Figures that were struck through, as the record tells them."""

from typing import Any

import pytest

from bankside.gauging.records import Correction

from .journals import Device, V, crossing, record_of


def _corrections(device: Device) -> tuple[Correction, ...]:
    made = record_of(device)
    assert made.gauging is not None
    return made.gauging.corrections


def _told(device: Device) -> list[tuple[str, str, str | None]]:
    return [(one.what, one.was, one.now) for one in _corrections(device)]


def test_what_was_called_once_is_no_correction() -> None:
    """A record in which nothing was struck through has none."""
    assert _told(crossing()) == []


def test_a_role_that_is_added_corrects_nothing() -> None:
    """Who is there and does what is said in two steps; only what goes or changes is struck."""
    device = crossing()
    for role in ({}, {"role": "recorder"}, {"role": "leader"}):
        device.say("crew/c1", {"name": "J. Ostrander", **role})

    assert [(was, now) for _, was, now in _told(device)] == [("recorder", "leader")]


def test_a_correction_says_everything() -> None:
    """What, was, now, why, who, and when by the clock of the device."""
    device = crossing()
    entry = device.say(f"{V}/v1/depth", "0.45", reason="misheard", by="J. Ostrander")

    assert _corrections(device) == (
        Correction("depth at tape 2.0", "0.40", "0.45", "misheard", "J. Ostrander", entry.moment),
    )


@pytest.mark.parametrize(
    ("what", "first", "then", "told"),
    [
        (f"{V}/v1/tape", "2.0", "2.20", ("tape position", "2.0", "2.20")),
        (f"{V}/v1/dry", False, True, ("whether it is dry at tape 2.0", "no", "yes")),
        (f"{V}/v1/angle", "5", None, ("angle of the flow at tape 2.0", "5", None)),
        (f"{V}/v1/remark", "weed", "deep weed", ("remark at tape 2.0", "weed", "deep weed")),
        (f"{V}/left/edge", "left", "right", ("edge of water at tape 1.0", "left", "right")),
        (
            f"{V}/v1/readings/r1",
            {"value": "0.20", "fraction": 0.6},
            {"value": "0.02", "fraction": 0.6},
            ("velocity at 0.6 of the depth at tape 2.0", "0.20", "0.02"),
        ),
        (
            f"{V}/v1/readings/r1",
            {"value": "0.20", "fraction": 0.6},
            {"value": "0.20", "fraction": 0.6, "seconds": "40"},
            ("velocity at 0.6 of the depth at tape 2.0 (seconds)", "nothing", "40"),
        ),
        (
            f"{V}/v1/readings/r1",
            {"value": "0.20", "seconds": "40"},
            {"value": "0.21", "seconds": "60"},
            ("velocity at tape 2.0", "value 0.20, seconds 40", "value 0.21, seconds 60"),
        ),
        (
            f"{V}/v1/readings/r1",
            {"value": "0.20", "fraction": 0.6},
            None,
            ("velocity at 0.6 of the depth at tape 2.0", "0.20, fraction 0.6", None),
        ),
        ("site/stream", "Alder", "Alder Fork", ("name of the stream", "Alder", "Alder Fork")),
        ("units/length", "m", "ft", ("unit of length", "m", "ft")),
        ("no_gauge", True, False, ("whether there is no staff gauge", "yes", "no")),
        (
            "stage/k",
            {"value": "1.32", "at": "2026-07-14T10:05:00-07:00"},
            {"value": "1.23", "at": "2026-07-14T10:05:00-07:00"},
            ("stage", "1.32", "1.23"),
        ),
        (
            "crew/k",
            {"name": "T. Quayle", "role": "rod"},
            {"name": "T. Quayle", "role": "recorder"},
            ("crew member (role)", "rod", "recorder"),
        ),
        (
            "meter/rating",
            [{"slope": "0.25", "intercept": "0.01"}],
            [{"slope": "0.52", "intercept": "0.01"}],
            (
                "rating of the meter",
                "slope 0.25, intercept 0.01",
                "slope 0.52, intercept 0.01",
            ),
        ),
        ("remarks", "\u200b", "fog", ("remarks", "blank", "fog")),
        ("remarks", "\ud800", "fog", ("remarks", "\\ud800", "fog")),
        ("meter/rating", [], [{"slope": "1", "intercept": "0"}],
            ("rating of the meter", "blank", "slope 1, intercept 0")),
        ("colour", "a", "b", ("colour", "a", "b")),
    ],
)  # fmt: skip
def test_corrections_in_words(
    what: str, first: Any, then: Any, told: tuple[str, str, str | None]
) -> None:
    """A figure stands as it was typed, beside what people call it and where it was read."""
    device = crossing()
    for value in (first, then):
        device.say(what, value)

    assert _told(device)[-1] == told


def test_each_step_is_a_correction() -> None:
    """A figure that was written three times was corrected twice."""
    device = crossing()
    device.say(f"{V}/v1/depth", "0.45")
    device.say(f"{V}/v1/depth", "0.42")

    assert _told(device) == [
        ("depth at tape 2.0", "0.40", "0.45"),
        ("depth at tape 2.0", "0.45", "0.42"),
    ]


def test_the_same_said_again_is_no_correction() -> None:
    """Nothing was struck through where the figure is the same; another digit is another figure."""
    device = crossing()
    device.say(f"{V}/v1/depth", "0.40", reason="read again")
    assert _told(device) == []

    device.say(f"{V}/v1/depth", "0.400")
    assert _told(device) == [("depth at tape 2.0", "0.40", "0.400")]


def test_taken_out_and_put_back() -> None:
    """Both steps are told, and a first nothing is none."""
    device = crossing()
    device.say(f"{V}/v1/angle", None)
    device.say(f"{V}/v1/angle", "5")
    assert _told(device) == []

    device.say(f"{V}/v1/angle", None)
    device.say(f"{V}/v1/angle", "6")
    assert _told(device) == [
        ("angle of the flow at tape 2.0", "5", None),
        ("angle of the flow at tape 2.0", "taken out", "6"),
    ]


def test_a_vertical_that_was_taken_out_is_told_with_its_readings() -> None:
    """What was read there can still be read, though the record has no such vertical any more."""
    device = crossing()
    device.say(f"{V}/v1/depth", "0.45")
    device.say(f"{V}/v1/tape", None, reason="beside the tape")
    device.say(f"{V}/v1/depth", "0.46")

    assert _told(device)[1] == (
        "vertical at tape 2.0",
        "depth 0.45, velocity 0.20, fraction 0.6",
        None,
    )


def test_a_vertical_without_readings_that_was_taken_out() -> None:
    """A position at which nothing was read leaves its trace as well."""
    device = crossing()
    device.say(f"{V}/x/tape", "4.5")
    device.say(f"{V}/x/tape", None)

    assert _told(device) == [("vertical at tape 4.5", "nothing read", None)]


def test_the_place_is_the_tape_position_that_holds() -> None:
    """A depth corrected before its tape position was is told at the right place."""
    device = crossing()
    device.say(f"{V}/v1/depth", "0.45")
    device.say(f"{V}/v1/tape", "2.2")

    assert _told(device)[0] == ("depth at tape 2.2", "0.40", "0.45")


def test_a_figure_at_no_tape_position() -> None:
    """A figure whose tape position was never called is told as that."""
    device = crossing()
    device.say(f"{V}/x/depth", "0.1")
    device.say(f"{V}/x/depth", "0.2")

    assert _told(device) == [("depth at a vertical without a tape position", "0.1", "0.2")]


def test_several_channels_are_told_apart() -> None:
    """By their names, or by their keys as long as they have none."""
    device = crossing()
    device.say("channels/2/name", "right arm")
    device.say("channels/2/verticals/v1/tape", "7.0")
    for value in ("0.1", "0.2"):
        device.say("channels/2/verticals/v1/depth", value)
    device.say(f"{V}/v1/tape", "2.2")

    assert _told(device) == [
        ("depth at tape 7.0, channel right arm", "0.1", "0.2"),
        ("tape position, channel 1", "2.0", "2.2"),
    ]


@pytest.mark.parametrize(
    ("what", "first", "then"),
    [
        ("plan", {"rule": "equal", "positions": []}, {"rule": "equal-flow", "positions": []}),
        ("decimals", {"tape": 1}, {"tape": 2}),
        ("zero_bank", "left", "right"),
        ("start_bank", "left", "right"),
        ("closed", {"by": "I. Marrow"}, None),
        (
            "photos/p",
            {"purpose": "upstream", "sha256": "0" * 64, "bytes": 9, "type": "image/jpeg"},
            None,
        ),
    ],
)
def test_what_is_no_figure_leaves_no_correction(what: str, first: Any, then: Any) -> None:
    """A plan that changed, or a gauging that was opened again, is no figure struck through."""
    device = crossing()
    for value in (first, then):
        device.say(what, value)

    assert _told(device) == []


def test_two_devices_correct_one_figure_apart() -> None:
    """Both corrections are told, and so is the one that settles them."""
    here = crossing()
    there = Device("b", here.entries)
    here.say(f"{V}/v1/depth", "0.45", by="T. Quayle")
    there.say(f"{V}/v1/depth", "0.48", by="I. Marrow")
    here.learn(there.entries)
    here.say(f"{V}/v1/depth", "0.45", by="J. Ostrander")

    assert [(one.was, one.now, one.by) for one in _corrections(here)] == [
        ("0.40", "0.45", "T. Quayle"),
        ("0.40", "0.48", "I. Marrow"),
        ("0.48", "0.45", "J. Ostrander"),
    ]


def test_a_reason_that_no_file_can_hold() -> None:
    """Half a character is spelled out, and a reason that shows nothing is none."""
    device = crossing()
    device.say(f"{V}/v1/depth", "0.45", reason="\ud83d misheard", by="\u200b")
    (one,) = _corrections(device)

    assert (one.reason, one.by) == ("\\ud83d misheard", None)
