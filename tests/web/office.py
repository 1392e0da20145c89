"""An office for browsers: `bankside serve --archive` behind a proxy, as crews reach it.

Both can be made to fail as they do: the server is killed, an answer is lost on the way.
"""

from __future__ import annotations

import http.client
import http.server
import json
import os
import re
import signal
import socket
import subprocess
import sys
import tempfile
import threading
from collections.abc import Callable
from pathlib import Path
from typing import Any

from bankside.archive.accounts import add_account
from bankside.archive.archive import Archive, create_archive, open_archive
from bankside.archive.devices import devices, make_code, revoke
from bankside.archive.refresh import refresh
from bankside.gauging.journal.entry import entries_from_json
from bankside.gauging.journal.state import state_of
from bankside.gauging.records import Position
from bankside.survey.records import Stream, Survey, SurveySite

from .app_server import QuietServer

NAME = "bank.example.org"
REVIEWER, PASSWORD = "R. Voss", "quiet water runs"
_LEAVE_TIME_S = 20
_LISTENING = re.compile("Bankside is at ")
# What a proxy does not hand on.
_OWN = frozenset({"connection", "host", "keep-alive", "transfer-encoding", "content-length"})


class Office:
    """The server of an office with an archive of its own, and where crews reach it."""

    def __init__(self, folder: Path, *, to_others: bool = True) -> None:
        """Set it up; served to this machine alone it asks nobody to sign in."""
        self.place = str(folder / "season.db")
        create_archive(self.place).close()
        with self._archive() as archive, archive.writing() as connection:
            add_account(connection, REVIEWER, "lead", PASSWORD)
        self._port = _free_port()
        self._process: subprocess.Popen[str] | None = None
        self._token = ""
        here = f"http://127.0.0.1:{self._port}"
        self._options = ("--behind-proxy", "--url", f"https://{NAME}/") if to_others else ()
        self.proxy = Proxy(self._port, f"https://{NAME}" if to_others else here)
        self.start()

    @property
    def address(self) -> str:
        """Where crews open the page, with a slash at its end."""
        return self.proxy.address

    def start(self) -> None:
        """Start the server and wait until it listens."""
        assert self._process is None, "it runs already"
        # A pipe of its own for the one line: see app_server.
        with tempfile.TemporaryFile("w+") as wrong:
            self._process = subprocess.Popen(
                [
                    *(sys.executable, "-m", "bankside", "serve", "--archive", self.place),
                    *("--port", str(self._port), *self._options),
                ],
                stdin=subprocess.DEVNULL,
                stdout=subprocess.PIPE,
                stderr=wrong,
                text=True,
                env={**os.environ, "PYTHONWARNINGS": "error"},
            )
            assert self._process.stdout is not None
            if not _LISTENING.match(self._process.stdout.readline()):
                self._process.wait(_LEAVE_TIME_S)
                wrong.seek(0)
                raise AssertionError(f"the server did not start: {wrong.read()}")
        self.proxy.up = True

    def kill(self) -> None:
        """End the server as a power cut does."""
        self._end(signal.SIGKILL)

    def stop(self) -> None:
        """Stop the server and the proxy."""
        if self._process is not None:
            self._end(signal.SIGTERM)
        self.proxy.stop()

    def code(self) -> str:
        """Return a code by which one device can be paired."""
        with self._archive() as archive, archive.writing() as connection:
            return make_code(connection, REVIEWER).code

    def revoke_all(self) -> None:
        """Let no device in any more."""
        with self._archive() as archive, archive.writing() as connection:
            for device in devices(connection):
                revoke(connection, device.id)

    def journal(self, gauging: str) -> list[dict[str, Any]]:
        """The entries of a gauging as the server hands them out."""
        entries: list[dict[str, Any]] = self.ask("GET", f"gaugings/{gauging}/journal")["entries"]
        return entries

    def push(self, *entries: dict[str, Any]) -> None:
        """Say something at the desk."""
        answer = self.ask("POST", "entries", {"entries": list(entries)})
        assert len(answer["added"]) == len(entries), answer

    def review(self, gauging: str, verdict: str, **more: Any) -> None:
        """Say at the desk what the office holds of a gauging as it is now."""
        there = self.journal(gauging)
        last = max(entry["sequence"] for entry in there)
        before = [one["id"] for one in there if one["what"] == "review"]
        state = state_of(entries_from_json(there))
        said = {
            "id": f"review-{gauging[:8]}-{last + 1}",
            "gauging": gauging,
            "device": "desk",
            "sequence": last + 1,
            "at": "2026-07-15T19:00:00Z",
            "what": "review",
            "value": {"verdict": verdict, "by": REVIEWER, "state": state},
            **({"replaces": before} if before else {}),
        }
        self.push({**said, **more})

    def settle(self) -> None:
        """Work out what is worked out of the entries, as the server does when it has time."""
        with self._archive() as archive:
            refresh(archive)

    def archive(self) -> Archive:
        """Open the archive beside the server."""
        return self._archive()

    def ask(self, method: str, path: str, said: dict[str, Any] | None = None) -> Any:
        """Ask the server as the reviewer at the desk does, and return its answer."""
        if not self._token:
            self._token = "none"
            signed = self.ask("POST", "sign-in", {"name": REVIEWER, "password": PASSWORD})
            self._token = signed["token"]
        connection = http.client.HTTPConnection("127.0.0.1", self._port, timeout=60)
        headers = {"Host": self.proxy.host, "Content-Type": "application/json"}
        if self._token != "none":
            headers["Authorization"] = f"Bearer {self._token}"
        body = None if said is None else json.dumps(said)
        connection.request(method, f"/api/1/{path}", body, headers)
        response = connection.getresponse()
        answer = json.loads(response.read())
        connection.close()
        assert response.status == 200, answer
        return answer

    def _archive(self) -> Archive:
        return open_archive(self.place)

    def _end(self, how: signal.Signals) -> None:
        assert self._process is not None and self._process.stdout is not None
        self.proxy.up = False
        self._process.send_signal(how)
        self._process.wait(_LEAVE_TIME_S)
        self._process.stdout.close()
        self._process = None


