"""Every figure of many gaugings: one column each, one value a gauging, NaN for what has none."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

import numpy as np

from bankside.bulk import between, published, sections
from bankside.bulk.asked import Uncertainty
from bankside.bulk.columns import Columns, Floats, Read, unchanging
from bankside.bulk.engine import across
from bankside.gauging.uncertainty_flow import Assumed

__all__ = ["BETWEEN_COUNTS", "figures_of", "read_of"]

BETWEEN_COUNTS = ("between_verticals", "between_beyond")
"""What the interval rests on: verticals that were read, and ranges that the stream is beyond."""


def figures_of(
    columns: Columns, assumed: Assumed, uncertainty: Uncertainty = "all"
) -> Mapping[str, Floats]:
    """Return the figures of all gaugings by name.

    `amount_m3s` is what the panels carry, whichever way the water runs.
    """
    found = {**_of_sections(columns)}
    if uncertainty != "none":
        read = read_of(columns, assumed)
        found |= _of_published(columns, read, assumed)
        if uncertainty == "all":
            found |= _of_between(columns, read, assumed)
    return found


def read_of(columns: Columns, assumed: Assumed) -> Read:
    """Return how the stations were read: as is given, or what is taken where nothing is said."""
    said = columns.read
    if said is None or np.isnan(said.points).any():
        said = _taken(columns, assumed, said)
    return Read(*map(unchanging, said))


def _taken(columns: Columns, assumed: Assumed, said: Read | None) -> Read:
    """Return what is taken where nothing is said of how a station was read."""
    count = len(columns.tape_m)
    taken = Read(*(np.zeros(count) for _ in Read._fields))
    velocity = unchanging(columns.velocity_ms)
    across(count, published.how_read, velocity, assumed.exposure_seconds, taken)
    if said is None:
        return taken
    unsaid = np.isnan(said.points)
    return said._replace(
        points=np.where(unsaid, taken.points, said.points),
        meter_percent=np.where(unsaid, taken.meter_percent, said.meter_percent),
        exposure_percent=np.where(unsaid, taken.exposure_percent, said.exposure_percent),
    )


def _empty(columns: Columns, *names: str) -> dict[str, Floats]:
    return {name: np.empty(len(columns)) for name in names}


def _of_sections(columns: Columns) -> dict[str, Floats]:
    of = _empty(columns, "discharge_m3s", "amount_m3s", "area_m2", "mean_section_m3s")
    whole = _empty(
        columns,
        *("width_m", "wetted_perimeter_m"),
        *("mean_depth_m", "mean_velocity_ms", "hydraulic_radius_m"),
    )
    count = len(columns)
    across(
        count,
        sections.discharges,
        *(columns.stations, of["discharge_m3s"], of["amount_m3s"], of["area_m2"]),
    )
    across(
        count,
        sections.properties,
        *(columns.stations, of["discharge_m3s"], of["area_m2"], *whole.values()),
    )
    across(count, sections.mean_sections, columns.stations, of["mean_section_m3s"])
    return of | whole


def _of_published(columns: Columns, read: Read, assumed: Assumed) -> dict[str, Floats]:
    of = _empty(columns, "iso_748_percent", "components_percent", "interpolated_variance_percent")
    across(
        len(columns),
        published.iso,
        *(columns.stations, read),
        *(assumed.width_percent, assumed.depth_percent, assumed.systematic_percent),
        *(of["iso_748_percent"], of["components_percent"]),
        room=_room(columns),
    )
    across(
        len(columns),
        published.scatter,
        columns.stations,
        *(assumed.width_percent, assumed.systematic_percent),
        of["interpolated_variance_percent"],
        room=_room(columns),
    )
    return of


def _of_between(columns: Columns, read: Read, assumed: Assumed) -> dict[str, Floats]:
    of = _empty(
        columns,
        *("between_percent", "between_95_percent", "between_68_percent"),
        *BETWEEN_COUNTS,
    )
    room = _room(columns)
    across(
        len(columns),
        between.between,
        *(columns.stations, read, assumed.width_percent),
        *of.values(),
        room=lambda: (*room(), np.empty((between.OF_CHARACTERS, between.CHARACTERS))),
    )
    return of


def _room(columns: Columns) -> Callable[[], tuple[Any, ...]]:
    """Return what gives rows to work in, as long as the gauging with most stations."""
    longest = int(np.diff(columns.starts).max(initial=1))
    return lambda: (
        np.empty((published.ROOM, longest)),
        np.empty((published.PLACES, longest), np.int64),
    )
