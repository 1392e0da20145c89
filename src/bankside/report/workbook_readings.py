"""The sheet "Readings": what was called out at the stream, exactly, in the units called."""

from __future__ import annotations

import datetime

import attrs
from xlsxwriter.worksheet import Worksheet

from bankside.gauging.records import FiledPanel, Gauging, PointReading, Vertical
from bankside.report.workbook_cells import Cell, Column, Looks, Table

__all__ = ["Readings", "moment", "write_readings"]

_FILED = (
    Column("filed_width", "width as filed", 9),
    Column("filed_area", "area as filed", 9),
    Column("filed_discharge", "discharge as filed", 10),
)


@attrs.frozen
class Readings:
    """The sheet of readings, and where on it a vertical stands."""

    table: Table
    first: dict[tuple[int, int], int]

    def ref(self, key: str, channel: int, vertical: int, reading: int = 0) -> str:
        """Return the reference to a cell of a vertical, or of one of its readings."""
        return self.table.ref(key, self.first[channel, vertical] + reading)


def write_readings(sheet: Worksheet, looks: Looks, gauging: Gauging, title: str) -> Readings:
    """Write every reading as called; what belongs to a vertical stands on its first row."""
    units = gauging.units
    panels = () if gauging.filed is None else gauging.filed.panels
    filed = {(panel.channel, panel.vertical): _filed(panel) for panel in panels}
    table = Table(
        sheet,
        looks,
        title,
        "As called, in the order called; nothing is worked out or rounded here. A row a reading: "
        "what belongs to a vertical as a whole stands on its first row.",
        (
            Column("channel", "channel", 9),
            Column("name", "channel's name", 14, "text"),
            Column("vertical", "vertical", 9),
            Column("reading", "reading", 9),
            Column("tape", f"tape ({units.length})", 10),
            Column("depth", f"depth ({units.depth or units.length})", 10),
            Column("edge", "edge of water", 9, "text"),
            Column("bank", "bank", 11, "text"),
            Column("dry", "dry", 7, "text"),
            Column("fraction", "fraction of depth", 10),
            Column("velocity", f"velocity ({units.velocity})", 11),
            Column("counts", "revolutions", 12),
            Column("seconds", "exposure (s)", 10),
            Column("rod", f"rod setting ({units.depth or units.length})", 11),
            Column("angle", "angle (°)", 9),
            Column("coefficient", "angle coefficient", 11),
            Column("wall", "wall factor", 8),
            *(_FILED if filed else ()),
            Column("at", "read at", 22, "text"),
            Column("remark", "remark", 32, "text"),
        ),
        frozen_columns=5,
    )
    first: dict[tuple[int, int], int] = {}
    for c, channel in enumerate(gauging.channels):
        for v, vertical in enumerate(channel.verticals):
            first[c, v] = table.next
            for i, reading in enumerate(vertical.velocity or (None,)):
                whole = _vertical(vertical, channel.name) if i == 0 else {}
                labels: dict[str, Cell] = {"channel": c + 1, "vertical": v + 1}
                if i == 0:
                    labels |= filed.get((c, v), {})
                table.add({**labels, **whole, **_reading(reading, i)})
    return Readings(table, first)


def _vertical(vertical: Vertical, channel: str | None) -> dict[str, Cell]:
    return {
        "name": channel,
        "tape": vertical.tape,
        "depth": vertical.depth,
        "edge": vertical.edge,
        "bank": vertical.bank,
        "dry": "dry" if vertical.dry else None,
        "angle": vertical.angle,
        "coefficient": vertical.angle_coefficient,
        "wall": vertical.wall_factor,
        "at": moment(vertical.at),
        "remark": vertical.remark,
    }


def _filed(panel: FiledPanel) -> dict[str, Cell]:
    return {
        "filed_width": panel.width,
        "filed_area": panel.area,
        "filed_discharge": panel.discharge,
    }


def _reading(reading: PointReading | None, place: int) -> dict[str, Cell]:
    if reading is None:
        return {}
    return {
        "reading": place + 1,
        "fraction": reading.fraction,
        "velocity": reading.value,
        "counts": reading.counts,
        "seconds": reading.seconds,
        "rod": reading.rod_setting,
    }


def moment(at: datetime.datetime | datetime.date | None) -> str | None:
    """Return a day or an instant as text, which keeps its time zone; a cell's date would not."""
    return None if at is None else at.isoformat()
