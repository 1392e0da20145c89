"""Entries as they are handed over: strictly read, everything wrong told at once."""

import json
from typing import Any

import pytest
from hypothesis import given

from bankside.gauging.faults import InputRefused
from bankside.gauging.fields import Unreadable
from bankside.gauging.journal.entry import Entry, entries_from_json, to_members
from bankside.gauging.json_text import parsed

from .journals import Device, V, crossing, journals

SOUND: dict[str, Any] = {
    "id": "a1",
    "gauging": "g",
    "device": "a",
    "sequence": 1,
    "at": "2026-07-14T10:12:03.250-07:00",
    "what": f"{V}/v3/depth",
    "value": "1.05",
}


def _nested(levels: int) -> Any:
    value: Any = "1.05"
    for _ in range(levels):
        value = [value]
    return value


@given(journals())
def test_entries_are_read_as_they_are_written(entries: list[Entry]) -> None:
    """What goes out as JSON comes back the same, to the last digit."""
    texts = [json.dumps(to_members(entry)) for entry in entries]

    assert list(entries_from_json([parsed(text) for text in texts])) == entries


def test_what_is_absent_has_no_key() -> None:
    """An entry without a reason says nothing of one."""
    (entry,) = entries_from_json([SOUND])

    assert to_members(entry) == SOUND


@pytest.mark.parametrize(
    ("changes", "path", "says"),
    [
        ({"id": "a 1"}, "id", 'id must be a text of 1 to 64 letters.*(got "a 1")'),
        ({"id": ""}, "id", 'id must be a text of 1 to 64 letters.*(got "")'),
        ({"id": "x" * 65}, "id", "id must be a text of 1 to 64 letters"),
        ({"id": 1}, "id", "(got 1)"),
        ({"device": "gerät"}, "device", '(got "gerät")'),
        ({"gauging": None}, "gauging", "gauging must be a text of 1 to 64 letters.*(got null)"),
        ({"sequence": 0}, "sequence", "sequence must be a whole number of at least 1 (got 0)"),
        ({"sequence": True}, "sequence", "(got true)"),
        ({"sequence": "1"}, "sequence", '(got "1")'),
        ({"sequence": 1.5}, "sequence", "(got 1.5)"),
        ({"sequence": 2**53}, "sequence", "(got 9007199254740992)"),
        ({"at": "2026-07-14T10:12:03"}, "at", "at must be a date and time with its offset"),
        ({"at": "2026-07-14"}, "at", '(got "2026-07-14")'),
        ({"at": "2026-13-14T10:12:03Z"}, "at", "at must be a date and time"),
        ({"at": 5}, "at", "(got 5)"),
        ({"what": "channels//depth"}, "what", 'what must be names.*(got "channels//depth")'),
        ({"what": "/depth"}, "what", "what must be names"),
        ({"what": "site/Straße"}, "what", "what must be names"),
        ({"what": ""}, "what", "what must be names"),
        ({"what": "/".join("abcdefghi")}, "what", "what must be names"),
        ({"value": _nested(9)}, "value", "at most 8 levels deep (got a list of 1)"),
        ({"value": float("inf")}, "value", "value must be a JSON value of finite numbers"),
        ({"value": 2**53}, "value", "value must be a JSON value of finite numbers"),
        ({"value": 10**400}, "value", "value must be a JSON value of finite numbers"),
        ({"value": Unreadable("1e400")}, "value", "(got 1e400)"),
        ({"value": {"value": Unreadable("NaN")}}, "value", "value must be a JSON value"),
        ({"reason": " "}, "reason", 'reason must be a text that is not blank (got " ")'),
        ({"reason": None}, "reason", "reason must be a text that is not blank (got null)"),
        ({"by": 7}, "by", "by must be a text that is not blank (got 7)"),
        ({"replaces": "a0"}, "replaces", 'replaces must be a tuple (a list, in JSON).*(got "a0")'),
        ({"replaces": ["a0", "a0"]}, "replaces", "ids of entries, each once (got a list of 2)"),
        ({"replaces": [1]}, "replaces", "ids of entries"),
        ({"replaces": ["a1"]}, "replaces", "replaces must hold ids of other entries (got its own)"),
        ({"valeu": "1"}, None, 'a key must be one that an entry has (got "valeu")'),
        ({"valeu": "1"}, None, 'did you mean "value"?'),
    ],
)
def test_an_entry_that_is_none(changes: dict[str, Any], path: str | None, says: str) -> None:
    """One fault, with the place of the entry, what must hold and what was found."""
    with pytest.raises(InputRefused) as refused:
        entries_from_json([SOUND, SOUND | changes])

    (fault,) = refused.value.faults
    assert fault.path == ("[1]" if path is None else f"[1].{path}")
    for part in says.split(".*"):
        assert part in fault.message


@pytest.mark.parametrize("key", [key for key in SOUND])
def test_an_entry_that_lacks_something(key: str) -> None:
    """Each member that must be there is asked for by its name."""
    with pytest.raises(InputRefused) as refused:
        entries_from_json([{name: value for name, value in SOUND.items() if name != key}])

    assert [str(fault) for fault in refused.value.faults] == [f"[0].{key}: {key} must be given"]


def test_everything_wrong_is_told_at_once() -> None:
    """Two entries with three faults need one round of mending."""
    with pytest.raises(InputRefused) as refused:
        entries_from_json([SOUND | {"id": "", "at": ""}, "x", SOUND | {"what": ""}])

    assert [fault.path for fault in refused.value.faults] == ["[0].id", "[0].at", "[1]", "[2].what"]


@pytest.mark.parametrize(
    ("text", "path"),
    [
        ('{"id": "a1", "id": "a2"}', "[0].id"),
        ('{"value": {"value": "1", "value": "2"}}', "[0].value"),
    ],
)
def test_a_member_that_is_written_twice(text: str, path: str) -> None:
    """Which of the two was meant is not guessed."""
    members = {key: value for key, value in SOUND.items() if f'"{key}"' not in text[:9]}
    whole = json.dumps(members)[:-1] + ", " + text[1:]

    with pytest.raises(InputRefused) as refused:
        entries_from_json([parsed(whole)])
    assert [fault.path for fault in refused.value.faults] == [path]


def test_the_constructor_refuses_alike() -> None:
    """An entry that is made in Python is held to the same."""
    with pytest.raises(InputRefused, match="at least 1"):
        Entry(**(SOUND | {"sequence": 0}))


def test_a_device_counts_on_from_what_it_knows() -> None:
    """The tests' own devices number entries as the contract of the journal has it."""
    device = crossing()
    other = Device("b", device.entries[:5])

    assert other.say("remarks", "x").sequence == 6
    assert [entry.sequence for entry in device.entries] == list(range(1, 19))
