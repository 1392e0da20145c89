"""Entries as an archive takes them in: each once, in the order of their numbers, and for good."""

from __future__ import annotations

import threading
from collections.abc import Callable

import pytest

from bankside.archive.archive import Archive, next_numbers, open_archive
from bankside.archive.entries import (
    Taken,
    arrivals_after,
    entries_of_gauging,
    last_arrival,
    take_entries,
)
from bankside.archive.tables import counters, entries, refused, stale
from bankside.gauging.journal.entry import Entry

from .building import crossing, remark, store
from .looking import everything, rows

WAIT = 20


def _take(archive: Archive, *said: Entry) -> Taken:
    with archive.writing() as connection:
        return take_entries(connection, said, "a test")


def test_an_entry_that_comes_twice_is_there_once(archive: Archive) -> None:
    """A device may send an entry again, in one call or in another."""
    first = _take(archive, remark(), remark())
    before = everything(archive)
    again = _take(archive, remark(), remark())

    assert (first.added, first.known, first.differing) == (("g1-e1",), (), ())
    assert (again.added, again.known, again.differing) == ((), ("g1-e1",), ())
    assert everything(archive) == before
    assert len(rows(archive, entries)) == 1


def test_what_was_taken_in_comes_back_as_it_was_said(archive: Archive) -> None:
    """Entries come back equal, in the order in which they came."""
    said = crossing().entries
    _take(archive, *reversed(said))

    with archive.reading() as connection:
        assert entries_of_gauging(connection, "g1") == tuple(reversed(said))
        assert entries_of_gauging(connection, "g2") == ()


@pytest.mark.parametrize(
    ("value", "same"),
    [
        ({"value": 1, "fraction": 0.6}, {"fraction": 0.6, "value": 1.0}),
        ([1, 2.0, None], [1.0, 2, None]),
        ({"a": {"b": 1, "c": [True]}}, {"a": {"c": [True], "b": 1.0}}),
    ],
)
def test_the_same_said_in_another_spelling_is_known(
    archive: Archive, value: object, same: object
) -> None:
    """The order of keys, and 1 written as 1.0, make no other entry."""
    _take(archive, remark(value=value))
    again = _take(archive, remark(value=same))

    assert again == Taken(known=("g1-e1",))
    assert rows(archive, refused) == []


@pytest.mark.parametrize("other", [{"value": "1.00"}, {"by": "I. Marrow"}, {"gauging": "g2"}])
def test_another_content_under_a_known_id_differs(
    archive: Archive, other: dict[str, object]
) -> None:
    """The archive's stands, and what came is kept beside it, once however often it comes."""
    _take(archive, remark(value="1.0"))
    came = remark(**{"value": "1.0", "id": "g1-e1", **other})
    before = {table: rows(archive, table) for table in (entries, counters, stale)}
    taken = [_take(archive, came), _take(archive, came, came)]

    assert taken == [Taken(differing=("g1-e1",))] * 2
    assert {table: rows(archive, table) for table in before} == before
    (kept,) = rows(archive, refused)
    assert kept["gauging"] == came.gauging
    assert '"id":"g1-e1"' in kept["content"]
    assert "another content" in kept["why"]


def test_true_is_not_one(archive: Archive) -> None:
    """What Python alone would hold equal is told apart."""
    _take(archive, remark(value=1))

    assert _take(archive, remark(value=True)).differing == ("g1-e1",)


def test_two_contents_under_one_id_in_one_call(archive: Archive) -> None:
    """The first is taken in and the second kept beside it, each named."""
    taken = _take(archive, remark(value="1.0"), remark(value="2.0"), remark(2))

    assert taken == Taken(added=("g1-e1", "g1-e2"), differing=("g1-e1",))
    assert [row["content"].count('"2.0"') for row in rows(archive, refused)] == [1]
    with archive.reading() as connection:
        assert [entry.value for entry in entries_of_gauging(connection, "g1")] == [
            "1.0",
            "remark 2",
        ]


def test_many_entries_in_one_call(archive: Archive) -> None:
    """More than one statement may name are taken in, of several gaugings, and known again."""
    said = [remark(n, gauging=f"g{n % 3}") for n in range(1, 1201)]
    first, again = _take(archive, *said), _take(archive, *said)

    assert first.added == tuple(entry.id for entry in said)
    assert again.known == first.added
    assert [row["number"] for row in rows(archive, entries)] == list(range(1, 1201))
    assert {row["gauging"]: row["number"] for row in rows(archive, stale)} == {
        "g0": 1200,
        "g1": 1198,
        "g2": 1199,
    }


