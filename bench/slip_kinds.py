"""Slips of reading, hearing and writing, put one at a time into gaugings that have none."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from decimal import Decimal

import attrs

from bankside.gauging.records import Channel, Gauging, Vertical

FEET = 3.280839895
"""Feet in a metre, as many as a unit mistaken shows."""

Change = Callable[[Gauging], Gauging]


@attrs.frozen
class Slip:
    """One slip: its kind, what makes it, the tape positions at which it should be found.

    No positions: any finding about the sheet as a whole will do. `moved` is the position called
    and the true one, where the tape was misread. `meant` is the figure before the slip. `beyond`
    is how many times the figure written is beyond the range of the two on either side, 1 within it.
    """

    kind: str
    change: Change
    channel: int = 0
    tapes: tuple[float, ...] = ()
    moved: tuple[float, float] | None = None
    meant: float | None = None
    beyond: float | None = None


def slips(gauging: Gauging) -> Iterator[Slip]:
    """Yield every slip of every kind that a gauging has room for."""
    for index, channel in enumerate(gauging.channels):
        rows = channel.verticals
        for k in range(len(rows)):
            yield from _depth_slips(index, rows, k)
            yield from _velocity_slips(index, rows, k)
            yield from _tape_slips(index, rows, k)
            yield from _row_slips(index, rows, k)
        yield from _edge_slips(index, rows)
    yield from _sheet_slips()


def _depth_slips(index: int, rows: Sequence[Vertical], k: int) -> Iterator[Slip]:
    depth = rows[k].depth
    if not depth:
        return
    depths = [row.depth or 0.0 for row in rows]
    shallow = _shift(depth, -1)
    figures = [("depth ×10", _shift(depth, 1)), ("depth ÷10", shallow)]
    figures.append(("depth ÷10, last digit lost", round(shallow, _decimals(depths))))
    figures += [("digits swapped in a depth", f) for f in _swaps(depth, _decimals(depths))]
    for kind, figure in figures:
        if not figure:
            continue
        yield Slip(
            kind,
            _row(index, k, depth=figure),
            index,
            (rows[k].tape,),
            meant=depth,
            beyond=_beyond(figure, depths, k),
        )


def _velocity_slips(index: int, rows: Sequence[Vertical], k: int) -> Iterator[Slip]:
    if len(rows[k].velocity) != 1 or not rows[k].velocity[0].value or not rows[k].depth:
        return
    reading = rows[k].velocity[0]
    value = reading.value or 0.0
    values = [(row.velocity[0].value or 0.0) if row.velocity else 0.0 for row in rows]
    places = _decimals(values)
    figures = [
        ("one velocity ×3.28", round(value * FEET, places)),
        ("one velocity ÷3.28", round(value / FEET, places)),
        ("one velocity ×10", _shift(value, 1)),
        ("one velocity ÷10", _shift(value, -1)),
        ("one velocity ÷10, last digit lost", round(_shift(value, -1), places)),
    ]
    for kind, figure in figures:
        yield Slip(
            kind,
            _row(index, k, velocity=(attrs.evolve(reading, value=figure),)),
            index,
            (rows[k].tape,),
            meant=value,
            beyond=_beyond(figure, values, k),
        )


def _tape_slips(index: int, rows: Sequence[Vertical], k: int) -> Iterator[Slip]:
    tapes = [row.tape for row in rows]
    for figure in _swaps(tapes[k], _decimals(tapes)):
        around = sorted(tapes[max(0, k - 1) : k + 2 : 2]) if k else []
        between = len(around) == 2 and around[0] < figure < around[1]
        yield Slip(
            "digits swapped in a tape position",
            _row(index, k, tape=figure),
            index,
            (figure,),
            moved=(figure, tapes[k]),
            meant=tapes[k],
            beyond=1.0 if between else math.inf,
        )


def _row_slips(index: int, rows: Sequence[Vertical], k: int) -> Iterator[Slip]:
    if not 0 < k < len(rows) - 1:
        return
    around = (rows[k - 1].tape, rows[k + 1].tape)
    yield Slip("a vertical skipped", _cut(index, k), index, around)
    before, here = rows[k - 1], rows[k]
    if before.depth and here.depth and before.velocity and before.edge is None:
        copied = _row(index, k, depth=before.depth, velocity=before.velocity)
        yield Slip("a vertical copied down", copied, index, (here.tape,))


def _edge_slips(index: int, rows: Sequence[Vertical]) -> Iterator[Slip]:
    for k, beside in ((0, 1), (len(rows) - 1, -2)):
        if not rows[k].depth and len(rows) > 3:
            yield Slip("an edge missing", _cut(index, k), index, (rows[beside].tape,))


def _sheet_slips() -> Iterator[Slip]:
    for kind, factor in (("all velocities ×3.28", FEET), ("all velocities ÷3.28", 1 / FEET)):
        yield Slip(kind, _all_velocities(factor))
    for kind, factor in (
        ("all depths ×3.28", FEET),
        ("all depths ÷3.28", 1 / FEET),
        ("all depths ×100", 100.0),
    ):
        yield Slip(kind, _all_depths(factor))


def _row(index: int, k: int, **fields: object) -> Change:
    return lambda gauging: _with(
        gauging,
        index,
        lambda rows: (*rows[:k], attrs.evolve(rows[k], **fields), *rows[k + 1 :]),
    )


def _cut(index: int, k: int) -> Change:
    return lambda gauging: _with(gauging, index, lambda rows: (*rows[:k], *rows[k + 1 :]))


def _with(
    gauging: Gauging,
    index: int,
    change: Callable[[tuple[Vertical, ...]], tuple[Vertical, ...]],
) -> Gauging:
    channels = list(gauging.channels)
    channels[index] = Channel(change(channels[index].verticals), channels[index].name)
    return attrs.evolve(gauging, channels=tuple(channels))


def _every(gauging: Gauging, change: Callable[[Vertical], Vertical]) -> Gauging:
    for index in range(len(gauging.channels)):
        gauging = _with(gauging, index, lambda rows: tuple(change(row) for row in rows))
    return gauging


def _all_depths(factor: float) -> Change:
    def change(gauging: Gauging) -> Gauging:
        places = _decimals(r.depth or 0.0 for c in gauging.channels for r in c.verticals)
        return _every(
            gauging,
            lambda row: (
                row
                if row.depth is None
                else attrs.evolve(row, depth=round(row.depth * factor, places))
            ),
        )

    return change


def _all_velocities(factor: float) -> Change:
    def change(gauging: Gauging) -> Gauging:
        places = _decimals(
            p.value or 0.0 for c in gauging.channels for r in c.verticals for p in r.velocity
        )
        return _every(
            gauging,
            lambda row: attrs.evolve(
                row,
                velocity=tuple(
                    p if p.value is None else attrs.evolve(p, value=round(p.value * factor, places))
                    for p in row.velocity
                ),
            ),
        )

    return change


def _beyond(figure: float, values: Sequence[float], k: int) -> float:
    around = [*values[max(0, k - 2) : k], *values[k + 1 : k + 3]]
    low, high = min(around), max(around)
    if figure > high:
        return figure / high if high > 0 else math.inf
    return low / figure if 0 < figure < low else 1.0 if figure else math.inf


# The figures below are made here and not by the package, which would be measured by itself.


def _shift(value: float, places: int) -> float:
    return float(Decimal(repr(value)).scaleb(places))


def _decimals(values: object) -> int:
    return max(len(f"{v:.6f}".rstrip("0").partition(".")[2]) for v in values)  # type: ignore[attr-defined]


def _swaps(value: float, places: int) -> list[float]:
    text = f"{value:.{places}f}"
    point = text.find(".")
    digits = text.replace(".", "")
    found = []
    for k in range(len(digits) - 1):
        if digits[k] == digits[k + 1]:
            continue
        other = digits[:k] + digits[k + 1] + digits[k] + digits[k + 2 :]
        figure = float(other if point < 0 else f"{other[:point]}.{other[point:]}")
        if figure > 0:
            found.append(figure)
    return found
