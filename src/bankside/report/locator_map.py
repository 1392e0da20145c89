"""A small map of where the section is: a frame of latitude and longitude, drawn without any tiles.

It places the gauging among the others of a run. Distances are those of a sphere of the earth's mean
radius, 6371.0088 km (IUGG), good to half a percent: enough for a scale bar, not for a survey.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from bankside.note.map_point import MapPoint
from bankside.report.canvas import (
    INK,
    PictureForm,
    drawing_style,
    new_figure,
    picture_bytes,
    short_label,
)
from bankside.report.map_scale import degree_words, distance_words, round_down, round_lines

if TYPE_CHECKING:
    from matplotlib.axes import Axes

__all__ = ["MAP_SIZE_MM", "draw_locator_map"]

MAP_SIZE_MM: Final = (62.0, 46.0)

_METRES_PER_DEGREE: Final = math.radians(1.0) * 6_371_008.8
_SMALLEST_MAP_M: Final = 2000.0
_ROOM: Final = 1.5
"""The frame is so many times as wide as the points lie apart."""
_FLATTEST: Final = 0.05
"""Cosine of the latitude beyond which the map is no longer stretched: nobody wades at the poles."""
_MOST_LABELS: Final = 12
_SHORT_LABEL: Final = 20


def draw_locator_map(here: MapPoint, others: Sequence[MapPoint], form: PictureForm) -> bytes:
    """Return the map as SVG or PNG; the gauging's own point is filled, the others are open."""
    centre = here.position.lon
    away = {
        (_near(point.position.lon, centre), point.position.lat): point
        for point in others
        if (point.position.lon, point.position.lat) != (centre, here.position.lat)
    }
    places = [(centre, here.position.lat), *sorted(away)]
    west, east, south, north = _frame(places)
    with drawing_style():
        figure = new_figure(*MAP_SIZE_MM)
        axes = figure.subplots()
        axes.set_xlim(west, east)
        axes.set_ylim(south, north)
        _graticule(axes, (west, east, south, north))
        for place in sorted(away):
            axes.plot(*place, marker="o", markersize=3.5, color=INK, markerfacecolor="white")
            if len(away) <= _MOST_LABELS:
                _write(axes, place, away[place].name, (west + east) / 2, "normal")
        axes.plot(*places[0], marker="o", markersize=5.0, color=INK)
        _write(axes, places[0], here.name, (west + east) / 2, "bold")
        _scale_bar(axes, (west, east, south, north))
        _north_arrow(axes)
        return picture_bytes(figure, form)


def _near(longitude: float, centre: float) -> float:
    """Return a longitude within half a turn of the centre, so that 180° does not part the map."""
    return centre + (longitude - centre + 180.0) % 360.0 - 180.0


def _stretch(latitude: float) -> float:
    """Return how much shorter a degree of longitude is there than one of latitude."""
    return max(math.cos(math.radians(latitude)), _FLATTEST)


def _frame(places: Sequence[tuple[float, float]]) -> tuple[float, float, float, float]:
    """Return west, east, south and north of a frame round the points, in the paper's shape."""
    longitudes = [longitude for longitude, _ in places]
    latitudes = [latitude for _, latitude in places]
    middle = (max(longitudes) + min(longitudes)) / 2, (max(latitudes) + min(latitudes)) / 2
    stretch = _stretch(middle[1])
    shape = MAP_SIZE_MM[0] / MAP_SIZE_MM[1]
    height = max(
        _SMALLEST_MAP_M / _METRES_PER_DEGREE,
        _ROOM * (max(latitudes) - min(latitudes)),
        _ROOM * (max(longitudes) - min(longitudes)) * stretch / shape,
    )
    width = height * shape / stretch
    return (
        middle[0] - width / 2,
        middle[0] + width / 2,
        middle[1] - height / 2,
        middle[1] + height / 2,
    )


def _graticule(axes: Axes, frame: tuple[float, float, float, float]) -> None:
    """Draw lines of latitude and longitude at round values, named at the edge of the frame."""
    west, east, south, north = frame
    for spine in axes.spines.values():
        spine.set_visible(True)
    across, up = round_lines(west, east, 3), round_lines(south, north, 4)
    axes.set_xticks(
        across, [degree_words((x + 180.0) % 360.0 - 180.0, "EW", east - west) for x in across]
    )
    axes.set_yticks(up, [degree_words(y, "NS", north - south) for y in up])
    axes.grid(color="#b5b5b5", linewidth=0.4, linestyle=(0, (1, 2)))
    axes.tick_params(labelsize=5.5, length=2)


def _write(
    axes: Axes, place: tuple[float, float], name: str | None, middle: float, weight: str
) -> None:
    """Write a name on the side of its point where there is more room."""
    if not name:
        return
    text = short_label(name, _SHORT_LABEL)
    left = place[0] > middle
    axes.annotate(
        text,
        place,
        xytext=(-4 if left else 4, 5),
        textcoords="offset points",
        ha="right" if left else "left",
        fontsize=6.0,
        fontweight=weight,
        annotation_clip=False,
        bbox={"facecolor": "white", "edgecolor": "none", "pad": 0.6},
    )


def _scale_bar(axes: Axes, frame: tuple[float, float, float, float]) -> None:
    west, east, south, north = frame
    metres = (east - west) * _stretch((south + north) / 2) * _METRES_PER_DEGREE
    length = round_down(metres / 3)
    part = length / metres
    start, level = 0.05, 0.07
    axes.plot(
        [start, start, start + part, start + part],
        [level + 0.03, level, level, level + 0.03],
        transform=axes.transAxes,
        color=INK,
        linewidth=0.8,
    )
    words = distance_words(length)
    axes.text(
        start + part / 2, level + 0.03, words, transform=axes.transAxes, ha="center", fontsize=6
    )


def _north_arrow(axes: Axes) -> None:
    axes.annotate(
        "N",
        (0.94, 0.97),
        (0.94, 0.74),
        xycoords="axes fraction",
        ha="center",
        fontsize=6.5,
        fontweight="bold",
        arrowprops={
            "arrowstyle": "-|>",
            "color": INK,
            "linewidth": 0.7,
            "shrinkA": 0,
            "shrinkB": 0,
        },
    )
