"""Moments as an archive keeps them."""

from __future__ import annotations

import datetime

from sqlalchemy import ColumnElement

__all__ = ["in_seconds", "now", "running"]

# A clock that a network sets steps by seconds; assumed.
_STEP_S = 300


def now() -> str:
    """Return this moment in UTC as ISO 8601 with microseconds, so that texts sort as times."""
    return in_seconds(0)


def in_seconds(seconds: float) -> str:
    """Return the moment that is so many seconds from now, as `now` does."""
    moment = datetime.datetime.now(datetime.UTC) + datetime.timedelta(seconds=seconds)
    return moment.isoformat(timespec="microseconds")


def running(until: ColumnElement[str], hours: float) -> tuple[ColumnElement[bool], ...]:
    """Return the conditions under which what was given for some hours, until a moment, holds now.

    What holds for longer than it was given for was given while the clock of this machine was
    ahead: it would outlive its hours by as much as the clock was wrong, and is void.
    """
    return until > now(), until <= in_seconds(hours * 3600 + _STEP_S)
