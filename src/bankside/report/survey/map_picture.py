"""The map of a survey, drawn black on white without tiles: its streams and its sites."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from bankside.report.canvas import (
    INK,
    POINTS_PER_MM,
    PictureForm,
    drawing_style,
    new_figure,
    picture_bytes,
    short_label,
    text_size_mm,
)
from bankside.report.survey.map_content import MapSite, SurveyMap
from bankside.report.survey.map_frame import MapFrame, frame_of
from bankside.report.survey.map_furniture import FILL, draw_below, draw_degrees, radius_mm
from bankside.report.survey.map_labels import Box, Mark, Placed, place_labels
from bankside.report.survey.stream_names import name_along, points_along

if TYPE_CHECKING:
    from matplotlib.axes import Axes

__all__ = ["draw_survey_map"]

Point = tuple[float, float]

_LABEL: Final = 7.0
_WORDS: Final = 6.6
_NAME: Final = 7.4
_UNMEASURED_MM: Final = 0.9
_LONGEST: Final = 24
_LINE: Final = "#777777"
_LINE_HEIGHT: Final = 1.2
_DESCENT: Final = 0.26
"""How high a line of letters is, and how far letters reach below it, in parts of their size."""


def draw_survey_map(content: SurveyMap, form: PictureForm) -> bytes:
    """Return the map as SVG or PNG, 180 mm wide; equal maps give equal bytes.

    ValueError where there is no place to show.
    """
    frame = frame_of(list(content.places))
    with drawing_style():
        figure = new_figure(*frame.paper_mm, laid_out=False)
        axes = figure.add_axes(frame.axes_part)
        axes.set_xlim(0, frame.width_mm)
        axes.set_ylim(0, frame.height_mm)
        draw_degrees(axes, frame)
        _draw(axes, content, frame)
        draw_below(figure, content, frame)
        return picture_bytes(figure, form)


def _draw(axes: Axes, content: SurveyMap, frame: MapFrame) -> None:
    """Draw streams, then sites, then their labels, then the names of streams where room is left."""
    lines = [[frame.on_paper(place) for place in stream.line] for stream in content.streams]
    for stream, line in zip(content.streams, lines, strict=True):
        _stream(axes, line, 1.6 if stream.trunk else 1.0)
    largest = max(
        (abs(site.value) for site in content.sites if site.value is not None), default=0.0
    )
    marks = [_mark(site, largest, frame) for site in content.sites]
    points = [point for line in lines for point in points_along(line, 1.0)]
    inside = Box(0.8, 0.8, frame.width_mm - 0.8, frame.height_mm - 0.8)
    placed = place_labels(marks, points, inside)
    for site, mark, label in zip(content.sites, marks, placed, strict=True):
        _site(axes, site, mark, label)
    taken = [*(mark.box for mark in marks), *(label.box for label in placed)]
    for stream, line in zip(content.streams, lines, strict=True):
        taken += _stream_name(axes, stream.name, line, taken, points, inside)


def _stream(axes: Axes, line: Sequence[Point], width: float) -> None:
    """Draw a stream, with the way of the water beside its middle."""
    if len(line) < 2:
        return
    axes.plot(
        *zip(*line, strict=True), color=_LINE, linewidth=width, solid_capstyle="round", zorder=1.5
    )
    points = points_along(line, 1.0)
    if len(points) > 8:
        at = round(0.72 * len(points))
        axes.annotate(
            "",
            points[min(at + 2, len(points) - 1)],
            points[at - 2],
            arrowprops={"arrowstyle": "-|>", "color": _LINE, "linewidth": width},
            zorder=1.6,
        )


def _mark(site: MapSite, largest: float, frame: MapFrame) -> Mark:
    x, y = frame.on_paper(site.place)
    radius = _UNMEASURED_MM if site.value is None else radius_mm(site.value, largest)
    sizes = [text_size_mm(short_label(site.label, _LONGEST), _LABEL, "bold")]
    if site.words:
        sizes.append(text_size_mm(site.words, _WORDS))
    wide = max(width for width, _ in sizes)
    high = sum(height for _, height in sizes) * _LINE_HEIGHT
    return Mark(x, y, radius, wide + 0.6, high)


def _site(axes: Axes, site: MapSite, mark: Mark, label: Placed) -> None:
    from matplotlib.patches import Circle

    if site.value is None:
        axes.plot(mark.x, mark.y, marker="x", markersize=4.5, color=INK, markeredgewidth=1.0)
    else:
        axes.add_patch(
            Circle(
                (mark.x, mark.y),
                mark.radius,
                facecolor=FILL,
                edgecolor=INK,
                linewidth=0.9,
                zorder=3,
            )
        )
    if label.led:
        _lead(axes, mark, label.box)
    _label(axes, site, label.box)


def _label(axes: Axes, site: MapSite, box: Box) -> None:
    """Write what a site is called, and below it its figure, over whatever line passes there."""
    from matplotlib.patches import Rectangle

    size = box.right - box.left, box.top - box.bottom
    axes.add_patch(
        Rectangle((box.left, box.bottom), *size, facecolor="white", alpha=0.85, zorder=4)
    )
    lines = [(short_label(site.label, _LONGEST), _LABEL, "bold")]
    if site.words:
        lines.append((site.words, _WORDS, "normal"))
    level = box.top
    for text, points, weight in lines:
        level -= _LINE_HEIGHT * points / POINTS_PER_MM
        axes.text(
            box.middle[0],
            level + _DESCENT * points / POINTS_PER_MM,
            text,
            ha="center",
            va="baseline",
            fontsize=points,
            fontweight=weight,
            zorder=5,
        )


def _lead(axes: Axes, mark: Mark, box: Box) -> None:
    """Draw a thin line from the rim of a mark to its label."""
    x = min(max(mark.x, box.left), box.right)
    y = min(max(mark.y, box.bottom), box.top)
    away = math.hypot(x - mark.x, y - mark.y) or 1.0
    start = (
        mark.x + (x - mark.x) * mark.radius / away,
        mark.y + (y - mark.y) * mark.radius / away,
    )
    axes.plot(*zip(start, (x, y), strict=True), color=INK, linewidth=0.5, zorder=2.5)


def _stream_name(
    axes: Axes,
    name: str,
    line: Sequence[Point],
    taken: Sequence[Box],
    points: Sequence[Point],
    inside: Box,
) -> list[Box]:
    """Write the name of a stream along its line; return what it takes up."""
    text = short_label(name, _LONGEST)
    size = text_size_mm(text, _NAME)
    place = name_along(line, size, taken, points, inside)
    if place is None:
        return []
    axes.text(
        place.x,
        place.y,
        text,
        rotation=place.turn,
        rotation_mode="anchor",
        ha="center",
        va="center",
        fontsize=_NAME,
        color="#333333",
        zorder=4,
    )
    half = math.hypot(*size) / 2
    return [Box.round_(place.x, place.y, half, half)]
