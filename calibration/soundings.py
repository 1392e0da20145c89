"""What a sounding in every gap is worth, with the velocity there taken in several ways.

`python -m calibration.soundings` finds, for each section type and number of verticals, the root
mean square of the discharge's error in percent: without soundings; with one half-way in every gap,
its velocity straight between those of its neighbours, times the depth over the straight line
between theirs to a power (0 is what `compute` does); and with the verticals that could be read in
the same time instead.
"""

from __future__ import annotations

import json
import math
import sys
from collections.abc import Sequence
from itertools import pairwise
from typing import Any

from bankside.kernel.discharge import mid_section_discharge
from bankside.practice.crew import CAREFUL, PERFECT, Crew
from bankside.practice.making import make_stream
from bankside.practice.measuring import section_lists, wade
from bankside.practice.section_types import SECTION_TYPES
from bankside.practice.wading import Wading
from calibration.advice_document import SOUNDINGS_RESULTS

__all__ = ["main"]

POWERS = (0.0, 0.33, 0.5, 0.67, 1.0)
COUNTS = (8, 12, 20)
SEEDS = 30_000_000
# A gap that is narrower takes no sounding, m.
_NARROW = 0.12
# A velocity is taken as no more than so many times that of its neighbours.
_MOST = 3.0


def main(arguments: Sequence[str]) -> None:
    """Write what came of so many streams of each type (200) into soundings_results.json."""
    streams = int(arguments[0]) if arguments else 200
    found: dict[str, Any] = {"streams": streams}
    heads = ["none", *(f"power {power:g}" for power in POWERS), "verticals instead"]
    for name, crew in (("perfect", PERFECT), ("careful", CAREFUL)):
        found[name] = {}
        for kind in SECTION_TYPES:
            found[name][kind] = by_count = {}
            for count in COUNTS:
                seeds = range(SEEDS, SEEDS + streams)
                rows = [_errors(kind, seed, crew, count) for seed in seeds]
                figures = (100.0 * _root_mean_square(one) for one in zip(*rows, strict=True))
                by_count[str(count)] = dict(zip(heads, (round(f, 3) for f in figures), strict=True))
                print(name, kind, count, by_count[str(count)], flush=True)
    SOUNDINGS_RESULTS.write_text(json.dumps(found, indent=1) + "\n", encoding="utf-8")


def _root_mean_square(values: Sequence[float]) -> float:
    return math.sqrt(math.fsum(value * value for value in values) / len(values))


def _errors(kind: str, seed: int, crew: Crew, count: int) -> list[float]:
    """Return the errors: without soundings, by each power, and with verticals instead."""
    stream = make_stream(kind, seed)
    wading = Wading(stream, crew, seed)
    waded = wade(wading, count)
    read = section_lists(waded.left, waded.right, waded.verticals, waded.gaps)
    sounded = _sounded(wading, *read)
    instead = count + max(round((count + 1) * crew.sounding / (crew.moving + crew.exposure)), 1)
    other = wade(Wading(stream, crew, seed), instead)
    found = [
        read,
        *(_by_power(sounded, power) for power in POWERS),
        section_lists(other.left, other.right, other.verticals, other.gaps),
    ]
    return [mid_section_discharge(*lists) / stream.discharge - 1.0 for lists in found]


# Tape, depth, velocity, and for a sounding the depth straight between its neighbours.
_Row = tuple[float, float, float, float | None]


def _sounded(
    wading: Wading, tapes: list[float], depths: list[float], velocities: list[float]
) -> list[_Row]:
    rows: list[_Row] = []
    stations = list(zip(tapes, depths, velocities, strict=True))
    for low, high in pairwise(stations):
        rows.append((*low, None))
        if high[0] - low[0] > _NARROW and (low[1] > 0.0 or high[1] > 0.0):
            called = wading.sound((low[0] + high[0]) / 2.0)
            if low[0] < called.tape_m < high[0]:
                part = (called.tape_m - low[0]) / (high[0] - low[0])
                velocity = low[2] + (high[2] - low[2]) * part
                straight = low[1] + (high[1] - low[1]) * part
                rows.append((called.tape_m, max(called.depth_m, 0.0), velocity, straight))
    rows.append((*stations[-1], None))
    return rows


def _by_power(rows: Sequence[_Row], power: float) -> tuple[list[float], list[float], list[float]]:
    velocities = [
        velocity * min((depth / straight) ** power, _MOST) if straight else velocity
        for _, depth, velocity, straight in rows
    ]
    return [row[0] for row in rows], [row[1] for row in rows], velocities


if __name__ == "__main__":
    main(sys.argv[1:])
