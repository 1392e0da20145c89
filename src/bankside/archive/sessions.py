"""Who is signed in at a desk: a token for some hours, kept by its SHA-256."""

from __future__ import annotations

from sqlalchemy import Connection, delete, insert, select

from bankside.archive.accounts import Account
from bankside.archive.clock import in_seconds, now, running
from bankside.archive.secret_texts import digest_of, new_token
from bankside.archive.tables import accounts as people
from bankside.archive.tables import sessions as table

__all__ = ["SESSION_HOURS", "end_session", "open_session", "signed_in"]

SESSION_HOURS = 12
"""How long somebody stays signed in: a day at a desk."""


def open_session(
    connection: Connection, account: Account, hours: float = SESSION_HOURS
) -> tuple[str, str]:
    """Sign somebody in; return the token, and the moment at which it is void."""
    connection.execute(delete(table).where(table.c.expires_at <= now()))
    token, until = new_token(), in_seconds(hours * 3600)
    connection.execute(
        insert(table).values(sha256=digest_of(token), account=account.name, expires_at=until)
    )
    return token, until


def signed_in(connection: Connection, token: str) -> Account | None:
    """Return whose token this is, None where it is nobody's or void."""
    row = connection.execute(
        select(people.c.name, people.c.role, people.c.made_at)
        .join(table, table.c.account == people.c.name)
        .where(table.c.sha256 == digest_of(token), *running(table.c.expires_at, SESSION_HOURS))
    ).first()
    return None if row is None else Account(*row)


def end_session(connection: Connection, token: str) -> None:
    """Make a token void."""
    connection.execute(delete(table).where(table.c.sha256 == digest_of(token)))
