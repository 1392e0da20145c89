"""Photos and original sheets, byte for byte, by their SHA-256."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator

import attrs
from sqlalchemy import Connection, select

from bankside.archive.clock import now
from bankside.archive.tables import file_contents as table
from bankside.archive.upsert import insert_new

__all__ = ["KeptFile", "file_of", "files_there", "keep_file", "sha256_of", "wrong_files"]


# The number of values that one statement may name is limited, in SQLite to 32,766.
_AT_ONCE = 500


@attrs.frozen
class KeptFile:
    """A file of the archive: what tells it from every other, its media type, its bytes."""

    sha256: str
    type: str
    content: bytes


def sha256_of(content: bytes) -> str:
    """Return what tells this content from every other, in 64 hex digits."""
    return hashlib.sha256(content).hexdigest()


def keep_file(connection: Connection, type_: str, content: bytes, received_from: str) -> str:
    """Keep a file, once however often it comes; return its SHA-256."""
    sha256 = sha256_of(content)
    row = {
        "sha256": sha256,
        "type": type_,
        "size": len(content),
        "content": content,
        "received_at": now(),
        "received_from": received_from,
    }
    insert_new(connection, table, [row])
    return sha256


def file_of(connection: Connection, sha256: str) -> KeptFile | None:
    """Return a file by its SHA-256, None where it is not there."""
    row = connection.execute(
        select(table.c.type, table.c.content).where(table.c.sha256 == sha256)
    ).first()
    return None if row is None else KeptFile(sha256, row.type, bytes(row.content))


def files_there(connection: Connection, wanted: Iterable[str]) -> frozenset[str]:
    """Return which of these files the archive holds."""
    asked = list(wanted)
    found: set[str] = set()
    for start in range(0, len(asked), _AT_ONCE):
        some = asked[start : start + _AT_ONCE]
        rows = connection.execute(select(table.c.sha256).where(table.c.sha256.in_(some)))
        found.update(rows.scalars())
    return frozenset(found)


def wrong_files(connection: Connection) -> Iterator[str]:
    """Yield the SHA-256 of every file whose bytes are no longer those that came."""
    every = connection.execute(select(table.c.sha256).order_by(table.c.sha256)).scalars().all()
    for sha256 in every:
        kept = file_of(connection, sha256)
        if kept is None or sha256_of(kept.content) != sha256:
            yield sha256
