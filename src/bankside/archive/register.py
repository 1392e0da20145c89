"""What is put down about surveys, meters and people: each time whole, the former kept."""

from __future__ import annotations

import json

import attrs
from sqlalchemy import Connection, delete, func, insert, select

from bankside.archive.archive import next_numbers
from bankside.archive.clock import now
from bankside.archive.plain import plain
from bankside.archive.tables import register, sites, surveys
from bankside.gauging.journal.kinds import Key
from bankside.gauging.structure import unstructured
from bankside.survey.document import survey_from_json, survey_to_json
from bankside.survey.records import Survey, SurveySite

__all__ = [
    "PutDown",
    "all_sites",
    "all_surveys",
    "history",
    "put",
    "put_survey",
    "standing",
    "survey_of",
]


@attrs.frozen
class PutDown:
    """One thing as it was put down: its record as JSON text, when, by whom and why."""

    number: int
    kind: str
    key: str
    record: str
    at: str
    by: str | None
    reason: str | None


def put(
    connection: Connection,
    kind: str,
    key: str,
    record: str,
    by: str | None = None,
    reason: str | None = None,
) -> bool:
    """Put down how a thing is now; return whether that is new.

    kind: survey, meter, person or rules; record: the thing as JSON text, always the same text for
    the same thing.
    """
    assert Key().holds(key)  # whoever calls makes keys of names first
    last = _last(connection, kind, key)
    if last is not None and last.record == record:
        return False
    connection.execute(
        insert(register).values(
            number=next_numbers(connection, 1)[0],
            kind=kind,
            key=key,
            record=record,
            put_at=now(),
            put_by=plain(by),
            reason=plain(reason),
        )
    )
    return True


def put_survey(
    connection: Connection, survey: Survey, by: str | None = None, reason: str | None = None
) -> bool:
    """Put down how a survey is now, with its sites; return whether that is new.

    Gaugings find their sites by it the next time that they are worked out.
    """
    if not put(connection, "survey", survey.id, survey_to_json(survey), by, reason):
        return False
    connection.execute(delete(sites).where(sites.c.survey == survey.id))
    connection.execute(delete(surveys).where(surveys.c.id == survey.id))
    connection.execute(
        insert(surveys).values(
            id=survey.id,
            name=plain(survey.name),
            starts=None if survey.starts is None else survey.starts.isoformat(),
            ends=None if survey.ends is None else survey.ends.isoformat(),
            sites=len(survey.sites),
            record=survey_to_json(survey),
        )
    )
    for place, site in enumerate(survey.sites):
        connection.execute(insert(sites).values(_row_of_site(survey, place, site)))
    return True


def survey_of(connection: Connection, id_: str) -> Survey | None:
    """Return a survey as it is now, None where there is none of this id."""
    text = connection.execute(select(surveys.c.record).where(surveys.c.id == id_)).scalar()
    return None if text is None else survey_from_json(text)


def all_surveys(connection: Connection) -> tuple[Survey, ...]:
    """Return every survey as it is now, the one that starts last first."""
    rows = connection.execute(
        select(surveys.c.record).order_by(
            func.coalesce(surveys.c.starts, "").desc(), surveys.c.id.desc()
        )
    )
    return tuple(survey_from_json(text) for (text,) in rows)


def all_sites(connection: Connection) -> tuple[SurveySite, ...]:
    """Return every site once, as the survey that starts last has it, in the order of their ids."""
    found: dict[str, SurveySite] = {}
    for survey in reversed(all_surveys(connection)):
        found |= {site.id: site for site in survey.sites}
    return tuple(found[id_] for id_ in sorted(found))


def standing(connection: Connection, kind: str) -> tuple[PutDown, ...]:
    """Return how everything of a kind is now, in the order of the keys."""
    latest: dict[str, PutDown] = {}
    rows = connection.execute(
        select(register).where(register.c.kind == kind).order_by(register.c.number)
    )
    for row in rows:
        latest[row.key] = _put_down(row)
    return tuple(latest[key] for key in sorted(latest))


def history(connection: Connection, kind: str, key: str) -> tuple[PutDown, ...]:
    """Return how a thing was put down, each time, the first first."""
    rows = connection.execute(
        select(register)
        .where(register.c.kind == kind, register.c.key == key)
        .order_by(register.c.number)
    )
    return tuple(_put_down(row) for row in rows)


def _last(connection: Connection, kind: str, key: str) -> PutDown | None:
    row = connection.execute(
        select(register)
        .where(register.c.kind == kind, register.c.key == key)
        .order_by(register.c.number.desc())
        .limit(1)
    ).first()
    return None if row is None else _put_down(row)


def _put_down(row: object) -> PutDown:
    names = ("number", "kind", "key", "record", "put_at", "put_by", "reason")
    return PutDown(*(getattr(row, name) for name in names))


def _row_of_site(survey: Survey, place: int, site: SurveySite) -> dict[str, object]:
    return {
        "survey": survey.id,
        "id": site.id,
        "place": place,
        "stream": plain(site.stream),
        "name": plain(site.name),
        "record": json.dumps(unstructured(site)),
    }
