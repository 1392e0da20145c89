"""The app served as people serve it: by `bankside serve`, or by any web host below some path."""

from __future__ import annotations

import contextlib
import http.server
import os
import re
import signal
import subprocess
import sys
import tempfile
import threading
from collections.abc import Iterator
from functools import partial
from pathlib import Path

_SAID = re.compile(r"http://127\.0\.0\.1:(\d+)/")
_LEAVE_TIME_S = 20


class AppServer:
    """`bankside serve` as a process of its own; it can be stopped, and started at the same port."""

    def __init__(self, archive: Path | None = None) -> None:
        self._archive = () if archive is None else ("--archive", str(archive))
        self._port = 0
        self._process: subprocess.Popen[str] | None = None
        self.start()

    @property
    def address(self) -> str:
        """Where the app's page is, with a slash at its end."""
        return f"http://127.0.0.1:{self._port}/"

    def start(self) -> None:
        """Start it and wait until it listens."""
        assert self._process is None, "it runs already"
        # A pipe of its own for the one line, and nothing of the test's: a process that holds the
        # test's own output open would keep whoever reads it waiting after a crash.
        with tempfile.TemporaryFile("w+") as wrong:
            self._process = subprocess.Popen(
                [
                    *(sys.executable, "-m", "bankside", "serve"),
                    *("--port", str(self._port), *self._archive),
                ],
                stdin=subprocess.DEVNULL,
                stdout=subprocess.PIPE,
                stderr=wrong,
                text=True,
                env={**os.environ, "PYTHONWARNINGS": "error"},
            )
            assert self._process.stdout is not None
            said = _SAID.search(self._process.stdout.readline())
            if said is None:
                self._process.wait(_LEAVE_TIME_S)
                wrong.seek(0)
                raise AssertionError(f"bankside serve did not start: {wrong.read()}")
        self._port = int(said[1])

    def stop(self) -> None:
        """Stop it, if it runs: from now on nothing answers at its address."""
        if self._process is not None:
            self._end(signal.SIGTERM)

    def interrupt(self) -> int:
        """Stop it as Ctrl+C does; return its exit code."""
        return self._end(signal.SIGINT)

    def _end(self, how: signal.Signals) -> int:
        assert self._process is not None and self._process.stdout is not None
        self._process.send_signal(how)
        code = self._process.wait(_LEAVE_TIME_S)
        self._process.stdout.close()
        self._process = None
        return code


@contextlib.contextmanager
def plain_host(root: Path) -> Iterator[str]:
    """Serve a folder as a web host does that knows nothing of the app; give its address."""
    handler = partial(_Silent, directory=str(root))
    with QuietServer(("127.0.0.1", 0), handler) as server:
        server.daemon_threads = True
        thread = threading.Thread(target=server.serve_forever, args=(0.01,), daemon=True)
        thread.start()
        try:
            yield f"http://127.0.0.1:{server.server_address[1]}/"
        finally:
            server.shutdown()
            thread.join()


class QuietServer(http.server.ThreadingHTTPServer):
    """A server that says nothing of browsers that hang up: the words would land in other tests."""

    def handle_error(self, request: object, client_address: object) -> None:
        """Say nothing: what matters to a test is what the browser got."""


class _Silent(http.server.SimpleHTTPRequestHandler):
    protocol_version = "HTTP/1.1"

    def log_message(self, *_: object) -> None:
        """Say nothing."""
