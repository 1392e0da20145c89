"""From records to the table of columns: what needs a record is worked out once, here.

Ratings, points of a vertical, angles, walls and soundings go through `gauging.compute`, and what a
table carries is what the kernel is handed there, so that figures worked out of the table are those
of the records, to the last bit.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import islice
from pathlib import Path
from typing import Any

import pyarrow as pa
import pyarrow.parquet as pq

from bankside.bulk.layout import SCHEMA
from bankside.gauging.compute import compute
from bankside.gauging.point_velocity import point_velocities
from bankside.gauging.reconcile import reconcile
from bankside.gauging.records import Gauging
from bankside.gauging.result import Result, VerticalResult
from bankside.gauging.uncertainty_flow import Assumed, flow_of
from bankside.gauging.uncertainty_points import ReadPanel, has_own_rating, read_panels
from bankside.gauging.units import metres_per, metres_per_second_per

__all__ = ["gather", "row_of"]

_ROWS = 8192
"""So many gaugings are held at a time, and make a row group."""


def gather(rows: Iterable[dict[str, Any]], file: Path) -> int:
    """Write rows, as `row_of` gives them, to a Parquet file; return how many there were."""
    count = 0
    waiting = iter(rows)
    with pq.ParquetWriter(file, SCHEMA, compression="zstd") as writer:
        while some := list(islice(waiting, _ROWS)):
            writer.write_table(pa.Table.from_pylist(some, SCHEMA))
            count += len(some)
    return count


def row_of(gauging: Gauging, name: str | None = None) -> dict[str, Any]:
    """Return the row of a gauging, by its id or by `name`.

    InputRefused, with every fault that can be told, if no discharge can be computed.
    """
    result = compute(gauging)
    filed = reconcile(gauging, result)
    metres = metres_per(gauging.units.length)
    across = result.verticals
    points = [_points(gauging, station) for station in across]
    return {
        "gauging": name or gauging.id or gauging.site.name or "",
        "tape_m": [station.tape * metres for station in across],
        "depth_m": [station.depth_m for station in across],
        "velocity_ms": [station.velocity_ms for station in across],
        "measured": [station.measured for station in across],
        **_how_read(gauging, result),
        "fastest_ms": [max(map(abs, read)) if read else None for read in points],
        "slowest_ms": [min(read) if read else None for read in points],
        "edge": [
            gauging.channels[station.channel].verticals[station.vertical].edge is not None
            for station in across
        ],
        "vertical": [station.vertical for station in across],
        "assumed": [_is_assumed(gauging, station) for station in across],
        "channel_stations": list(_channel_stations(result)),
        "filed_m3s": None if filed is None else filed.discharge_m3s,
        "filed_rounding_m3s": None if filed is None else filed.rounding_m3s,
    }


def _points(gauging: Gauging, station: VerticalResult) -> list[float]:
    """Return the velocities that were read at a vertical, in m/s, whatever their angle."""
    vertical = gauging.channels[station.channel].verticals[station.vertical]
    rating = () if gauging.meter is None else gauging.meter.rating
    per = metres_per_second_per(gauging.units.velocity)
    return [value * per for value in point_velocities(vertical.velocity, rating, []).values()]


def _is_assumed(gauging: Gauging, station: VerticalResult) -> bool:
    """Return whether an exposure time, or where it was read, is not written of a velocity."""
    vertical = gauging.channels[station.channel].verticals[station.vertical]
    return any(one.seconds is None or one.fraction is None for one in vertical.velocity)


def _how_read(gauging: Gauging, result: Result) -> dict[str, list[float]]:
    """Return points and percents of every station; where there is no water none of them counts."""
    own_rating = float(has_own_rating(gauging))
    panels = flow_of(gauging, result).panels
    read: dict[tuple[int, int], ReadPanel] = {
        (one.panel.channel, one.panel.vertical): one
        for one in read_panels(gauging, panels, Assumed())[0]
    }
    found = [read.get((station.channel, station.vertical)) for station in result.verticals]
    return {
        "points": [1.0 if one is None else float(one.points) for one in found],
        "meter_percent": [0.0 if one is None else one.meter_percent for one in found],
        "exposure_percent": [0.0 if one is None else one.exposure_percent for one in found],
        "at_surface": [
            0.0 if one is None else float(one.at_surface + one.floated) for one in found
        ],
        "own_rating": [own_rating] * len(found),
    }


def _channel_stations(result: Result) -> Iterator[int]:
    for index in range(len(result.channels)):
        yield sum(station.channel == index for station in result.verticals)
