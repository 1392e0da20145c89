"""`bankside devices`: which devices may send their readings to the server of an office."""

from __future__ import annotations

import datetime
import getpass
import sys

from cyclopts import App

from bankside.archive.archive import open_archive
from bankside.archive.devices import CODE_MINUTES, Device, devices, make_code, revoke
from bankside.archive.roles import Role
from bankside.archive.settings import served_at
from bankside.cli.examples import examples
from bankside.cli.render import PlainConsole, plain_table, render_table, safe_text
from bankside.server.pairing_link import pairing_link, qr_for_terminal
from bankside.server.place import page_of

__all__ = ["devices_app"]

devices_app = App(
    name="devices",
    help="Which telephones and tablets may send their readings to an archive that is served, and "
    "get those of others.",
    help_epilogue=examples("devices"),
)


@devices_app.command(name="code", help_epilogue=examples("devices code"))
def code_command(
    place: str,
    /,
    *,
    name: str | None = None,
    role: Role = "crew",
    url: str | None = None,
) -> None:
    """Print a code by which one device can be paired, with a link and a picture to photograph.

    Parameters
    ----------
    place
        The archive: a file, such as season.db, or the address of a PostgreSQL database.
    name
        What the device is to be called; what it calls itself if not given.
    role
        What may be done with the device.
    url
        How the server is reached; where it was last served if not given.
    """
    with open_archive(place) as archive, archive.writing() as connection:
        code = make_code(connection, _operator(), role, name)
        page = page_of(url) or served_at(connection)
    until = datetime.datetime.fromisoformat(code.until).astimezone()
    print(f"{code.code[:4]} {code.code[4:]}")
    print(f"Valid until {until:%H:%M}, for {CODE_MINUTES} minutes, and used once.")
    if page is None:
        print("The archive was not served to others yet: with --url a link is printed too.")
        return
    link = pairing_link(page, code.code)
    print(link)
    if (sys.stdout.encoding or "").lower().replace("-", "") == "utf8":
        print(qr_for_terminal(link))


@devices_app.command(name="list", help_epilogue=examples("devices list"))
def list_command(place: str, /) -> None:
    """List every device that was ever paired, the last one first.

    Parameters
    ----------
    place
        The archive: a file, such as season.db, or the address of a PostgreSQL database.
    """
    with open_archive(place) as archive, archive.reading() as connection:
        found = devices(connection)
    table = plain_table()
    for head in ("id", "name", "role", "paired", "heard of", "state"):
        table.add_column(head, no_wrap=head != "name")
    for device in found:
        table.add_row(
            device.id,
            safe_text(device.name),
            device.role,
            device.paired_at[:10],
            (device.seen_at or "")[:10],
            _state(device),
        )
    render_table(PlainConsole(), table)


@devices_app.command(name="revoke", help_epilogue=examples("devices revoke"))
def revoke_command(place: str, device: str, /) -> None:
    """Let a device in no longer; what it sent stays.

    Parameters
    ----------
    place
        The archive: a file, such as season.db, or the address of a PostgreSQL database.
    device
        Its id, as `bankside devices list` shows it.
    """
    with open_archive(place) as archive, archive.writing() as connection:
        revoked = revoke(connection, device)
    print(f"{revoked.name} ({revoked.id}) is let in no longer.")


def _state(device: Device) -> str:
    return "paired" if device.revoked_at is None else f"revoked {device.revoked_at[:10]}"


def _operator() -> str:
    """Return who sits at this machine, as far as it knows."""
    try:
        return getpass.getuser()
    except (OSError, KeyError):
        return "this machine"
