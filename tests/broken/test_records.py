"""Our own JSON: texts that are no JSON, and records that hold what no record can."""

import json
from pathlib import Path
from typing import Any

import pytest

from bankside.cli import main

from .cases import Case, check, parametrized

VERTICALS = "channels[0].verticals"


def document(**changes: Any) -> dict[str, Any]:
    """A sound record, with some of its members others; None leaves one out."""
    members: dict[str, Any] = {
        "format": "bankside.gauging/1",
        "site": {"name": "above the footbridge", "stream": "Alder Fork"},
        "units": {"length": "m", "velocity": "m/s"},
        "channels": [
            {
                "verticals": [
                    {"tape": 0, "edge": "left", "depth": 0},
                    {"tape": 1, "depth": 0.3, "velocity": [{"fraction": 0.6, "value": 0.2}]},
                    {"tape": 2, "depth": 0.5, "velocity": [{"fraction": 0.6, "value": 0.4}]},
                    {"tape": 3, "edge": "right", "depth": 0},
                ]
            }
        ],
        **changes,
    }
    return {key: value for key, value in members.items() if value is not None}


def _text(**changes: Any) -> str:
    return json.dumps(document(**changes))


def _depth(written: str) -> str:
    """A record in which one depth is written like this."""
    return _text().replace('"depth": 0.3', f'"depth": {written}')


def _second(**changes: Any) -> str:
    """A record in which the second vertical has other members."""
    members = document()
    members["channels"][0]["verticals"][1].update(changes)
    return json.dumps(members)


def _record(
    name: str, content: str | bytes, *says: str, computing: bool = False, **more: Any
) -> Case:
    return Case(name, content, says, file="flow.json", computing=computing, **more)


TEXTS = [
    _record("truncated", _text()[:-20], "must be JSON", "line 1, character"),
    _record("a brace and nothing", "{", "must be JSON", "line 1, character 2"),
    _record("a comma too many", '{"format": 1,}', "must be JSON", "line 1, character"),
    _record("something after the end", _text() + "}", "must be JSON", "line 1, character"),
    _record("a list", "[1, 2]", "a gauging must be a JSON object", "a list of 2"),
    _record("an empty object", "{}", "format", "bankside.gauging/1"),
    _record("nested without end", "[" * 100_000, "nested as deeply"),
    _record("nested without end inside", _depth("[" * 100_000), "nested as deeply"),
    _record("not UTF-8", _text().replace("Alder", "Müll").encode("latin-1"), "UTF-8", "would be"),
    _record("UTF-16", _text().encode("utf-16"), "JSON", "UTF-8"),
    _record("binary rubbish after a brace", b"{" + bytes(range(256)), "UTF-8"),
]

