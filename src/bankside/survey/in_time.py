"""The visits of a survey in order of time."""

from __future__ import annotations

import datetime
from collections.abc import Iterable

from bankside.survey.visits import Visit

__all__ = ["in_time", "moment_key"]

_NO_TIME = datetime.datetime.max.replace(tzinfo=datetime.UTC)


def moment_key(visit: Visit) -> tuple[datetime.date, datetime.datetime, str]:
    """Return what visits are ordered by: day, start, id; what is not written down comes last."""
    started = visit.gauging.started
    return (
        visit.day or datetime.date.max,
        _NO_TIME if started is None else started,
        visit.id,
    )


def in_time(visits: Iterable[Visit]) -> tuple[Visit, ...]:
    """Return visits in order of time, the same whichever way they were given."""
    return tuple(sorted(visits, key=moment_key))
