"""Practice that is kept in archives in tests: sessions of invented people, and a record."""

from __future__ import annotations

import datetime
from functools import cache

from sqlalchemy import Connection

from bankside.archive.practice.records import keep_record
from bankside.archive.practice.sessions import keep_session, sessions_kept
from bankside.gauging.json_text import written
from bankside.practice.readiness.requirements import Requirements
from bankside.practice.readiness.standing import standings_of
from bankside.practice.readiness.tries import tries_of
from bankside.practice.session.document import Practice, practice_to_document

from ..practice.trainee import Trainee, practise

ASKED = Requirements(streams=1, kinds=1, gauged=1, must=(), leader="I. Marrow")


@cache
def session_file(person: str, stream: str = "easy run", seed: int = 3) -> bytes:
    """The file of a session, as the app hands it over."""
    made, _, record = practise(stream, seed, Trainee(verticals=12))
    practice = Practice(made, person, record, day=datetime.date(2026, 5, 1 + seed))
    return written(practice_to_document(practice)).encode()


def keep_practice(connection: Connection) -> None:
    """Keep a session each of two people, and the record of who is ready."""
    for person in ("Ann Ash", "Ben Birch"):
        assert keep_session(connection, session_file(person), f"{person}.json", "I. Marrow")
    sessions = sessions_kept(connection)
    people = standings_of(tries_of([one.practice() for one in sessions]), ASKED)
    assert keep_record(connection, ASKED, sessions, people, "I. Marrow") == (1, True)
