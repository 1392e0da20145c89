"""What an office asks of an archive: surveys, the overview of one, a site, a gauging's row.

Each answer takes the same few queries however many gaugings there are, and looks only at those
that it shows.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

import attrs
from sqlalchemy import Connection, RowMapping, func, select

from bankside.archive.search import search
from bankside.archive.tables import gauging_files, gaugings, sites, survey_states, surveys
from bankside.gauging.records import Gauging
from bankside.gauging.structure import JsonObject, structured
from bankside.survey.records import Survey, SurveySite

__all__ = [
    "MOST_ROWS",
    "MOST_SURVEYS",
    "SiteAsked",
    "SurveyCounts",
    "every_survey",
    "found_by",
    "gauging_rows",
    "ids_beginning",
    "of_survey",
    "overview",
    "record_in",
    "site_asked",
    "survey_counts",
    "without_site",
    "without_survey",
    "without_survey_count",
]

MOST_SURVEYS = 50
"""As many surveys are listed at once."""

MOST_ROWS = 500
"""As many visits of a site, or gaugings of no site, are shown at once."""

_COLUMNS = tuple(column for column in gaugings.columns if column.name != "record")


@attrs.frozen
class SurveyCounts:
    """A survey, and how many of its gaugings have come how far."""

    id: str
    name: str
    starts: str | None
    ends: str | None
    sites: int
    gaugings: int
    by_state: Mapping[str, int]


@attrs.frozen
class SiteAsked:
    """A site with its visits, the last first, and the photos taken there."""

    site: SurveySite | None
    surveys: tuple[str, ...]
    visits: tuple[RowMapping, ...]
    photos: tuple[RowMapping, ...]


def survey_counts(
    connection: Connection, most: int = MOST_SURVEYS, before: int = 0
) -> tuple[SurveyCounts, ...]:
    """Return surveys, the one that starts last first: so many of them, after the first `before`."""
    rows = connection.execute(
        select(surveys.c.id, surveys.c.name, surveys.c.starts, surveys.c.ends, surveys.c.sites)
        .order_by(surveys.c.starts.desc().nulls_last(), surveys.c.id.desc())
        .limit(most)
        .offset(before)
    ).all()
    states: dict[str, dict[str, int]] = {}
    counted = connection.execute(
        select(survey_states).where(
            survey_states.c.survey.in_([row.id for row in rows]), survey_states.c.gaugings > 0
        )
    )
    for survey, state, count in counted:
        states.setdefault(survey, {})[state] = count
    return tuple(
        SurveyCounts(
            *row, gaugings=sum(states.get(row.id, {}).values()), by_state=states.get(row.id, {})
        )
        for row in rows
    )


def every_survey(connection: Connection) -> Iterator[SurveyCounts]:
    """Yield all surveys, the one that starts last first."""
    done = 0
    while some := survey_counts(connection, MOST_SURVEYS, done):
        yield from some
        done += len(some)


def ids_beginning(connection: Connection, text: str, most: int = 2) -> tuple[str, ...]:
    """Return the ids of gaugings that begin so, the first of them; one that is so alone."""
    query = select(gaugings.c.id).where(gaugings.c.id == text)
    if connection.execute(query).first() is not None:
        return (text,)
    begins = gaugings.c.id.startswith(text, autoescape=True)
    found = connection.execute(select(gaugings.c.id).where(begins).limit(most)).scalars()
    return tuple(id_ for id_ in found if id_.startswith(text))


def overview(connection: Connection, survey: str) -> tuple[RowMapping, ...]:
    """Return the rows of all gaugings of a survey, the last first, without their records."""
    return _rows(connection, gaugings.c.survey == survey)


def site_asked(connection: Connection, site: str, most: int = MOST_ROWS) -> SiteAsked:
    """Return a site by its id, with every visit that there ever was, at most so many."""
    places = connection.execute(
        select(sites.c.survey, sites.c.record)
        .join(surveys, surveys.c.id == sites.c.survey)
        .where(sites.c.id == site)
        .order_by(func.coalesce(surveys.c.starts, "").desc())
    ).all()
    rows = (
        connection.execute(
            select(gaugings)
            .where(gaugings.c.site == site)
            .order_by(gaugings.c.day.desc(), gaugings.c.started.desc().nulls_last(), gaugings.c.id)
            .limit(most)
        )
        .mappings()
        .all()
    )
    photos = (
        connection.execute(
            select(gauging_files).where(gauging_files.c.gauging.in_([row["id"] for row in rows]))
        )
        .mappings()
        .all()
    )
    known = structured(_object(places[0].record), SurveySite) if places else None
    return SiteAsked(known, tuple(row.survey for row in places), tuple(rows), tuple(photos))


def without_site(connection: Connection, most: int = MOST_ROWS) -> tuple[RowMapping, ...]:
    """Return the rows of the latest gaugings whose records name no site of a survey."""
    return _rows(connection, gaugings.c.site.is_(None), most)


def without_survey(connection: Connection, most: int = MOST_ROWS) -> tuple[RowMapping, ...]:
    """Return the rows of the latest gaugings that belong to no survey.

    Their records name no site of one, or none visits that site on their day.
    """
    return _rows(connection, gaugings.c.survey.is_(None), most)


def without_survey_count(connection: Connection) -> int:
    """Return how many gaugings belong to no survey."""
    counts = select(func.sum(survey_states.c.gaugings)).where(survey_states.c.survey == "")
    return int(connection.execute(counts).scalar() or 0)


def found_by(connection: Connection, text: str) -> tuple[RowMapping, ...]:
    """Return the rows of the gaugings that a text finds, the latest first."""
    found = search(connection, text)
    rows = {row["id"]: row for row in _rows(connection, gaugings.c.id.in_(found))}
    return tuple(rows[id_] for id_ in found if id_ in rows)


def gauging_rows(connection: Connection, ids: Sequence[str]) -> tuple[RowMapping, ...]:
    """Return the rows of these gaugings, their records with them."""
    rows = connection.execute(select(gaugings).where(gaugings.c.id.in_(list(ids)))).mappings()
    found = {row["id"]: row for row in rows}
    return tuple(found[id_] for id_ in ids if id_ in found)


def record_in(row: RowMapping) -> Gauging | None:
    """Return the record in a row, with its id; None where the journal makes none."""
    if row["record"] is None:
        return None
    return attrs.evolve(structured(_object(row["record"]), Gauging), id=row["id"])


def of_survey(connection: Connection, survey: Survey) -> tuple[Gauging, ...]:
    """Return the records of a survey's gaugings, in the order of days."""
    rows = (
        connection.execute(
            select(gaugings.c.id, gaugings.c.record)
            .where(gaugings.c.survey == survey.id)
            .order_by(gaugings.c.day, gaugings.c.started.nulls_first(), gaugings.c.id)
        )
        .mappings()
        .all()
    )
    return tuple(record for row in rows if (record := record_in(row)) is not None)


def _rows(connection: Connection, where: Any, most: int | None = None) -> tuple[RowMapping, ...]:
    query = select(*_COLUMNS).where(where)
    ordered = query.order_by(
        gaugings.c.day.desc(), gaugings.c.started.desc().nulls_last(), gaugings.c.id
    )
    return tuple(connection.execute(ordered.limit(most)).mappings().all())


def _object(text: str) -> JsonObject:
    parsed = json.loads(text, object_pairs_hook=JsonObject.of_pairs)
    assert isinstance(parsed, JsonObject)  # written by the archive itself
    return parsed
