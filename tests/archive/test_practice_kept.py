"""Practice in an archive: kept once, whole, verified, and handed on with it."""

from __future__ import annotations

import json
from typing import Any

import pytest
from sqlalchemy import text

from bankside.archive.archive import Archive
from bankside.archive.files import sha256_of
from bankside.archive.practice.records import keep_record, records_kept
from bankside.archive.practice.sessions import keep_session, sessions_kept
from bankside.archive.tables import practice_sessions
from bankside.archive.verify import verify
from bankside.gauging.faults import InputRefused
from bankside.practice.readiness.requirements import Requirements
from bankside.practice.readiness.standing import standings_of
from bankside.practice.readiness.tries import tries_of

from .looking import everything
from .practised import ASKED, keep_practice, session_file


@pytest.fixture
def kept(archive: Archive) -> Archive:
    """An archive with two sessions and a record."""
    with archive.writing() as connection:
        keep_practice(connection)
    return archive


def test_every_byte_is_kept_and_the_same_bytes_once(kept: Archive) -> None:
    """Under another name as well; what differs by a byte is another file."""
    before = everything(kept)
    with kept.writing() as connection:
        assert not keep_session(connection, session_file("Ann Ash"), "again.json", "anybody")
    assert everything(kept) == before
    with kept.writing() as connection:
        assert keep_session(connection, session_file("Ann Ash") + b" ", "ann.json")
    with kept.reading() as connection:
        contents = [one.content for one in sessions_kept(connection)]
    ann, ben = session_file("Ann Ash"), session_file("Ben Birch")
    assert contents == [ann, ben, ann + b" "]


def test_a_record_stands_as_it_was_kept(kept: Archive) -> None:
    """Its people are those that were worked out; the same again is the same record."""
    with kept.writing() as connection:
        sessions = sessions_kept(connection)
        people = standings_of(tries_of([one.practice() for one in sessions]), ASKED)
        assert keep_record(connection, ASKED, sessions, people) == (1, False)
        other = Requirements(streams=2, kinds=1, gauged=2, must=())
        assert keep_record(connection, other, sessions, people) == (2, True)
        first, second = records_kept(connection)
    assert first.people == people
    assert (first.requirements, first.by) == (ASKED, "I. Marrow")
    assert (second.requirements, second.by) == (other, None)
    assert first.sessions == tuple(one.sha256 for one in sessions)


def test_a_session_of_nobody_is_refused(archive: Archive) -> None:
    """It could be nobody's certificate."""
    nobody = session_file("Ann Ash").replace(b'"person": "Ann Ash",', b"")
    with pytest.raises(InputRefused, match="person must be given"), archive.writing() as connection:
        keep_session(connection, nobody, "nobody.json")
    assert everything(archive)[practice_sessions.name] == []


def _force(archive: Archive, table: str, statement: str, **values: Any) -> None:
    """Change what the database refuses to change, as somebody might who looks after it."""
    with archive.writing() as connection:
        if connection.dialect.name == "sqlite":
            connection.execute(text(f"DROP TRIGGER {table}_no_update"))
        else:
            connection.execute(text(f"DROP TRIGGER {table}_only_grows ON {table}"))
        connection.execute(text(f"UPDATE {table} SET {statement}"), values)


def test_nothing_differs_while_nothing_is_wrong(kept: Archive) -> None:
    """Practice is verified with the rest of the archive."""
    assert list(verify(kept)) == []


def test_damaged_bytes_of_a_session_are_found(kept: Archive) -> None:
    """One byte is enough, and the record that rests on it is named too."""
    spoilt = session_file("Ann Ash").replace(b"Ann Ash", b"Ann Oak")
    _force(kept, "practice_sessions", "content = :spoilt WHERE number = 1", spoilt=spoilt)

    found = [(one.kind, one.what) for one in verify(kept)]
    assert found == [("damaged", "practice session 1"), ("damaged", "practice record 1")]


@pytest.mark.parametrize(
    ("before", "after", "words"),
    [('"Ann Ash"', '"Ann Oak"', "its checksum differs"), ("{", "[", "cannot be read")],
)
def test_a_record_that_was_changed_is_found(
    kept: Archive, before: str, after: str, words: str
) -> None:
    """Whether it can still be read or not."""
    change = "content = replace(content, :before, :after)"
    _force(kept, "practice_records", change, before=before, after=after)

    (found,) = verify(kept)
    assert found.kind == "damaged" and words in found.words


def test_a_version_that_says_otherwise_is_named(
    kept: Archive, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A record that was kept does not change: what this version gives is told beside it."""
    monkeypatch.setattr("bankside.practice.readiness.standing.is_right", lambda *_: False)

    (found,) = verify(kept)
    assert (found.kind, found.what) == ("method", "practice record 1")


def test_a_record_of_before_stands_as_it_was_kept(kept: Archive) -> None:
    """It does not ask for what nobody could ask for then, and nothing differs."""
    with kept.reading() as connection:
        (now,) = records_kept(connection)
    before = json.loads(now.content)
    del before["requirements"]["gauged"], before["requirements"]["no_figure_unread"]
    for person in before["people"]:
        del person["gauged"]
        for one in person["tries"]:
            del one["lacks"], one["unread_at"]
    content = json.dumps(before)
    values = {"content": content, "sha256": sha256_of(content.encode())}
    _force(kept, "practice_records", "content = :content, sha256 = :sha256", **values)

    with kept.reading() as connection:
        (record,) = records_kept(connection)
    assert record.people == now.people
    assert (record.requirements.gauged, record.requirements.no_figure_unread) == (1, False)
    assert list(verify(kept)) == []
