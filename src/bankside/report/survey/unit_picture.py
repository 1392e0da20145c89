"""A picture of discharges for each area: a dot for each site and day, from the sources down."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bankside.report.canvas import INK, PictureForm, drawing_style, new_figure, picture_bytes
from bankside.survey.unit_discharge import UnitDischarge

__all__ = ["draw_unit_discharges"]

_WIDTH_MM: Final = 180.0
_ROW_MM: Final = 3.7
_ROOM_MM: Final = 12.0


def draw_unit_discharges(units: Sequence[UnitDischarge], form: PictureForm) -> bytes:
    """Return the picture as SVG or PNG, 180 mm wide; equal figures give equal bytes."""
    with drawing_style():
        figure = new_figure(_WIDTH_MM, _ROOM_MM + _ROW_MM * len(units))
        axes = figure.subplots()
        for row, unit in enumerate(units):
            axes.plot(
                unit.l_s_km2,
                row,
                marker="o" if unit.odd is not None else "X",
                markersize=4.2,
                color=INK,
                markerfacecolor="white" if unit.odd else INK,
                zorder=3,
            )
            if unit.median_l_s_km2 is not None:
                axes.vlines(unit.median_l_s_km2, row - 0.36, row + 0.36, color=INK, linewidth=0.9)
        axes.set_yticks(range(len(units)), [f"{unit.site.id}  {unit.day:%m-%d}" for unit in units])
        axes.set_ylim(len(units) - 0.4, -0.6)
        axes.set_xlim(0, 1.06 * max(max(u.l_s_km2, u.median_l_s_km2 or 0.0) for u in units) or 1.0)
        axes.grid(axis="x", color="#c8c8c8", linewidth=0.4)
        axes.set_axisbelow(True)
        axes.tick_params(axis="y", length=0)
        axes.set_xlabel("discharge for each area (L/s/km²)")
        return picture_bytes(figure, form)
