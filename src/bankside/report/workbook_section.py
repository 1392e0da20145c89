"""The sheet "Section": width of the water, area and wetted perimeter between the verticals."""

from __future__ import annotations

import math

import attrs
from xlsxwriter.worksheet import Worksheet

from bankside.gauging.records import Gauging
from bankside.gauging.result import ChannelResult, Result, VerticalResult
from bankside.gauging.units import metres_per
from bankside.report.workbook_cells import Cell, Column, Formula, Looks, Table
from bankside.report.workbook_panels import Panels

__all__ = ["Section", "write_section"]

_KEYS = ("water", "area", "bed")


@attrs.frozen
class Section:
    """The sheet of the section and the row of its totals; columns "water", "area" and "bed"."""

    table: Table
    total: int


def write_section(
    sheet: Worksheet, looks: Looks, gauging: Gauging, result: Result, panels: Panels, title: str
) -> Section:
    """Write a row for every stretch between two verticals, and the totals."""
    unit = gauging.units.length
    table = Table(
        sheet,
        looks,
        title,
        "The section under straight lines from vertical to vertical, whatever the panels; a "
        "stretch with no depth at either end is dry.",
        (
            Column("channel", "channel", 9),
            Column("from", f"from tape ({unit})", 10),
            Column("to", f"to tape ({unit})", 10),
            Column("distance", "distance (m)", 11, "length"),
            Column("depth", "mean depth (m)", 11, "length"),
            Column("water", "width of water (m)", 11, "length"),
            Column("area", "area (m²)", 12, "area"),
            Column("bed", "wetted perimeter (m)", 12, "length"),
            Column("words", "in words", 74, "text"),
        ),
        frozen_columns=3,
    )
    sums: list[int] = []
    for c, (rows, channel) in enumerate(zip(panels.rows, result.channels, strict=True)):
        verticals = [vertical for vertical in result.verticals if vertical.channel == c]
        first = table.next
        for i, row in enumerate(rows[:-1]):
            pair = verticals[i], verticals[i + 1]
            table.add(_stretch(table, panels, row, *pair, metres_per(unit)))
        sums.append(_channel_total(table, panels, first, c, channel))
    values = {"water": result.width_m, "area": result.area_m2, "bed": result.wetted_perimeter_m}
    cells: dict[str, Cell] = {
        key: Formula(f"SUM({','.join(table.at(key, row) for row in sums)})", values[key])
        for key in _KEYS
    }
    total = table.add({**cells, "words": "all channels: sums of the channels"}, total=True)
    return Section(table, total)


def _stretch(
    table: Table,
    panels: Panels,
    row: int,
    here: VerticalResult,
    there: VerticalResult,
    metres: float,
) -> dict[str, Cell]:
    """Return the cells between a vertical and the next, whose row on the panels is `row`."""
    of = panels.table
    depths = of.ref("depth", row), of.ref("depth", row + 1)
    distance = there.tape * metres - here.tape * metres
    depth = (here.depth_m + there.depth_m) / 2
    rise = there.depth_m - here.depth_m
    bed = math.sqrt(distance * distance + rise * rise)
    wet = here.depth_m > 0 or there.depth_m > 0
    if_wet = f"IF(OR({depths[0]}>0,{depths[1]}>0),"
    across, mean = table.at("distance", table.next), table.at("depth", table.next)
    return {
        "channel": Formula(of.ref("channel", row), here.channel + 1),
        "from": Formula(of.ref("called", row), here.tape),
        "to": Formula(of.ref("called", row + 1), there.tape),
        "distance": Formula(f"{of.ref('tape', row + 1)}-{of.ref('tape', row)}", distance),
        "depth": Formula(f"({depths[0]}+{depths[1]})/2", depth),
        "water": Formula(f"{if_wet}{across},0)", distance if wet else 0),
        "area": Formula(f"{across}*{mean}", distance * depth),
        "bed": Formula(
            f"{if_wet}SQRT({across}^2+({depths[1]}-{depths[0]})^2),0)", bed if wet else 0
        ),
        "words": "width of water and bed count where there is water at one of the two ends",
    }


def _channel_total(table: Table, panels: Panels, first: int, c: int, channel: ChannelResult) -> int:
    sums = {key: f"SUM({table.span(key, first, table.row)})" for key in _KEYS}
    rows = panels.rows[c]
    ends = f"{panels.table.ref('depth', rows[0])}+{panels.table.ref('depth', rows[-1])}"
    return table.add(
        {
            "water": Formula(sums["water"], channel.width_m),
            "area": Formula(sums["area"], channel.area_m2),
            "bed": Formula(f"{sums['bed']}+{ends}", channel.wetted_perimeter_m),
            "words": f"channel {c + 1}: sums; to the perimeter come the depths at the two ends, "
            "the faces of steep banks",
        },
        total=True,
    )