def summer() -> Survey:
    """A survey of the sites of two demonstration sheets and of others, one of them with a place."""
    here = Position(lon=-122.5, lat=47.25)
    ford = SurveySite(
        id="qb2",
        stream="Quill Brook",
        name="below the ford",
        label="QB-02",
        remarks="Ask at the gate; the left bank is undercut.",
    )
    sites = [
        SurveySite(id="af1", stream="Alder Fork", name="above the footbridge", position=here),
        ford,
        *(SurveySite(id=f"af{n}", stream="Alder Fork", name=f"riffle {n}") for n in range(2, 9)),
    ]
    streams = tuple(Stream(name=name) for name in ("Alder Fork", "Quill Brook"))
    return Survey(id="summer", name="Summer", streams=streams, sites=tuple(sites))


class Proxy:
    """Hands requests on to the server by its name while it is `up`; `asked` is all that came.

    before, after: called with the method and path of a request before it is handed on, and once
    the server has answered; where it returns True the browser gets no answer.
    """

    def __init__(self, server_port: int, origin: str) -> None:
        self.server_port = server_port
        self.origin = origin
        self.host = origin.partition("://")[2]
        self.up = False
        self.asked: list[str] = []
        self.before: Callable[[str], bool] = go_on
        self.after: Callable[[str], bool] = go_on
        self._server = QuietServer(("127.0.0.1", 0), _handler(self))
        self._server.daemon_threads = True
        threading.Thread(target=self._server.serve_forever, args=(0.01,), daemon=True).start()

    @property
    def address(self) -> str:
        """Where it listens."""
        return f"http://127.0.0.1:{self._server.server_address[1]}/"

    def stop(self) -> None:
        """Listen no more."""
        self._server.shutdown()
        self._server.server_close()


def go_on(_: str) -> bool:
    """Let a request, or its answer, go on."""
    return False


def _handler(proxy: Proxy) -> type[http.server.BaseHTTPRequestHandler]:
    class Handler(http.server.BaseHTTPRequestHandler):
        protocol_version = "HTTP/1.1"

        def log_message(self, *_: object) -> None:
            pass

        def _hand_on(self) -> None:
            asked = f"{self.command} {self.path}"
            proxy.asked.append(asked)
            length = int(self.headers.get("Content-Length") or 0)
            body = self.rfile.read(length) if length else None
            if proxy.up and proxy.before(asked):
                return self._hang_up()
            answer = self._answer_of(body) if proxy.up else None
            if answer is None:
                return self._say(502, {"Content-Type": "text/html"}, b"<p>Nobody answers.</p>")
            if proxy.after(asked):
                return self._hang_up()
            return self._say(*answer)

        def _answer_of(self, body: bytes | None) -> tuple[int, dict[str, str], bytes] | None:
            own = {k: v for k, v in self.headers.items() if k.lower() not in _OWN}
            headers = {**own, "Host": proxy.host, "X-Forwarded-Proto": "https"}
            if "Origin" in headers:
                headers["Origin"] = proxy.origin
            connection = http.client.HTTPConnection("127.0.0.1", proxy.server_port, timeout=60)
            try:
                connection.request(self.command, self.path, body, headers)
                response = connection.getresponse()
                content = response.read()
            except (OSError, http.client.HTTPException):
                return None
            finally:
                connection.close()
            kept = {k: v for k, v in response.headers.items() if k.lower() not in _OWN}
            return response.status, kept, content

        def _say(self, status: int, headers: dict[str, str], content: bytes) -> None:
            self.send_response(status)
            for name, value in headers.items():
                self.send_header(name, value)
            if status != 304:
                self.send_header("Content-Length", str(len(content)))
            self.end_headers()
            try:
                self.wfile.write(content)
            except (BrokenPipeError, ConnectionResetError):
                self.close_connection = True

        def _hang_up(self) -> None:
            self.connection.shutdown(socket.SHUT_RDWR)
            self.close_connection = True

        do_GET = do_POST = do_PUT = do_HEAD = _hand_on

    return Handler


def _free_port() -> int:
    with socket.create_server(("127.0.0.1", 0)) as free:
        port: int = free.getsockname()[1]
        return port
