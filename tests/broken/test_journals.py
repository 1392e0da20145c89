"""Journals of the app that are damaged, edited by hand, foreign, or make no record."""

import base64
import hashlib
import json
from pathlib import Path
from typing import Any

import pytest

from .cases import Case, check, parametrized

V = "channels/1/verticals"


def _entries() -> list[dict[str, Any]]:
    said: list[tuple[str, Any]] = [
        ("units/length", "m"),
        ("units/velocity", "m/s"),
        (f"{V}/l/tape", "0"),
        (f"{V}/l/edge", "left"),
        (f"{V}/l/depth", "0"),
        (f"{V}/v1/tape", "1.0"),
        (f"{V}/v1/depth", "0.30"),
        (f"{V}/v1/readings/r1", {"value": "0.20", "fraction": 0.6}),
        (f"{V}/r/tape", "2.0"),
        (f"{V}/r/edge", "right"),
        (f"{V}/r/depth", "0"),
    ]
    return [
        {
            "id": f"a{number}",
            "gauging": "g-alder-fork",
            "device": "a",
            "sequence": number,
            "at": f"2026-07-14T10:{number:02}:00-07:00",
            "what": what,
            "value": value,
        }
        for number, (what, value) in enumerate(said, 1)
    ]


def _text(entries: Any = None, **changes: Any) -> str:
    document = {
        "format": "bankside.journal/1",
        "gauging": "g-alder-fork",
        "entries": _entries() if entries is None else entries,
        **changes,
    }
    return json.dumps({key: value for key, value in document.items() if value is not None})


def _changed(index: int, **changes: Any) -> str:
    """A journal in which one entry has other members."""
    entries = _entries()
    entries[index] |= changes
    return _text(entries)


def _said(what: str, value: Any) -> str:
    """A journal with one entry more."""
    entries = _entries()
    return _text([*entries, entries[0] | {"id": "b", "sequence": 40, "what": what, "value": value}])


def _journal(name: str, content: str | bytes, *says: str, **more: Any) -> Case:
    return Case(name, content, says, file="flow.bankside.json", **more)


def _photo(content: bytes) -> dict[str, Any]:
    sha256 = hashlib.sha256(b"photo").hexdigest()
    return {sha256: {"type": "image/jpeg", "base64": base64.b64encode(content).decode()}}


WHOLE = _text()

