"""Whether stones or weed were moved at the section while it was being measured."""

from __future__ import annotations

import datetime
from collections.abc import Iterator

from bankside.gauging.checks.examined import Examined
from bankside.gauging.checks.finding import Check, Finding
from bankside.gauging.records import Gauging

__all__ = ["CHECKS"]


def _disturbed(examined: Examined) -> Iterator[Finding]:
    gauging = examined.gauging
    start, end = _span(gauging)
    cleared = gauging.cleared
    if cleared is None or start is None or cleared <= start:
        return
    when = f"{cleared:%H:%M}"
    if not examined.finished or end is None or cleared < end:
        until = "" if end is None or not examined.finished else f" and ended at {end:%H:%M}"
        yield Finding(
            check="Bed disturbed during measuring",
            severity="fix now",
            found=f"Stones or weed were moved at {when}, while the measuring had begun at "
            f"{start:%H:%M}{until}: the stage and what was read before no longer belong together.",
            advice="Wait until the water has settled, then start again from the first edge.",
        )
    else:
        yield Finding(
            check="Bed disturbed during measuring",
            severity="note",
            found=f"Stones or weed were moved at {when}, after the last reading at {end:%H:%M}.",
            advice="The measurement stands; the next one, and a second stage, are of another bed.",
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
        "after the end.",
        severities=("fix now", "note"),
        remedy="Let the water settle and start again.",
        source="common practice, no source: tidy first, then wait, then measure",
        find=_disturbed,
    ),
)
