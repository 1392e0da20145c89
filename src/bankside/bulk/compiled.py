"""The kernel as Numba compiles it; the kernel itself knows nothing of it.

Every function of the kernel is registered from outside, so that compiled code may call it. What
runs over columns is written beside, as plain functions that call the kernel's own, and compiled by
`compiled`. Compiled code is kept on disk. Numba notices a change of the file in which a compiled
function stands, and not one of the functions that it calls: so the folder is named after all
sources of `kernel` and `bulk`, and a change in any of them finds an empty one.
"""

from __future__ import annotations

import hashlib
import importlib
import inspect
import os
import pkgutil
import sys
import tempfile
from collections.abc import Callable
from functools import cache
from pathlib import Path
from types import ModuleType
from typing import Any, TypeVar

import bankside.kernel
from bankside.gauging.faults import BanksideError

try:
    import numba
    from numba import njit
    from numba.extending import register_jitable
except ModuleNotFoundError as missing:
    raise BanksideError(
        f"Working out whole tables needs {missing.name}, which a plain install has not; in the "
        f"folder of Bankside, {sys.executable} -m pip install '.[bulk]' adds it."
    ) from missing

__all__ = ["cache_folder", "compiled", "helping", "sources_key"]

F = TypeVar("F", bound=Callable[..., Any])

_OPTIONS: dict[str, Any] = {"cache": True, "nogil": True, "_nrt": False}
_HELPING: dict[str, Any] = {"forceinline": True, "_nrt": False}
_SOURCES = (Path(bankside.kernel.__file__).parent, Path(__file__).parent)


def cache_folder() -> Path:
    """Return where compiled code of exactly these sources is kept.

    Below `BANKSIDE_CACHE`, or else the user's cache (`XDG_CACHE_HOME`, `~/.cache`); where neither
    can be written, in a folder of its own below the system's temporary one.
    """
    told = os.environ.get("BANKSIDE_CACHE")
    cache_home = Path(os.environ.get("XDG_CACHE_HOME") or Path.home() / ".cache")
    folder = (Path(told) if told else cache_home / "bankside") / "compiled" / sources_key()
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError:
        return Path(tempfile.gettempdir()) / f"bankside-compiled-{os.getuid()}" / sources_key()
    return folder


@cache
def sources_key() -> str:
    """Return what tells the sources of `kernel` and `bulk` from all others."""
    told = hashlib.sha256(numba.__version__.encode())
    for path in sorted(path for folder in _SOURCES for path in folder.glob("*.py")):
        told.update(path.name.encode() + b"\0" + path.read_bytes())
    return told.hexdigest()[:16]


def compiled(function: F) -> F:
    """Return the compiled twin of a function over columns; it compiles at the first call.

    It lets other threads run meanwhile. Multiplications and additions stay as they are written: no
    `fastmath`, so that every bit is that of the interpreted function. It can ask for no memory, so
    that nothing has to be counted: counting who holds a slice of a column, at every call of the
    kernel, took ten times as long as the arithmetic.
    """
    _register_kernel()
    before = numba.config.CACHE_DIR  # type: ignore[attr-defined]
    numba.config.CACHE_DIR = str(cache_folder())  # type: ignore[attr-defined]
    try:
        twin: F = njit(**_OPTIONS)(function)
    finally:
        numba.config.CACHE_DIR = before  # type: ignore[attr-defined]
    return twin


def helping(function: F) -> F:
    """Return a function that stays as it is, and that compiled ones may call."""
    registered: F = register_jitable(**_HELPING)(function)
    return registered


@cache
def _register_kernel() -> None:
    for info in pkgutil.iter_modules(bankside.kernel.__path__, "bankside.kernel."):
        for function in _own_functions(importlib.import_module(info.name)):
            helping(function)


def _own_functions(module: ModuleType) -> list[Callable[..., Any]]:
    """Return the functions that a module defines itself, the private ones among them."""
    return [
        function
        for _, function in inspect.getmembers(module, inspect.isfunction)
        if function.__module__ == module.__name__
    ]