MEMBERS = [
    _record("NaN", _depth("NaN"), f"{VERTICALS}[1].depth", "at least 0", "NaN"),
    _record("infinity", _depth("-Infinity"), f"{VERTICALS}[1].depth", "at least 0", "-Infinity"),
    _record("1e400", _depth("1e400"), f"{VERTICALS}[1].depth", "at least 0", "1e400"),
    _record("endless digits", _depth("1" * 5000), f"{VERTICALS}[1].depth", "at least 0", "1111"),
    _record("text for a number", _depth('"0.3"'), f"{VERTICALS}[1].depth", '(got "0.3")'),
    _record("truth for a number", _depth("true"), f"{VERTICALS}[1].depth", "(got true)"),
    _record("null", _depth("null"), f"{VERTICALS}[1].depth", "be left out", "(got null)"),
    _record("a list for a number", _depth("[0.3]"), f"{VERTICALS}[1].depth", "(got a list of 1)"),
    _record("a negative depth", _depth("-0.3"), f"{VERTICALS}[1].depth", "at least 0", "-0.3"),
    _record(
        "a depth written twice",
        _depth('0.3, "depth": 0.4'),
        f"{VERTICALS}[1].depth",
        "must be written once",
    ),
    _record(
        "an unknown key",
        _second(dept=0.3),
        f"{VERTICALS}[1].dept",
        'did you mean "depth"?',
    ),
    _record("a fraction above 1", _second(velocity=[{"fraction": 6, "value": 0.2}]), "from 0 to 1"),
    _record(
        "a point without a value",
        _second(velocity=[{"fraction": 0.6}]),
        f"{VERTICALS}[1].velocity[0]",
        "value",
    ),
    _record(
        "counts without a rating",
        _second(velocity=[{"fraction": 0.6, "counts": 20, "seconds": 40}]),
        f"{VERTICALS}[1].velocity[0].value",
        "rating",
    ),
    _record("one tape position twice", _second(tape=2), f"{VERTICALS}[2].tape", "must differ"),
    _record("no units", _text(units=None), "units must be given"),
    _record(
        "a unit that is none",
        _text(units={"length": "yard", "velocity": "m/s"}),
        "units.length",
        '"ft", "in", "m"',
        '(got "yard")',
    ),
    _record("a newer version", _text(format="bankside.gauging/2"), "format", "is newer than this"),
    _record("another format", _text(format="notes/1"), "format", "bankside.gauging/1", '"notes/1"'),
    _record(
        "a day that is not in the calendar",
        _text(date="2026-02-31"),
        "date",
        "2026-07-14",
        '(got "2026-02-31")',
    ),
    _record(
        "a moment without an offset",
        _text(started="2026-07-14T10:05:00"),
        "started",
        "offset from UTC",
        '(got "2026-07-14T10:05:00")',
    ),
    _record(
        "a latitude that is nowhere",
        _text(site={"name": "x", "position": {"lon": 0, "lat": 95}}),
        "site.position.lat",
        "from -90 to 90",
        "(got 95",
    ),
    _record(
        "half a sign",
        _text(site={"name": "\ud800"}),
        "site.name",
        "UTF-8 can hold",
    ),
    _record(
        "one broken record among several",
        json.dumps(
            {
                "format": "bankside.gaugings/1",
                "gaugings": [document(), json.loads(_depth("-1"))],
            }
        ),
        f"gaugings[1].{VERTICALS}[1].depth",
        "at least 0",
    ),
    _record(
        "everything wrong at once",
        _text(units={"length": "yard", "velocity": "m/s"}, crew="two"),
        "units.length",
        also=(("crew", "CrewMember", '(got "two")'),),
    ),
]

COMPUTING = [
    _record(
        "no depth",
        _text(channels=[{"verticals": [{"tape": 0}, {"tape": 1, "depth": 0.2}]}]),
        f"{VERTICALS}[0].depth",
        computing=True,
    ),
    _record(
        "one vertical",
        _text(channels=[{"verticals": [{"tape": 0, "depth": 0.2}]}]),
        VERTICALS,
        "at least two",
        "(got 1)",
        computing=True,
    ),
    _record("no channel", _text(channels=[]), "channels", computing=True),
    _record(
        "a single odd fraction",
        _second(velocity=[{"fraction": 0.3, "value": 0.2}]),
        f"{VERTICALS}[1].velocity",
        "0.6",
        "0.3",
        computing=True,
    ),
    _record(
        "numbers beyond every product",
        _depth("1e300").replace("0.2", "1e300"),
        "channels",
        "small enough",
        computing=True,
    ),
]


@parametrized(TEXTS)
def test_a_text_that_is_no_json_is_refused(
    case: Case, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The sentence says where the text stops being JSON."""
    check(case, tmp_path, capsys)


@parametrized(MEMBERS)
def test_a_record_that_holds_what_none_can_is_refused(
    case: Case, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The sentence has the path of the member, what must hold, and what was found."""
    check(case, tmp_path, capsys)


@parametrized(COMPUTING)
def test_a_record_of_which_no_discharge_can_be_computed_is_refused(
    case: Case, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The record can be kept and converted; computing says what it lacks."""
    check(case, tmp_path, capsys)


@pytest.mark.parametrize("command", ["compute", "check", "report"])
def test_a_file_of_no_gaugings_is_told_to_be_one(
    command: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """An empty list is no reason to end without a word."""
    path = tmp_path / "none.json"
    path.write_text('{"format": "bankside.gaugings/1", "gaugings": []}', encoding="utf-8")

    assert main([command, str(path)]) == 2
    assert "none.json, gaugings: found none; at least one" in capsys.readouterr().err
