"""A record as the stream showed it: whether a call to come out came of the water or of a figure."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

import attrs

from bankside.gauging.checks.run import check_gauging
from bankside.gauging.records import Channel, Gauging, PointReading, StageReading, Vertical
from bankside.gauging.rule_sets.rule_set import RuleSet
from bankside.gauging.units import metres_per, metres_per_second_per
from bankside.practice.debrief.heeded import Heeded, calls_out
from bankside.practice.debrief.matching import Behind, behind_verticals
from bankside.practice.session.followed import Followed
from bankside.practice.session.shown import ShownStage

__all__ = ["as_shown", "is_borne"]

_OF_THE_WATER: Final = frozenset(
    {"Water too strong to wade", "Deeper than wading work", "Level changed"}
)
"""The checks that call people out for what the water does; others call for a figure."""
# So far beyond the swing of the surface a depth is still the one that was shown, in m (ours).
_READ_TO: Final = 0.01


def is_borne(followed: Followed, record: Gauging, rules: RuleSet, rows: Sequence[Heeded]) -> bool:
    """Return whether a call that was heeded comes of figures that the session showed.

    Where it does not, a figure was made up or written wrongly, and nobody was called by the water.
    """
    heeded = {row.check for row in rows if row.calls_out and row.fate == "came out"}
    heeded &= _OF_THE_WATER
    if not heeded:
        return False
    found = check_gauging(as_shown(followed, record), rules, finished=False)
    return any(one.check in heeded and calls_out(one) for one in found)


def as_shown(followed: Followed, record: Gauging) -> Gauging:
    """Return a record with what was shown at each mark, and nothing that was not shown.

    A depth is the one written as far as the surface swung there. A velocity is that of the water
    while the meter was held, in the unit of the sheet whatever the meter was set to.
    """
    metre = metres_per(record.units.length)
    stage = tuple(
        StageReading(one.value / metre) for one in followed.shown if isinstance(one, ShownStage)
    )
    return attrs.evolve(
        record,
        channels=tuple(_channels(followed, record)),
        stage=stage,
        no_gauge=not stage,
        filed=None,
        answers=(),
    )


def _channels(followed: Followed, record: Gauging) -> Iterator[Channel]:
    if followed.section is None:
        yield Channel(())
        return
    behind = behind_verticals(followed, record)
    for c, channel in enumerate(record.channels):
        rows = (
            _row(record, row, behind[c, v])
            for v, row in enumerate(channel.verticals)
            if row.edge is None
        )
        yield Channel(tuple(row for row in rows if row is not None))


def _row(record: Gauging, row: Vertical, behind: Behind) -> Vertical | None:
    """Return a vertical as it was shown; None where nobody stood the rod, or found it dry."""
    if behind.sound is None or row.depth is None:
        return None
    unit = metres_per(record.units.depth or record.units.length)
    low, high = max(0.0, behind.sound.low - _READ_TO), behind.sound.high + _READ_TO
    depth = min(max(row.depth * unit, low), high) / unit
    speed = metres_per_second_per(record.units.velocity)
    velocity = tuple(
        PointReading((point.true + point.deviation) / speed, reading.fraction)
        for reading, point in zip(row.velocity, behind.points, strict=True)
        if point is not None and point.called is not None
    )
    return Vertical(row.tape, depth, velocity)
