"""What holds for every journal, whoever wrote it and in whatever order it comes in."""

import math
from typing import Any

import attrs
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bankside.gauging.faults import InputRefused
from bankside.gauging.journal.entry import Entry
from bankside.gauging.journal.fold import fold, united
from bankside.gauging.journal.record import recorded
from bankside.gauging.journal.values import comparable

from .journals import GAUGING, Device, journals


@given(journals(), st.randoms())
def test_any_order_gives_the_same_fold_and_record(entries: list[Entry], chance: Any) -> None:
    """However entries come in, and however often, they come to the same."""
    mixed = [*entries, *chance.choices(entries, k=3)] if entries else []
    chance.shuffle(mixed)

    assert fold(mixed) == fold(entries)
    assert recorded(fold(mixed)) == recorded(fold(entries))


@given(journals(), st.data())
def test_any_split_over_devices_gives_the_same(entries: list[Entry], data: st.DataObject) -> None:
    """Entries that lie on two devices, some of them on both, unite to what they are together."""
    where = [data.draw(st.sampled_from(["here", "there", "both"])) for _ in entries]
    here = [e for e, place in zip(entries, where, strict=True) if place != "there"]
    there = [e for e, place in zip(entries, where, strict=True) if place != "here"]

    assert united([*here, *there]) == united([*there, *here]) == united(entries)


@given(journals(), st.data())
def test_union_is_one_of_sets(entries: list[Entry], data: st.DataObject) -> None:
    """It is idempotent, commutative and associative, so that nobody has to merge in turn."""
    a, b, c = (
        united(data.draw(st.lists(st.sampled_from(entries)) if entries else st.just([])))
        for _ in range(3)
    )

    assert united([*a, *a]) == a
    assert united([*a, *b]) == united([*b, *a])
    assert united([*united([*a, *b]), *c]) == united([*a, *united([*b, *c])])


@given(journals())
def test_nothing_is_lost(entries: list[Entry]) -> None:
    """Every entry stands in exactly one history, as it was written."""
    stands = [entry for said in fold(entries).values() for entry in said.history]

    assert sorted(stands, key=lambda entry: entry.order) == list(united(entries))


@given(journals())
def test_a_superseded_value_is_a_correction_or_a_conflict(entries: list[Entry]) -> None:
    """What no longer stands can be read in the record, or is told as said by two devices."""
    folded = fold(entries)
    for said in folded.values():
        replaced = {id_ for entry in said.history for id_ in entry.replaces}
        for entry in said.history:
            stands = comparable(entry.value) == comparable(said.value)
            assert stands or entry.id in replaced or said.conflict


@given(journals())
def test_a_fault_names_entries_that_are_there(entries: list[Entry]) -> None:
    """Whoever mends a journal finds what a fault speaks of."""
    folded = fold(entries)
    ids = {entry.id for entry in folded.entries}
    for fault in recorded(folded).faults:
        assert set(fault.entries) <= ids
        if fault.path in folded:
            assert folded[fault.path].entry.id in fault.entries


@given(journals())
def test_a_place_in_the_record_is_what_was_said_and_back(entries: list[Entry]) -> None:
    """Keys lead to the place of a vertical or reading in the record, and the place to the keys."""
    made = recorded(fold(entries))
    if made.gauging is None:
        return
    for c, channel in enumerate(made.gauging.channels):
        for v, vertical in enumerate(channel.verticals):
            tape = made.what_of(c, v, "tape")
            assert float(made.said[tape].value) == vertical.tape
            place = made.place_of(tape)
            assert place is not None and (place.channel, place.vertical) == (c, v)
            for r, reading in enumerate(vertical.velocity):
                what = made.what_of(c, v, "velocity", r)
                place = made.place_of(what)
                assert place is not None and (place.vertical, place.reading) == (v, r)
                assert float(made.said[what].value["value"]) == reading.value


JSON = st.recursive(
    st.none() | st.booleans() | st.integers(-5, 5) | st.floats(-2, 2) | st.text(max_size=2),
    lambda inner: (
        st.lists(inner, max_size=2) | st.dictionaries(st.text(max_size=2), inner, max_size=2)
    ),
    max_leaves=4,
)


@given(JSON, JSON)
def test_values_say_the_same_where_json_does(one: Any, other: Any) -> None:
    """Two values compare as equal exactly where their members, types and sizes are."""
    assert (comparable(one) == comparable(other)) is _same(one, other)
    if _same(one, other):
        assert hash(comparable(one)) == hash(comparable(other))


def _same(one: Any, other: Any) -> bool:
    """The same by another road: step by step through both values."""
    if isinstance(one, bool) or isinstance(other, bool):
        return one is other
    if isinstance(one, dict) and isinstance(other, dict):
        return one.keys() == other.keys() and all(_same(one[k], other[k]) for k in one)
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(map(_same, one, other))
    if isinstance(one, int | float) and isinstance(other, int | float):
        return math.isclose(one, other, rel_tol=0, abs_tol=0)
    return type(one) is type(other) and bool(one == other)


def test_an_entry_is_never_changed() -> None:
    """What was said stays as it was said."""
    entry = Device().say("site/stream", "Alder Fork")

    with pytest.raises(attrs.exceptions.FrozenInstanceError):
        entry.value = "Quill Brook"  # type: ignore[misc]


def test_entries_of_two_gaugings_have_no_fold() -> None:
    """Two gaugings are never mixed."""
    entry = Device().say("site/stream", "Alder Fork")
    other = attrs.evolve(entry, id="b1", gauging="g-quill-brook")

    with pytest.raises(InputRefused, match=f'"{GAUGING}", "g-quill-brook"'):
        fold([entry, other])
