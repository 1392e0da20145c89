"""Rows that replace those of the same key, in the words of either database."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from sqlalchemy import Connection, Table
from sqlalchemy.dialects import postgresql, sqlite

__all__ = ["insert_new", "upsert"]


def upsert(connection: Connection, table: Table, rows: Sequence[Mapping[str, Any]]) -> None:
    """Write rows; where one of the same primary key is there, it gets these values."""
    if not rows:
        return
    key = [column.name for column in table.primary_key]
    insert = _insert(connection)(table)
    others = {name: insert.excluded[name] for name in rows[0] if name not in key}
    connection.execute(
        insert.on_conflict_do_update(index_elements=key, set_=others), [dict(row) for row in rows]
    )


def insert_new(connection: Connection, table: Table, rows: Sequence[Mapping[str, Any]]) -> None:
    """Write rows; where one of the same primary key is there, it stays as it is."""
    if rows:
        insert = _insert(connection)(table).on_conflict_do_nothing()
        connection.execute(insert, [dict(row) for row in rows])


def _insert(connection: Connection) -> Any:
    return sqlite.insert if connection.dialect.name == "sqlite" else postgresql.insert