def test_what_no_column_can_hold_is_kept_all_the_same(archive: Archive) -> None:
    """Half characters, the sign NUL and the longest ids come back as they came."""
    odd = remark(
        1,
        id="x" * 64,
        gauging="y" * 64,
        device="z" * 64,
        value={"\ud800 half": "NUL \0 in it", "é": ["\udfff", "\U0001f30a"]},
        reason="\0",
        by="\udc80 whoever",
    )
    _take(archive, odd)
    differing = _take(archive, remark(1, id="x" * 64, gauging="y" * 64, value="\0 \ud800"))

    with archive.reading() as connection:
        assert entries_of_gauging(connection, "y" * 64) == (odd,)
    assert differing.differing == ("x" * 64,)
    assert len(rows(archive, refused)) == 1


def test_numbers_rise_and_tell_what_came_after(archive: Archive) -> None:
    """A reader that asks in parts gets every entry once, in its order."""
    _take(archive, *(remark(n) for n in range(1, 8)))
    _take(archive, *(remark(n, gauging="g2") for n in range(1, 4)))
    found: list[str] = []
    after = 0
    with archive.reading() as connection:
        while some := arrivals_after(connection, after, 3):
            found += [one.entry.id for one in some]
            after = some[-1].number
        of_one = arrivals_after(connection, 5, 100, ["g2"])
        of_none = arrivals_after(connection, 0, 100, [])

        assert found == [f"g1-e{n}" for n in range(1, 8)] + [f"g2-e{n}" for n in range(1, 4)]
        assert [one.entry.id for one in of_one] == ["g2-e1", "g2-e2", "g2-e3"]
        assert of_none == ()
        assert last_arrival(connection) == after == 10


def test_a_transaction_that_fails_leaves_nothing(archive: Archive) -> None:
    """What was written before the failure is gone, and so are the numbers that it took."""
    _take(archive, remark(1))
    before = everything(archive)
    with pytest.raises(ZeroDivisionError), archive.writing() as connection:
        take_entries(connection, [remark(2), remark(1, value="other")], "a test")
        next_numbers(connection, 40)
        raise ZeroDivisionError
    assert everything(archive) == before

    _take(archive, remark(3))
    assert [(row["number"], row["id"]) for row in rows(archive, entries)] == [
        (1, "g1-e1"),
        (2, "g1-e3"),
    ]


def test_the_second_writer_waits_for_the_first(archive: Archive) -> None:
    """Nothing is committed above a number that is still to be committed."""
    written, waits = threading.Event(), threading.Event()
    finished: list[str] = []

    def second() -> None:
        assert written.wait(WAIT)
        waits.set()
        with archive.writing() as connection:
            finished.append("second begins")
            take_entries(connection, [remark(2)], "second")

    thread = threading.Thread(target=second)
    thread.start()
    with archive.writing() as connection:
        take_entries(connection, [remark(1)], "first")
        written.set()
        assert waits.wait(WAIT)
        thread.join(0.5)
        with archive.reading() as reader:
            assert arrivals_after(reader, 0, 10) == ()
        finished.append("first ends")
    thread.join(WAIT)

    assert finished == ["first ends", "second begins"]
    assert [(row["number"], row["id"]) for row in rows(archive, entries)] == [
        (1, "g1-e1"),
        (2, "g1-e2"),
    ]


def test_no_reader_misses_what_two_writers_interleave(
    archive: Archive, make_second: Callable[[Archive], Archive]
) -> None:
    """Whoever asks again and again for what came after the last number gets everything."""
    done = threading.Event()
    seen: list[int] = []
    other = make_second(archive)

    def write(writer: Archive, gauging: str) -> None:
        for start in range(1, 61, 3):
            some = [remark(n, gauging=gauging) for n in range(start, start + 3)]
            with writer.writing() as connection:
                for entry in some:
                    take_entries(connection, [entry], gauging)

    def read() -> None:
        last = False
        while True:
            last = done.is_set()
            with archive.reading() as connection:
                found = arrivals_after(connection, seen[-1] if seen else 0, 7)
            seen.extend(one.number for one in found)
            if last and not found:
                return

    reader = threading.Thread(target=read)
    writers = [
        threading.Thread(target=write, args=(archive, "g1")),
        threading.Thread(target=write, args=(other, "g2")),
    ]
    for thread in (reader, *writers):
        thread.start()
    for thread in writers:
        thread.join(WAIT)
    done.set()
    reader.join(WAIT)

    assert seen == [row["number"] for row in rows(archive, entries)]
    assert len(seen) == 120


@pytest.fixture
def make_second() -> Callable[[Archive], Archive]:
    """A function that opens an archive a second time, as another process would."""
    opened: list[Archive] = []

    def open_again(archive: Archive) -> Archive:
        opened.append(open_archive(archive.engine.url.render_as_string(hide_password=False)))
        return opened[-1]

    yield open_again
    for one in opened:
        one.close()


def test_what_was_stored_is_there_after_the_archive_is_opened_again(
    archive: Archive, make_second: Callable[[Archive], Archive]
) -> None:
    """Entries outlive the process that took them in, and numbers go on from there."""
    store(archive, crossing())
    count = len(crossing().entries)
    again = make_second(archive)
    _take(again, remark(1, gauging="g2"))

    assert rows(again, entries)[-1]["number"] == count + 1
