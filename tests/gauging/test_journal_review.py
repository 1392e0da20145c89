"""What the office says of a gauging: its verdict, and which entries it looked at."""

import hashlib
import itertools
from datetime import datetime, timedelta, timezone
from typing import Any

import attrs
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bankside.gauging.faults import InputRefused
from bankside.gauging.journal.entry import Entry
from bankside.gauging.journal.review_record import Review
from bankside.gauging.journal.state import state_of
from bankside.gauging.journal.values import JsonValue, canonical, comparable

from .journals import Device, V, crossing, journals, record_of

VERDICT = {
    "verdict": "approved",
    "by": "R. Tallis",
    "discharge_m3s": "0.31",
    "method_version": "1",
    "state": "0" * 64,
}


def _without(name: str) -> dict[str, Any]:
    return {key: value for key, value in VERDICT.items() if key != name}


def test_a_verdict_stands_with_what_was_looked_at() -> None:
    """Who, when, which discharge by which method, and which entries."""
    device = crossing()
    device.say("review", VERDICT, at="2026-08-01T09:00:00-07:00")
    made = record_of(device)

    assert made.faults == ()
    assert made.review == Review(
        "approved",
        "R. Tallis",
        datetime(2026, 8, 1, 9, tzinfo=timezone(timedelta(hours=-7))),
        "0" * 64,
        discharge_m3s=0.31,
        method_version="1",
    )


def test_who_sends_back_says_why() -> None:
    """Without a reason there is no verdict, and the entry is named; with one it stands."""
    device = crossing()
    sent = device.say("review", {**VERDICT, "verdict": "sent back"})
    made = record_of(device)
    assert made.review is None
    assert [(fault.message, fault.entries) for fault in made.faults] == [
        ("reason must be given where a gauging is sent back (got nothing)", (sent.id,))
    ]

    device.say("review", {**VERDICT, "verdict": "sent back"}, reason="which edge is left?")
    review = record_of(device).review
    assert review is not None
    assert (review.verdict, review.reason) == ("sent back", "which edge is left?")


@pytest.mark.parametrize(
    ("value", "message"),
    [
        (_without("by"), "by of the review must be given"),
        (_without("state"), "state of the review must be given"),
        (_without("verdict"), "verdict of the review must be given"),
        ({**VERDICT, "verdict": "fine"}, 'must be one of "approved", "sent back" (got "fine")'),
        ({**VERDICT, "discharge_m3s": 0.31}, "discharge_m3s of the review must be a figure"),
        ({**VERDICT, "by": " "}, "by must be a text that can be seen"),
    ],
)
def test_a_verdict_that_is_none_is_told(value: dict[str, Any], message: str) -> None:
    """What is missing or means nothing is named, and the record is made without a verdict."""
    device = crossing()
    device.say("review", value)
    made = record_of(device)

    assert message in " ".join(fault.message for fault in made.faults)
    assert made.gauging is not None


def test_a_verdict_is_no_correction_and_can_be_taken_back() -> None:
    """The last verdict stands; the one before is in the journal alone."""
    device = crossing()
    device.say("review", {**VERDICT, "verdict": "sent back"}, reason="which edge is left?")
    device.say("review", VERDICT)
    made = record_of(device)
    assert made.gauging is not None and made.review is not None
    assert (made.review.verdict, made.gauging.corrections) == ("approved", ())

    device.say("review", None, reason="pressed by mistake")
    assert record_of(device).review is None


def test_two_verdicts_that_did_not_know_of_each_other_are_told() -> None:
    """Both are shown until somebody settles it."""
    first = crossing()
    second = Device("b", first.entries)
    first.say("review", VERDICT)
    second.say("review", {**VERDICT, "verdict": "sent back"}, reason="which edge is left?")
    first.learn(second.entries)

    (note,) = record_of(first).notes
    assert note.startswith("Review: ")