TEXTS = [
    _journal("cut off in an entry", WHOLE[: len(WHOLE) // 2], "must be JSON", "line 1"),
    _journal("cut off in a text", WHOLE[: WHOLE.index("alder") + 2], "as if it were cut off"),
    _journal("cut off after an entry", WHOLE[: WHOLE.index("}") + 2], "as if it were cut off"),
    _journal("cut off at the last brace", WHOLE[:-1], "must be JSON", "as if it were cut off"),
    _journal("two files in one", WHOLE + WHOLE, "must be JSON", "Extra data"),
    _journal("not UTF-8", WHOLE.replace("left", "lüft").encode("latin-1"), "UTF-8"),
    _journal("entries alone", json.dumps(_entries()), "a gauging must be a JSON object"),
]

MEMBERS = [
    _journal("a newer version", _text(format="bankside.journal/2"), "format", "is newer than this"),
    _journal("another version", _text(format="bankside.journal/one"), 'be "bankside.journal/1"'),
    _journal("no format", _text(format=None), "format", "(got nothing)"),
    _journal("no gauging", _text(gauging=None), "gauging: gauging must be given"),
    _journal("no entries", _text(entries=[]), "entries: found none; at least one entry"),
    _journal("entries that are none", _text(entries={"a": 1}), "entries must be a list of entries"),
    _journal("a foreign entry", _text(entries=[{"t": 1}]), "must be one that an entry has",
        also=(("entries[0].id: id must be given",), ("gauging must be given",), ("device must be",),
              ("sequence must be",), ("at must be",), ("what must be",), ("value must be",))),
    _journal("another gauging", _text(gauging="g-quill-brook"), "gauging must be that of the"),
    _journal("entries of two gaugings", _changed(3, gauging="g-quill-brook"), "entries: ",
        '(got "g-alder-fork", "g-quill-brook")'),
    _journal("an unknown key", _text(extra=1), "must have no keys but format, gauging, entries"),
    _journal("a key twice", WHOLE[:-1] + ', "gauging": "x"}', "must be written once",
        also=(("gauging must be that of the entries",),)),
    _journal("one id twice", _text([*_entries(), _entries()[6] | {"value": "0.31"}]),
        'entries: an entry must have one content', '"a7"'),
    _journal("a misspelled key", _changed(2, valeu="1"), "entries[2]", 'did you mean "value"?'),
    _journal("a sequence as a text", _changed(2, sequence="3"), "entries[2].sequence", '(got "3")'),
    _journal("a sequence of 0", _changed(2, sequence=0), "entries[2].sequence", "at least 1"),
    _journal("a clock without an offset", _changed(2, at="2026-07-14T10:12:03"), "entries[2].at"),
    _journal("a strange what", _changed(2, what="a//b"), "entries[2].what", "names of letters"),
    _journal("a NaN", WHOLE.replace('"0.30"', "NaN"), "entries[6].value", "(got NaN)"),
    _journal("a number too large", WHOLE.replace('"0.30"', "1e400"), "entries[6].value", "1e400"),
    _journal("nested without end", WHOLE.replace('"0.30"', "[" * 50 + "]" * 50), "8 levels deep"),
    _journal("replaces itself", _changed(2, replaces=["a3"]), "entries[2].replaces", "its own"),
    _journal("a reason that is blank", _changed(2, reason=" "), "entries[2].reason", "not blank"),
    _journal("a damaged photo", _text(files=_photo(b"phot0")), "files[0].base64", "SHA-256"),
    _journal("a photo that is no base64", _text(files={"0" * 64: {"type": "x", "base64": "%"}}),
        "files[0].base64", "base64"),
    _journal("a record that is none", _text(record=[]), "record must be a gauging as an object"),
    _journal("shown without its version", _text(shown={"discharge_m3s": 0.1, "version": "0.1.0"}),
        "shown.method_version", "must be given"),
]  # fmt: skip

RECORDS = [
    _journal("a decimal comma", _changed(6, value="0,30"), f"entries[6] ({V}/v1/depth): depth",
        '(got "0,30")'),
    _journal("a letter for a figure", _changed(6, value="O.30"), "entries[6]", '(got "O.30")'),
    _journal("a number for a text", _changed(6, value=0.3), "entries[6]", "as called", "(got 0.3)"),
    _journal("a depth below 0", _changed(6, value="-0.30"), "entries[6]", "at least 0"),
    _journal("no units", _text(_entries()[2:]), "units/length: the unit of length must be given",
        also=(("units/velocity: the unit of velocity must be given",),)),
    _journal("a unit that is none", _changed(0, value="yard"), "entries[0] (units/length)", "yard"),
    _journal("an unknown thing", _said("site/colour", "green"), "entries[11] (site/colour)"),
    _journal("one tape twice", _changed(8, value="1.00"), f"entries[8] ({V}/r/tape)", "1 twice"),
    _journal("two left edges", _changed(9, value="left"), "only one left edge"),
    _journal("no tape position", _text(_entries()[:8] + _entries()[9:]), f"({V}/r/tape): tape must",
        "must be given"),
    _journal("counts without a rating",
        _changed(7, value={"counts": "20", "seconds": "40"}), "entries[7]", "no rating"),
]  # fmt: skip

COMPUTING = [
    _journal("nothing but units", _text(_entries()[:2]), "channels", computing=True),
    _journal("an edge alone", _text(_entries()[:5]), "at least two", computing=True),
]


@parametrized(TEXTS)
def test_a_text_that_is_no_json_is_refused(
    case: Case, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The sentence says where the text stops being JSON, and whether it seems cut off."""
    check(case, tmp_path, capsys)


@parametrized(MEMBERS)
def test_a_file_that_is_no_journal_is_refused(
    case: Case, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The sentence has the place in the file, what must hold, and what was found."""
    check(case, tmp_path, capsys)


@parametrized(RECORDS)
def test_entries_that_make_no_record_are_refused(
    case: Case, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The sentence has the place of the entry and what it speaks of."""
    check(case, tmp_path, capsys)


@parametrized(COMPUTING)
def test_an_unfinished_journal_is_kept_and_gives_no_discharge(
    case: Case, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """It can be converted; computing says what it lacks."""
    check(case, tmp_path, capsys)
