"""A journal as a file: read as it was written, and held against what it says beside its entries."""

import base64
import hashlib
import json
from typing import Any

import attrs
import pytest
from hypothesis import given
from jsonschema import Draft202012Validator

from bankside.gauging.faults import InputRefused
from bankside.gauging.journal.document import (
    FORMAT,
    Journal,
    Shown,
    StoredFile,
    is_journal,
    journal_from_json,
    journal_to_json,
)
from bankside.gauging.journal.entry import Entry
from bankside.gauging.journal.fold import united
from bankside.gauging.structure import JsonObject

from .journals import GAUGING, Device, crossing, journals

PHOTO = StoredFile("image/jpeg", b"\xff\xd8 not much of a photo")


def _journal(device: Device | None = None, **more: Any) -> Journal:
    return Journal(GAUGING, tuple((device or crossing()).entries), **more)


def _document(**changes: Any) -> dict[str, Any]:
    """A sound file, with some of its members others; None leaves one out."""
    document = json.loads(journal_to_json(_journal()))
    return {key: value for key, value in (document | changes).items() if value is not None}


@given(journals())
def test_a_journal_is_read_as_it_was_written(entries: list[Entry]) -> None:
    """Entries, files, the record and what was shown come back as they went out."""
    if not entries:
        return
    journal = Journal(
        GAUGING,
        united(entries),
        {PHOTO.sha256: PHOTO},
        JsonObject({"format": "bankside.gauging/1"}),
        Shown(0.123, "1", "0.1.0"),
    )

    assert journal_from_json(journal_to_json(journal)) == journal


def test_half_a_character_survives_the_file() -> None:
    """A text that no UTF-8 file can hold as it is comes back all the same."""
    device = Device()
    device.say("remarks", "\ud83d trüb 🌊")
    text = journal_to_json(_journal(device))

    assert text.encode("utf-8").decode("utf-8") == text
    assert "trüb 🌊" in text
    assert journal_from_json(text).entries == tuple(device.entries)


def test_entries_are_written_in_their_order_and_once() -> None:
    """Whoever reads the file reads the gauging from its beginning."""
    device = crossing()
    mixed = Journal(GAUGING, tuple(reversed(device.entries)) * 2)

    assert journal_to_json(mixed) == journal_to_json(_journal(device))


@pytest.mark.parametrize(
    ("document", "expected"),
    [
        ({"format": "bankside.journal/1"}, True),
        ({"format": "bankside.journal/2"}, True),
        ({"format": "bankside.gauging/1"}, False),
        ({}, False),
        ([], False),
    ],
)
def test_a_journal_is_known_by_its_format(document: object, expected: bool) -> None:
    """Whatever its version, so that a newer one is told to be newer."""
    assert is_journal(document) is expected


def _file(content: bytes = PHOTO.content, name: str | None = None, **more: Any) -> dict[str, Any]:
    sha256 = hashlib.sha256(PHOTO.content).hexdigest() if name is None else name
    text = base64.b64encode(content).decode()
    return {"files": {sha256: {"type": "image/jpeg", "base64": text} | more}}


@pytest.mark.parametrize(
    ("changes", "path", "says"),
    [
        ({"format": "bankside.journal/2"}, "format", '"bankside.journal/2" is newer than this'),
        ({"format": "bankside.journal/x"}, "format", 'must be "bankside.journal/1"'),
        ({"format": 1}, "format", "(got 1)"),
        ({"gauging": None}, "gauging", "gauging must be given"),
        ({"gauging": "two words"}, "gauging", "gauging must be a text of 1 to 64"),
        ({"gauging": "other"}, "gauging", 'must be that of the entries, "g-alder-fork" (got "oth'),
        ({"entries": None}, "entries", "entries must be given"),
        ({"entries": {}}, "entries", "entries must be a list of entries (got an object)"),
        ({"entries": []}, "entries", "found none; at least one entry would be right"),
        ({"entries": [1]}, "entries[0]", "an entry must be a JSON object (got 1)"),
        ({"extra": 1}, None, "a journal must have no keys but format, gauging, entries"),
        ({"files": []}, "files", "files must be an object of files by their SHA-256"),
        (_file(name="photo.jpg"), "files[0]", 'its SHA-256 in 64 hex digits (got "photo.jpg")'),
        (_file(name="A" * 64), "files[0]", "64 hex digits"),
        (_file(b"other"), "files[0].base64", "must be that of its SHA-256"),
        (_file(base64="%%%"), "files[0].base64", "base64 must be a text in base64"),
        (_file(base64="ÄÄÄÄ"), "files[0].base64", "base64 must be a text in base64"),
        (_file(base64=5), "files[0].base64", "(got 5)"),
        (_file(type=""), "files[0].type", "type must be a text that can be seen"),
        (_file(name_="x"), "files[0]", "a file must have no keys but type, base64"),
        ({"files": {"0" * 64: 1}}, "files[0]", "a file must be an object (got 1)"),
        ({"record": 1}, "record", "record must be a gauging as an object (got 1)"),
        ({"shown": 1}, "shown", "shown must be an object (got 1)"),
        ({"shown": {"discharge_m3s": "1"}}, "shown.discharge_m3s", 'a finite number (got "1")'),
    ],
)
def test_a_file_that_is_no_journal(changes: dict[str, Any], path: str | None, says: str) -> None:
    """The sentence has the file, the path in it, what must hold and what was found."""
    with pytest.raises(InputRefused) as refused:
        journal_from_json(json.dumps(_document(**changes)), file="flow.bankside.json")

    first = refused.value.faults[0]
    assert (first.file, first.path) == ("flow.bankside.json", path)
    assert says in first.message


def test_an_object_is_asked_for() -> None:
    """A list of entries alone is no journal."""
    with pytest.raises(InputRefused, match="a journal must be a JSON object"):
        journal_from_json("[]")


def test_everything_wrong_is_told_at_once() -> None:
    """Entries, files and what was shown are all looked at."""
    wrong = _document(entries=[{}], files={"x": 1}, shown={}, extra=1)

    with pytest.raises(InputRefused) as refused:
        journal_from_json(json.dumps(wrong))
    assert {str(fault.path).split("[")[0].split(".")[0] for fault in refused.value.faults} == {
        "None",
        "entries",
        "files",
        "shown",
    }


def test_one_id_with_two_contents() -> None:
    """A file that was edited by hand is told by the id of the entry."""
    document = _document()
    changed = document["entries"][-1] | {"value": {"value": "0.9"}}

    with pytest.raises(InputRefused, match='two different ones with the id "a18"'):
        journal_from_json(json.dumps(document | {"entries": [*document["entries"], changed]}))


def test_a_file_is_known_by_its_content() -> None:
    """The SHA-256 is that of the bytes; this one is known from the standard, FIPS 180-2, B.1."""
    digest = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"

    assert StoredFile("text/plain", b"abc").sha256 == digest


def test_the_format_is_that_of_the_schema() -> None:
    """The name of the form stands in the file and in its published schema."""
    from bankside.gauging.journal.schema import schema

    assert schema()["title"] == FORMAT == _document()["format"]
    Draft202012Validator(schema()).validate(_document(**_file()))
    assert attrs.fields(Journal).gauging.name in schema()["required"]
