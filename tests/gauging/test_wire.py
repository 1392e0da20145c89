import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bankside.gauging.faults import InputRefused
from bankside.gauging.records import Channel, Gauging, PointReading, Site, Units, Vertical
from bankside.gauging.wire import (
    FORMAT,
    SEVERAL_FORMAT,
    from_json,
    several_from_json,
    several_to_json,
    to_json,
)

from .strategies import gaugings

METRIC = Units("m", "m/s")
SMALLEST: dict[str, Any] = {
    "format": FORMAT,
    "units": {"length": "m", "velocity": "m/s"},
    "channels": [],
}


def _with(**members: Any) -> str:
    return json.dumps({**SMALLEST, **members})


def _with_verticals(*verticals: Any) -> str:
    return _with(channels=[{"verticals": list(verticals)}])


def _faults(text: str) -> list[str]:
    with pytest.raises(InputRefused) as caught:
        from_json(text)
    return [str(fault) for fault in caught.value.faults]


@given(gaugings())
def test_a_gauging_comes_back_as_it_was(gauging: Gauging) -> None:
    """Writing and reading change nothing, and equal gaugings have one text."""
    text = to_json(gauging)

    back = from_json(text)
    assert back == gauging
    assert to_json(back) == text


@given(gaugings())
def test_the_text_is_plain_json(gauging: Gauging) -> None:
    """There is no null, no NaN and no key for what is absent, and UTF-8 can hold the text."""

    def members(value: Any) -> Any:
        if isinstance(value, dict):
            yield from value.values()
            for inner in value.values():
                yield from members(inner)
        elif isinstance(value, list):
            for inner in value:
                yield from members(inner)

    document = json.loads(to_json(gauging).encode(), parse_constant=lambda name: pytest.fail(name))

    assert None not in list(members(document))
    optional = {"velocity", "crew", "stage", "rating", "panels"}
    for record in [document, *document["channels"]]:
        assert not any(record.get(key) == [] for key in optional)


def test_whole_numbers_are_numbers() -> None:
    """A whole number makes the same record and the same text as the float that equals it."""
    text = _with_verticals({"tape": 1, "depth": 2})
    gauging = from_json(text)

    assert gauging.channels == (Channel((Vertical(1.0, 2.0),)),)
    assert to_json(gauging) == to_json(from_json(text.replace("1,", "1.0,")))


def test_keys_have_an_order() -> None:
    """The head of a gauging comes before its verticals, a fraction before its velocity."""
    reading = PointReading(0.41, 0.6, 40)
    gauging = Gauging(
        METRIC, (Channel((Vertical(1, 0.3, (reading,)),)),), id="g", site=Site("ford")
    )
    document = json.loads(to_json(gauging))

    assert list(document) == ["format", "id", "site", "units", "channels"]
    [written] = document["channels"][0]["verticals"][0]["velocity"]
    assert list(written.items()) == [("fraction", 0.6), ("value", 0.41), ("seconds", 40.0)]


def test_every_fault_is_said_at_once_with_its_path() -> None:
    """Types, ranges, keys and contradictions anywhere in the text are reported together."""
    text = _with(
        units={"length": "yd", "velocity": "m/s"},
        sit={},
        ended="2026-07-14T25:00:00Z",
        channels=[
            {
                "verticals": [
                    {"tape": "1", "depht": 1, "depth": -1},
                    {"tape": 2, "velocity": [{"counts": 3, "seconds": True}, {"value": "x"}, 4]},
                    {"tape": 2, "edge": "left", "bank": "steep", "depth": 0},
                    7,
                    {"tape": 4, "velocity": [{"counts": 3, "seconds": 40}]},
                ]
            },
            {},
        ],
        filed={"panels": [{"channel": 1, "vertical": 0}, {"channel": 0, "vertical": 9}]},
    )

    assert {sentence.split(": ")[0] for sentence in _faults(text)} == {
        "sit",
        "units.length",
        "ended",
        "channels[0].verticals[0].depht",
        "channels[0].verticals[0].tape",
        "channels[0].verticals[0].depth",
        "channels[0].verticals[1].velocity[0].seconds",
        "channels[0].verticals[1].velocity[1].value",
        "channels[0].verticals[1].velocity[2]",
        "channels[0].verticals[2].tape",
        "channels[0].verticals[2].depth",
        "channels[0].verticals[3]",
        "channels[0].verticals[4].velocity[0].value",
        "channels[1].verticals",
        "filed.panels[1].vertical",
    }


