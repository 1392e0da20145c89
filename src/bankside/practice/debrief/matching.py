"""Which act at the stream stands behind each vertical and reading that was written down."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Final

import attrs

from bankside.gauging.records import Gauging, Vertical
from bankside.gauging.units import metres_per
from bankside.practice.session.followed import Followed
from bankside.practice.session.shown import ShownDepth, ShownPoint
from bankside.practice.session.water import Water

__all__ = ["Behind", "behind_verticals"]

_SAME_MARK: Final = 1e-6


@attrs.frozen(eq=False)
class Behind:
    """What happened where a vertical was read: its true place, and what was shown there.

    `y` is in m; `points` are in the order of the readings written, None where none was made.
    `water` is that of the section when it was read.
    """

    y: float
    water: Water
    sound: ShownDepth | None
    points: tuple[ShownPoint | None, ...]


def behind_verticals(followed: Followed, record: Gauging) -> Mapping[tuple[int, int], Behind]:
    """Return what stands behind each vertical, by channel and place; edges are left out.

    A vertical belongs to what was read at its tape mark. Where marks are left that nobody wrote,
    and as many verticals at which nobody read, they belong together in their order: the mark was
    written wrongly. A vertical that is left after that was never read.
    """
    last = max((i for i, act in enumerate(followed.session.acts) if act.do == "choose"), default=0)
    marks: dict[float, list[int]] = {}
    for place in range(last, len(followed.shown)):
        shown = followed.shown[place]
        if isinstance(shown, ShownDepth | ShownPoint):
            marks.setdefault(round(shown.tape, 6), []).append(place)
    metre = metres_per(record.units.length)
    rows = {
        (c, v): vertical
        for c, channel in enumerate(record.channels)
        for v, vertical in enumerate(channel.verticals)
        if vertical.edge is None
    }
    mark_of = _paired({key: row.tape * metre for key, row in rows.items()}, sorted(marks))
    return {
        key: _behind(followed, row, metre, marks.get(mark_of.get(key, math.nan), []))
        for key, row in rows.items()
    }


def _paired(
    tapes: Mapping[tuple[int, int], float], marks: Sequence[float]
) -> dict[tuple[int, int], float]:
    """Return the mark that belongs to each vertical, as far as one does."""
    found: dict[tuple[int, int], float] = {}
    left = list(marks)
    for key, tape in tapes.items():
        nearest = min(left, key=lambda mark: abs(mark - tape), default=math.inf)
        if abs(nearest - tape) < _SAME_MARK:
            found[key] = nearest
            left.remove(nearest)
    others = sorted((tape, key) for key, tape in tapes.items() if key not in found)
    if len(others) == len(left):
        found |= {key: mark for (_, key), mark in zip(others, left, strict=True)}
    return found


def _behind(followed: Followed, row: Vertical, metre: float, places: Sequence[int]) -> Behind:
    shown = [(place, followed.shown[place]) for place in places]
    sounds = [(p, one) for p, one in shown if isinstance(one, ShownDepth)]
    holds = [(p, one) for p, one in shown if isinstance(one, ShownPoint)]
    place, y = _true_place(followed, row.tape * metre, places)
    water = followed.waters[place]
    assert water is not None
    left = [one for _, one in reversed(holds)]
    points: list[ShownPoint | None] = []
    for reading in row.velocity:
        fitting = [one for one in left if reading.fraction in (None, one.fraction)]
        # Of several at one point the last counts, as it was read again for a reason.
        points.append(fitting[0] if fitting else None)
        if fitting:
            left.remove(fitting[0])
    return Behind(y, water, sounds[-1][1] if sounds else None, tuple(points))


def _true_place(followed: Followed, tape: float, places: Sequence[int]) -> tuple[int, float]:
    """Return the last act at a vertical and its true place; that of its mark where it has none."""
    if places:
        shown = followed.shown[places[-1]]
        assert isinstance(shown, ShownDepth | ShownPoint)
        return places[-1], shown.y
    section, last = followed.section, len(followed.waters) - 1
    assert section is not None
    left = section.water.stream.left
    skew = math.cos(math.radians(followed.skew or 0.0))
    return last, left + (tape - left) * skew
