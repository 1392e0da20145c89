"""Whether all readings of a gauging are there: told by the journal, as nobody says it aloud."""

from __future__ import annotations

from itertools import pairwise
from statistics import median

from bankside.gauging.journal.record import Recorded
from bankside.gauging.journal.so_far import is_over
from bankside.gauging.records import Channel, Gauging, Vertical

__all__ = ["is_finished", "is_read", "planned_positions"]

# Ours, no source: the way across is done where the last gap is no wider than this, over the median.
_LAST_GAP = 1.5
_ROUNDING = 1e-9


def is_finished(recorded: Recorded, record: Gauging) -> bool:
    """Return whether all readings are there, as far as a journal tells.

    They are once the gauging was closed or its end was written down. Before that, where every
    channel has both edges of water and the crew has crossed between them: an edge was called last,
    after the verticals; or, where both were called before, the last planned position was read, or
    without a plan what is left to the far edge is no wider than the spacing so far makes likely
    (ours, no source).
    """
    return is_over(recorded) or (
        bool(record.channels)
        and all(_crossed(recorded, index, channel) for index, channel in enumerate(record.channels))
    )


def planned_positions(recorded: Recorded) -> tuple[float, ...]:
    """Return the tape positions of the plan in the order of the way, none without a sound plan."""
    plan = recorded.plan or {}
    try:
        return tuple(float(position) for position in plan.get("positions", ()))
    except (TypeError, ValueError):
        return ()


def _crossed(recorded: Recorded, index: int, channel: Channel) -> bool:
    edges = [i for i, v in enumerate(channel.verticals) if v.edge is not None]
    between = [i for i, v in enumerate(channel.verticals) if v.edge is None and is_read(v)]
    if len(edges) < 2 or not between:
        return False
    called = {i: _called(recorded, index, i) for i in (*edges, *between)}
    last_edge = max(edges, key=lambda i: called[i])
    if called[last_edge] > min(called[i] for i in between):
        return True
    return _reached(recorded, index, channel, between)


def _called(recorded: Recorded, channel: int, vertical: int) -> tuple[int, str, str]:
    """Return when the tape position of a vertical was first called, in the order of entries."""
    what = recorded.what_of(channel, vertical, "tape")
    return recorded.said[what].history[0].order


def is_read(vertical: Vertical) -> bool:
    """Return whether a vertical was read: dry, or with a velocity."""
    return vertical.dry or vertical.depth == 0 or bool(vertical.velocity)


def _reached(recorded: Recorded, index: int, channel: Channel, between: list[int]) -> bool:
    """Return whether the crew has come to the far edge, both edges being called beforehand."""
    tapes = sorted(v.tape for v in channel.verticals if v.edge is not None)
    read = sorted(channel.verticals[i].tape for i in between)
    planned = [p for p in planned_positions(recorded) if tapes[0] < p < tapes[-1]]
    if index == 0 and len(planned) > 1:
        # Nobody stands just on the last mark; half of the last step is near enough.
        step = planned[-1] - planned[-2]
        goal = planned[-1] - step / 2
        return read[-1] >= goal if step > 0 else read[0] <= goal
    start = channel.verticals[min(between, key=lambda i: _called(recorded, index, i))].tape
    onward = start - tapes[0] <= tapes[-1] - start
    left = tapes[-1] - read[-1] if onward else read[0] - tapes[0]
    gaps = [b - a for a, b in pairwise(read)]
    return bool(gaps) and left <= _LAST_GAP * median(gaps) * (1 + _ROUNDING)
