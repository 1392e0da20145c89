"""The people who sign in at a desk: name, role, and a password of which only its hash is kept."""

from __future__ import annotations

import functools
import threading
import unicodedata

import attrs
from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError
from sqlalchemy import Connection, delete, insert, select, update

from bankside.archive.clock import now
from bankside.archive.roles import Role
from bankside.archive.tables import accounts as table
from bankside.archive.tables import sessions
from bankside.archive.trouble import DoesNotFit

__all__ = [
    "LEAST_SIGNS",
    "Account",
    "account_name",
    "accounts",
    "add_account",
    "as_kept",
    "remove_account",
    "set_password",
    "who_signs_in",
]

LEAST_SIGNS = 10
"""A password has at least as many characters. Ours; longer is better than odd."""

_MOST_SIGNS = 1000
_LONGEST_NAME = 100
# By RFC 9106, its second choice: 64 MiB, three passes, four lanes.
_HASHER = PasswordHasher()
# As each takes 64 MiB, few are worked out at a time, however many ask.
_AT_A_TIME = threading.Semaphore(2)


@attrs.frozen
class Account:
    """Somebody who may sign in."""

    name: str
    role: Role
    made_at: str


def as_kept(text: str) -> str:
    """Return a name as an account of this name would have it, whatever it is."""
    return " ".join(unicodedata.normalize("NFC", text).split())


def account_name(text: str) -> str:
    """Return a name as it is kept; DoesNotFit for one that is blank, or too long."""
    name = as_kept(text)
    if not name or len(name) > _LONGEST_NAME or not name.isprintable():
        raise DoesNotFit(
            f"A name has 1 to {_LONGEST_NAME} characters that can be seen (got {len(name)})."
        )
    return name


def accounts(connection: Connection) -> tuple[Account, ...]:
    """Return all accounts in the order of their names."""
    rows = connection.execute(select(table.c.name, table.c.role, table.c.made_at))
    return tuple(sorted((Account(*row) for row in rows), key=lambda account: account.name))


def add_account(connection: Connection, name: str, role: Role, password: str) -> Account:
    """Make an account; DoesNotFit where the name is taken, or the password too short."""
    name = account_name(name)
    taken = connection.execute(select(table.c.name).where(table.c.name == name)).first()
    if taken is not None:
        raise DoesNotFit(f"There is an account {name} already; another name is right.")
    made = now()
    connection.execute(
        insert(table).values(
            name=name, role=role, password=_hash(password), made_at=made, changed_at=made
        )
    )
    return Account(name, role, made)


def set_password(connection: Connection, name: str, password: str) -> None:
    """Give an account another password, and sign out whoever is signed in under its name."""
    hashed = _hash(password)
    changed = connection.execute(
        update(table)
        .where(table.c.name == account_name(name))
        .values(password=hashed, changed_at=now())
    )
    if not changed.rowcount:
        raise _no_account(name)
    connection.execute(delete(sessions).where(sessions.c.account == account_name(name)))


def remove_account(connection: Connection, name: str) -> None:
    """Remove an account, and sign out whoever is signed in under its name."""
    gone = connection.execute(delete(table).where(table.c.name == account_name(name)))
    if not gone.rowcount:
        raise _no_account(name)


def who_signs_in(connection: Connection, name: str, password: str) -> Account | None:
    """Return the account of this name and password, None where they do not belong together."""
    row = connection.execute(select(table).where(table.c.name == as_kept(name))).first()
    try:
        with _AT_A_TIME:
            _HASHER.verify(_nobody() if row is None else row.password, password[:_MOST_SIGNS])
    except (VerificationError, InvalidHashError):
        return None
    return None if row is None else Account(row.name, row.role, row.made_at)


def _hash(password: str) -> str:
    if not LEAST_SIGNS <= len(password) <= _MOST_SIGNS:
        raise DoesNotFit(
            f"A password has {LEAST_SIGNS} characters or more, and at most {_MOST_SIGNS} "
            f"(got {len(password)})."
        )
    return _HASHER.hash(password)


@functools.cache
def _nobody() -> str:
    """Return what is compared for a name that is not there, so that it takes as long."""
    return _HASHER.hash("nobody")


def _no_account(name: str) -> DoesNotFit:
    return DoesNotFit(f"There is no account {name}; bankside people list shows those there are.")
