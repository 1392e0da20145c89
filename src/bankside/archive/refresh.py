"""Work out anew what changed: one gauging after another, each kept by itself."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from sqlalchemy import Connection, delete, insert, select, update
from sqlalchemy.exc import DBAPIError, InternalError, OperationalError

from bankside.archive.archive import Archive, next_numbers
from bankside.archive.due import entries_of_state, filing_due
from bankside.archive.entries import entries_of_gauging
from bankside.archive.filing import Filing, file_figures, filings_of
from bankside.archive.register import all_sites, put_survey
from bankside.archive.search import keep_words
from bankside.archive.tables import (
    entries,
    gauging_files,
    gaugings,
    stale,
    survey_states,
    surveys,
    vocabulary,
    words,
)
from bankside.archive.trouble import ArchiveDamaged
from bankside.archive.upsert import insert_new, upsert
from bankside.archive.work_out import Surveys, Worked, fault_words, unworkable, work_out
from bankside.gauging.faults import InputRefused
from bankside.gauging.records import Position, Site
from bankside.survey.document import survey_from_json
from bankside.survey.records import Survey

__all__ = [
    "change_survey",
    "note_changed",
    "refresh",
    "rework",
    "seek_sites",
    "stale_gaugings",
    "surveys_in",
]

_OF_THE_DATABASE = (OperationalError, InternalError)
"""What a database as a whole cannot do; whatever else it refuses is about one row."""
_AT_ONCE = 50
_ROWS_AT_ONCE = 1000


def refresh(archive: Archive, told: Callable[[int], object] = lambda done: None) -> int:
    """Work out every gauging whose entries changed since it was last worked out; return how many.

    told: called with the number done so far. What arrives meanwhile is worked out too.
    """
    done = 0
    while True:
        with archive.reading() as connection:
            waiting = stale_gaugings(connection, _AT_ONCE)
            if not waiting:
                return done
            known = surveys_in(connection)
            worked = [
                (number, _worked_out(connection, gauging, known)) for gauging, number in waiting
            ]
        with archive.writing() as connection:
            done += sum(_keep(connection, number, one, known) for number, one in worked)
        told(done)


def _worked_out(connection: Connection, gauging: str, known: Surveys) -> Worked:
    try:
        return work_out(gauging, entries_of_gauging(connection, gauging), known)
    except (ArchiveDamaged, InputRefused) as damaged:
        # One damaged gauging must not keep the others from being worked out.
        why = f"an entry cannot be read, bankside archive verify says which ({damaged})"
        return unworkable(gauging, why)
    except DBAPIError:
        raise
    except Exception as error:  # as above
        return unworkable(gauging, fault_words(error))


def stale_gaugings(connection: Connection, most: int) -> list[tuple[str, int]]:
    """Return gaugings whose entries changed, each with the arrival that changed it last."""
    rows = connection.execute(
        select(stale.c.gauging, stale.c.number).order_by(stale.c.number).limit(most)
    )
    return [(gauging, int(number)) for gauging, number in rows]


def surveys_in(connection: Connection) -> Surveys:
    """Return the surveys of an archive, as gaugings are held against them."""
    records = connection.execute(select(surveys.c.record)).scalars()
    return Surveys.of([survey_from_json(text) for text in records], all_sites(connection))


def change_survey(
    connection: Connection, survey: Survey, by: str | None = None, reason: str | None = None
) -> bool:
    """Put down how a survey is now, and note which gaugings that changes; return whether it is new.

    Those are what would be at another site or of another survey, and what is at a site that has
    another name now, by which it is to be found.
    """
    before = _site_names(connection)
    if not put_survey(connection, survey, by, reason):
        return False
    seek_sites(connection)
    after = _site_names(connection)
    renamed = [id_ for id_, names in after.items() if before.get(id_, names) != names]
    for start in range(0, len(renamed), _ROWS_AT_ONCE):
        some = renamed[start : start + _ROWS_AT_ONCE]
        there = select(gaugings.c.id).where(gaugings.c.site.in_(some))
        _note_all_changed(connection, connection.execute(there).scalars().all())
    return True


def _site_names(connection: Connection) -> dict[str, tuple[str, str]]:
    return {site.id: (site.stream, site.name) for site in all_sites(connection)}


def seek_sites(connection: Connection) -> int:
    """Note as changed every gauging that would now be at another site or of another survey.

    Return how many there are. What waits to be worked out
    may be in work, by the surveys as they were: it is done again.
    """
    known = surveys_in(connection)
    columns = ("id", "said_id", "stream", "place", "label", "lon", "lat", "day", "site", "survey")
    rows = connection.execute(
        select(*(gaugings.c[name] for name in columns)).execution_options(yield_per=_ROWS_AT_ONCE)
    )
    moved = [row.id for row in rows if known.where(_said(row), row.day) != (row.site, row.survey)]
    waiting = connection.execute(select(stale.c.gauging)).scalars().all()
    _note_all_changed(connection, list(dict.fromkeys((*moved, *waiting))))
    return len(moved)


def rework(archive: Archive, told: Callable[[int], object] = lambda done: None) -> int:
    """Work out everything anew from what only grows; return how many gaugings there are.

    Figures that were filed stay as they are. told: as for `refresh`.
    """
    with archive.writing() as connection:
        for table in (gaugings, gauging_files, words, vocabulary, survey_states, stale):
            connection.execute(delete(table))
        ids = connection.execute(select(entries.c.gauging).distinct()).scalars().all()
        _note_all_changed(connection, ids)
    return refresh(archive, told)


def note_changed(connection: Connection, ids: Sequence[str]) -> None:
    """Note that gaugings are to be worked out anew, within a transaction that writes."""
    numbers = next_numbers(connection, len(ids))
    rows = [{"gauging": id_, "number": n} for id_, n in zip(ids, numbers, strict=True)]
    upsert(connection, stale, rows)


def _note_all_changed(connection: Connection, ids: Sequence[str]) -> None:
    for start in range(0, len(ids), _ROWS_AT_ONCE):
        note_changed(connection, ids[start : start + _ROWS_AT_ONCE])


def _said(row: Any) -> Site:
    """Return what a record says of its site, from its row."""
    position = None
    if row.lon is not None and row.lat is not None:
        position = Position(row.lon, row.lat, label=row.label)
    return Site(row.place, row.stream, position, row.said_id)


def _keep(connection: Connection, number: int, worked: Worked, known: Surveys) -> bool:
    """Keep what a gauging comes to; return whether it is still what it comes to."""
    gauging = worked.row["id"]
    still = connection.execute(select(stale.c.number).where(stale.c.gauging == gauging)).scalar()
    if still != number:
        return False  # more came meanwhile: it is worked out again
    try:
        with connection.begin_nested():
            _write(connection, number, worked, _filed(connection, worked, known))
    except _OF_THE_DATABASE:
        raise
    except Exception as error:  # one that cannot be kept must not hold the others up
        with connection.begin_nested():
            _write(connection, number, unworkable(gauging, fault_words(error)), None)
    return True


def _write(connection: Connection, number: int, worked: Worked, filed: Filing | None) -> None:
    """Write the row of a gauging, its photos and words, with the figure that is filed of it."""
    gauging = worked.row["id"]
    row = {**worked.row_with(filed), "number": number, "digest": worked.state}
    _count(connection, gauging, row)
    upsert(connection, gaugings, [row])
    _keep_photos(connection, gauging, worked)
    keep_words(connection, gauging, row["day"], worked.words)
    connection.execute(delete(stale).where(stale.c.gauging == gauging))


def _filed(connection: Connection, worked: Worked, known: Surveys) -> Filing | None:
    """File what is due; return the filing that holds."""
    gauging = worked.row["id"]

    def then(state: str) -> Worked | None:
        entries = entries_of_state(entries_of_gauging(connection, gauging), state)
        return None if entries is None else work_out(gauging, entries, known)

    filings = filings_of(connection, gauging)
    while (due := filing_due(filings, worked, then)) is not None:
        assert due.worked.visit is not None and due.worked.visit.result is not None
        result, budget = due.worked.visit.result, due.worked.visit.budget
        state = due.worked.state
        file_figures(connection, gauging, state, result, budget, due.reason, due.by)
        filings = filings_of(connection, gauging)
    return filings[-1] if filings else None


def _count(connection: Connection, gauging: str, row: Mapping[str, Any]) -> None:
    """Count a gauging under its survey and state, and no longer under those it had."""
    before = connection.execute(
        select(gaugings.c.survey, gaugings.c.state).where(gaugings.c.id == gauging)
    ).first()
    after = (row["survey"], row["state"])
    if before is not None and tuple(before) == after:
        return
    for place, more in ((before, -1), (after, 1)):
        if place is None:
            continue
        key = {"survey": place[0] or "", "state": place[1]}
        insert_new(connection, survey_states, [{**key, "gaugings": 0}])
        connection.execute(
            update(survey_states)
            .where(*(survey_states.c[name] == value for name, value in key.items()))
            .values(gaugings=survey_states.c.gaugings + more)
        )


def _keep_photos(connection: Connection, gauging: str, worked: Worked) -> None:
    connection.execute(delete(gauging_files).where(gauging_files.c.gauging == gauging))
    rows = [{"gauging": gauging, "key": key, **said} for key, said in worked.photos.items()]
    if rows:
        connection.execute(insert(gauging_files), rows)
