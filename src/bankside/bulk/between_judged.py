"""How far a gauging is like those that the model between verticals was judged by.

As `gauging.between_remarks` says it in words, beside the interval of a record.
"""

from __future__ import annotations

from bankside.bulk.columns import Column, Whole
from bankside.bulk.compiled import helping
from bankside.gauging.between_ranges import DEEPEST_M, VELOCITY_MS, WIDTH_M

__all__ = ["read_and_beyond"]


@helping
def _beyond(value: float, least: float, most: float) -> float:
    return 0.0 if least <= value <= most else 1.0


@helping
def read_and_beyond(
    waters: int, ends: Whole, total: float, tape: Column, depth: Column, panel: Column, read: Column
) -> tuple[float, float]:
    """Return how many verticals with water were read, and how many ranges the stream is beyond.

    The ranges are of width, deepest vertical and mean velocity. Columns run from water to water as
    `ends` has them; `read` is 1 at a vertical that counts, `total` the discharge by its amount.
    """
    width, deepest, area, count, begin = 0.0, 0.0, 0.0, 0.0, 0
    for w in range(waters):
        end = ends[w]
        width += tape[end - 1] - tape[begin]
        for i in range(begin, end):
            deepest = max(deepest, depth[i])
            area += panel[i] * depth[i]
            count += read[i]
        begin = end
    beyond = _beyond(width, WIDTH_M[0], WIDTH_M[1])
    beyond += _beyond(deepest, DEEPEST_M[0], DEEPEST_M[1])
    beyond += _beyond(total / area, VELOCITY_MS[0], VELOCITY_MS[1])
    return count, beyond
