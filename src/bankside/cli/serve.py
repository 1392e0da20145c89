"""`bankside serve`: the app for the bank, and an archive beside it."""

from __future__ import annotations

import webbrowser
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from bankside.archive.archive import open_archive
from bankside.gauging.faults import Fault, InputRefused
from bankside.server.built_app import built_app
from bankside.server.listen import loopback_address, serve_app, serve_office
from bankside.server.place import office_place

__all__ = ["serve_command"]

_HIGHEST_PORT = 65535
_DESK = "#/desk"
"""Where the page shows the desk."""


def serve_command(
    *,
    archive: str | None = None,
    port: int = 8000,
    address: str = "127.0.0.1",
    url: str | None = None,
    certificate: Path | None = None,
    key: Path | None = None,
    behind_proxy: Annotated[bool, Parameter(show_default=False)] = False,
    open_browser: Annotated[bool, Parameter(name="--open", show_default=False)] = False,
) -> None:
    """Serve the app for the bank, and an archive beside it, until it is stopped with Ctrl+C.

    Without an archive, and at an address of this machine alone, nobody else is served and nobody
    signs in. At any other address everybody needs an account or a paired device (`bankside people`,
    `bankside devices`). The browser keeps what is measured by address and port: use the same ones
    every time.

    Parameters
    ----------
    archive
        The archive that devices send their readings to and that a desk works with.
    port
        The port to listen on; 0 takes any free one.
    address
        Where to listen: 127.0.0.1, ::1 or localhost for this machine alone; with an archive also
        another address of this machine, or 0.0.0.0 for all of them.
    url
        How others reach the server, such as https://bank.example.org/.
    certificate
        The certificate of that name with those it rests on, a file in PEM form.
    key
        The key of the certificate, where it is in a file of its own.
    behind_proxy
        A proxy on the way encrypts, and tells who asks (docs/deploy.md).
    open_browser
        Show the app in the usual browser at once; with an archive, the desk of the office.
    """
    if not 0 <= port <= _HIGHEST_PORT:
        raise InputRefused(
            [Fault(f"--port: found {port}; a number from 0 to {_HIGHEST_PORT} would be right")]
        )

    def ready(page: str) -> None:
        where = "" if others else " on this machine"
        desk = "" if archive is None else f"{page}{_DESK}"
        and_desk = desk and f"; the desk of the office is at {desk}"
        print(f"Bankside is at {page}{where}{and_desk}; Ctrl+C stops it.", flush=True)
        if open_browser:
            webbrowser.open(desk or page)

    others = False
    try:
        if archive is None:
            _refuse_without_archive(
                {"--url": url, "--certificate": certificate, "--key": key}, behind_proxy
            )
            serve_app(built_app(), loopback_address(address), port, ready)
            return
        place = office_place(address, port, url, certificate, key, behind_proxy)
        others = place.to_others
        app = built_app()
        with open_archive(archive) as opened:
            serve_office(app, opened, place, ready)
    except KeyboardInterrupt:
        # The way in which it is meant to end.
        print()


def _refuse_without_archive(options: dict[str, object], behind_proxy: bool) -> None:
    """Refuse what says how others are served, where only this machine is."""
    given = [name for name, value in options.items() if value is not None]
    if behind_proxy:
        given.append("--behind-proxy")
    if given:
        message = f"found {', '.join(given)} without --archive; --archive would be right beside it"
        raise InputRefused([Fault(message)])
