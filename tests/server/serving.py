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
        self.start()

    def start(self) -> None:
        """Start it, and wait until it listens."""
        with tempfile.TemporaryFile("w+") as wrong:
            self._process = subprocess.Popen(
                [sys.executable, "-c", _CODE, *self._arguments],
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
                raise AssertionError(f"the server did not start: {wrong.read()}")
        self.page = said[1]

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
        self._process.stdout.close()
        self._process = None
        return code
