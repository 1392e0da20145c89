"""The connection to an archive's database: SQLite in a file, or PostgreSQL by URL."""

from __future__ import annotations

import os
import re
import sqlite3
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine, create_engine, event
from sqlalchemy.engine import URL, make_url
from sqlalchemy.exc import ArgumentError
from sqlalchemy.pool import QueuePool

from bankside.archive.trouble import ArchiveTrouble

__all__ = ["engine_of", "shown_place", "url_of"]

_ADDRESS = re.compile(r"[a-z][a-z0-9+]+://")
# A password with a sign at which an address is cut, so that a part of it would be taken for a host.
_UNCLEAR = re.compile(r"[^:]+://[^/@:?]*:[^?]*[/@][^?]*@")
_SECONDS_TO_WAIT = 30
# A connection keeps its last statements with all their values, and one that names 499 ids is
# another than one that names 500: at the driver's 128 (from memory) it grew by 8 MB, at 16 by 3 MB.
_STATEMENTS_KEPT = 16
# What SQLite says where what it keeps beside an archive finds no room.
_NO_ROOM_BESIDE = ("SQLITE_FULL", "SQLITE_IOERR_SHMSIZE", "SQLITE_IOERR_WRITE")
# What a folder or a disk cannot tell: whether the last commit survives a power cut. FULL is chosen
# by SQLite's documentation, which promises it in WAL mode for FULL and not for NORMAL.
_PRAGMAS = (
    "journal_mode=WAL",
    "synchronous=FULL",
    "foreign_keys=ON",
    # Without it, a row that REPLACE removes goes unseen by what refuses to remove it.
    "recursive_triggers=ON",
    f"busy_timeout={_SECONDS_TO_WAIT * 1000}",
)


def url_of(place: str | Path) -> URL:
    """Return the URL of an archive: itself, or that of the SQLite file at a path.

    Raises ArchiveTrouble for a database that is neither.
    """
    text = str(place)
    url = _parsed(text) if _ADDRESS.match(text) else URL.create("sqlite", database=text)
    kind = "" if url is None else url.get_backend_name()
    if kind == "postgresql" and _UNCLEAR.match(text):
        raise ArchiveTrouble(
            f'Found the archive "{shown_place(text)}"; in a password / is written as %2F and @ as '
            "%40."
        )
    if url is None or kind not in ("postgresql", "sqlite") or not _is_kept(url):
        raise ArchiveTrouble(
            f'Found the archive "{shown_place(text)}"; the name of a file, or an address such as '
            "postgresql://user@host/name, would be right."
        )
    return url.set(drivername="postgresql+psycopg") if kind == "postgresql" else url


def _parsed(text: str) -> URL | None:
    try:
        return make_url(text)
    except (ArgumentError, ValueError):
        return None


def _is_kept(url: URL) -> bool:
    """Return whether a database is more than the memory of one process."""
    if url.get_backend_name() != "sqlite":
        return True
    return bool((url.database or "").strip()) and url.database != ":memory:"


def shown_place(place: str | Path) -> str:
    """Return the place of an archive as people may see it: without a password."""
    text = str(place)
    if not _ADDRESS.match(text):
        return text
    # As far as the last @: a password that was not written as it should be may hold any sign.
    named = re.sub(r"(://[^/@:?]*):.*@", r"\1:…@", text)
    return re.sub(r"([?&]\w*password=)[^&]*", r"\1…", named)


def engine_of(url: URL, *, to_write: bool = True) -> Engine:
    """Return the engine of an archive's database; nothing is opened yet.

    to_write: whether anything is to be written; without it, an SQLite file stays as it is to the
    last byte, and may lie where nothing can be written. What is written goes into no error of the
    database: such an error may end in a log, and hashes and readings are nothing for one.
    """
    if url.get_backend_name() == "sqlite":
        engine = _sqlite(url, to_write)
        event.listen(engine, "begin", _begin_sqlite)
        return engine
    # A connection that a restart of the database broke is seen before it is used.
    return create_engine(
        url, pool_pre_ping=True, isolation_level="REPEATABLE READ", hide_parameters=True
    )


def _sqlite(url: URL, to_write: bool) -> Engine:
    if to_write:
        kept = {"timeout": _SECONDS_TO_WAIT, "cached_statements": _STATEMENTS_KEPT}
        engine = create_engine(url, connect_args=kept, hide_parameters=True)
        event.listen(engine, "connect", _set_up_sqlite)
        return engine
    file = Path(url.database or "").absolute()
    engine = create_engine(
        "sqlite://",
        creator=lambda: _looking(file),
        poolclass=QueuePool,
        hide_parameters=True,
    )
    event.listen(engine, "connect", _leave_to_us)
    return engine


def _looking(file: Path) -> sqlite3.Connection:
    """Open a file to read it; as one that nobody changes, where SQLite could not open it else.

    It wants to write beside an archive, even to read it. Where the folder allows that to nobody
    here, or the disk is full, and no log with more of the archive lies there, the file alone is
    all of it.
    """
    effective = os.access in os.supports_effective_ids
    free = os.access(file.parent, os.W_OK, effective_ids=effective)
    if not free and _is_alone(file):
        return _connected(file, "&immutable=1")
    connection = _connected(file, "")
    try:
        connection.execute("PRAGMA schema_version").close()
    except sqlite3.OperationalError as error:
        if error.sqlite_errorname not in _NO_ROOM_BESIDE or not _is_alone(file):
            return connection  # the first question is told what is wrong
        connection.close()
        return _connected(file, "&immutable=1")
    except sqlite3.DatabaseError:
        pass  # as above
    return connection


def _is_alone(file: Path) -> bool:
    log = file.with_name(f"{file.name}-wal")
    return not log.exists() or log.stat().st_size == 0


def _connected(file: Path, how: str) -> sqlite3.Connection:
    address = f"{file.as_uri()}?mode=ro{how}"
    return sqlite3.connect(address, _SECONDS_TO_WAIT, uri=True, check_same_thread=False)


def _set_up_sqlite(connection: sqlite3.Connection, _: Any) -> None:
    _leave_to_us(connection, _)
    for pragma in _PRAGMAS:
        connection.execute(f"PRAGMA {pragma}").close()


def _leave_to_us(connection: sqlite3.Connection, _: Any) -> None:
    # The driver must not begin transactions by itself: it begins them too late.
    connection.isolation_level = None


def _begin_sqlite(connection: Connection) -> None:
    writes = connection.get_execution_options().get("writes", False)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")
