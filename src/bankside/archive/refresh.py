"""Work out anew what changed: one gauging after another, each kept by itself."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from sqlalchemy import Connection, delete, insert, select, update

from bankside.archive.archive import Archive, next_numbers
from bankside.archive.entries import entries_of_gauging
from bankside.archive.filing import Filing, file_figures, last_filing
from bankside.archive.register import all_sites
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
from bankside.archive.upsert import insert_new, upsert
from bankside.archive.work_out import Surveys, Worked, work_out
from bankside.gauging.compute import METHOD_VERSION
from bankside.gauging.records import Position, Site
from bankside.survey.document import survey_from_json

__all__ = ["note_changed", "refresh", "rework", "seek_sites", "stale_gaugings", "surveys_in"]

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
            known = surveys_in(connection) if waiting else None
            worked = [
                (gauging, number, work_out(gauging, entries_of_gauging(connection, gauging), known))
                for gauging, number in waiting
                if known is not None
            ]
        if not worked:
            return done
        with archive.writing() as connection:
            for gauging, number, one in worked:
                _keep(connection, gauging, number, one)
        done += len(worked)
        told(done)


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


def seek_sites(connection: Connection) -> int:
    """Note as changed every gauging that would now be at another site or of another survey.

    To be called when a survey was put down; return how many there are.
    """
    known = surveys_in(connection)
    columns = ("id", "said_id", "stream", "place", "label", "lon", "lat", "day", "site", "survey")
    rows = connection.execution_options(yield_per=_ROWS_AT_ONCE).execute(
        select(*(gaugings.c[name] for name in columns))
    )
    moved = [row.id for row in rows if known.where(_said(row), row.day) != (row.site, row.survey)]
    for start in range(0, len(moved), _ROWS_AT_ONCE):
        note_changed(connection, moved[start : start + _ROWS_AT_ONCE])
    return len(moved)


def rework(archive: Archive, told: Callable[[int], object] = lambda done: None) -> int:
    """Work out everything anew from what only grows; return how many gaugings there are.

    Figures that were filed stay as they are. told: as for `refresh`.
    """
    with archive.writing() as connection:
        for table in (gaugings, gauging_files, words, vocabulary, survey_states, stale):
            connection.execute(delete(table))
        ids = connection.execute(select(entries.c.gauging).distinct()).scalars().all()
        for start in range(0, len(ids), _ROWS_AT_ONCE):
            note_changed(connection, ids[start : start + _ROWS_AT_ONCE])
    return refresh(archive, told)


def note_changed(connection: Connection, ids: Sequence[str]) -> None:
    """Note that gaugings are to be worked out anew, within a transaction that writes."""
    numbers = next_numbers(connection, len(ids))
    rows = [{"gauging": id_, "number": n} for id_, n in zip(ids, numbers, strict=True)]
    upsert(connection, stale, rows)


def _said(row: Any) -> Site:
    """Return what a record says of its site, from its row."""
    position = None
    if row.lon is not None and row.lat is not None:
        position = Position(row.lon, row.lat, label=row.label)
    return Site(row.place, row.stream, position, row.said_id)


def _keep(connection: Connection, gauging: str, number: int, worked: Worked) -> None:
    still = connection.execute(select(stale.c.number).where(stale.c.gauging == gauging)).scalar()
    if still != number:
        return  # more came meanwhile: it is worked out again
    filed = _filed(connection, gauging, worked)
    row = {**worked.row, **_figures(filed), "number": number, "digest": worked.state}
    _count(connection, gauging, row)
    upsert(connection, gaugings, [row])
    _keep_photos(connection, gauging, worked)
    keep_words(connection, gauging, row["day"], worked.words)
    connection.execute(delete(stale).where(stale.c.gauging == gauging))


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


def _filed(connection: Connection, gauging: str, worked: Worked) -> Filing | None:
    """File a new figure where one is due; return the one that holds."""
    last = last_filing(connection, gauging)
    visit, made = worked.visit, worked.recorded
    due = _due(last, worked)
    if due is None or visit is None or visit.result is None or made is None:
        return last
    if last is not None and last.method_version != METHOD_VERSION:
        due = f"{due}; by version {METHOD_VERSION} of the method, before {last.method_version}"
    by = made.review.by if due.startswith("approved") and made.review is not None else None
    file_figures(connection, gauging, worked.state, visit.result, visit.budget, due, by)
    return last_filing(connection, gauging)


def _due(last: Filing | None, worked: Worked) -> str | None:
    """Return why a figure is to be filed now, None where none is."""
    if not worked.over:
        return None
    if last is None:
        return "first worked out"
    state = worked.row["state"]
    if state == "approved" and not last.reason.startswith("approved"):
        return "approved"
    if state in ("approved", "changed since approval"):
        return None
    return "the readings changed" if last.state != worked.state else None


def _figures(filed: Filing | None) -> dict[str, Any]:
    """Return the figures of a row that are those filed, whatever is worked out today."""
    if filed is None:
        return {}
    names = ("discharge_m3s", "width_m", "area_m2", "mean_depth_m", "mean_velocity_ms")
    return {name: filed.figures[name] for name in (*names, "standard_percent")}


def _keep_photos(connection: Connection, gauging: str, worked: Worked) -> None:
    connection.execute(delete(gauging_files).where(gauging_files.c.gauging == gauging))
    rows: Sequence[dict[str, Any]] = [
        {
            "gauging": gauging,
            "key": key,
            "sha256": str(photo.get("sha256"))[:64],
            "purpose": str(photo.get("purpose")),
            "type": str(photo.get("type")),
        }
        for key, photo in worked.photos.items()
    ]
    if rows:
        connection.execute(insert(gauging_files), list(rows))
