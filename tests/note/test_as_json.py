"""A note and its picture as plain values for a page."""

import datetime
import json
import math

import attrs
import pytest

from bankside.note.as_json import content_as_json, drawing_as_json
from bankside.note.compose import note_content
from bankside.note.section_drawing import SectionDrawing

from .gaugings import FEET, HOSTILE, bare, channel, material, named, plain
from .sections import drawing_of, with_channels


def test_a_note_is_json_and_its_day_is_iso_text() -> None:
    """What is made of it can be written as JSON and is the same when read again."""
    values = content_as_json(note_content(material(plain())))

    assert json.loads(json.dumps(values, allow_nan=False)) == values
    assert values["day"] == "2026-07-14"
    assert values["date"] == {"name": "Date", "value": "2026-07-14", "open": False}
    assert content_as_json(note_content(material(bare())))["day"] is None


def test_every_field_of_the_content_is_there() -> None:
    """Nothing that a note says is left out on the way."""
    content = note_content(material(plain(FEET)))

    assert content_as_json(content) == json.loads(
        json.dumps(attrs.asdict(content), default=datetime.date.isoformat)
    )


def test_equal_notes_are_equal_texts() -> None:
    """Made again, the values come in the same order, sign by sign."""
    first, second = (
        json.dumps([content_as_json(note_content(material(plain()))), drawing_as_json(drawing)])
        for drawing in (drawing_of(plain()), drawing_of(plain()))
    )

    assert first == second


def test_signs_that_cannot_be_shown_stand_as_their_numbers() -> None:
    """No name, in the note or over a channel, turns the reading direction of a page."""
    gauging = named(HOSTILE)
    for values in (
        content_as_json(note_content(material(gauging))),
        drawing_as_json(drawing_of(gauging)),
    ):
        told = json.dumps(values, ensure_ascii=False)
        assert "\u202e" not in told and "[U+202E]backwards" in told


def test_the_drawing_has_what_a_page_draws() -> None:
    """Three verticals, by hand: where panels end, depths as called, banks as seen, marks."""
    drawn = drawing_as_json(drawing_of(with_channels(channel(3))))

    assert drawn["units"] == {"length": "m", "depth": "m", "velocity": "m/s"}
    assert drawn["limits"] == {"aim": 5, "limit": 10}
    [row] = drawn["rows"]
    assert row["tape"] == "tape (m), seen facing downstream"
    [one] = row["channels"]
    assert (one["banks"], one["mirrored"]) == (["left", "right"], False)
    assert one["unmeasured"] == [False, False]
    # Depths of the invented channel: 0.9 sin(45°) = 0.64 and 0.9 in its middle.
    assert [v["depth"] for v in one["verticals"]] == pytest.approx([0, 0.64, 0.9, 0.64, 0])
    assert [v["fractions"] for v in one["verticals"]] == [[], [0.6], [0.6], [0.6], []]
    assert [(p["start"], p["end"]) for p in one["panels"]] == [
        (1.0, 1.25),
        (1.25, 1.75),
        (1.75, 2.25),
        (2.25, 2.75),
        (2.75, 3.0),
    ]
    # Each of three panels carries more than 10 % of the whole; those beside the banks carry none.
    assert [p["mark"] for p in one["panels"]] == ["", "**", "**", "**", ""]


def test_pictures_of_the_note_are_the_rows_of_the_drawing() -> None:
    """Seven channels make three pictures, in the note and in the drawing under the same keys."""
    gauging = with_channels(*(channel(3, 5.0 * place) for place in range(7)))
    parts = content_as_json(note_content(material(gauging)))["parts"]
    rows = drawing_as_json(drawing_of(gauging))["rows"]

    assert [picture["key"] for part in parts for picture in part["pictures"]] == [
        row["key"] for row in rows
    ]
    assert [len(row["channels"]) for row in rows] == [3, 3, 1]


@pytest.mark.parametrize("figure", [math.nan, math.inf])
def test_a_figure_that_is_none_never_reaches_a_page(figure: float) -> None:
    """JSON has no sign for it, and a page would draw nonsense."""
    drawing = drawing_of(plain())
    [one] = drawing.channels
    first = attrs.evolve(one.verticals[1], velocity=figure)
    broken: SectionDrawing = attrs.evolve(
        drawing, channels=(attrs.evolve(one, verticals=(one.verticals[0], first)),)
    )

    with pytest.raises(ValueError, match="must be a finite number"):
        drawing_as_json(broken)
