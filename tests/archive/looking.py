"""What stands in an archive's tables, for tests that ask what was kept."""

from __future__ import annotations

from typing import Any

from sqlalchemy import Table, select

from bankside.archive.archive import Archive
from bankside.archive.filing import Filing, filings_of
from bankside.archive.tables import gaugings, metadata


def rows(archive: Archive, table: Table) -> list[dict[str, Any]]:
    """All rows of a table, in the order of its key."""
    with archive.reading() as connection:
        found = connection.execute(select(table).order_by(*table.primary_key)).mappings()
        return [dict(row) for row in found]


def everything(archive: Archive) -> dict[str, list[dict[str, Any]]]:
    """All rows of all tables."""
    return {table.name: rows(archive, table) for table in metadata.sorted_tables}


def row_of(archive: Archive, gauging: str = "g1") -> dict[str, Any]:
    """The row of a gauging."""
    (found,) = [row for row in rows(archive, gaugings) if row["id"] == gauging]
    return found


def filed(archive: Archive, gauging: str = "g1") -> tuple[Filing, ...]:
    """The figures that were filed for a gauging."""
    with archive.reading() as connection:
        return filings_of(connection, gauging)