def test_a_misspelt_key_gets_a_hint() -> None:
    """An unknown key is refused, with the key that was probably meant if one is close."""
    [near] = _faults(_with_verticals({"tape": 1, "depht": 2}))
    [far] = _faults(_with_verticals({"tape": 1, "colour": "green"}))

    assert near.endswith('(got "depht"); did you mean "depth"?')
    assert far.endswith('(got "colour")')


@pytest.mark.parametrize(
    "vertical",
    [
        '{"tape": "1"}',
        '{"tape": true}',
        '{"tape": null}',
        '{"tape": [1]}',
        '{"tape": {"value": 1}}',
        '{"tape": NaN}',
        '{"tape": -Infinity}',
        '{"tape": 1e400}',
        pytest.param(f'{{"tape": {"9" * 400}}}', id="400 digits"),
        pytest.param(f'{{"tape": {"9" * 9000}}}', id="9000 digits"),
        '{"tape": 1, "tape": 1}',
        '{"tape": 1, "depth": null}',
        '{"tape": 1, "dry": 0}',
        '{"tape": 1, "dry": "false"}',
        '{"tape": 1, "remark": 5}',
        '{"tape": 1, "remark": "\\ud800"}',
        '{"tape": 1, "velocity": {}}',
        '{"tape": 1, "velocity": [[]]}',
        '{"tape": 1, "edge": "Left"}',
        '{"tape": 1, "at": "2026-07-14"}',
        '{"tape": 1, "at": "2026-07-14T10:05:00"}',
        '{"tape": 1, "at": "20260714T100500Z"}',
        '{"tape": 1, "at": "2026-02-30T10:05:00Z"}',
        '{"tape": 1, "at": 0}',
        "{}",
        "[]",
        "null",
    ],
)
def test_nothing_is_coerced(vertical: str) -> None:
    """What is not quite a value of the right kind is one fault of the vertical, short to read."""
    text = _with_verticals("HERE").replace('"HERE"', vertical)
    [sentence] = _faults(text)

    assert sentence.startswith("channels[0].verticals[0]")
    assert len(sentence) < 220


def test_a_time_in_utc_may_end_in_z() -> None:
    """Z is an offset from UTC, of nothing."""
    gauging = from_json(_with(started="2026-07-14T10:05:00Z"))

    assert gauging == from_json(_with(started="2026-07-14T10:05:00+00:00"))


def test_a_newer_version_is_said_to_be_newer() -> None:
    """A gauging of a later format is not faulted for its keys, only for being newer."""
    text = json.dumps({"format": "bankside.gauging/2", "sections": []})
    [sentence] = _faults(text)

    assert sentence.startswith('format: format "bankside.gauging/2" is newer')


def test_several_gaugings_of_a_newer_version_are_said_to_be_newer() -> None:
    """The form that holds several gaugings grows old in the same way."""
    with pytest.raises(InputRefused) as refused:
        several_from_json('{"format": "bankside.gaugings/2", "gaugings": []}')

    assert 'format "bankside.gaugings/2" is newer' in str(refused.value)


