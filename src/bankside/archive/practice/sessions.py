"""Practice sessions in an archive: every file once, byte for byte, in a table of their own."""

from __future__ import annotations

from typing import Any

import attrs
from sqlalchemy import Connection, insert, select

from bankside.archive.clock import now
from bankside.archive.files import sha256_of
from bankside.archive.plain import plain
from bankside.archive.tables import practice_sessions as table
from bankside.archive.trouble import ArchiveDamaged
from bankside.gauging.faults import Fault, InputRefused
from bankside.practice.session.document import Practice, practice_from_bytes

__all__ = ["KeptSession", "keep_session", "sessions_kept"]


@attrs.frozen
class KeptSession:
    """A session as it was handed in: its file, under which name, when and by whom."""

    number: int
    sha256: str
    name: str
    content: bytes
    at: str
    by: str | None

    @property
    def is_sound(self) -> bool:
        """Whether its bytes are those that were handed in, by their checksum."""
        return sha256_of(self.content) == self.sha256

    def practice(self) -> Practice:
        """Return the session; ArchiveDamaged where its bytes are not those that were handed in."""
        try:
            if self.is_sound:
                return practice_from_bytes(self.content)
            why = "its checksum differs"
        except InputRefused as refused:
            why = "; ".join(str(fault) for fault in refused.faults)
        raise ArchiveDamaged(f"Practice session {self.number} ({self.name}) is damaged ({why}).")


def keep_session(connection: Connection, content: bytes, name: str, by: str | None = None) -> bool:
    """Keep the file of a session; return whether it is new, as the same bytes are kept once.

    Raises InputRefused for what is no practice session, as a gauging of real water, or for one that
    does not say who practised.
    """
    if practice_from_bytes(content).person is None:
        message = "person must be given, so that the session is somebody's (got nothing)"
        raise InputRefused([Fault(message, path="person")])
    sha256 = sha256_of(content)
    if connection.execute(select(table.c.number).where(table.c.sha256 == sha256)).first():
        return False
    row = {"sha256": sha256, "name": plain(name), "content": content}
    connection.execute(insert(table).values(**row, kept_at=now(), kept_by=plain(by)))
    return True


def sessions_kept(connection: Connection) -> tuple[KeptSession, ...]:
    """Return all sessions, in the order in which they were handed in."""
    return tuple(map(_kept, connection.execute(select(table).order_by(table.c.number))))


def _kept(row: Any) -> KeptSession:
    return KeptSession(
        *(row.number, row.sha256, row.name, bytes(row.content), row.kept_at, row.kept_by)
    )
