"""How many heaps the memory of a server of many threads is taken from."""

from __future__ import annotations

import ctypes

__all__ = ["keep_heaps_few"]

# M_ARENA_MAX of glibc's malloc.h (from memory): how many heaps there may be.
_ARENA_MAX = -8
_FEW = 2


def keep_heaps_few() -> None:
    """Have threads share two heaps, where the C library is glibc; to be called before any is begun.

    It gives eight for each core (from memory), and what threads free in one is of no use to the
    others: the memory of a server grows. Threads of Python wait for each other anyway.
    """
    try:
        ctypes.CDLL(None).mallopt(_ARENA_MAX, _FEW)
    except (OSError, TypeError, AttributeError):
        # Another C library has no such thing, and Windows nothing that is loaded already.
        return
