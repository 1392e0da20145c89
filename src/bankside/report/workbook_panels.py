"""The sheet "Panels": a row a vertical along the tape, from its readings to its discharge."""

from __future__ import annotations

import math
from collections.abc import Sequence

import attrs
from xlsxwriter.worksheet import Worksheet

from bankside.gauging.records import Gauging
from bankside.gauging.result import Panel, Result
from bankside.report.workbook_cells import Cell, Column, Formula, Looks, Table
from bankside.report.workbook_verticals import Origins, Verticals
from bankside.report.workbook_widths import between_width, panel_width

__all__ = ["Panels", "write_panels"]


@attrs.frozen
class Panels:
    """Where the verticals and the totals stand on the sheet of panels.

    `rows` are the rows of the verticals, channel by channel, `total` that of the whole section.
    """

    table: Table
    rows: tuple[tuple[int, ...], ...]
    total: int


def write_panels(sheet: Worksheet, looks: Looks, origins: Origins, title: str) -> Panels:
    """Write every vertical along the tape with its panel as formulas, and the totals."""
    result = origins.result
    columns = _columns(origins.gauging, result)
    table = Table(sheet, looks, title, _about(result), columns, frozen_columns=3)
    panels = {(panel.channel, panel.vertical): panel for panel in result.panels}
    channels = [
        [v for v in result.verticals if v.channel == c] for c in range(len(result.channels))
    ]
    # The total stands below the channels, each of which has one row of its own total.
    total = table.next + sum(len(channel) + 1 for channel in channels)
    rows: list[tuple[int, ...]] = []
    sums: list[int] = []
    for c, channel in enumerate(channels):
        verticals = Verticals(table, origins, channel)
        writer = _PanelWriter(table, result, verticals, total)
        for place, vertical in enumerate(channel):
            cells, velocity = verticals.cells(place)
            panel, width = writer.cells(place, panels.get((c, vertical.vertical)))
            table.add({**cells, **panel, "words": f"velocity: {velocity}; {width}"})
        rows.append(verticals.rows)
        sums.append(_channel_total(table, c, verticals.rows, result))
    _total(table, sums, result)
    return Panels(table, tuple(rows), total)


def _about(result: Result) -> str:
    if result.edge_rule is None:
        return (
            "Method: mean-section. A panel lies between a vertical and the next; it stands in the "
            "row of the one at the lower tape."
        )
    return (
        f"Method: mid-section, {result.edge_rule} edges. A panel reaches half way to the "
        "neighbours of its vertical."
    )


def _columns(gauging: Gauging, result: Result) -> list[Column]:
    means = [
        Column("panel_depth", "mean depth of the panel (m)", 10, "length"),
        Column("panel_velocity", "mean velocity of the panel (m/s)", 10, "velocity"),
    ]
    return [
        Column("channel", "channel", 8),
        Column("vertical", "vertical", 8),
        Column("called", f"tape as called ({gauging.units.length})", 9),
        Column("tape", "tape (m)", 9, "length"),
        Column("depth", "depth (m)", 9, "length"),
        Column("mean", "mean of the readings (m/s)", 10, "velocity"),
        Column("angle", "factor for the angle", 9, "factor"),
        Column("beside", "from the wall, over depth", 9, "factor"),
        Column("wall", "wall factor", 9, "factor"),
        Column("velocity", "velocity of the vertical (m/s)", 10, "velocity"),
        Column("width", "width (m)", 9, "length"),
        *([] if result.edge_rule else means),
        Column("area", "area (m²)", 11, "area"),
        Column("discharge", "discharge (m³/s)", 12, "discharge"),
        Column("share", "share (%)", 9, "percent"),
        Column("amount", "amount, whichever way (m³/s)", 12, "discharge"),
        Column("from", "velocity from", 15, "text"),
        Column("words", "in words", 66, "text"),
    ]


