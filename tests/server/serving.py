"""The server of an office as a process of its own, which can be killed and started again."""

from __future__ import annotations

import os
import re
import signal
import subprocess
import sys
import tempfile
from pathlib import Path

_SAID = re.compile(r"Bankside is at (https?://[^ ;]+)")
_LEAVE_TIME_S = 20
_CODE = """
import sys
from pathlib import Path
from bankside.cli import main, serve
from bankside.server.built_app import BuiltApp
serve.built_app = lambda: BuiltApp(Path(sys.argv[1]), "0.1.0+a", {})
sys.exit(main(["serve", *sys.argv[2:]]))
"""


class Serving:
    """`bankside serve --archive` with an app that has no files, so that no test waits for one."""

    def __init__(self, place: str, folder: Path, *options: str) -> None:
        self._arguments = (str(folder), "--archive", place, *options)
        self._process: subprocess.Popen[str] | None = None
        self.page = ""
        self.said = ""
        """What it said, on either stream, until it ended."""
        self.start()

    def start(self) -> None:
        """Start it, and wait until it listens."""
        self._wrong = tempfile.TemporaryFile("w+")  # noqa: SIM115 (closed where it is ended)
        self._process = subprocess.Popen(
            [sys.executable, "-c", _CODE, *self._arguments],
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=self._wrong,
            text=True,
            env={**os.environ, "PYTHONWARNINGS": "error"},
        )
        assert self._process.stdout is not None
        self.said = self._process.stdout.readline()
        found = _SAID.search(self.said)
        if found is None:
            self._process.wait(_LEAVE_TIME_S)
            raise AssertionError(f"the server did not start: {self._all_said()}")
        self.page = found[1]

    @property
    def pid(self) -> int:
        """The number of its process."""
        assert self._process is not None
        return self._process.pid

    def kill(self) -> None:
        """End it as a power cut does: it gets no chance to finish anything."""
        self._end(signal.SIGKILL)

    def stop(self) -> int:
        """Stop it as a service manager does; return its exit code."""
        return self._end(signal.SIGTERM)

    def _end(self, how: signal.Signals) -> int:
        assert self._process is not None and self._process.stdout is not None
        self._process.send_signal(how)
        code = self._process.wait(_LEAVE_TIME_S)
        self._all_said()
        self._process = None
        return code

    def _all_said(self) -> str:
        """Read what is left to be read of what it said, and let go of where it stands."""
        assert self._process is not None and self._process.stdout is not None
        with self._process.stdout as out, self._wrong as wrong:
            wrong.seek(0)
            self.said += out.read() + wrong.read()
        return self.said
