"""A picture of a comparison of crews: a row for each crew, a dot for each of its gaugings."""

from __future__ import annotations

from typing import Final

from bankside.report.canvas import (
    INK,
    PictureForm,
    drawing_style,
    new_figure,
    picture_bytes,
    short_label,
)
from bankside.survey.crews.comparison import Compared

__all__ = ["draw_crews"]

_WIDTH_MM: Final = 180.0
_ROW_MM: Final = 6.0
_ROOM_MM: Final = 13.0
_LONGEST: Final = 34


def draw_crews(compared: Compared, form: PictureForm) -> bytes:
    """Return the picture as SVG or PNG, 180 mm wide; equal figures give equal bytes.

    A dot is a gauging, open where its crew stands out; a short line is the mean of a crew; the long
    one that of all, with two reproducibility standard deviations to either side in grey.
    """
    precision = compared.precision
    with drawing_style():
        figure = new_figure(_WIDTH_MM, _ROOM_MM + _ROW_MM * len(precision.groups))
        axes = figure.subplots()
        if precision.reproducibility:
            reach = 2.0 * precision.reproducibility
            axes.axvspan(
                precision.mean - reach, precision.mean + reach, color="#e4e4e4", linewidth=0
            )
        axes.axvline(precision.mean, color=INK, linewidth=0.8)
        for row, standing in enumerate(compared.standings):
            group = standing.group
            odd = any(one is not None and one.word for one in (standing.h, standing.k))
            axes.plot(
                group.values,
                [row] * len(group.values),
                linestyle="none",
                marker="o",
                markersize=4.2,
                color=INK,
                markerfacecolor="white" if odd else INK,
                zorder=3,
            )
            axes.vlines(group.mean, row - 0.36, row + 0.36, color=INK, linewidth=0.9)
        names = [short_label(group.name, _LONGEST) for group in precision.groups]
        axes.set_yticks(range(len(names)), names)
        axes.set_ylim(len(names) - 0.4, -0.6)
        axes.tick_params(axis="y", length=0)
        axes.set_xlabel(f"{compared.quantity.name} ({compared.quantity.unit})")
        return picture_bytes(figure, form)
