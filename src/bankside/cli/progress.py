"""How far the work is, on stderr, for people at a terminal and only for long work."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from typing import TypeVar

from rich.console import Console
from rich.progress import Progress, track

__all__ = ["counted", "tracked"]

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


@contextmanager
def counted(what: str, all_: int | None = None) -> Iterator[Callable[[int], object]]:
    """Give a function that is told how many are done, and show it to people at a terminal."""
    if not sys.stderr.isatty() or (all_ is not None and all_ < _FEW):
        yield lambda done: None
        return
    with Progress(console=Console(stderr=True), transient=True) as progress:
        task = progress.add_task(what, total=all_)
        yield lambda done: progress.update(task, completed=done)