class _PanelWriter:
    """The cells of the panels of one channel, from their widths to their shares."""

    def __init__(self, table: Table, result: Result, verticals: Verticals, total: int) -> None:
        self._table = table
        self._result = result
        self._verticals = verticals
        self._total = total

    def cells(self, place: int, panel: Panel | None) -> tuple[dict[str, Cell], str]:
        """Return the cells of a panel, of which the last vertical may have none, and words."""
        if panel is None:
            return {}, "no panel, as there is no vertical beyond"
        if self._result.edge_rule is None:
            return self._between(place, panel)
        at, row = self._table.at, self._verticals.rows[place]
        width, words = panel_width(
            self._verticals.tape,
            self._verticals.depth,
            place,
            triangular=self._result.edge_rule == "triangular",
        )
        return self._products(row, panel, width, at("depth", row), at("velocity", row)), words

    def _between(self, place: int, panel: Panel) -> tuple[dict[str, Cell], str]:
        at, row = self._table.at, self._verticals.rows[place]
        width, words = between_width(self._verticals.tape, place)
        means: dict[str, Cell] = {
            key: Formula(f"({at(of, row)}+{at(of, row + 1)})/2", value)
            for key, of, value in (
                ("panel_depth", "depth", panel.depth_m),
                ("panel_velocity", "velocity", panel.velocity_ms),
            )
        }
        depth, velocity = at("panel_depth", row), at("panel_velocity", row)
        return {**means, **self._products(row, panel, width, depth, velocity)}, words

    def _products(
        self, row: int, panel: Panel, width: str, depth: str, velocity: str
    ) -> dict[str, Cell]:
        at = self._table.at
        discharge, total = at("discharge", row), at("discharge", self._total)
        told = f"ABS({total})>no_shares*{at('amount', self._total)}"
        return {
            "width": Formula(width, panel.width_m),
            "area": Formula(f"{at('width', row)}*{depth}", panel.area_m2),
            "discharge": Formula(f"{at('area', row)}*{velocity}", panel.discharge_m3s),
            "share": Formula(f'IF({told},{discharge}/{total}*100,"")', panel.share),
            "amount": Formula(f"ABS({discharge})", abs(panel.discharge_m3s)),
        }


def _channel_total(table: Table, c: int, rows: tuple[int, ...], result: Result) -> int:
    first, last = rows[0], rows[-1]
    panels = [panel for panel in result.panels if panel.channel == c]
    sums: dict[str, Cell] = {
        key: Formula(f"SUM({table.span(key, first, last)})", math.fsum(values))
        for key, values in (
            ("width", [panel.width_m for panel in panels]),
            ("area", [panel.area_m2 for panel in panels]),
            ("amount", [abs(panel.discharge_m3s) for panel in panels]),
        )
    }
    sums["discharge"] = _without_rounding(
        table, f"SUM({table.span('discharge', first, last)})", result.channels[c].discharge_m3s
    )
    return table.add(
        {
            **sums,
            "from": f"channel {c + 1}",
            "words": "sums of its panels; what rounding left of 0 is 0",
        },
        total=True,
    )


def _total(table: Table, channels: Sequence[int], result: Result) -> None:
    def added(key: str) -> str:
        return f"SUM({','.join(table.at(key, row) for row in channels)})"

    values = {
        "width": math.fsum(panel.width_m for panel in result.panels),
        "area": math.fsum(panel.area_m2 for panel in result.panels),
        "amount": math.fsum(abs(panel.discharge_m3s) for panel in result.panels),
    }
    cells: dict[str, Cell] = {key: Formula(added(key), value) for key, value in values.items()}
    cells["discharge"] = _without_rounding(table, added("discharge"), result.discharge_m3s)
    words = "sums of all channels: the discharge of the section"
    table.add({**cells, "from": "all channels", "words": words}, total=True)


def _without_rounding(table: Table, added: str, value: float) -> Formula:
    amount = table.at("amount", table.next)
    return Formula(f"IF(ABS({added})<=rounding_share*{amount},0,{added})", value)
