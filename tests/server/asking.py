"""Questions to the server of an office, without a network."""

from __future__ import annotations

import asyncio
import gzip
import json
from collections.abc import Mapping
from typing import Any, Self

from starlette.types import ASGIApp

from bankside.archive.accounts import add_account
from bankside.archive.archive import Archive
from bankside.archive.devices import make_code, pair
from bankside.archive.roles import Role
from bankside.archive.sessions import open_session
from bankside.server.api.application import api_application
from bankside.server.guard import Guard
from bankside.server.office import Office

from .loops import run

PAGE = "https://bank.example.org/"
LOOPBACK_PAGE = "http://127.0.0.1:8000/"
PASSWORD = "a long walk upstream"


class Answered:
    """What came back: the status, the headers by their names in small letters, the body."""

    def __init__(self, sent: list[dict[str, Any]]) -> None:
        self.status: int = sent[0]["status"]
        self.headers = {name.decode(): value.decode() for name, value in sent[0]["headers"]}
        self.body = b"".join(part.get("body", b"") for part in sent[1:])
        if self.headers.get("content-encoding") == "gzip":
            self.body = gzip.decompress(self.body)

    @property
    def json(self) -> Any:
        """The body as JSON."""
        return json.loads(self.body)

    @property
    def said(self) -> str:
        """What was refused, in a sentence."""
        return str(self.json["error"]["said"])


class Client:
    """Somebody who asks an application, with a token or without."""

    def __init__(
        self, app: ASGIApp, token: str = "", host: str = "127.0.0.1:8000", prefix: str = ""
    ) -> None:
        self._app = app
        self._token = token
        self._host = host
        self._prefix = prefix

    def get(self, path: str, **headers: str) -> Answered:
        """Ask for something."""
        return self.ask("GET", path, **headers)

    def post(self, path: str, body: object = None, **headers: str) -> Answered:
        """Send JSON."""
        return self.send("POST", path, body, **headers)

    def send(self, method: str, path: str, body: object, **headers: str) -> Answered:
        """Send JSON by any method."""
        content = json.dumps({} if body is None else body).encode()
        return self.ask(method, path, content, **{"content_type": "application/json", **headers})

    def ask(
        self,
        method: str,
        path: str,
        content: bytes = b"",
        parts: list[bytes] | None = None,
        address: str = "192.0.2.7",
        **headers: str,
    ) -> Answered:
        """Send a request whose body comes in parts; return its answer."""
        return run(self.asking(method, path, content, parts, address, **headers))

    async def asking(
        self,
        method: str,
        path: str,
        content: bytes = b"",
        parts: list[bytes] | None = None,
        address: str = "192.0.2.7",
        **headers: str,
    ) -> Answered:
        """Send a request beside others in one loop, as a server answers them."""
        coming = [content] if parts is None else list(parts)
        sent: list[dict[str, Any]] = []

        async def receive() -> dict[str, Any]:
            if not coming:
                # There is nothing more to come, and nobody leaves: a client that waits.
                return await asyncio.Future()
            part = coming.pop(0)
            return {"type": "http.request", "body": part, "more_body": bool(coming)}

        async def send(message: Any) -> None:
            sent.append(dict(message))

        await self._app(self.scope_of(method, path, address, headers), receive, send)
        return Answered(sent)

    def scope_of(
        self,
        method: str,
        path: str,
        address: str = "192.0.2.7",
        headers: Mapping[str, str] | None = None,
    ) -> dict[str, Any]:
        """Return a request as an application gets it."""
        said = {"host": self._host, **(headers or {})}
        if self._token:
            said["authorization"] = f"Bearer {self._token}"
        bare, _, query = path.partition("?")
        return {
            "type": "http",
            "method": method,
            "path": f"{self._prefix}/{bare}",
            "query_string": query.encode(),
            "headers": [
                (name.replace("_", "-").encode(), value.encode()) for name, value in said.items()
            ],
            "scheme": "http",
            "server": ("127.0.0.1", 8000),
            "client": (address, 50000),
        }


class Served:
    """An archive as an office serves it: to this machine alone, or to whoever signs in."""

    def __init__(self, archive: Archive, office: Office) -> None:
        self.archive = archive
        self.office = office
        self.app: ASGIApp = Guard(api_application(office), office)
        self._host = "bank.example.org" if office.sign_in else "127.0.0.1:8000"

    @classmethod
    def here(cls, archive: Archive) -> Self:
        """Serve to this machine, where nobody signs in."""
        return cls(archive, Office.of(archive, LOOPBACK_PAGE, sign_in=False))

    @classmethod
    def to_others(cls, archive: Archive) -> Self:
        """Serve to whoever shows a token."""
        return cls(archive, Office.of(archive, PAGE, sign_in=True))

    def client(self, token: str = "") -> Client:
        """Return somebody who shows a token, or none."""
        return Client(self.app, token, self._host)

    def person(self, role: Role, name: str = "") -> Client:
        """Return somebody of a role who has signed in."""
        with self.archive.writing() as connection:
            account = add_account(connection, name or f"A {role}", role, PASSWORD)
            token, _ = open_session(connection, account)
        return self.client(token)

    def device(self, key: str = "dev-1", role: Role = "crew") -> Client:
        """Return a device that was paired."""
        with self.archive.writing() as connection:
            code = make_code(connection, "Ada Brook", role)
            paired = pair(connection, code.code, key, f"phone {key}")
        assert paired is not None
        return self.client(paired[0])
