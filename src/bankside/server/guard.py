"""Which requests are meant for this server: those that name it, and that its own pages make.

A page of another site can make a browser ask this machine. It can also be given a name that leads
here. Both are told by what the browser says of itself, and refused before anything is looked at.
"""

from __future__ import annotations

from collections.abc import Mapping
from http import HTTPStatus
from urllib.parse import urlsplit

from starlette.datastructures import Headers
from starlette.types import ASGIApp, Receive, Scope, Send

from bankside.server.api.answers import answer_refusal
from bankside.server.api.refusals import Refusal
from bankside.server.office import Office

__all__ = ["READS", "Guard", "refused_as_foreign"]

READS = frozenset({"GET", "HEAD"})
"""The methods that change nothing, and so may be asked for by any page, which cannot read it."""


class Guard:
    """Lets through to an application only what is meant for it."""

    def __init__(self, app: ASGIApp, office: Office) -> None:
        self._app = app
        self._office = office

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer a request, or hand it on."""
        if scope["type"] == "http":
            refusal = refused_as_foreign(scope["method"], Headers(scope=scope), self._office.hosts)
            if refusal is not None:
                await answer_refusal(refusal)(scope, receive, send)
                return
        await self._app(scope, receive, send)


def refused_as_foreign(
    method: str, headers: Mapping[str, str], hosts: frozenset[str]
) -> Refusal | None:
    """Return why a request is not meant for a server of these names, None where it is."""
    host = headers.get("host", "")
    if _name_of(host) not in hosts:
        return Refusal(
            HTTPStatus.MISDIRECTED_REQUEST,
            f"Found the host {host[:200]!r}; {' or '.join(sorted(hosts))} is the name of this "
            "server.",
        )
    if method in READS:
        return None
    origin = headers.get("origin")
    site = headers.get("sec-fetch-site", "same-origin")
    if (origin is not None and _place_of(origin) != host.lower()) or site not in (
        "same-origin",
        "none",
    ):
        return Refusal(
            HTTPStatus.FORBIDDEN, "A page of another site asked for this; nothing was changed."
        )
    return None


def _name_of(host: str) -> str | None:
    try:
        return urlsplit(f"//{host}").hostname
    except ValueError:
        return None


def _place_of(origin: str) -> str | None:
    """Return the host and port of an origin as a `Host` spells them; None for one that has none."""
    try:
        parts = urlsplit(origin)
    except ValueError:
        return None
    return parts.netloc.lower() if parts.scheme in ("http", "https") else None