@given(journals(), st.randoms())
def test_the_state_is_that_of_the_entries_alone(entries: list[Entry], random: Any) -> None:
    """Order and repetition do not matter; one entry less does."""
    shuffled = [*entries, *entries[: len(entries) // 2]]
    random.shuffle(shuffled)

    assert state_of(shuffled) == state_of(entries)
    for left_out in range(len(entries)):
        fewer = [*entries[:left_out], *entries[left_out + 1 :]]
        assert state_of(fewer) != state_of(entries)


def test_a_verdict_leaves_the_state_as_it_is() -> None:
    """Otherwise no verdict could name the state that it is about."""
    device = crossing()
    before = state_of(device.entries)
    device.say("review", VERDICT)
    assert state_of(device.entries) == before

    device.say(f"{V}/v1/depth", "0.41")
    assert state_of(device.entries) != before


def test_the_state_can_be_worked_out_by_any_program() -> None:
    """The digest is that of lines as the formats describe them, here spelled by hand."""
    first = Entry("b", "g", "d", 1, "2026-08-01T09:00:00Z", "units/length", "m")
    second = Entry(
        "a", "g", "d", 2, "2026-08-01T09:01:00Z", "crew/k", {"role": "rod", "name": "T"}, by="T"
    )
    lines = (
        '{"at":"2026-08-01T09:01:00Z","by":"T","device":"d","gauging":"g","id":"a","sequence":2,'
        '"value":{"name":"T","role":"rod"},"what":"crew/k"}\n'
        '{"at":"2026-08-01T09:00:00Z","device":"d","gauging":"g","id":"b","sequence":1,'
        '"value":"m","what":"units/length"}\n'
    )

    assert state_of([second, first]) == hashlib.sha256(lines.encode()).hexdigest()


def test_each_part_of_an_entry_is_in_the_state() -> None:
    """Whatever is changed in an entry, the state is another."""
    entry = attrs.evolve(crossing().entries[0], reason="r", by="b", replaces=("x",))
    changes: list[dict[str, Any]] = [
        {"id": "other"},
        {"gauging": "other"},
        {"device": "other"},
        {"sequence": 99},
        {"at": "2026-08-01T09:00:00-07:00"},
        {"what": "units/depth"},
        {"value": "ft"},
        {"reason": "s"},
        {"by": "c"},
        {"replaces": ("y",)},
    ]
    states = {state_of([attrs.evolve(entry, **change)]) for change in [{}, *changes]}

    assert len(states) == 1 + len(changes) == 1 + len(attrs.fields(Entry))


def test_a_journal_that_contradicts_itself_has_no_state() -> None:
    """One id with two contents is refused, as by the fold."""
    entry = crossing().entries[0]
    with pytest.raises(InputRefused, match="one content"):
        state_of([entry, attrs.evolve(entry, value="ft")])


@pytest.mark.parametrize(
    ("value", "text"),
    [
        # RFC 8785, 3.2.2 and 3.2.3 (from memory), as far as a journal can hold it.
        (
            {
                "numbers": [333333333.33333329, 4.50, 2e-3, 0.000000000000000000000000001],
                "string": "\u20ac$\u000f\u000aA'\u0042\u0022\u005c\\\"/",
                "literals": [None, True, False],
            },
            '{"literals":[null,true,false],"numbers":[333333333.3333333,4.5,0.002,1e-27],'
            '"string":"€$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}',
        ),
        (
            {"\u20ac": 1, "\r": 2, "\ufb33": 3, "1": 4, "\U0001f600": 5, "\u0080": 6, "\u00f6": 7},
            '{"\\r":2,"1":4,"\u0080":6,"\u00f6":7,"\u20ac":1,"\U0001f600":5,"\ufb33":3}',
        ),
        # ECMAScript, Number::toString: no exponent from 1e-6 on, none above for such numbers.
        ([1e-6, 1.5e-5, -2.25e-5, 1e-7, -1.5e-10], "[0.000001,0.000015,-0.0000225,1e-7,-1.5e-10]"),
        ([1.0, -0.0, 2.0**53 - 1], "[1,0,9007199254740991]"),
        ("\ud83d", '"\\ud83d"'),
    ],
)
def test_the_one_text_of_a_value(value: object, text: str) -> None:
    """The text is that of RFC 8785, so that any program comes to the same digest."""
    assert canonical(value) == text


VALUES = st.recursive(
    st.none() | st.booleans() | st.integers(-3, 3) | st.floats(-3, 3) | st.text(max_size=2),
    lambda inner: st.lists(inner, max_size=2) | st.dictionaries(st.text(max_size=1), inner),
    max_leaves=5,
).filter(JsonValue().holds)


@given(VALUES, VALUES)
def test_texts_are_alike_where_values_say_the_same(one: object, other: object) -> None:
    """The text and the comparison of values know the same differences."""
    for a, b in itertools.product([one, other], repeat=2):
        assert (canonical(a) == canonical(b)) is (comparable(a) == comparable(b))
