"""Listen on an address of this machine that nobody else can reach."""

from __future__ import annotations

import errno
import ipaddress
import os
import socket
from collections.abc import Callable
from contextlib import closing

import uvicorn

from bankside.server.app import web_application
from bankside.server.built_app import AppTrouble, BuiltApp

__all__ = ["loopback_address", "serve_app"]

_LEAVE_TIME_S = 2


def loopback_address(asked: str) -> str:
    """Return an address of this machine alone as numbers: 127.0.0.1 for `localhost`.

    Raises AppTrouble for any other, with the reason.
    """
    if asked == "localhost":
        return "127.0.0.1"
    try:
        if ipaddress.ip_address(asked).is_loopback:
            return asked
    except ValueError:
        pass
    raise AppTrouble(
        f'Found the address "{asked}"; only this machine\'s own, 127.0.0.1 or ::1, is right: a '
        "telephone takes the app from HTTPS alone, and there are no accounts yet that would keep "
        "others out. `bankside app FOLDER` writes the files for a web host (docs/deploy.md)."
    )


def serve_app(app: BuiltApp, address: str, port: int, ready: Callable[[str], object]) -> None:
    """Serve the app until the process is told to stop; call `ready` with the page's address.

    Port 0 is any free one. Raises AppTrouble if the port cannot be had.
    """
    with closing(_listening(address, port)) as listening:
        host = f"[{address}]" if ":" in address else address
        ready(f"http://{host}:{listening.getsockname()[1]}/")
        config = uvicorn.Config(
            web_application(app),
            log_level="warning",
            access_log=False,
            server_header=False,
            timeout_graceful_shutdown=_LEAVE_TIME_S,
        )
        uvicorn.Server(config).run(sockets=[listening])


def _listening(address: str, port: int) -> socket.socket:
    """Return a socket that listens: who asks before the server is up waits and is not refused."""
    family = socket.AF_INET6 if ":" in address else socket.AF_INET
    try:
        return socket.create_server((address, port), family=family, backlog=128)
    except OSError as error:
        reason = os.strerror(error.errno or errno.EINVAL)
        raise AppTrouble(
            f"Port {port} at {address} cannot be had ({reason}); another one with "
            "--port would be right. The browser keeps its data by address and port: under another "
            "one it shows none of what was measured here."
        ) from error
