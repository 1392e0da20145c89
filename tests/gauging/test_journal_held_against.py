"""What a file says beside its entries, held against what they give."""

from collections.abc import Callable
from typing import Any

import pytest

from bankside.gauging.journal.document import (
    Journal,
    Shown,
    StoredFile,
    journal_from_json,
    journal_to_json,
)
from bankside.gauging.journal.fold import fold
from bankside.gauging.journal.held_against import held_against
from bankside.gauging.journal.record import recorded
from bankside.gauging.json_text import parsed
from bankside.gauging.structure import JsonObject
from bankside.gauging.wire import to_json

from .journals import GAUGING, Device, crossing

PHOTO = StoredFile("image/jpeg", b"\xff\xd8 not much of a photo")


def _journal(device: Device | None = None, **more: Any) -> Journal:
    return Journal(GAUGING, tuple((device or crossing()).entries), **more)


def _notes(journal: Journal) -> list[str]:
    return list(held_against(journal, recorded(fold(journal.entries))))


def _record(device: Device) -> JsonObject:
    gauging = recorded(fold(device.entries)).gauging
    assert gauging is not None
    record = parsed(to_json(gauging))
    assert isinstance(record, JsonObject)
    return record


def test_a_sound_file_has_nothing_to_tell() -> None:
    """A file whose record and discharge are what its entries give says nothing more."""
    device = crossing()
    device.say(
        "photos/p",
        {"purpose": "upstream", "sha256": PHOTO.sha256, "bytes": 23, "type": PHOTO.type},
    )
    # 0.31 m³/s by hand: half-widths of 1 m, 1·0.4·0.2 + 1·0.5·0.3 + 1·0.4·0.2.
    shown = Shown(0.31, "1", "0.1.0")
    journal = _journal(device, files={PHOTO.sha256: PHOTO}, record=_record(device), shown=shown)

    assert _notes(journal) == []


def _with_depth(record: dict[str, Any], depth: float) -> dict[str, Any]:
    record["channels"][0]["verticals"][1]["depth"] = depth
    return record


HOLDS = "what the entries give holds."


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (
            lambda record: _with_depth(record, 0.41),
            "The record in the file is not what its entries give "
            f"(channels[0].verticals[1].depth: 0.41 there, 0.4 by the entries); {HOLDS}",
        ),
        (
            lambda record: record | {"remarks": "fog"},
            f'(remarks: "fog" there, nothing by the entries); {HOLDS}',
        ),
        (
            lambda record: record | {"channels": []},
            f"(channels: a list of 0 there, a list of 1 by the entries); {HOLDS}",
        ),
        (
            lambda record: (
                record | {"remarks": "a", "moved": "b", "rule_set": "c", "quality": "good"}
            ),
            "; and 1 more); what the entries",
        ),
        (
            lambda record: record | {"format": "bankside.gauging/2"},
            "is not one of format bankside.gauging/1",
        ),
        (lambda record: _with_depth(record, -1), "is not one of format bankside.gauging/1"),
    ],
)
def test_a_record_that_its_entries_do_not_give(
    change: Callable[[dict[str, Any]], dict[str, Any]], says: str
) -> None:
    """It is told where, and the entries are gone by."""
    device = crossing()
    journal = _journal(device, record=change(_record(device)))
    text = journal_to_json(journal)
    (note,) = _notes(journal_from_json(text))

    assert says in note


@pytest.mark.parametrize(
    ("shown", "says"),
    [
        (Shown(0.35, "1", "0.1.0"), "0.35 m³/s was shown, but its entries give 0.31 m³/s"),
        (
            Shown(0.35, "0", "0.1.0"),
            "0.35 m³/s was shown, by version 0 of the method; version 1 gives 0.31 m³/s.",
        ),
        (Shown(0.31 * (1 + 1e-8), "1", "0.1.0"), "was shown, but its entries give"),
    ],
)
def test_a_discharge_that_its_entries_do_not_give(shown: Shown, says: str) -> None:
    """What the crew saw is told beside what the entries give."""
    (note,) = _notes(_journal(shown=shown))

    assert says in note


def test_the_last_bit_is_no_difference() -> None:
    """Two machines may round a root apart."""
    assert _notes(_journal(shown=Shown(0.31 * (1 + 1e-12), "1", "0.1.0"))) == []


def test_more_than_the_entries_give() -> None:
    """A record and a discharge beside entries that give none are told."""
    device = Device()
    device.say("site/stream", "Alder Fork")
    bare = _journal(device, record=_record(crossing()), shown=Shown(0.3, "1", "0.1.0"))
    assert _notes(bare) == [
        "There is a record in the file, but its entries give none.",
        "When the file was written, 0.3 m³/s was shown, but its entries give no record.",
    ]

    device.say("units/length", "m")
    device.say("units/velocity", "m/s")
    (note,) = _notes(_journal(device, shown=Shown(0.3, "1", "0.1.0")))
    assert "0.3 m³/s was shown, but its entries give no discharge (" in note


def test_repeated_entries_and_missing_photos_are_told() -> None:
    """Each counts once; a photo that the file lacks is not passed over."""
    device = crossing()
    photo = {"purpose": "upstream", "bytes": 9, "type": "image/jpeg"}
    device.say("photos/p", photo | {"sha256": "0" * 64})
    device.say("photos/q", photo | {"sha256": "1" * 64})
    device.say("photos/r", photo | {"sha256": PHOTO.sha256})
    device.say("photos/r", None)
    entries = tuple(device.entries)
    assert _notes(Journal(GAUGING, (*entries, entries[0]))) == [
        "One entry stands in the file more than once; each counts once.",
        "2 photos are named by the entries in the file and not in it.",
    ]

    assert _notes(Journal(GAUGING, entries * 2, {"0" * 64: PHOTO})) == [
        "22 entries stand in the file more than once; each counts once.",
        "One photo is named by the entries in the file and not in it.",
    ]
