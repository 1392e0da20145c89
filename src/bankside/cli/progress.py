"""How far the work is, on stderr, for people at a terminal and only for long work."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from typing import TypeVar

from rich.console import Console
from rich.progress import track

__all__ = ["tracked"]

T = TypeVar("T")

_FEW = 20
"""Fewer steps than this are over before anybody would look."""


def tracked(items: Sequence[T], what: str) -> Iterator[T]:
    """Yield the items, with a bar that says what is done to them and how many are left."""
    if len(items) < _FEW or not sys.stderr.isatty():
        yield from items
        return
    console = Console(stderr=True)
    yield from track(items, description=what, console=console, transient=True)
