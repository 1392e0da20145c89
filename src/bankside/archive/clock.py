"""Moments as an archive keeps them."""

from __future__ import annotations

import datetime

__all__ = ["now"]


def now() -> str:
    """Return this moment in UTC as ISO 8601 with microseconds, so that texts sort as times."""
    return datetime.datetime.now(datetime.UTC).isoformat(timespec="microseconds")
