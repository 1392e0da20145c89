"""The velocities on one row: read, or counted, and where in the depth."""

from __future__ import annotations

import re

import attrs

from bankside.sheets.files.grid import cell
from bankside.sheets.row_reader import RowReader
from bankside.sheets.sheet_row import Point
from bankside.sheets.values import as_number, is_empty

__all__ = ["points_on"]


def points_on(reader: RowReader) -> tuple[tuple[Point, ...], str | None]:
    """Return the velocities on a row, and a rod setting that is none of theirs as a remark.

    A setting beside several velocities on one row, or beside none, says of no reading how high
    the meter was.
    """
    points = _points(reader)
    setting = reader.number(reader.table.column("rod_setting"), "a rod setting such as 1.2")
    if setting is None:
        return points, None
    if len(points) == 1:
        return (attrs.evolve(points[0], rod_setting=setting),), None
    return points, f"rod setting: {setting:.12g}"


def _points(reader: RowReader) -> tuple[Point, ...]:
    """Return the velocities on a row: one a velocity column, or one made of counts and seconds."""
    table = reader.table
    seconds = reader.number(table.column("seconds"), "an exposure time in seconds")
    counts = reader.number(table.column("counts"), "a number of revolutions")
    row_fraction = _row_fraction(reader)
    points = []
    for column in table.velocities():
        value = reader.number(column, "a velocity such as 0.42")
        if value is not None:
            fraction = column.fraction if column.fraction is not None else row_fraction
            points.append(Point(value, fraction, seconds))
    column_of_counts = table.column("counts")
    if counts is None and column_of_counts is not None and seconds is not None and not points:
        reader.fault(
            table.column("seconds"),
            "found a time without a number of revolutions; the revolutions counted in that time "
            "would be right",
        )
    if counts is not None and len(points) > 1:
        reader.fault(
            column_of_counts,
            f"found revolutions beside {len(points)} velocities; a row for every point would be "
            "right",
        )
    elif counts is not None and points:
        points = [attrs.evolve(points[0], counts=counts)]
    elif counts is not None:
        points = [Point(None, row_fraction, seconds, counts)]
    return tuple(points)


def _fraction_text(text: str) -> str:
    """Return the figure in a text such as "0.6 D", "60 %", "surface" or "bed"."""
    word = text.strip().casefold()
    named = {"surface": "0", "bed": "1", "bottom": "1"}
    return named.get(word) or re.sub(r"\s*[d%]$", "", word).replace(",", ".")


def _row_fraction(reader: RowReader) -> float | None:
    """Return the fraction of the depth given in its own column (0.6, 60 or "0.6 D")."""
    column = reader.table.column("fraction")
    value = None if column is None else cell(reader.table.grid, reader.index, column.index)
    if column is None or is_empty(value):
        return None
    text = _fraction_text(value) if isinstance(value, str) else None
    number = reader.read(
        column,
        lambda v: as_number(
            v if text is None else text,
            "point",
            "a fraction of the depth below the surface, such as 0.6",
        ),
    )
    if number is None:
        return None
    fraction = number / 100.0 if number in (20.0, 40.0, 50.0, 60.0, 80.0, 100.0) else number
    if not 0.0 <= fraction <= 1.0:
        reader.fault(
            column,
            f"found {number:g}; a fraction of the depth from 0 (surface) to 1 (bed) would be right",
        )
        return None
    return fraction
