"""What was taken in is never changed or removed: the database itself refuses it."""

from __future__ import annotations

import pytest
from sqlalchemy import Table, text

from bankside.archive.archive import Archive, open_archive
from bankside.archive.entries import keep_refused, take_entries
from bankside.archive.files import keep_file
from bankside.archive.refresh import refresh, rework
from bankside.archive.register import put_survey
from bankside.archive.tables import GROWING, file_contents, metadata, source_gaugings, sources
from bankside.archive.trouble import ArchiveTrouble

from ..survey.building import SURVEY
from .building import crossing, keep
from .looking import everything, rows
from .practised import keep_practice

REFUSED = "what an archive has taken in is never changed"
WORDS = {
    "UPDATE": "UPDATE {table} SET {column} = {column}",
    "DELETE": "DELETE FROM {table}",
}
# Each database has words of its own by which rows go.
OWN = {
    "sqlite": "INSERT OR REPLACE INTO {table} SELECT * FROM {table}",
    "postgresql": "TRUNCATE {table} CASCADE",
}


@pytest.fixture
def full(archive: Archive) -> Archive:
    """An archive with a row in every table that only grows."""
    keep(archive, crossing())
    with archive.writing() as connection:
        put_survey(connection, SURVEY)
        sha256 = keep_file(connection, "text/csv", b"tape,depth", "a test")
        taken = {"taken_at": "2026-07-14", "answers": "{}", "report": "{}"}
        connection.execute(sources.insert().values(number=1, sha256=sha256, name="a.csv", **taken))
        connection.execute(
            source_gaugings.insert().values(source=1, place=0, gauging="g1", label="a")
        )
        keep_refused(connection, "{", "It is no JSON.", "a test")
        keep_practice(connection)
    assert [table.name for table in GROWING if not rows(archive, table)] == []
    return archive


def _column(table: Table) -> str:
    return next(column.name for column in table.columns if not column.primary_key)


@pytest.mark.parametrize("statement", ["UPDATE", "DELETE", "own"])
def test_the_database_refuses_to_change_what_only_grows(full: Archive, statement: str) -> None:
    """No row is changed or removed by whatever words the database has for it."""
    before = everything(full)
    words = OWN[full.engine.dialect.name] if statement == "own" else WORDS[statement]
    for table in GROWING:
        said = words.format(table=table.name, column=_column(table))
        with pytest.raises(ArchiveTrouble, match=REFUSED), full.writing() as connection:
            connection.execute(text(said))

    assert everything(full) == before


def test_a_table_that_is_worked_out_may_change(full: Archive) -> None:
    """The refusal is that of the tables that only grow, and of no others."""
    with full.writing() as connection:
        for table in metadata.sorted_tables:
            if table not in GROWING and any(not column.primary_key for column in table.columns):
                connection.execute(table.update().values({_column(table): table.c[_column(table)]}))


def test_nothing_that_the_archive_does_takes_a_row_away(full: Archive) -> None:
    """Taking in again, working out anew and correcting only add to what was there."""
    before = {table: rows(full, table) for table in GROWING}
    device = crossing()
    device.correct()
    device.review()
    with full.writing() as connection:
        keep_file(connection, "image/png", b"tape,depth", "another")
        put_survey(connection, SURVEY, by="I. Marrow")
        take_entries(connection, device.entries, "another")
    refresh(full)
    rework(full)

    for table, kept in before.items():
        now = rows(full, table)
        assert [row for row in kept if row not in now] == [], table.name
    assert rows(full, file_contents) == before[file_contents]


def test_an_archive_that_is_opened_again_still_refuses(full: Archive) -> None:
    """The refusal stands in the database, not in the process that made it."""
    place = full.engine.url.render_as_string(hide_password=False)
    with (
        open_archive(place) as again,
        pytest.raises(ArchiveTrouble, match=REFUSED),
        again.writing() as connection,
    ):
        connection.execute(text("DELETE FROM entries"))
