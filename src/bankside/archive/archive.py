"""An archive: where it is, and the two ways into it, to read and to write."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sqlalchemy import Connection, Engine, inspect, select, update
from sqlalchemy.exc import DatabaseError, DBAPIError, OperationalError

from bankside.archive import tables
from bankside.archive.engine import engine_of, shown_place, url_of
from bankside.archive.migrations import HEAD, set_up, version_of
from bankside.archive.trouble import ArchiveTrouble

__all__ = ["Archive", "create_archive", "next_numbers", "open_archive"]


class Archive:
    """An open archive; `place` is its file or address as people may see it."""

    def __init__(self, engine: Engine, place: str) -> None:
        self.engine = engine
        self.place = place
        self._writes = engine.execution_options(writes=True)

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """Give a connection that sees one state of the archive and changes nothing."""
        with _told(self.place), self.engine.connect() as connection, connection.begin():
            yield connection

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """Give the one connection that writes at a time; all of it is kept in the end, or nothing.

        When this returns without an error, what was written survives the end of the process.
        """
        with _told(self.place), self._connected() as connection, connection.begin():
            # Held to the end: numbers are given in the order in which transactions end.
            connection.execute(update(tables.counters).values(arrivals=tables.counters.c.arrivals))
            yield connection

    @contextmanager
    def _connected(self) -> Iterator[Connection]:
        with self._writes.connect() as connection:
            if self.engine.dialect.name == "postgresql":
                # Whoever waited for the counter sees what the one before has written.
                connection = connection.execution_options(isolation_level="READ COMMITTED")
            yield connection

    def close(self) -> None:
        """Let go of the database."""
        self.engine.dispose()

    def __enter__(self) -> Archive:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()


def next_numbers(connection: Connection, how_many: int) -> range:
    """Return the next arrival numbers, within a transaction that writes."""
    counters = tables.counters
    connection.execute(update(counters).values(arrivals=counters.c.arrivals + how_many))
    last = int(connection.execute(select(counters.c.arrivals)).scalar_one())
    return range(last - how_many + 1, last + 1)


def create_archive(place: str | Path) -> Archive:
    """Make an archive where there is none, and return it open.

    place: a file that does not exist, or the URL of an empty PostgreSQL database. Raises
    ArchiveTrouble if something is there already, or if it cannot be made.
    """
    url = url_of(place)
    shown = shown_place(place)
    if url.get_backend_name() == "sqlite" and url.database:
        file = Path(url.database)
        if file.exists():
            raise ArchiveTrouble(f"{shown} is there already; the name of a new file is right.")
        if not file.parent.is_dir():
            raise ArchiveTrouble(f"{shown} cannot be made: there is no folder {file.parent}.")
    engine = engine_of(url)
    with _told(shown):
        with engine.connect() as connection:
            if inspect(connection).get_table_names():
                raise ArchiveTrouble(f"{shown} holds tables already; an empty database is right.")
        set_up(engine)
    return Archive(engine, shown)


def open_archive(place: str | Path) -> Archive:
    """Return the archive at a place; one of an older version of Bankside is brought up to date.

    Raises ArchiveTrouble if there is none, if it is none, or if a newer version wrote it.
    """
    url = url_of(place)
    shown = shown_place(place)
    if url.get_backend_name() == "sqlite" and not Path(url.database or "").is_file():
        raise ArchiveTrouble(f"There is no archive {shown}; bankside archive init makes one.")
    engine = engine_of(url)
    with _told(shown):
        with engine.connect() as connection:
            found = version_of(connection)
        if found is None:
            raise ArchiveTrouble(
                f"{shown} is no archive of Bankside; bankside archive init makes one."
            )
        if found != HEAD:
            set_up(engine)
    return Archive(engine, shown)


@contextmanager
def _told(place: str) -> Iterator[None]:
    """Tell what a database cannot do in one sentence."""
    try:
        yield
    except DBAPIError as error:
        raise ArchiveTrouble(f"{place}: {_sentence(error)}") from error


def _sentence(error: DBAPIError) -> str:
    original = error.orig
    said = " ".join(str(original).split()).rstrip(".")
    if isinstance(original, sqlite3.DatabaseError):
        if "not a database" in said:
            return "this file is no archive of Bankside, or it is damaged."
        if "malformed" in said:
            return (
                "the archive is damaged; the last backup that bankside archive verify finds in "
                "order is the one to go on with."
            )
        if "readonly" in said or "read-only" in said:
            return "the archive can be read and not written; its file and folder must allow it."
        if "full" in said:
            return "there is no room left on the disk; nothing of this was kept."
        if "locked" in said:
            return "somebody else has been writing for too long; nothing of this was kept."
    if isinstance(error, OperationalError):
        return f"the database cannot be used ({said})."
    if isinstance(error, DatabaseError):
        return f"the database refused this ({said}); nothing of it was kept."
    return f"{said}."
