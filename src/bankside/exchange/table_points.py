"""Where the rows of tables are on the earth: from their columns to geometries, and back.

A place may be said by a geometry and by columns. Where both say it they must agree, as nobody can
tell which of them was meant; where one says it, it holds.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import attrs

from bankside.exchange.forms import Table, Value
from bankside.exchange.table_rows import Row
from bankside.exchange.wkb import LonLat, line_of_wkb, line_wkb, point_of_wkb, point_wkb
from bankside.gauging.faults import Fault

__all__ = ["GEOMETRY_TYPES", "geometries", "with_lines", "with_points"]

GEOMETRY_TYPES: Mapping[str, str] = {
    "sites": "Point",
    "streams": "LineString",
    "gaugings": "Point",
}
"""The tables that are layers on a map → what their geometries are."""

_COLUMNS: Mapping[str, tuple[str, str]] = {
    "sites": ("position_lon", "position_lat"),
    "gaugings": ("site_position_lon", "site_position_lat"),
}


def geometries(table: Table, points: Sequence[Mapping[str, Value]]) -> list[bytes | None] | None:
    """Return the geometry of each row as well-known binary; None for a table that has none.

    points: the rows of the table of the points of streams.
    """
    name = table.form.name
    if name in _COLUMNS:
        return [_point(row, _COLUMNS[name]) for row in table.rows]
    if name != "streams":
        return None
    lines = _lines(points)
    return [line_wkb(line) if (line := lines.get(row["name"])) else None for row in table.rows]


def with_points(
    table: str, rows: Sequence[Row], found: Sequence[bytes | None]
) -> tuple[list[Row], list[Fault]]:
    """Return rows with the columns of their place filled in, and what is wrong with geometries."""
    columns = _COLUMNS[table]
    made: list[Row] = []
    faults: list[Fault] = []
    for row, content in zip(rows, found, strict=True):
        told = tuple(row.values.get(name) for name in columns)
        try:
            point = None if content is None else point_of_wkb(content)
        except ValueError as error:
            faults.append(Fault(f"found {error}; a point would be right", row=row.number))
            continue
        if point is None or point == told:
            made.append(row)
        elif told == (None, None):
            made.append(
                attrs.evolve(row, values={**row.values, **dict(zip(columns, point, strict=True))})
            )
        else:
            faults.append(_two_places(row, point, columns, told))
    return made, faults


def with_lines(
    streams: Sequence[Row], found: Sequence[bytes | None], points: Sequence[Row]
) -> tuple[list[Row], list[Fault]]:
    """Return the rows of the points of streams, filled in from lines, and what is wrong."""
    made = list(points)
    faults: list[Fault] = []
    told = _lines([row.values for row in points])
    for row, content in zip(streams, found, strict=True):
        name = row.values.get("name")
        try:
            line = [] if content is None else line_of_wkb(content)
        except ValueError as error:
            faults.append(Fault(f"found {error}; one line would be right", row=row.number))
            continue
        if line and name not in told:
            made += _point_rows(row, line)
        elif line and line != told[name]:
            message = (
                f"found another line for {name} than in the table stream_points; to take the line "
                "of the layer, delete its rows there"
            )
            faults.append(Fault(message, row=row.number))
    return made, faults


def _point(row: Mapping[str, Value], columns: tuple[str, str]) -> bytes | None:
    lon, lat = (row[name] for name in columns)
    return None if lon is None or lat is None else point_wkb((float(lon), float(lat)))  # type: ignore[arg-type]


def _lines(points: Sequence[Mapping[str, Value]]) -> dict[Value, list[LonLat]]:
    """Return the points of each stream by its name, in their order, as far as they are sound."""
    placed: dict[Value, list[tuple[int, LonLat]]] = {}
    for row in points:
        place, lon, lat = (row.get(name) for name in ("point", "lon", "lat"))
        if isinstance(place, int) and isinstance(lon, float) and isinstance(lat, float):
            placed.setdefault(row.get("stream"), []).append((place, (lon, lat)))
    return {name: [point for _, point in sorted(line)] for name, line in placed.items()}


def _point_rows(row: Row, line: Sequence[LonLat]) -> Iterator[Row]:
    for place, (lon, lat) in enumerate(line):
        values = {"stream": row.values.get("name"), "point": place, "lon": lon, "lat": lat}
        yield Row(row.number, values)


def _two_places(
    row: Row, point: LonLat, columns: tuple[str, str], told: tuple[Value, ...]
) -> Fault:
    return Fault(
        f"found a point at {point[0]!r}, {point[1]!r}, but {columns[0]} and {columns[1]} say "
        f"{told[0]!r}, {told[1]!r}; to take the point of the layer, empty these columns",
        row=row.number,
    )
