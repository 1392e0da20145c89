"""What an archive knows of itself: the line of its history, and where it is served."""

from __future__ import annotations

import secrets

from sqlalchemy import Connection, select

from bankside.archive.tables import settings
from bankside.archive.upsert import upsert

__all__ = ["begin_new_line", "lineage", "served_at", "set_served_at"]

_LINEAGE = "lineage"
_SERVED_AT = "served_at"


def lineage(connection: Connection) -> str:
    """Return what tells the history of this archive from every other, also from its backups.

    Who was told something under another lineage was told it by an archive that has gone: an entry
    that was said to be kept may be missing here, and arrival numbers stand for others.
    """
    found = _value(connection, _LINEAGE)
    assert found is not None  # the migration gave one
    return found


def begin_new_line(connection: Connection) -> None:
    """Let an archive that was copied go on as another than the one it was copied from."""
    _set(connection, _LINEAGE, secrets.token_hex(8))


def served_at(connection: Connection) -> str | None:
    """Return the address at which it was last served to others, None if it never was."""
    return _value(connection, _SERVED_AT)


def set_served_at(connection: Connection, url: str) -> None:
    """Keep the address at which the archive is served to others."""
    _set(connection, _SERVED_AT, url)


def _value(connection: Connection, name: str) -> str | None:
    found = connection.execute(select(settings.c.value).where(settings.c.name == name)).scalar()
    return None if found is None else str(found)


def _set(connection: Connection, name: str, value: str) -> None:
    upsert(connection, settings, [{"name": name, "value": value}])
