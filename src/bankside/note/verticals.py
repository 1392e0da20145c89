"""The table of verticals of a note: what was called, and what it comes to, a row a vertical."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

import attrs

from bankside.gauging.records import Gauging, PointReading, Vertical
from bankside.gauging.result import Panel, Result, VerticalResult
from bankside.gauging.share_limits import USUAL_LIMITS, ShareLimits
from bankside.note.called_figures import (
    CalledUnits,
    as_called,
    as_read,
    called_units,
    share_mark,
    usual_origin,
    velocity_decimals,
    wanted_decimals,
    with_decimals,
    with_four_figures,
)
from bankside.note.content import Cell, Column, Table
from bankside.note.section_drawing import channel_title

__all__ = ["vertical_tables", "widths_apart"]


_ROUNDING = 1e-9
"""By what two widths that are the same on paper may differ."""


@attrs.frozen
class _Row:
    """A vertical as read and as worked out, and the panel that begins or stands there, if any."""

    read: Vertical
    worked_out: VerticalResult
    panel: Panel | None


@attrs.frozen
class _Filled:
    """A column with its cells."""

    column: Column
    cells: Sequence[str]


def vertical_tables(
    gauging: Gauging, result: Result, limits: ShareLimits = USUAL_LIMITS
) -> tuple[Table, ...]:
    """Return a table for each channel: the figures called, then width, area, discharge, share.

    By the mean-section method a row's panel reaches on to the next vertical, as a column says.
    """
    units = called_units(gauging)
    usual = usual_origin(result.panels)
    return tuple(
        _table(gauging, result, index, units, usual, limits)
        for index in range(len(gauging.channels))
    )


def _table(
    gauging: Gauging,
    result: Result,
    index: int,
    units: CalledUnits,
    usual: str,
    limits: ShareLimits,
) -> Table:
    panels = {p.vertical: p for p in result.panels if p.channel == index}
    rows = [
        _Row(gauging.channels[index].verticals[v.vertical], v, panels.get(v.vertical))
        for v in result.verticals
        if v.channel == index
    ]
    filled = [*_called(rows, units), *_worked_out(rows, units, limits), _notes(rows, usual)]
    texts = zip(*(one.cells for one in filled), strict=True)
    title = channel_title(gauging, index)
    return Table(
        name=title or "Verticals",
        columns=tuple(one.column for one in filled),
        rows=tuple(
            tuple(Cell(text, "strong" if _over(row, text) else "") for text in line)
            for row, line in zip(rows, texts, strict=True)
        ),
        totals=(_totals(filled, result, index, units),),
    )


def _over(row: _Row, text: str) -> bool:
    """Return whether this is the share of a panel that carries too much."""
    return text.startswith("** ") and row.panel is not None


def _called(rows: Sequence[_Row], units: CalledUnits) -> Iterator[_Filled]:
    """Yield the columns of what was called; those in which nobody called anything are left out."""
    yield _right("tape", units.length, as_read([row.read.tape for row in rows]))
    depths = iter(as_read([row.read.depth for row in rows if row.read.depth is not None]))
    yield _right(
        "depth",
        units.depth,
        [next(depths) if row.read.depth is not None else "dry" for row in rows],
    )
    for head, unit, figure in (
        ("at", "of depth", lambda reading: reading.fraction),
        ("read", units.velocity, lambda reading: reading.value),
        ("turns", "rev", lambda reading: reading.counts),
        ("time", "s", lambda reading: reading.seconds),
    ):
        cells = _of_readings(rows, figure)
        if any(cells):
            yield _right(head, unit, cells)
    angles = [_angle(row.read) for row in rows]
    if any(angles):
        yield _right("angle", "", angles)


def _of_readings(rows: Sequence[_Row], figure: Callable[[PointReading], float | None]) -> list[str]:
    """Return a figure of the readings of each vertical, a line each where there are several."""
    called = [[figure(reading) for reading in row.read.velocity] for row in rows]
    shown = iter(as_read([value for values in called for value in values if value is not None]))
    lines = [["" if value is None else next(shown) for value in values] for values in called]
    return ["\n".join(own) if any(own) else "" for own in lines]


def _angle(vertical: Vertical) -> str:
    if vertical.angle is not None:
        return f"{vertical.angle:g}°"
    return "" if vertical.angle_coefficient is None else f"cos {vertical.angle_coefficient:g}"


def _worked_out(rows: Sequence[_Row], units: CalledUnits, limits: ShareLimits) -> Iterator[_Filled]:
    velocities = [row.worked_out.velocity_ms / units.metres_per_second for row in rows]
    yield _right(
        "mean velocity", units.velocity, with_decimals(velocities, velocity_decimals(units))
    )
    panels = [row.panel for row in rows]
    if any(panel is not None and panel.tape_to is not None for panel in panels):
        yield _of_panels("panel to", units.length, panels, lambda p: p.tape_to, as_called)
    yield _of_panels("width", units.length, panels, lambda p: p.width_m / units.metres, as_called)
    yield _of_panels("area", units.area, panels, lambda p: p.area_m2 / units.square_metres, _four)
    yield _of_panels(
        "discharge",
        units.discharge,
        panels,
        lambda p: p.discharge_m3s / units.cubic_metres_per_second,
        _four,
    )
    shares = [None if panel is None else panel.share for panel in panels]
    marked = [
        f"{share_mark(share, limits)} {figure}".lstrip()
        for figure, share in zip(with_decimals(shares, 1), shares, strict=True)
    ]
    yield _right("share", "%", marked)


def _of_panels(
    head: str,
    unit: str,
    panels: Sequence[Panel | None],
    value: Callable[[Panel], float | None],
    shown: Callable[[Sequence[float]], list[str]],
) -> _Filled:
    """Return a column of a figure of each panel, empty where a vertical has none."""
    values = [None if panel is None else value(panel) for panel in panels]
    figures = iter(shown([figure for figure in values if figure is not None]))
    return _right(head, unit, ["" if figure is None else next(figures) for figure in values])


def _four(values: Sequence[float]) -> list[str]:
    return with_decimals(values, wanted_decimals(values))


def _right(head: str, unit: str, cells: Sequence[str]) -> _Filled:
    return _Filled(Column(head, unit, "right"), cells)


def _notes(rows: Sequence[_Row], usual: str) -> _Filled:
    return _Filled(Column("notes", weight=1.0), [_note(row, usual) for row in rows])


def _note(row: _Row, usual: str) -> str:
    """Return which edge a vertical is, where its velocity comes from, and the crew's remark."""
    words = []
    if row.read.edge is not None:
        bank = "" if row.read.bank is None else f", {row.read.bank}"
        words.append(f"{row.read.edge} edge{bank}")
    origin = row.worked_out.velocity_from
    if origin not in ("", "edge", usual):
        words.append(origin)
    if row.read.wall_factor is not None:
        words.append(f"wall factor {row.read.wall_factor:g}")
    if row.read.remark is not None and row.read.remark not in words:
        words.append(row.read.remark)
    return "; ".join(words)


