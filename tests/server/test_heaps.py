"""How many heaps a server of many threads takes its memory from."""

from __future__ import annotations

import ctypes
import platform
import subprocess
import sys
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
import uvicorn

from bankside.server import listen
from bankside.server.built_app import BuiltApp
from bankside.server.heaps import keep_heaps_few

# Twenty threads that all hold memory at the same moment; then the C library says what heaps it has.
_THREADS = """
import ctypes, sys, threading
if sys.argv[1] == "few":
    from bankside.server.heaps import keep_heaps_few
    keep_heaps_few()
gate = threading.Barrier(20)
def hold():
    held = [bytearray(5000) for _ in range(20)]
    gate.wait()
threads = [threading.Thread(target=hold) for _ in range(20)]
for one in threads: one.start()
for one in threads: one.join()
c = ctypes.CDLL(None)
c.fopen.restype = ctypes.c_void_p
file = ctypes.c_void_p(c.fopen(sys.argv[2].encode(), b"w"))
c.malloc_info(0, file)
c.fclose(file)
"""


@pytest.mark.skipif(platform.libc_ver()[0] != "glibc", reason="only glibc has such heaps")
def test_twenty_threads_share_two_heaps(tmp_path: Path) -> None:
    """Left to itself the C library gives them more, none of which is of use to another."""
    heaps = {}
    for how in ("few", "as it is"):
        told = tmp_path / how
        subprocess.run([sys.executable, "-c", _THREADS, how, str(told)], check=True)
        heaps[how] = told.read_text(encoding="utf-8").count("<heap nr=")

    assert heaps["few"] == 2 < heaps["as it is"]


def test_another_c_library_is_left_as_it_is(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where nothing is loaded, or has no such setting, a server starts all the same."""

    def loads_nothing(error: Exception) -> Any:
        def load(_: None) -> None:
            raise error

        return load

    for load in (
        loads_nothing(OSError("no such library")),
        loads_nothing(TypeError("a name is wanted")),
        lambda _: SimpleNamespace(),
    ):
        monkeypatch.setattr(ctypes, "CDLL", load)
        keep_heaps_few()


def test_heaps_are_few_before_anything_is_served(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A heap that a thread was given stays: so that it is said before there is a thread."""
    done: list[str] = []

    def run(_: uvicorn.Server, sockets: object) -> None:
        done.append("served")

    monkeypatch.setattr(listen, "keep_heaps_few", lambda: done.append("few"))
    monkeypatch.setattr(uvicorn.Server, "run", run)
    app = BuiltApp(tmp_path, "0.1.0+a", {})
    listen.serve_app(app, "127.0.0.1", 0, lambda _: done.append("ready"))

    assert done == ["few", "ready", "served"]
