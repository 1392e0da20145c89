"""The tables as the code knows them, and as the steps of the migrations make them."""

from __future__ import annotations

from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext

from bankside.archive.archive import Archive
from bankside.archive.tables import metadata


def test_the_migrations_make_the_tables_that_the_code_knows(archive: Archive) -> None:
    """Nothing that the code writes to lacks its column, its type, its key or its index."""
    with archive.reading() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        differences = compare_metadata(context, metadata)

    assert differences == []
