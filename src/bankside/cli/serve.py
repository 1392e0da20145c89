"""`bankside serve`: the app for the bank, on this machine's own address."""

from __future__ import annotations

import webbrowser
from typing import Annotated

from cyclopts import Parameter

from bankside.gauging.faults import Fault, InputRefused
from bankside.server.built_app import built_app
from bankside.server.listen import loopback_address, serve_app

__all__ = ["serve_command"]

_HIGHEST_PORT = 65535


def serve_command(
    *,
    port: int = 8000,
    address: str = "127.0.0.1",
    open_browser: Annotated[bool, Parameter(name="--open", show_default=False)] = False,
) -> None:
    """Serve the app for the bank on this machine, to nobody else, until it is stopped with Ctrl+C.

    The browser keeps what is measured by address and port: use the same ones every time.

    Parameters
    ----------
    port
        The port to listen on; 0 takes any free one.
    address
        An address of this machine alone: 127.0.0.1, ::1 or localhost.
    open_browser
        Show the app in the usual browser at once.
    """
    if not 0 <= port <= _HIGHEST_PORT:
        raise InputRefused(
            [Fault(f"--port: found {port}; a number from 0 to {_HIGHEST_PORT} would be right")]
        )
    numbers = loopback_address(address)

    def ready(page: str) -> None:
        print(f"Bankside is at {page} on this machine; Ctrl+C stops it.", flush=True)
        if open_browser:
            webbrowser.open(page)

    try:
        serve_app(built_app(), numbers, port, ready)
    except KeyboardInterrupt:
        # The way in which it is meant to end.
        print()
