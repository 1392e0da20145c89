"""Whether stones or weed were moved at the section while it was being measured."""

from __future__ import annotations

import datetime
from collections.abc import Iterator

from bankside.gauging.checks.examined import Examined
from bankside.gauging.checks.finding import Check, Finding, Severity
from bankside.gauging.records import Gauging

__all__ = ["CHECKS"]


def _disturbed(examined: Examined) -> Iterator[Finding]:
    start, end = _span(examined.gauging)
    cleared = examined.gauging.cleared
    if cleared is None or start is None or cleared <= start:
        return
    # Moments may come from several clocks; they are told by that of the start.
    moved = f"Stones or weed were moved at {cleared.astimezone(start.tzinfo):%H:%M}"
    severity: Severity
    if not examined.finished or (end is not None and cleared < end):
        severity = "fix now"
        found = (
            f"{moved}, after the measuring had begun at {start:%H:%M}: what was read before and "
            "after no longer belongs together."
        )
        advice = "Wait until the water has settled, then start again from the first edge."
    elif end is None:
        severity = "explain"
        found = (
            f"{moved}, after the measuring had begun at {start:%H:%M}, and when it ended is not "
            "written down."
        )
        advice = "Write down the end; if it was later, the measuring should be started again."
    else:
        severity = "note"
        found = f"{moved}, after the last reading at {end.astimezone(start.tzinfo):%H:%M}."
        advice = "The measurement stands; the next one, and a second stage, are of another bed."
    yield Finding(
        check="Bed disturbed during measuring", severity=severity, found=found, advice=advice
    )


def _span(gauging: Gauging) -> tuple[datetime.datetime | None, datetime.datetime | None]:
    """Return start and end, by the times of the verticals where the header does not say them."""
    times = [v.at for c in gauging.channels for v in c.verticals if v.at is not None]
    return (
        gauging.started or min(times, default=None),
        gauging.ended or max(times, default=None),
    )


CHECKS = (
    Check(
        name="Bed disturbed during measuring",
        trigger="Stones or weed were last moved after the start; only to be known if that was "
        "after the end, and to be explained where the end is unknown.",
        severities=("fix now", "explain", "note"),
        remedy="Let the water settle and start again.",
        source="common practice, no source: tidy first, then wait, then measure",
        find=_disturbed,
    ),
)
