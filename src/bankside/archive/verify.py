"""Hold an archive against itself: every checksum, and every figure worked out anew."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from sqlalchemy import Connection, func, select, union

from bankside.archive.archive import Archive
from bankside.archive.difference import Difference
from bankside.archive.files import wrong_files
from bankside.archive.practice.verify import verify_practice
from bankside.archive.refresh import surveys_in
from bankside.archive.register import standing
from bankside.archive.tables import (
    counters,
    entries,
    file_contents,
    filings,
    gauging_files,
    gaugings,
    register,
    stale,
    survey_states,
    surveys,
    vocabulary,
    words,
)
from bankside.archive.trouble import ArchiveDamaged
from bankside.archive.verify_gauging import verify_gauging
from bankside.gauging.faults import InputRefused

__all__ = ["verify"]

Told = Callable[[int, int], object]
_REWORK = "bankside archive rework puts them right"


def verify(archive: Archive, told: Told = lambda done, all_: None) -> Iterator[Difference]:
    """Yield everything in which an archive differs from what it ought to be.

    told: called with the number of gaugings looked at, and of all. Nothing is changed.
    """
    try:
        with archive.reading() as connection:
            yield from _database(connection)
            yield from _numbers(connection)
            for sha256 in wrong_files(connection):
                said = "its bytes are no longer those that came: its checksum differs"
                yield Difference("damaged", f"file {sha256}", said)
            yield from _files_missing(connection)
            yield from _behind(connection)
            yield from _counts(connection)
            yield from _gaugings(connection, told)
            yield from verify_practice(connection)
    except ArchiveDamaged as damaged:
        said = f"{damaged} The rest was not looked at"
        yield Difference("damaged", "the database", said)


def _database(connection: Connection) -> Iterator[Difference]:
    if connection.dialect.name != "sqlite":
        return
    for (said,) in connection.exec_driver_sql("PRAGMA integrity_check"):
        if said != "ok":
            yield Difference("damaged", "the database", " ".join(str(said).split()))
    for row in connection.exec_driver_sql("PRAGMA foreign_key_check"):
        said = f"row {row[1]} names a row of {row[2]} that is not there"
        yield Difference("damaged", f"table {row[0]}", said)


def _numbers(connection: Connection) -> Iterator[Difference]:
    """Yield where a number could be given a second time."""
    given = connection.execute(select(counters.c.arrivals)).scalar()
    last = max(
        int(connection.execute(select(func.max(table.c.number))).scalar() or 0)
        for table in (entries, register)
    )
    if given is None or given < last:
        said = f"it has given {given} arrival numbers, and the last one is {last}"
        yield Difference("damaged", "the archive", said)


def _files_missing(connection: Connection) -> Iterator[Difference]:
    rows = connection.execute(
        select(gauging_files.c.gauging, gauging_files.c.purpose, gauging_files.c.sha256)
        .outerjoin(file_contents, file_contents.c.sha256 == gauging_files.c.sha256)
        .where(file_contents.c.sha256.is_(None))
        .order_by(gauging_files.c.gauging, gauging_files.c.key)
    )
    for gauging, purpose, sha256 in rows:
        said = f"its photo ({purpose}) {sha256[:12]} has not come"
        yield Difference("missing", f"gauging {gauging}", said)


def _behind(connection: Connection) -> Iterator[Difference]:
    waiting = int(connection.execute(select(func.count()).select_from(stale)).scalar_one())
    if waiting:
        count = "one gauging has" if waiting == 1 else f"{waiting} gaugings have"
        said = f"{count} still to be worked out; bankside archive list does so"
        yield Difference("behind", "the archive", said)


def _counts(connection: Connection) -> Iterator[Difference]:
    """Yield counts that are kept beside rows and are not those of the rows."""
    rows = select(gaugings.c.survey, gaugings.c.state, func.count())
    counted = {
        (survey or "", state): count
        for survey, state, count in connection.execute(
            rows.group_by(gaugings.c.survey, gaugings.c.state)
        )
    }
    kept = connection.execute(select(survey_states).where(survey_states.c.gaugings != 0))
    if counted != {(row.survey, row.state): row.gaugings for row in kept}:
        said = f"the numbers of gaugings by survey and state are not those of the rows; {_REWORK}"
        yield Difference("behind", "the archive", said)
    used = connection.execute(select(words.c.word, func.count()).group_by(words.c.word)).all()
    known = connection.execute(select(vocabulary).where(vocabulary.c.gaugings != 0)).all()
    if {tuple(row) for row in used} != {tuple(row) for row in known}:
        said = f"the words of the search are not those of the rows; {_REWORK}"
        yield Difference("behind", "the archive", said)


def _gaugings(connection: Connection, told: Told) -> Iterator[Difference]:
    yield from _surveys(connection)
    try:
        known = surveys_in(connection)
    except InputRefused as refused:
        said = f"{_in_line(refused)}. The gaugings were not looked at"
        yield Difference("damaged", "a survey that cannot be read", said)
        return
    every = union(
        select(entries.c.gauging), select(gaugings.c.id), select(filings.c.gauging)
    ).subquery()
    ids = connection.execute(select(every.c[0]).order_by(every.c[0])).scalars().all()
    for done, id_ in enumerate(ids, 1):
        yield from verify_gauging(connection, id_, known)
        told(done, len(ids))


def _surveys(connection: Connection) -> Iterator[Difference]:
    """Yield surveys that are not as they were put down last."""
    put_down = {one.key: one.record for one in standing(connection, "survey")}
    shown = {row.id: row.record for row in connection.execute(select(surveys))}
    for id_ in sorted(put_down.keys() | shown.keys()):
        if put_down.get(id_) != shown.get(id_):
            yield Difference("damaged", f"survey {id_}", "it is not as it was put down last")


def _in_line(refused: InputRefused) -> str:
    return "; ".join(str(fault) for fault in refused.faults)
