"""Copy a whole archive: a backup in one SQLite file, or back from it into any archive."""

from __future__ import annotations

import os
import sqlite3
import tempfile
from pathlib import Path

from sqlalchemy import Connection, delete, func, insert, select

from bankside.archive.archive import Archive, create_archive, open_archive
from bankside.archive.settings import begin_new_line
from bankside.archive.tables import accounts, counters, metadata, settings
from bankside.archive.trouble import ArchiveTrouble

__all__ = ["backup", "restore"]

_ROWS_AT_ONCE = 500


def backup(archive: Archive, file: Path) -> None:
    """Write a backup of an archive to a file that is not there yet; it is an archive itself.

    What others write meanwhile is in it wholly or not at all. The file appears when it is whole.
    Whoever goes on with it goes on in a line of its own (`settings.lineage`).
    Raises ArchiveTrouble if it cannot be written.
    """
    if file.exists():
        raise ArchiveTrouble(f"{file} is there already; the name of a new file is right.")
    try:
        folder = tempfile.mkdtemp(dir=file.parent, prefix=".bankside-")
    except OSError as error:
        raise ArchiveTrouble(f"{file} cannot be written ({error.strerror or error}).") from error
    part = Path(folder) / "part.db"
    try:
        if archive.engine.dialect.name == "sqlite":
            _copy_file(archive, part)
        else:
            with create_archive(part) as copy, archive.reading() as source:
                _copy_rows(source, copy)
        _into_one_file(part)
        part.replace(file)
        _kept(file.parent)
    finally:
        for left in Path(folder).iterdir():
            left.unlink()
        Path(folder).rmdir()


def restore(file: Path, archive: Archive) -> None:
    """Fill an archive in which there is nothing yet from a backup.

    Raises ArchiveTrouble if something is there, or if the file is no backup.
    """
    with archive.reading() as connection:
        if (
            connection.execute(select(counters.c.arrivals)).scalar_one()
            or connection.execute(select(accounts.c.name)).first()
        ):
            raise ArchiveTrouble(f"{archive.place} is not empty; a new archive is right.")
    with open_archive(file) as source, source.reading() as connection:
        _copy_rows(connection, archive)


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


def _copy_rows(source: Connection, copy: Archive) -> None:
    with copy.writing() as target:
        for table in metadata.sorted_tables:
            if table in (counters, settings):
                target.execute(delete(table))
            rows = source.execution_options(yield_per=_ROWS_AT_ONCE).execute(select(table))
            for some in rows.mappings().partitions():
                target.execute(insert(table), [dict(row) for row in some])
        _number_on(target)
        begin_new_line(target)


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


def _into_one_file(part: Path) -> None:
    """Leave nothing beside the file, and look whether it is whole."""
    connection = sqlite3.connect(part)
    try:
        connection.execute("PRAGMA journal_mode=DELETE")
        (said,) = connection.execute("PRAGMA integrity_check").fetchone()
    finally:
        connection.close()
    if said != "ok":
        raise ArchiveTrouble(f"The backup is damaged ({said}); it was not kept.")
    handle = os.open(part, os.O_RDONLY)
    os.fsync(handle)
    os.close(handle)


def _kept(folder: Path) -> None:
    """Have the name of the file survive a power cut too, where the system can promise that."""
    if hasattr(os, "O_DIRECTORY"):
        handle = os.open(folder, os.O_DIRECTORY)
        os.fsync(handle)
        os.close(handle)
