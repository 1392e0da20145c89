"""How long the crew still stands in the water, by the plan and by its own pace."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from statistics import median

from bankside.bank.crossed import is_read, planned_positions
from bankside.bank.standing import Standing
from bankside.gauging.plan_timing import Timing
from bankside.gauging.records import Vertical

__all__ = ["seconds_left"]

# Fewer steps from vertical to vertical tell no pace (ours, no source).
_FEWEST_STEPS = 3
_LONGEST_EXPOSURE = 3600.0


def seconds_left(standing: Standing) -> float | None:
    """Return the seconds that the planned verticals of the first channel still take.

    Each takes as long as the median of those so far took, from one to the next; before there are
    four, the exposure of the rule set at one point and the usual time for moving. None without a
    plan, 0 once all readings are there.
    """
    planned = planned_positions(standing.recorded)
    if not planned or standing.gauging is None:
        return None
    if standing.finished:
        return 0.0
    channels = standing.gauging.channels
    read = [v for v in channels[0].verticals if v.edge is None and is_read(v)] if channels else []
    return _to_come(planned, read) * (_pace(read) or _usual(standing))


def _to_come(planned: Sequence[float], read: Sequence[Vertical]) -> int:
    """Return how many planned positions lie beyond the last vertical on the way."""
    if not read:
        return len(planned)
    tapes = [vertical.tape for vertical in read]
    if planned[-1] >= planned[0]:
        return sum(position > max(tapes) for position in planned)
    return sum(position < min(tapes) for position in planned)


def _pace(read: Sequence[Vertical]) -> float | None:
    """Return the seconds from one vertical to the next, None where too few tell."""
    times = sorted(vertical.at for vertical in read if vertical.at is not None)
    steps = [(b - a).total_seconds() for a, b in pairwise(times)]
    return median(steps) if len(steps) >= _FEWEST_STEPS else None


def _usual(standing: Standing) -> float:
    exposure = min(standing.rules.si("exposure"), _LONGEST_EXPOSURE)
    timing = Timing(exposure_seconds=exposure, crossing_seconds=0.0)
    return timing.seconds(1)
