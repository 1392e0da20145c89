"""Moments as an archive keeps them."""

from __future__ import annotations

import datetime

__all__ = ["in_seconds", "now"]


def now() -> str:
    """Return this moment in UTC as ISO 8601 with microseconds, so that texts sort as times."""
    return in_seconds(0)


def in_seconds(seconds: float) -> str:
    """Return the moment that is so many seconds from now, as `now` does."""
    moment = datetime.datetime.now(datetime.UTC) + datetime.timedelta(seconds=seconds)
    return moment.isoformat(timespec="microseconds")
