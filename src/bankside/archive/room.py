"""A disk that is full, told from other troubles with files."""

from __future__ import annotations

import errno

__all__ = ["is_full"]

_FULL = frozenset({errno.ENOSPC, errno.EDQUOT, errno.EFBIG})


def is_full(error: OSError) -> bool:
    """Return whether there is no room: on the disk, in what a user may fill, or for one file."""
    return error.errno in _FULL