@pytest.mark.parametrize(
    "found", ["bankside.gauging/0", "bankside.gauging/01", "bankside.survey/1", "", 1, None]
)
def test_another_format_is_refused(found: object) -> None:
    """A format that is neither ours nor newer is refused with what would be right."""
    [sentence] = _faults(_with(format=found))

    assert sentence.startswith(f'format: format must be "{FORMAT}"')


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "line 1, character 1"),
        ('{"format": }', "line 1, character 12"),
        ('{\n"a": 1,\n"b" 2}', "line 3, character 5"),
        ("\ufeff{}", "the text must be JSON"),
        ("[1]", "must be a JSON object (got a list of 1)"),
        ('"gauging"', 'must be a JSON object (got "gauging")'),
        ("1e999", "must be a JSON object (got 1e999)"),
        ("{}", "format must be"),
        (_with()[:-1] + ', "format": "bankside.gauging/1"}', "written once"),
        (_with()[:-1] + ', "channels": []}', "channels must be written once"),
    ],
)  # fmt: skip
def test_what_is_not_a_gauging_at_all_gets_one_sentence(text: str, says: str) -> None:
    """Broken, foreign and hostile texts are refused plainly."""
    [sentence] = _faults(text)

    assert says in sentence
    assert "\n" not in sentence


@pytest.mark.parametrize("opening", ["[", '{"a":', '{"channels":['])
def test_hostile_nesting_gets_one_sentence(opening: str) -> None:
    """A text that nests without end is refused, and does not end the program."""
    assert _faults(opening * 100_000) == ["the JSON must not be nested as deeply as it is"]


def test_faults_name_the_file() -> None:
    """The name of the file, where it is known, stands before every fault."""
    with pytest.raises(InputRefused) as caught:
        from_json(_with_verticals({}, {"tape": 1, "depth": -1}), file="alder.json")

    assert [fault.file for fault in caught.value.faults] == ["alder.json"] * 2
    assert str(caught.value).startswith("alder.json, channels[0].verticals[0].tape: ")


JSON = st.recursive(
    st.none() | st.booleans() | st.floats() | st.integers() | st.text(max_size=3),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(
            st.sampled_from(["tape", "depth", "velocity", "value", "edge", "verticals", "x"]), inner
        )
    ),
    max_leaves=8,
)


@given(JSON, st.sampled_from(["channels", "units", "site", "meter", "filed", "date", "started"]))
def test_no_json_breaks_the_reader(value: Any, key: str) -> None:
    """Whatever stands in a text, reading it gives a gauging or faults that have a path."""
    try:
        from_json(_with(**{key: value}))
    except InputRefused as refusal:
        assert all(fault.path is not None for fault in refusal.faults)


@given(st.lists(gaugings(), max_size=3))
def test_several_gaugings_come_back_in_their_order(several: list[Gauging]) -> None:
    """One text holds any number of gaugings; that of a single one is the text of a gauging."""
    text = several_to_json(several)

    assert several_from_json(text) == tuple(several)
    assert (text == to_json(several[0])) if len(several) == 1 else (SEVERAL_FORMAT in text)


def test_faults_of_several_gaugings_are_said_at_once() -> None:
    """Each gauging of a text is read by itself, and its faults carry its index and the file."""
    text = json.dumps({"format": SEVERAL_FORMAT, "gaugings": [SMALLEST, {}, {**SMALLEST, "id": 1}]})
    with pytest.raises(InputRefused) as caught:
        several_from_json(text, file="june.json")

    assert [(fault.file, fault.path) for fault in caught.value.faults] == [
        ("june.json", "gaugings[1].format"),
        ("june.json", "gaugings[2].id"),
    ]


@pytest.mark.parametrize(
    "text",
    [
        json.dumps({"format": SEVERAL_FORMAT}),
        json.dumps({"format": SEVERAL_FORMAT, "gaugings": SMALLEST}),
        json.dumps({"format": SEVERAL_FORMAT, "gaugings": [], "survey": "June"}),
        f'{{"format": "{SEVERAL_FORMAT}", "gaugings": [], "gaugings": []}}',
    ],
)
def test_several_gaugings_are_a_list_and_nothing_else(text: str) -> None:
    """What stands beside the list, or in its place, is refused."""
    with pytest.raises(InputRefused, match="and nothing else"):
        several_from_json(text)


@pytest.mark.parametrize("text", ["[]", "7", "{}"])
def test_what_is_neither_one_nor_several_is_refused(text: str) -> None:
    """A text that is no gauging is refused as one that should have been."""
    with pytest.raises(InputRefused):
        several_from_json(text)
