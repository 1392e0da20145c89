"""An archive: where it is, and the two ways into it, to read and to write."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sqlalchemy import Connection, Engine, inspect, select, update
from sqlalchemy.engine import URL

from bankside.archive import tables
from bankside.archive.engine import engine_of, shown_place, url_of
from bankside.archive.migrations import HEAD, set_up, version_of
from bankside.archive.telling import told
from bankside.archive.trouble import ArchiveOlder, ArchiveTrouble

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
        with told(self.place), self.engine.connect() as connection, connection.begin():
            yield connection

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """Give the one connection that writes at a time; all of it is kept in the end, or nothing.

        When this returns without an error, what was written survives the end of the process.
        """
        with told(self.place), self._connected() as connection, connection.begin():
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


def create_archive(place: str | Path, *, called: str | None = None) -> Archive:
    """Make an archive where there is none, and return it open.

    place: a file that does not exist, or the URL of an empty PostgreSQL database. called: how
    sentences name it, if not by its place. Raises ArchiveTrouble if something is there already, or
    if it cannot be made.
    """
    url = url_of(place)
    shown = called or shown_place(place)
    if url.get_backend_name() == "sqlite":
        file = Path(url.database or "")
        if file.exists():
            raise ArchiveTrouble(f"{shown} is there already; the name of a new file is right.")
        if not file.parent.is_dir():
            raise ArchiveTrouble(f"{shown} cannot be made: there is no folder {file.parent}.")
    with _none_if_it_fails(url), _opened(engine_of(url), shown) as engine:
        with engine.connect() as connection:
            if inspect(connection).get_table_names():
                raise ArchiveTrouble(f"{shown} holds tables already; an empty database is right.")
        set_up(engine)
    return Archive(engine, shown)


@contextmanager
def _none_if_it_fails(url: URL) -> Iterator[None]:
    """Leave no file behind where an archive cannot be made in it, so that it can be tried again."""
    try:
        yield
    except BaseException:
        if url.get_backend_name() == "sqlite":
            for ending in ("", "-wal", "-shm"):
                Path(f"{url.database}{ending}").unlink(missing_ok=True)
        raise


def open_archive(place: str | Path, *, to_write: bool = True) -> Archive:
    """Return the archive at a place; one of an older version of Bankside is brought up to date.

    to_write: whether anything is to be written. Without it, an SQLite file stays as it is to the
    last byte. Raises ArchiveTrouble if there is none, if it is none, if a newer version wrote it,
    or if an older one did and it is not to be written.
    """
    url = url_of(place)
    shown = shown_place(place)
    if url.get_backend_name() == "sqlite" and not Path(url.database or "").is_file():
        raise ArchiveTrouble(f"There is no archive {shown}; bankside archive init makes one.")
    found = _version(url, shown)
    if found is None:
        raise ArchiveTrouble(f"{shown} is no archive of Bankside; bankside archive init makes one.")
    if found != HEAD and not to_write:
        raise ArchiveOlder(
            f"{shown} was written by an older version of Bankside; bankside archive list brings it "
            "up to date."
        )
    with _opened(engine_of(url, to_write=to_write), shown) as engine:
        # What cannot be written is told now, and not with the first reading.
        engine.connect().close()
        if found != HEAD:
            set_up(engine)
    return Archive(engine, shown)


def _version(url: URL, shown: str) -> str | None:
    """Return the version of the tables; what turns out to be no archive stays as it is."""
    engine = engine_of(url, to_write=False)
    try:
        with told(shown), engine.connect() as connection:
            return version_of(connection)
    finally:
        engine.dispose()


@contextmanager
def _opened(engine: Engine, place: str) -> Iterator[Engine]:
    """Give an engine that is let go of again where what is done with it fails."""
    try:
        with told(place):
            yield engine
    except BaseException:
        engine.dispose()
        raise
