"""Loops for the tests of a server, beside the one that a browser's driver keeps."""

from __future__ import annotations

import asyncio
from collections.abc import Coroutine
from concurrent.futures import ThreadPoolExecutor
from typing import Any, TypeVar

T = TypeVar("T")


def run(coroutine: Coroutine[Any, Any, T]) -> T:
    """Run to the end in a loop of its own, and return what comes of it.

    It is in a thread of its own: once a test has opened a browser, the browser's driver keeps a
    loop in the thread of the tests, where no other can run.
    """
    with ThreadPoolExecutor(1) as thread:
        return thread.submit(asyncio.run, coroutine).result()
