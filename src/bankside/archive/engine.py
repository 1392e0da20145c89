"""The connection to an archive's database: SQLite in a file, or PostgreSQL by URL."""

from __future__ import annotations

import re
import sqlite3
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine, create_engine, event
from sqlalchemy.engine import URL, make_url
from sqlalchemy.exc import ArgumentError

from bankside.archive.trouble import ArchiveTrouble

__all__ = ["engine_of", "shown_place", "url_of"]

_SECONDS_TO_WAIT = 30
# What a folder or a disk cannot tell: whether the last commit survives a power cut. FULL is chosen
# by SQLite's documentation, which promises it in WAL mode for FULL and not for NORMAL.
_PRAGMAS = (
    "journal_mode=WAL",
    "synchronous=FULL",
    "foreign_keys=ON",
    f"busy_timeout={_SECONDS_TO_WAIT * 1000}",
)


def url_of(place: str | Path) -> URL:
    """Return the URL of an archive: itself, or that of the SQLite file at a path.

    Raises ArchiveTrouble for a database that is neither.
    """
    text = str(place)
    if not re.match(r"[a-z][a-z0-9+]+://", text):
        return URL.create("sqlite", database=text)
    try:
        url = make_url(text)
    except ArgumentError:
        url = None
    kind = "" if url is None else url.get_backend_name()
    if url is None or kind not in ("postgresql", "sqlite"):
        raise ArchiveTrouble(
            f'Found the archive "{shown_place(text)}"; the name of a file, or an address such as '
            "postgresql://user@host/name, would be right."
        )
    return url.set(drivername="postgresql+psycopg") if kind == "postgresql" else url


def shown_place(place: str | Path) -> str:
    """Return the place of an archive as people may see it: without a password."""
    return re.sub(r"(://[^/@:]*):[^/@]*@", r"\1:…@", str(place))


def engine_of(url: URL) -> Engine:
    """Return the engine of an archive's database; nothing is opened yet."""
    if url.get_backend_name() == "sqlite":
        engine = create_engine(url, connect_args={"timeout": _SECONDS_TO_WAIT})
        event.listen(engine, "connect", _set_up_sqlite)
        event.listen(engine, "begin", _begin_sqlite)
        return engine
    # A connection that a restart of the database broke is seen before it is used.
    return create_engine(url, pool_pre_ping=True, isolation_level="REPEATABLE READ")


def _set_up_sqlite(connection: sqlite3.Connection, _: Any) -> None:
    # The driver must not begin transactions by itself: it begins them too late.
    connection.isolation_level = None
    for pragma in _PRAGMAS:
        connection.execute(f"PRAGMA {pragma}").close()


def _begin_sqlite(connection: Connection) -> None:
    writes = connection.get_execution_options().get("writes", False)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")
