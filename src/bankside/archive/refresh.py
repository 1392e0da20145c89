"""Work out anew what changed: one gauging after another, each kept by itself."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from sqlalchemy import Connection, delete, insert, select

from bankside.archive.archive import Archive
from bankside.archive.entries import entries_of_gauging
from bankside.archive.filing import Filing, file_figures, last_filing
from bankside.archive.register import all_sites
from bankside.archive.search import keep_words
from bankside.archive.tables import gauging_files, gaugings, stale, surveys
from bankside.archive.upsert import upsert
from bankside.archive.work_out import Surveys, Worked, work_out
from bankside.gauging.compute import METHOD_VERSION
from bankside.survey.document import survey_from_json

__all__ = ["refresh", "stale_gaugings", "surveys_in"]

_AT_ONCE = 50


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


def _keep(connection: Connection, gauging: str, number: int, worked: Worked) -> None:
    still = connection.execute(select(stale.c.number).where(stale.c.gauging == gauging)).scalar()
    if still != number:
        return  # more came meanwhile: it is worked out again
    filed = _filed(connection, gauging, worked)
    row = {**worked.row, **_figures(filed), "number": number, "digest": worked.state}
    upsert(connection, gaugings, [row])
    _keep_photos(connection, gauging, worked)
    keep_words(connection, gauging, row["day"], worked.words)
    connection.execute(delete(stale).where(stale.c.gauging == gauging))


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
