"""How often somebody may try a password or a code that is wrong."""

from __future__ import annotations

import threading
import time
from collections import OrderedDict
from collections.abc import Callable

__all__ = ["Attempts"]

_MOST_KEPT = 10_000


class Attempts:
    """Failures by whom or against whom they were, counted in memory for some minutes.

    After `most` failures within `seconds` the next ones are not even looked at.
    """

    def __init__(
        self, most: int, seconds: float = 900, clock: Callable[[], float] = time.monotonic
    ) -> None:
        self._most = most
        self._seconds = seconds
        self._clock = clock
        self._failed: OrderedDict[str, list[float]] = OrderedDict()
        self._lock = threading.Lock()

    def begin(self, key: str) -> int:
        """Count an attempt as a failure and return 0, or return for how many seconds none may be.

        `take_back` what turned out to be no failure.
        """
        with self._lock:
            recent = self._recent(key)
            if len(recent) >= self._most:
                return max(1, int(recent[-self._most] + self._seconds - self._clock()) + 1)
            self._failed[key] = [*recent, self._clock()]
            self._failed.move_to_end(key)
            while len(self._failed) > _MOST_KEPT:
                self._failed.popitem(last=False)
            return 0

    def take_back(self, key: str) -> None:
        """Let the last attempt be no failure."""
        with self._lock:
            kept = self._recent(key)[:-1]
            if kept:
                self._failed[key] = kept
            else:
                self._failed.pop(key, None)

    def forget(self, key: str) -> None:
        """Forget the failures, as it was the right person after all."""
        with self._lock:
            self._failed.pop(key, None)

    def _recent(self, key: str) -> list[float]:
        since = self._clock() - self._seconds
        return [at for at in self._failed.get(key, ()) if at > since]
