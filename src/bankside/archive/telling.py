"""What a database cannot do, told in one sentence."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy.exc import DBAPIError

from bankside.archive.trouble import GO_ON_WITH, ArchiveDamaged, ArchiveTrouble

__all__ = ["told"]


@contextmanager
def told(place: str) -> Iterator[None]:
    """Tell what the database at a place cannot do in one sentence.

    Raises ArchiveTrouble for every error of a database, ArchiveDamaged where it is damaged.
    """
    try:
        yield
    except DBAPIError as error:
        # Without the statement and its values, which say nothing to people and may be private.
        first = _first(error)
        raise _trouble(place, first.orig or first) from error
    except sqlite3.Error as error:
        raise _trouble(place, error) from error


def _first(error: DBAPIError) -> DBAPIError:
    """Return what went wrong first: a full disk also takes away what would be undone after it."""
    before = error.__context__
    while isinstance(before, BaseException) and _UNDONE in str(error):
        if isinstance(before, DBAPIError):
            error = before
        before = before.__context__
    return error


def _trouble(place: str, error: BaseException) -> ArchiveTrouble:
    said = " ".join(str(error).split()).rstrip(".")
    if getattr(error, "sqlite_errorname", "") == "SQLITE_IOERR_SHMSIZE":
        said = "full"  # what lies beside an archive while it is used found no room
    if getattr(error, "sqlstate", None) == _DISK_FULL:
        return ArchiveTrouble(f"{place}: {_SENTENCES['full']}")
    if isinstance(error, sqlite3.Error):
        for words, sentence in _DAMAGES.items():
            if words in said:
                return ArchiveDamaged(f"{place}: {sentence}")
        for words, sentence in _SENTENCES.items():
            if words in said:
                return ArchiveTrouble(f"{place}: {sentence}")
    # Both drivers name their errors alike.
    if type(error).__name__ == "OperationalError":
        return ArchiveTrouble(f"{place}: the database cannot be used ({said}).")
    return ArchiveTrouble(f"{place}: the database refused this ({said}); nothing of it was kept.")


# PostgreSQL's code for it, which is said the same in every language of its messages.
_DISK_FULL = "53100"
_UNDONE = "no such savepoint"
_DAMAGED = f"the archive is damaged; {GO_ON_WITH}"
_DAMAGES = {"malformed": _DAMAGED, "Could not decode to UTF-8": _DAMAGED}
_SENTENCES = {
    "not a database": "this file is no archive of Bankside, or it is damaged.",
    "readonly": "the archive can be read and not written; its file and folder must allow it.",
    "unable to open": "it cannot be opened; its file and folder must allow it, for writing too.",
    "full": "there is no room left on the disk; nothing of this was kept.",
    "disk I/O error": "the disk cannot be read or written; nothing of this was kept.",
    "locked": "somebody else has been writing for too long; nothing of this was kept.",
}
