"""Copy a whole archive: a backup in one SQLite file, or back from it into any archive."""

from __future__ import annotations

import os
import shutil
import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Table, delete, func, insert, select

from bankside.archive.archive import Archive, create_archive, open_archive
from bankside.archive.engine import shown_place, url_of
from bankside.archive.settings import begin_new_line
from bankside.archive.tables import (
    counters,
    file_contents,
    metadata,
    practice_sessions,
    settings,
)
from bankside.archive.telling import told
from bankside.archive.trouble import GO_ON_WITH, ArchiveDamaged, ArchiveOlder, ArchiveTrouble

__all__ = ["archive_from_backup", "backup", "restore"]

# What stands in an archive in which there is nothing yet.
_MADE_WITH = (counters, settings)
_ROWS_AT_ONCE = 500
# A photo may have many megabytes, a practice session some hundred kilobytes.
_AT_ONCE = {file_contents.name: 1, practice_sessions.name: 20}


def backup(archive: Archive, file: Path) -> None:
    """Write a backup of an archive to a file that is not there yet; it is an archive itself.

    What others write meanwhile is in it wholly or not at all. The file appears when it is whole.
    Whoever goes on with it goes on in a line of its own (`settings.lineage`).
    Raises ArchiveTrouble if it cannot be written.
    """
    _require_new(file)
    try:
        with tempfile.TemporaryDirectory(dir=file.parent, prefix=".bankside-") as folder:
            part = Path(folder) / "part.db"
            called = f"The backup {file} of {archive.place}"
            with told(called):
                _copy(archive, part, called)
                _into_one_file(part, called)
            _require_new(file)
            part.replace(file)
            _kept(file.parent)
    except OSError as error:
        raise ArchiveTrouble(f"{file} cannot be written ({error.strerror or error}).") from error


def restore(file: Path, archive: Archive) -> None:
    """Fill an archive in which there is nothing yet from a backup, which stays as it is.

    Raises ArchiveTrouble if something is there, or if the file is no backup.
    """
    with archive.reading() as connection:
        tables = (table for table in metadata.sorted_tables if table not in _MADE_WITH)
        if any(connection.execute(select(table).limit(1)).first() for table in tables):
            raise ArchiveTrouble(f"{archive.place} is not empty; a new archive is right.")
    with _opened(file) as source, source.reading() as connection:
        _copy_rows(connection, archive, str(file))


def archive_from_backup(file: Path, place: str | Path) -> Archive:
    """Make an archive where there is none, fill it from a backup, and return it open.

    Raises ArchiveTrouble as `create_archive` and `restore` do; then there is no archive.
    """
    with _opened(file):
        pass  # nothing is made for a file that is no backup
    url = url_of(place)
    if url.get_backend_name() == "sqlite":
        return _file_from_backup(file, Path(url.database or ""), shown_place(place))
    archive = create_archive(place)
    try:
        restore(file, archive)
    except BaseException:
        archive.close()
        raise
    return archive


def _file_from_backup(file: Path, place: Path, called: str) -> Archive:
    """Make an archive in a file that appears when it is whole, even where the process is killed."""
    _require_new(place)
    if not place.parent.is_dir():
        raise ArchiveTrouble(f"{called} cannot be made: there is no folder {place.parent}.")
    try:
        with tempfile.TemporaryDirectory(dir=place.parent, prefix=".bankside-") as folder:
            part = Path(folder) / "part.db"
            with create_archive(part, called=called) as archive:
                restore(file, archive)
            with told(called):
                _into_one_file(part, called)
            _require_new(place)
            part.replace(place)
            _kept(place.parent)
    except OSError as error:
        raise ArchiveTrouble(f"{called} cannot be made ({error.strerror or error}).") from error
    return open_archive(place)


@contextmanager
def _opened(file: Path) -> Iterator[Archive]:
    """Give a backup as an archive that can be read, without changing a byte of it.

    Raises ArchiveTrouble if it is none.
    """
    try:
        with open_archive(file, to_write=False) as source:
            yield source
    except ArchiveOlder:
        # Tables of an older version are brought up to date, those of a copy.
        with tempfile.TemporaryDirectory(prefix="bankside-") as folder:
            copy = Path(folder) / "copy.db"
            shutil.copyfile(file, copy)
            with open_archive(copy) as source:
                yield source


def _require_new(file: Path) -> None:
    if file.exists():
        raise ArchiveTrouble(f"{file} is there already; the name of a new file is right.")


def _copy(archive: Archive, part: Path, called: str) -> None:
    if archive.engine.dialect.name == "sqlite":
        _copy_file(archive, part)
        return
    with create_archive(part, called=called) as copy, archive.reading() as source:
        _copy_rows(source, copy, archive.place)


def _copy_file(archive: Archive, part: Path) -> None:
    """Copy an SQLite database as it is at one moment, while others use it."""
    with archive.engine.connect() as connection:
        source = connection.connection.driver_connection
        assert isinstance(source, sqlite3.Connection)
        target = sqlite3.connect(part)
        try:
            source.backup(target)
        finally:
            target.close()
    with open_archive(part) as copy, copy.writing() as connection:
        begin_new_line(connection)


def _copy_rows(source: Connection, copy: Archive, called: str) -> None:
    with copy.writing() as target:
        for table in metadata.sorted_tables:
            if table in _MADE_WITH:
                target.execute(delete(table))
            for some in _parts(source, table, called):
                target.execute(insert(table), some)
        _number_on(target)
        begin_new_line(target)


def _parts(source: Connection, table: Table, called: str) -> Iterator[list[dict[str, Any]]]:
    """Yield the rows of a table in parts; what is wrong with where they come from is told of it."""
    at_once = _AT_ONCE.get(table.name, _ROWS_AT_ONCE)
    with told(called):
        rows = source.execute(select(table).execution_options(yield_per=at_once))
        for some in rows.mappings().partitions():
            yield [dict(row) for row in some]


def _number_on(target: Connection) -> None:
    """Let PostgreSQL count on from the numbers that were copied."""
    if target.dialect.name != "postgresql":
        return
    for table in metadata.sorted_tables:
        column = table.primary_key.columns.values()[0]
        if column.name == "number" and column.autoincrement is not False:
            last = target.execute(select(func.max(column))).scalar_one()
            if last:
                sequence = func.pg_get_serial_sequence(table.name, "number")
                target.execute(select(func.setval(sequence, last)))


def _into_one_file(part: Path, called: str) -> None:
    """Leave nothing beside the file, and look whether it is whole."""
    connection = sqlite3.connect(part)
    try:
        connection.execute("PRAGMA journal_mode=DELETE")
        (found,) = connection.execute("PRAGMA integrity_check").fetchone()
    finally:
        connection.close()
    if found != "ok":
        said = " ".join(str(found).split())
        raise ArchiveDamaged(f"{called} would be damaged ({said}) and is not kept; {GO_ON_WITH}")
    handle = os.open(part, os.O_RDONLY)
    os.fsync(handle)
    os.close(handle)


def _kept(folder: Path) -> None:
    """Have the name of the file survive a power cut too, where the system can promise that."""
    if hasattr(os, "O_DIRECTORY"):
        handle = os.open(folder, os.O_DIRECTORY)
        os.fsync(handle)
        os.close(handle)
