"""Many gaugings worked out by several threads at once.

A thread takes a stretch of gaugings at a time; compiled code lets the others run. Each gauging is
worked out by one thread alone, in the order of its stations, so that the number of threads changes
no bit.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from functools import cache
from itertools import pairwise
from typing import Any

import numpy as np

from bankside.bulk import faults, sections
from bankside.bulk.columns import Columns, Flags, Floats, Panels, Read, unchanging

__all__ = [
    "KernelRefused",
    "across",
    "faults_of",
    "panels_of",
    "use_threads",
]

# So many stretches for each thread: none waits long for another that has the larger gaugings.
_STRETCHES = 4
# Fewer gaugings than this are not worth handing over to a thread.
_LEAST = 256


_most_threads: int | None = None


def use_threads(count: int) -> None:
    """Let this process use no more than so many threads: others share its processors."""
    global _most_threads
    _most_threads = count


def threads() -> int:
    """Return how many threads work: as many as this process may use processors, if not told."""
    if _most_threads is not None:
        return _most_threads
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


@cache
def _pool() -> ThreadPoolExecutor:
    return ThreadPoolExecutor(threads())


class KernelRefused(Exception):
    """The kernel cannot work out some gaugings; `why` has its words by their numbers."""

    def __init__(self, why: dict[int, str]) -> None:
        self.why = why
        super().__init__(why)


# What the kernel, and arithmetic itself, refuse with.
_REFUSALS = (ValueError, IndexError, ArithmeticError)


def across(
    count: int,
    work: Callable[..., None],
    *arguments: Any,
    room: Callable[[], tuple[Any, ...]] = tuple,
) -> None:
    """Call compiled `work(first, last, *arguments)` for stretches that cover `count` gaugings.

    `room` gives the arrays that each call is to work in, besides. KernelRefused, with all of them,
    where the kernel refuses gaugings.
    """
    pieces = min(threads() * _STRETCHES, max(count // _LEAST, 1))
    bounds = [count * piece // pieces for piece in range(pieces + 1)]
    work(0, 0, *arguments, *room())  # compiles, once, before all threads ask for it
    waiting = [
        (first, last, _pool().submit(work, first, last, *arguments, *room()))
        for first, last in pairwise(bounds)
    ]
    refused: dict[int, str] = {}
    for first, last, one in waiting:
        try:
            one.result()
        except _REFUSALS:
            refused |= _one_by_one(first, last, work, *arguments, *room())
    if refused:
        raise KernelRefused(refused)


def _one_by_one(
    first: int, last: int, work: Callable[..., None], *arguments: Any
) -> Iterator[tuple[int, str]]:
    """Yield the gaugings of a stretch that the kernel refuses, with its words."""
    for k in range(first, last):
        try:
            work(k, k + 1, *arguments)
        except _REFUSALS as error:
            yield k, str(error)


def faults_of(columns: Columns) -> tuple[Flags, dict[int, str]]:
    """Return which gaugings are sound, and a sentence for each that is not."""
    count = len(columns)
    fault, where = np.zeros(count, np.int64), np.zeros(count, np.int64)
    across(count, faults.find_faults, columns.stations, fault, where)
    if columns.read is not None:
        read = Read(*map(unchanging, columns.read))
        across(count, faults.find_unread, columns.stations, read, fault, where)
    sound = fault == faults.SOUND
    return sound, {
        int(k): faults.sentence(columns, int(fault[k]), int(where[k]))
        for k in np.flatnonzero(~sound)
    }


def panels_of(columns: Columns, discharge: Floats, amount: Floats) -> Panels:
    """Return the panels of gaugings with these discharges."""
    made = Panels(*(np.empty(len(columns.tape_m)) for _ in Panels._fields))
    across(len(columns), sections.panels, columns.stations, discharge, amount, made)
    return made
