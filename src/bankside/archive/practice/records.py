"""Records of who was ready: what was asked for, of which sessions, and how everybody stood."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from importlib.metadata import version
from typing import Any, Final

import attrs
from sqlalchemy import Connection, insert, select

from bankside.archive.clock import now
from bankside.archive.files import sha256_of
from bankside.archive.plain import plain
from bankside.archive.practice.sessions import KeptSession
from bankside.archive.tables import practice_records as table
from bankside.archive.trouble import ArchiveDamaged
from bankside.gauging.faults import InputRefused
from bankside.gauging.json_text import parsed
from bankside.practice.readiness.as_json import standings_as_json, standings_from_json
from bankside.practice.readiness.requirements import (
    Requirements,
    requirements_from_document,
    requirements_to_document,
)
from bankside.practice.readiness.standing import PersonStanding

__all__ = ["ReadinessRecord", "keep_record", "records_kept"]

FORMAT: Final = "bankside.readiness-record/1"

# What a record of before these could be asked for did not ask for: it stands as it was kept.
_NOT_ASKED: Final[Mapping[str, Any]] = {"gauged": 1, "must": [], "no_figure_unread": False}


@attrs.frozen
class ReadinessRecord:
    """A record as it was kept: `content` is its JSON text.

    `sessions` are the checksums of the sessions that it rests on, in their order; `version` is that
    of Bankside. `is_sound` says whether the text is the one that was kept, by its checksum.
    """

    number: int
    content: str
    at: str
    by: str | None
    is_sound: bool
    version: str
    requirements: Requirements
    sessions: tuple[str, ...]
    people: tuple[PersonStanding, ...]


def keep_record(
    connection: Connection,
    requirements: Requirements,
    sessions: Sequence[KeptSession],
    people: Sequence[PersonStanding],
    by: str | None = None,
) -> tuple[int, bool]:
    """Keep how everybody stands; return the record's number, and whether it is new."""
    document = {
        "format": FORMAT,
        "version": version("bankside"),
        "requirements": requirements_to_document(requirements),
        "sessions": [one.sha256 for one in sessions],
        "people": standings_as_json(people),
    }
    text = json.dumps(document, indent=1, allow_nan=False)
    sha256 = sha256_of(text.encode())
    number = _number_of(connection, sha256)
    if number is not None:
        return number, False
    row = {"sha256": sha256, "content": text, "kept_at": now(), "kept_by": plain(by)}
    connection.execute(insert(table).values(**row))
    number = _number_of(connection, sha256)
    assert number is not None  # it was written above
    return number, True


def records_kept(connection: Connection) -> tuple[ReadinessRecord, ...]:
    """Return all records, the first first; ArchiveDamaged where one cannot be read."""
    return tuple(map(_record, connection.execute(select(table).order_by(table.c.number))))


def _number_of(connection: Connection, sha256: str) -> int | None:
    found = connection.execute(select(table.c.number).where(table.c.sha256 == sha256)).scalar()
    return None if found is None else int(found)


def _record(row: Any) -> ReadinessRecord:
    try:
        document = parsed(row.content)
        if not isinstance(document, Mapping):
            raise TypeError("it is no object")
        asked = document["requirements"]
        for name, value in _NOT_ASKED.items():
            asked.setdefault(name, value)
        requirements = requirements_from_document(asked)
        return ReadinessRecord(
            *(row.number, row.content, row.kept_at, row.kept_by),
            is_sound=sha256_of(row.content.encode()) == row.sha256,
            version=document["version"],
            requirements=requirements,
            sessions=tuple(document["sessions"]),
            people=standings_from_json(document["people"], requirements),
        )
    except (InputRefused, KeyError, TypeError, AttributeError) as error:
        raise ArchiveDamaged(
            f"Record {row.number} of who was ready cannot be read: the archive is damaged."
        ) from error
