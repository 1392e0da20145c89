"""An archive to be read: also where nothing may be written."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy import func, select

from bankside.archive.archive import Archive, open_archive
from bankside.archive.refresh import refresh
from bankside.archive.tables import stale
from bankside.archive.trouble import ArchiveDamaged, ArchiveOlder, ArchiveTrouble

__all__ = ["looked_at", "opened_to_read"]


@contextmanager
def looked_at(place: str) -> Iterator[Archive]:
    """Give an archive that nothing is written to, with what waited worked out before.

    Where that cannot be written, it is said on stderr, and the archive is as it was last worked
    out. Raises ArchiveTrouble as `open_archive` does.
    """
    waiting = _waiting(place)
    if waiting:
        _work_out(place, waiting)
    with open_archive(place, to_write=False) as archive:
        yield archive


def opened_to_read(place: str) -> Archive:
    """Return an archive to be read; one of an older version is brought up to date before.

    Raises ArchiveTrouble as `open_archive` does.
    """
    try:
        return open_archive(place, to_write=False)
    except ArchiveOlder:
        return open_archive(place)


def _waiting(place: str) -> int:
    """Return how many gaugings wait to be worked out."""
    with opened_to_read(place) as archive, archive.reading() as connection:
        return int(connection.execute(select(func.count()).select_from(stale)).scalar_one())


def _work_out(place: str, waiting: int) -> None:
    try:
        with open_archive(place) as archive:
            refresh(archive)
    except ArchiveDamaged:
        raise
    except ArchiveTrouble as trouble:
        count = "One gauging waits" if waiting == 1 else f"{waiting} gaugings wait"
        print(
            f"{count} to be worked out, and what follows is as it was before: {trouble}",
            file=sys.stderr,
        )
