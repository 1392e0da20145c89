"""`bankside people`: who may sign in to the server of an office."""

from __future__ import annotations

import getpass
import sys
from pathlib import Path

from cyclopts import App

from bankside.archive.accounts import (
    LEAST_SIGNS,
    accounts,
    add_account,
    remove_account,
    set_password,
)
from bankside.archive.archive import open_archive
from bankside.archive.roles import Role
from bankside.cli.examples import examples
from bankside.cli.render import PlainConsole, plain_table, render_table, safe_text
from bankside.gauging.faults import Fault, InputRefused

__all__ = ["people_app"]

people_app = App(
    name="people",
    help="Who may sign in at a desk to an archive that is served: crew hand in and read, reviewers "
    "also judge and correct, leads also put surveys down and say who may.",
    help_epilogue=examples("people"),
)


@people_app.command(name="add", help_epilogue=examples("people add"))
def add_command(place: str, name: str, /, *, role: Role, password_file: Path | None = None) -> None:
    """Let somebody sign in; the password is asked for on the terminal.

    Parameters
    ----------
    place
        The archive: a file, such as season.db, or the address of a PostgreSQL database.
    name
        The name to sign in with.
    role
        What the person may: crew, reviewer or lead.
    password_file
        A file whose first line is the password.
    """
    password = _password(password_file)
    with open_archive(place) as archive, archive.writing() as connection:
        account = add_account(connection, name, role, password)
    print(f"{account.name} may sign in as {account.role}.")


@people_app.command(name="list", help_epilogue=examples("people list"))
def list_command(place: str, /) -> None:
    """List who may sign in.

    Parameters
    ----------
    place
        The archive: a file, such as season.db, or the address of a PostgreSQL database.
    """
    with open_archive(place) as archive, archive.reading() as connection:
        found = accounts(connection)
    table = plain_table()
    for head in ("name", "role", "since"):
        table.add_column(head, no_wrap=head != "name")
    for account in found:
        table.add_row(safe_text(account.name), account.role, account.made_at[:10])
    render_table(PlainConsole(), table)


@people_app.command(name="remove", help_epilogue=examples("people remove"))
def remove_command(place: str, name: str, /) -> None:
    """Let somebody sign in no longer, and sign them out at once.

    Parameters
    ----------
    place
        The archive: a file, such as season.db, or the address of a PostgreSQL database.
    name
        The name of the account.
    """
    with open_archive(place) as archive, archive.writing() as connection:
        remove_account(connection, name)
    print(f"{name} may not sign in any more.")


@people_app.command(name="password", help_epilogue=examples("people password"))
def password_command(place: str, name: str, /, *, password_file: Path | None = None) -> None:
    """Give somebody another password, and sign them out wherever they are signed in.

    Parameters
    ----------
    place
        The archive: a file, such as season.db, or the address of a PostgreSQL database.
    name
        The name of the account.
    password_file
        A file whose first line is the password.
    """
    password = _password(password_file)
    with open_archive(place) as archive, archive.writing() as connection:
        set_password(connection, name, password)
    print(f"{name} has another password.")


def _password(file: Path | None) -> str:
    """Return a password from a file, or from somebody who types it twice."""
    if file is not None:
        try:
            lines = file.read_text(encoding="utf-8").splitlines()
        except (OSError, UnicodeDecodeError) as error:
            why = error.strerror if isinstance(error, OSError) else "it is no text in UTF-8"
            message = f"the file of the password cannot be read ({why})"
            raise InputRefused([Fault(message, file=str(file))]) from error
        return lines[0] if lines else ""
    if not sys.stdin.isatty():
        message = "there is no terminal to type a password on; --password-file would be right"
        raise InputRefused([Fault(message)])
    password = getpass.getpass(f"Password ({LEAST_SIGNS} characters or more): ")
    if getpass.getpass("The same again: ") != password:
        raise InputRefused([Fault("the two passwords differ; the same one twice would be right")])
    return password
