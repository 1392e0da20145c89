"""What an archive gives out: journals with their files, records, surveys, original sheets."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import attrs
from sqlalchemy import Connection, RowMapping, func, select

from bankside.archive.entries import entries_of_gauging
from bankside.archive.files import file_of, sha256_of
from bankside.archive.tables import gauging_files, gaugings, refused, source_gaugings, sources
from bankside.gauging.journal.document import Journal, StoredFile

__all__ = [
    "OriginalSheet",
    "gauging_ids",
    "journal_of",
    "original_sheets",
    "refused_count",
    "what_was_refused",
]


@attrs.frozen
class OriginalSheet:
    """A sheet as it was handed in, and what became of its rows."""

    number: int
    name: str
    sha256: str
    type: str
    content: bytes
    taken_at: str
    taken_by: str | None
    report: dict[str, object]


def gauging_ids(connection: Connection, survey: str | None = None) -> tuple[str, ...]:
    """Return the ids of all gaugings, or those of a survey, in the order of their days."""
    query = select(gaugings.c.id).order_by(gaugings.c.day, gaugings.c.id)
    if survey is not None:
        query = query.where(gaugings.c.survey == survey)
    return tuple(connection.execute(query).scalars())


def journal_of(connection: Connection, gauging: str) -> Journal | None:
    """Return a gauging's journal with its photos, None where there is no such gauging.

    A photo that is damaged is left out, as the journal could not be taken in again with it;
    verifying names it. ArchiveDamaged where an entry cannot be read any more.
    """
    entries = entries_of_gauging(connection, gauging)
    if not entries:
        return None
    named = connection.execute(
        select(gauging_files.c.sha256).where(gauging_files.c.gauging == gauging)
    ).scalars()
    files = {
        sha256: StoredFile(kept.type, kept.content)
        for sha256 in named
        if (kept := file_of(connection, sha256)) is not None and sha256_of(kept.content) == sha256
    }
    return Journal(gauging, entries, files)


def original_sheets(connection: Connection, survey: str | None = None) -> Iterator[OriginalSheet]:
    """Yield the sheets that were handed in, in their order, each read when it is asked for.

    survey: only those with gaugings of the survey of this id.
    """
    query = select(sources).order_by(sources.c.number)
    if survey is not None:
        of_survey = select(source_gaugings.c.source).join(
            gaugings, gaugings.c.id == source_gaugings.c.gauging
        )
        query = query.where(sources.c.number.in_(of_survey.where(gaugings.c.survey == survey)))
    for row in connection.execute(query).all():
        kept = file_of(connection, row.sha256)
        if kept is not None:
            yield OriginalSheet(
                number=row.number,
                name=Path(row.name).name,
                sha256=row.sha256,
                type=kept.type,
                content=kept.content,
                taken_at=row.taken_at,
                taken_by=row.taken_by,
                report=json.loads(row.report),
            )


def refused_count(connection: Connection) -> int:
    """Return how many entries could not be taken in, each kept as it came."""
    return int(connection.execute(select(func.count()).select_from(refused)).scalar_one())


def what_was_refused(connection: Connection) -> tuple[RowMapping, ...]:
    """Return what could not be taken in, as it came, with the reason, in its order."""
    rows = connection.execute(select(refused).order_by(refused.c.number)).mappings()
    return tuple(rows.all())