def widths_apart(gauging: Gauging, result: Result) -> list[str]:
    """Return both widths of each channel where dry ground lies between its edges, in words."""
    units = called_units(gauging)
    said = []
    for index, channel in enumerate(result.channels):
        across, water = _across(result, index), channel.width_m / units.metres
        if across - water > _ROUNDING * across:
            title = channel_title(gauging, index)
            figures = as_called([across, water])
            said.append(
                f"{f'{title}: ' if title else ''}{figures[0]} {units.length} edge to edge, "
                f"{figures[1]} of it water"
            )
    return said


def _across(result: Result, index: int) -> float:
    """Return the length of tape from the first vertical of a channel to its last, as called."""
    tapes = [vertical.tape for vertical in result.verticals if vertical.channel == index]
    return tapes[-1] - tapes[0]


def _totals(
    filled: Sequence[_Filled], result: Result, index: int, units: CalledUnits
) -> tuple[Cell, ...]:
    """Return the last line of a channel's table: width, area, discharge and share of the whole."""
    channel = result.channels[index]
    shares = [p.share for p in result.panels if p.channel == index and p.share is not None]
    share = 0.0
    for part in shares:
        share += part
    figures = {
        # What the column adds up to; what of it is water is said below.
        "width": as_called([_across(result, index)])[0],
        "area": with_four_figures(channel.area_m2 / units.square_metres),
        "discharge": with_four_figures(channel.discharge_m3s / units.cubic_metres_per_second),
        "share": f"{share:.1f}" if shares else "",
    }
    return tuple(
        Cell("total" if place == 0 else figures.get(one.column.head, ""), "strong")
        for place, one in enumerate(filled)
    )
