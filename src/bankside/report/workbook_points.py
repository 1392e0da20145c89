"""The sheet "Points": from each reading to the velocity at each point, in m/s."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import attrs
from xlsxwriter.worksheet import Worksheet

from bankside.gauging.meter_rating import rated_velocity
from bankside.gauging.point_velocity import point_velocities, repeats_by_point
from bankside.gauging.records import Gauging, PointReading, RatingPart
from bankside.gauging.result import Result, VerticalResult
from bankside.gauging.units import metres_per_second_per
from bankside.kernel.meter import revolutions_per_second
from bankside.report.workbook_cells import Cell, Column, Formula, Looks, Table
from bankside.report.workbook_readings import Readings

__all__ = ["Point", "Points", "write_points"]


@attrs.frozen
class Point:
    """Where the velocity of a point in m/s stands, and its fraction of the depth."""

    fraction: str
    velocity: str


Points = Mapping[tuple[int, int], tuple[Point, ...]]
"""The points of each measured vertical, by channel and vertical, from the surface down."""


def write_points(
    sheet: Worksheet,
    looks: Looks,
    gauging: Gauging,
    result: Result,
    readings: Readings,
    title: str,
) -> Points:
    """Write the readings of every measured vertical along the tape, point by point."""
    unit = gauging.units.velocity
    table = Table(
        sheet,
        looks,
        title,
        "From the readings to the velocity at each point: along the tape, from the surface down. "
        "Verticals without a reading, or without water, are not here.",
        (
            Column("channel", "channel", 9),
            Column("vertical", "vertical", 9),
            Column("tape", f"tape ({gauging.units.length})", 10),
            Column("fraction", "fraction of depth", 10),
            Column("turns", "revolutions a second", 12, "factor"),
            Column("rated", f"by the rating ({unit})", 12, "velocity"),
            Column("used", f"velocity used ({unit})", 12, "velocity"),
            Column("seconds", "weight: exposure (s)", 11, "seconds"),
            Column("point", f"at the point ({unit})", 12, "velocity"),
            Column("point_ms", "at the point (m/s)", 12, "velocity"),
            Column("words", "in words", 66, "text"),
        ),
        frozen_columns=4,
    )
    rating = () if gauging.meter is None else gauging.meter.rating
    points: dict[tuple[int, int], tuple[Point, ...]] = {}
    for vertical in result.verticals:
        if vertical.measured:
            points[vertical.channel, vertical.vertical] = tuple(
                _points(table, gauging, vertical, rating, readings)
            )
    return points


def _points(
    table: Table,
    gauging: Gauging,
    vertical: VerticalResult,
    rating: tuple[RatingPart, ...],
    readings: Readings,
) -> Iterator[Point]:
    called = gauging.channels[vertical.channel].verticals[vertical.vertical].velocity
    values = point_velocities(called, rating, [])
    per = metres_per_second_per(gauging.units.velocity)
    repeats = repeats_by_point(called)
    for at in sorted(repeats, key=lambda fraction: -1.0 if fraction is None else fraction):
        here = repeats[at]
        first, last = table.next, table.next + len(here) - 1
        mean, said = _mean(table, here, first, last)
        for place, reading in here:
            row = table.next
            cells = _row(table, vertical, place, reading, rating, readings)
            if row == first:
                cells["point"] = Formula(mean, values[at])
                cells["point_ms"] = Formula(
                    f"{table.at('point', row)}*ms_per_velocity", values[at] * per
                )
            if len(here) > 1:
                cells["seconds"] = _weight(here, reading, row, readings, vertical, place)
                cells["words"] = f"{cells['words']}; {said}"
            table.add(cells)
        yield Point(table.ref("fraction", first), table.ref("point_ms", first))


def _mean(
    table: Table, here: Sequence[tuple[int, PointReading]], first: int, last: int
) -> tuple[str, str]:
    """Return the formula for the readings at one point as one velocity, and words for it."""
    used, weights = table.span("used", first, last), table.span("seconds", first, last)
    if len(here) == 1:
        return table.at("used", first), ""
    if _timed(here):
        return (
            f"SUMPRODUCT({used},{weights})/SUM({weights})",
            f"the {len(here)} readings at this point are taken together, weighted by their times",
        )
    return f"AVERAGE({used})", f"the mean of the {len(here)} readings at this point is taken"


def _timed(here: Sequence[tuple[int, PointReading]]) -> bool:
    return all(reading.seconds is not None for _, reading in here)


def _weight(
    here: Sequence[tuple[int, PointReading]],
    reading: PointReading,
    row: int,
    readings: Readings,
    vertical: VerticalResult,
    place: int,
) -> Cell:
    if not _timed(here):
        return None
    return Formula(
        readings.ref("seconds", vertical.channel, vertical.vertical, place), reading.seconds
    )


def _row(
    table: Table,
    vertical: VerticalResult,
    place: int,
    reading: PointReading,
    rating: tuple[RatingPart, ...],
    readings: Readings,
) -> dict[str, Cell]:
    """Return the cells of one reading, up to the velocity that is used."""
    where = vertical.channel, vertical.vertical
    row = table.next
    cells: dict[str, Cell] = {
        "channel": Formula(readings.ref("channel", *where), vertical.channel + 1),
        "vertical": Formula(readings.ref("vertical", *where), vertical.vertical + 1),
        "tape": Formula(readings.ref("tape", *where), vertical.tape),
    }
    if reading.fraction is not None:
        # The ninth digit, as in the engine: 1 - 0.8 is not quite 0.2.
        [at] = repeats_by_point([reading])
        cells["fraction"] = Formula(f"ROUND({readings.ref('fraction', *where, place)},9)", at)
    rated = rated_velocity(reading, rating)
    if rated is not None and reading.counts is not None and reading.seconds is not None:
        counts = readings.ref("counts", *where, place)
        seconds = readings.ref("seconds", *where, place)
        turns = revolutions_per_second(reading.counts, reading.seconds)
        cells["turns"] = Formula(f"{counts}/{seconds}", turns)
        cells["rated"] = Formula(f"IF({counts}=0,0,{_line(table.at('turns', row), rating)})", rated)
    if reading.value is not None:
        cells["used"] = Formula(readings.ref("velocity", *where, place), reading.value)
        beside = "; by the rating only to compare" if rated is not None else ""
        cells["words"] = f"as called{beside}"
    else:
        cells["used"] = Formula(table.at("rated", row), rated)
        cells["words"] = "by the rating from the revolutions a second; 0 where the rotor stood"
    return cells


def _line(turns: str, rating: tuple[RatingPart, ...]) -> str:
    """Return the formula of a rating: one straight line, or the one that holds there."""
    slow = f"rating_slope_0*{turns}+rating_intercept_0"
    if len(rating) == 1 or rating[0].up_to is None:
        return slow
    return f"IF({turns}<=rating_up_to_0,{slow},rating_slope_1*{turns}+rating_intercept_1)"
