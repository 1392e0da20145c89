"""All figures of many gaugings, worked out by several threads at once.

A thread takes a stretch of gaugings at a time; compiled code lets the others run. Each gauging is
worked out by one thread alone, in the order of its stations, so that the number of threads changes
no bit.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping
from concurrent.futures import ThreadPoolExecutor
from functools import cache
from itertools import pairwise
from typing import Any

import attrs
import numpy as np

from bankside.bulk import between, faults, published, sections
from bankside.bulk.columns import Columns, Flags, Floats, Read
from bankside.gauging.uncertainty_flow import Assumed

__all__ = ["Panels", "across", "faults_of", "figures_of", "panels_of", "read_of"]

# So many stretches for each thread: none waits long for another that has the larger gaugings.
_STRETCHES = 4
# Fewer gaugings than this are not worth handing over to a thread.
_LEAST = 256


def threads() -> int:
    """Return how many processors this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


@cache
def _pool() -> ThreadPoolExecutor:
    return ThreadPoolExecutor(threads())


def across(
    count: int,
    work: Callable[..., None],
    *arguments: Any,
    room: Callable[[], tuple[Any, ...]] = tuple,
) -> None:
    """Call compiled `work(first, last, *arguments)` for stretches that cover `count` gaugings.

    `room` gives the arrays that each call is to work in, besides.
    """
    pieces = min(threads() * _STRETCHES, max(count // _LEAST, 1))
    bounds = [count * piece // pieces for piece in range(pieces + 1)]
    if pieces == 1:
        work(0, count, *arguments, *room())
        return
    work(0, 0, *arguments, *room())  # compiles, once, before all threads ask for it
    waiting = [
        _pool().submit(work, first, last, *arguments, *room()) for first, last in pairwise(bounds)
    ]
    for one in waiting:
        one.result()


def _room(columns: Columns) -> Callable[[], tuple[Any, ...]]:
    """Return what gives rows to work in, as long as the gauging with most stations."""
    longest = int(np.diff(columns.starts).max(initial=1))
    return lambda: (
        np.empty((published.ROOM, longest)),
        np.empty((published.PLACES, longest), np.int64),
    )


def faults_of(columns: Columns) -> tuple[Flags, dict[int, str]]:
    """Return which gaugings are sound, and a sentence for each that is not."""
    count = len(columns)
    fault, where = np.zeros(count, np.int64), np.zeros(count, np.int64)
    across(count, faults.find_faults, *_stations(columns), columns.measured, fault, where)
    if columns.read is not None:
        across(count, faults.find_unread, *_read(columns), fault, where)
    sound = fault == faults.SOUND
    return sound, {
        int(k): faults.sentence(columns, int(fault[k]), int(where[k]))
        for k in np.flatnonzero(~sound)
    }


def read_of(columns: Columns, assumed: Assumed) -> Read:
    """Return how the stations were read: as is given, or what is taken where nothing is said."""
    said = columns.read
    if said is not None and not np.isnan(said.points).any():
        return said
    count = len(columns.tape_m)
    read = Read(np.empty(count), np.empty(count), np.empty(count))
    across(
        count,
        published.how_read,
        columns.velocity_ms,
        assumed.exposure_seconds,
        *(read.points, read.meter_percent, read.exposure_percent),
    )
    if said is None:
        return read
    unsaid = np.isnan(said.points)
    return Read(
        np.where(unsaid, read.points, said.points),
        np.where(unsaid, read.meter_percent, said.meter_percent),
        np.where(unsaid, read.exposure_percent, said.exposure_percent),
    )


def figures_of(columns: Columns, assumed: Assumed) -> Mapping[str, Floats]:
    """Return one figure a gauging of everything that is worked out, by its name; NaN for none."""
    count = len(columns)
    lines, stations = _lines(columns), _stations(columns)
    read = read_of(columns, assumed)
    of: dict[str, Floats] = {name: np.empty(count) for name in _FIGURES}
    amount = np.empty(count)
    across(count, sections.discharges, *stations, of["discharge_m3s"], amount, of["area_m2"])
    across(
        count,
        sections.properties,
        *lines,
        columns.tape_m,
        columns.depth_m,
        *(of[name] for name in ("discharge_m3s", "area_m2", *_PROPERTIES)),
    )
    across(count, sections.mean_sections, *stations, of["mean_section_m3s"])
    across(
        count,
        published.iso,
        *stations,
        columns.measured,
        *(read.points, read.meter_percent, read.exposure_percent),
        *(assumed.width_percent, assumed.depth_percent, assumed.systematic_percent),
        *(of["iso_748_percent"], of["components_percent"]),
        room=_room(columns),
    )
    across(
        count,
        published.scatter,
        *stations,
        columns.measured,
        *(assumed.width_percent, assumed.systematic_percent),
        of["interpolated_variance_percent"],
        room=_room(columns),
    )
    across(
        count,
        between.between,
        *stations,
        columns.measured,
        *(read.points, read.exposure_percent, assumed.width_percent),
        *(of["between_percent"], of["between_95_percent"], of["between_68_percent"]),
        room=lambda: (*_room(columns)(), np.empty((_OF_CHARACTERS, between.CHARACTERS))),
    )
    return {**of, "amount_m3s": amount}


# Rows for the characters of the model between verticals.
_OF_CHARACTERS = 5


_PROPERTIES = (
    "width_m",
    "wetted_perimeter_m",
    "mean_depth_m",
    "mean_velocity_ms",
    "hydraulic_radius_m",
)
_FIGURES = (
    *("discharge_m3s", "mean_section_m3s", "area_m2", *_PROPERTIES),
    *("iso_748_percent", "interpolated_variance_percent", "components_percent"),
    *("between_percent", "between_95_percent", "between_68_percent"),
)


@attrs.frozen(eq=False)
class Panels:
    """The mid-section panels of all gaugings, one a station."""

    width_m: Floats
    area_m2: Floats
    discharge_m3s: Floats
    share: Floats


def panels_of(columns: Columns, discharge: Floats, amount: Floats) -> Panels:
    """Return the panels of gaugings with these discharges."""
    made = Panels(*(np.empty(len(columns.tape_m)) for _ in range(4)))
    across(
        len(columns),
        sections.panels,
        *_stations(columns),
        discharge,
        amount,
        *(made.width_m, made.area_m2, made.discharge_m3s, made.share),
    )
    return made


def _lines(columns: Columns) -> tuple[Any, ...]:
    return columns.starts, columns.channels, columns.counts


def _stations(columns: Columns) -> tuple[Any, ...]:
    return *_lines(columns), columns.tape_m, columns.depth_m, columns.velocity_ms


def _read(columns: Columns) -> tuple[Any, ...]:
    read = columns.read
    assert read is not None
    return columns.starts, read.points, read.meter_percent, read.exposure_percent
