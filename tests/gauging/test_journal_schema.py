"""The published schema of a journal, held against what reading a journal takes."""

import json
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from bankside.gauging.faults import InputRefused
from bankside.gauging.journal.document import Journal, journal_from_json, journal_to_json
from bankside.gauging.journal.fold import fold
from bankside.gauging.journal.record import recorded
from bankside.gauging.journal.sayable import SAYABLE
from bankside.gauging.journal.schema import schema, schema_text

from .journals import GAUGING, Device, V, crossing

PUBLISHED = Path(__file__).parents[2] / "docs" / "schema" / "journal-1.schema.json"
VALIDATOR = Draft202012Validator(schema())


def _document(device: Device) -> dict[str, Any]:
    document: dict[str, Any] = json.loads(journal_to_json(Journal(GAUGING, tuple(device.entries))))
    return document


def test_the_published_schema_is_the_one_of_the_entries() -> None:
    """The file in the documentation is what the code gives, to the letter."""
    assert PUBLISHED.read_text(encoding="utf-8") == schema_text()


def test_the_schema_is_one() -> None:
    """It follows its own standard, JSON Schema 2020-12."""
    Draft202012Validator.check_schema(schema())


def test_a_crossing_follows_the_schema() -> None:
    """What a crew calls at the stream is what was published."""
    assert list(VALIDATOR.iter_errors(_document(crossing()))) == []


TEXTS = ["1.05", "-0.1", "x", "", "ft", "m", "m/s", "left", "steep", "small", "good", "common"]
TEXTS += ["2026-07-14", "2026-07-14T10:05:00-07:00", "2026-07-14T10:05:00", "1,05", ".5", "5."]
PLAIN = st.sampled_from([*TEXTS, 1, 0.6, True, None])
MEMBERS = sorted(
    {name for thing in SAYABLE.values() for name in getattr(thing.reader, "members", {})}
)
CHOSEN = {
    "kind": ["spin", "zero"],
    "when": ["before", "after"],
    "severity": ["note", "explain"],
    "purpose": ["upstream", "other"],
}


@st.composite
def values(draw: st.DrawFn) -> Any:
    """Values of which some are what is wanted and some are nearly so."""
    names = draw(st.lists(st.sampled_from(MEMBERS), max_size=4, unique=True))
    members = {
        name: draw(st.sampled_from(CHOSEN[name]) if name in CHOSEN else PLAIN) for name in names
    }
    return draw(st.one_of(PLAIN, st.just(members), st.lists(PLAIN, max_size=2), st.just([members])))


def _what(pattern: str) -> str:
    return pattern.replace("<c>", "1").replace("<k>", "v1").replace("<r>", "r1")


@given(st.sampled_from(sorted(SAYABLE)), values())
def test_schema_and_readers_take_alike(pattern: str, value: Any) -> None:
    """A value that the schema refuses means nothing to the record, and the other way round."""
    thing = SAYABLE[pattern]
    device = Device()
    device.say(_what(pattern), value)
    wrong: list[str] = []
    if value is not None:
        thing.reader.read(thing.name, value, wrong)

    assert VALIDATOR.is_valid(_document(device)) is not bool(wrong)


@pytest.mark.parametrize(
    "changes",
    [
        {"id": "a 1"},
        {"id": 1},
        {"sequence": 0},
        {"sequence": "1"},
        {"at": "2026-07-14T10:12:03"},
        {"at": None},
        {"reason": " "},
        {"reason": None},
        {"replaces": "a0"},
        {"replaces": ["a0", "a0"]},
        {"valeu": "1"},
    ],
)
def test_schema_and_reader_refuse_entries_alike(changes: dict[str, Any]) -> None:
    """An entry that the schema refuses is refused on reading."""
    document = _document(crossing())
    document["entries"][0] |= changes

    assert not VALIDATOR.is_valid(document)
    with pytest.raises(InputRefused):
        journal_from_json(json.dumps(document))


def test_what_is_not_known_is_refused_by_both() -> None:
    """A thing that nobody can say anything about is in no schema, and a fault of the record."""
    device = crossing()
    device.say("site/colour", "green")

    assert not VALIDATOR.is_valid(_document(device))
    assert [fault.path for fault in recorded(fold(device.entries)).faults] == ["site/colour"]


def test_nothing_that_can_be_said_is_left_out() -> None:
    """Every pattern has its shape in the schema, and a key in each place of a key."""
    whats = [part["pattern"] for part in schema()["$defs"]["Entry"]["properties"]["what"]["anyOf"]]

    assert len(whats) == len(SAYABLE)
    assert not any("<" in what for what in whats)
    device = Device()
    device.say(f"{V}/v1/readings/r1", {"value": "0.2", "fraction": 0.6})
    assert VALIDATOR.is_valid(_document(device))
