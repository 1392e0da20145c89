"""Listen: at an address of this machine that nobody else can reach, or for an office."""

from __future__ import annotations

import errno
import ipaddress
import os
import socket
from collections.abc import Callable
from contextlib import closing

import uvicorn
from sqlalchemy import select
from starlette.types import ASGIApp

from bankside.archive.archive import Archive
from bankside.archive.settings import set_served_at
from bankside.archive.tables import accounts
from bankside.server.app import office_application, web_application
from bankside.server.built_app import AppTrouble, BuiltApp
from bankside.server.heaps import keep_heaps_few
from bankside.server.office import Office
from bankside.server.place import Place

__all__ = ["loopback_address", "serve_app", "serve_office"]

_LEAVE_TIME_S = 2
# Where a proxy may stand whose word is taken for who asks: on this machine, or in a network of its
# own. The nearest address that is none of these is that of whoever asks.
_PROXIES = "127.0.0.0/8,::1,10.0.0.0/8,172.16.0.0/12,192.168.0.0/16,fc00::/7"


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
        "telephone takes the app from HTTPS alone, and only an archive has accounts that keep "
        "others out (--archive). `bankside app FOLDER` writes the files for a web host "
        "(docs/deploy.md)."
    )


def serve_app(app: BuiltApp, address: str, port: int, ready: Callable[[str], object]) -> None:
    """Serve the app until the process is told to stop; call `ready` with the page's address.

    Port 0 is any free one. Raises AppTrouble if the port cannot be had.
    """
    _serve(Place(address, port), lambda _: web_application(app), ready)


def serve_office(
    app: BuiltApp, archive: Archive, place: Place, ready: Callable[[str], object]
) -> None:
    """Serve the app and an archive until the process is told to stop, as `serve_app` does.

    Raises AppTrouble where others could ask and there is no account to keep them out.
    """
    if place.to_others:
        with archive.reading() as connection:
            nobody = connection.execute(select(accounts.c.name)).first() is None
        if nobody:
            raise AppTrouble(
                f"There is no account in {archive.place}, so everybody who reaches this server "
                f"would be let in; `bankside people add {archive.place} NAME --role lead` makes "
                "one."
            )
    if place.page is not None:
        with archive.writing() as connection:
            set_served_at(connection, place.page)

    def application(page: str) -> ASGIApp:
        return office_application(app, Office.of(archive, page, sign_in=place.to_others))

    _serve(place, application, ready)


def _serve(
    place: Place, application: Callable[[str], ASGIApp], ready: Callable[[str], object]
) -> None:
    keep_heaps_few()
    with closing(_listening(place.address, place.port)) as listening:
        host = f"[{place.address}]" if ":" in place.address else place.address
        scheme = "http" if place.certificate is None else "https"
        page = place.page or f"{scheme}://{host}:{listening.getsockname()[1]}/"
        config = uvicorn.Config(
            application(page),
            log_level="warning",
            access_log=False,
            server_header=False,
            ssl_certfile=place.certificate,
            ssl_keyfile=place.key,
            proxy_headers=place.behind_proxy,
            forwarded_allow_ips=_PROXIES,
            timeout_graceful_shutdown=_LEAVE_TIME_S,
        )
        ready(page)
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
