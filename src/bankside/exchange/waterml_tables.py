"""Verticals, stages and rating of a gauging as data arrays, and what they are called there."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from bankside.exchange.ucum import ucum_of
from bankside.exchange.waterml_arrays import ArrayField, Cell, add_array
from bankside.exchange.waterml_names import child, named_value
from bankside.gauging.records import Gauging, PointReading, Vertical

__all__ = ["FILED", "RATING", "STAGES", "VERTICALS", "add_section", "add_tables"]

VERTICALS, STAGES, RATING, FILED = "verticals", "stage readings", "meter rating", "filed discharge"
"""What the parameters of an observation are called."""

_ALWAYS = ("channel", "distance", "depth", "velocity")


def add_tables(observation: Any, gauging: Gauging) -> None:
    """Add the readings of a gauging as parameters of its observation, as called."""
    rows = [
        row
        for number, channel in enumerate(gauging.channels)
        for vertical in channel.verticals
        for row in _rows(number, vertical)
    ]
    fields = _vertical_fields(gauging)
    # A field that says nothing of any vertical only hides the others.
    kept = [
        place
        for place, field in enumerate(fields)
        if field.name in _ALWAYS
        or any(row[place] is not None and row[place] is not False for row in rows)
    ]
    add_array(
        named_value(observation, "om:parameter", VERTICALS),
        "vertical",
        [fields[place] for place in kept],
        [[row[place] for place in kept] for row in rows],
    )
    length = ucum_of(gauging.units.length)
    if gauging.stage:
        stages: list[list[Cell]] = [
            [float(reading.value), None if reading.at is None else reading.at.isoformat()]
            for reading in gauging.stage
        ]
        fields = [ArrayField("stage", "Quantity", length, True), ArrayField("time", "Text")]
        add_array(named_value(observation, "om:parameter", STAGES), "stage", fields, stages)
    if gauging.meter is not None and gauging.meter.rating:
        _add_rating(observation, gauging)
    filed = gauging.filed
    if filed is not None and filed.discharge is not None and filed.unit is not None:
        quantity = child(named_value(observation, "om:parameter", FILED), "swe:Quantity")
        child(quantity, "swe:uom", code=ucum_of(filed.unit))
        child(quantity, "swe:value", repr(float(filed.discharge)))


def add_section(result: Any, gauging: Gauging, channel: int) -> None:
    """Add the depths of a channel along the tape as the result of a section."""
    units = gauging.units
    fields = [
        ArrayField("distance", "Quantity", ucum_of(units.length), True),
        ArrayField("depth", "Quantity", ucum_of(units.depth or units.length)),
    ]
    rows = [(_float(v.tape), _float(v.depth)) for v in gauging.channels[channel].verticals]
    add_array(result, "point", fields, rows)


def _add_rating(observation: Any, gauging: Gauging) -> None:
    meter = gauging.meter
    assert meter is not None
    velocity = gauging.units.velocity
    fields = [
        ArrayField("slope", "Quantity", ucum_of(velocity.removesuffix("/s")), True),
        ArrayField("intercept", "Quantity", ucum_of(velocity), True),
        ArrayField("up_to", "Quantity", "/s"),
    ]
    rows = [(_float(p.slope), _float(p.intercept), _float(p.up_to)) for p in meter.rating]
    add_array(named_value(observation, "om:parameter", RATING), "part", fields, rows)


def _vertical_fields(gauging: Gauging) -> list[ArrayField]:
    units = gauging.units
    depth = ucum_of(units.depth or units.length)
    return [
        ArrayField("channel", "Count"),
        ArrayField("distance", "Quantity", ucum_of(units.length), True),
        ArrayField("depth", "Quantity", depth),
        ArrayField("fraction", "Quantity", "1"),
        ArrayField("velocity", "Quantity", ucum_of(units.velocity)),
        ArrayField("duration", "Quantity", "s"),
        ArrayField("revolutions", "Quantity", "1"),
        ArrayField("rod_setting", "Quantity", depth),
        ArrayField("edge", "Text"),
        ArrayField("bank", "Text"),
        ArrayField("dry", "Boolean"),
        ArrayField("angle", "Quantity", "deg"),
        ArrayField("angle_coefficient", "Quantity", "1"),
        ArrayField("wall_factor", "Quantity", "1"),
        ArrayField("time", "Text"),
    ]


def _rows(channel: int, vertical: Vertical) -> Iterator[list[Cell]]:
    """Yield a row for each reading of a vertical, and one where nothing was read."""
    readings: tuple[PointReading | None, ...] = vertical.velocity or (None,)
    for reading in readings:
        yield [
            channel,
            _float(vertical.tape),
            _float(vertical.depth),
            *_reading(reading),
            vertical.edge,
            vertical.bank,
            vertical.dry,
            _float(vertical.angle),
            _float(vertical.angle_coefficient),
            _float(vertical.wall_factor),
            None if vertical.at is None else vertical.at.isoformat(),
        ]


def _reading(reading: PointReading | None) -> list[Cell]:
    if reading is None:
        return [None] * 5
    told = (reading.fraction, reading.value, reading.seconds, reading.counts, reading.rod_setting)
    return [_float(figure) for figure in told]


def _float(figure: float | None) -> float | None:
    return None if figure is None else float(figure)
