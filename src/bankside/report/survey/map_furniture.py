"""What a map needs beside its streams and sites: lines of degrees, scale bar, north, its marks."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from bankside.note.called_figures import with_figures
from bankside.report.canvas import INK
from bankside.report.map_scale import degree_words, distance_words, round_down, round_lines
from bankside.report.survey.map_content import MapSite, SurveyMap
from bankside.report.survey.map_frame import BELOW_MM, MapFrame

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure
    from matplotlib.patches import Circle

__all__ = ["FILL", "LARGEST_MM", "draw_below", "draw_degrees", "radius_mm", "scale_bar_m"]

FILL: Final = "#d0d0d0"
LARGEST_MM: Final = 4.0
_SMALLEST_MM: Final = 0.7
_LONGEST_BAR_MM: Final = 50.0
_LEGEND: Final = (1.0, 0.25, 0.05)
"""The marks that are explained, as parts of the largest value, about."""


def radius_mm(value: float, largest: float) -> float:
    """Return how large a mark is: its area goes with the value, and it can always be seen."""
    part = abs(value) / largest if largest else 0.0
    return max(LARGEST_MM * math.sqrt(part), _SMALLEST_MM)


def scale_bar_m(frame: MapFrame) -> float:
    """Return how much the scale bar stands for, in metres; on paper it is that over the scale."""
    return round_down(_LONGEST_BAR_MM * frame.metres_per_mm)


def draw_degrees(axes: Axes, frame: MapFrame) -> None:
    """Draw lines of longitude and latitude at round values, named at the edge."""
    for spine in axes.spines.values():
        spine.set_visible(True)
    corners = ((0.0, 0.0), (frame.width_mm, frame.height_mm))
    (west, south), (east, north) = (
        (
            frame.plane.lon + (frame.west_m + x * frame.metres_per_mm) / per_lon,
            frame.plane.lat + (frame.south_m + y * frame.metres_per_mm) / per_lat,
        )
        for (x, y), (per_lon, per_lat) in zip(
            corners, [frame.plane.metres_per_degree] * 2, strict=True
        )
    )
    across, up = round_lines(west, east, 5), round_lines(south, north, 5)
    axes.set_xticks(
        [frame.on_paper((lon, frame.plane.lat))[0] for lon in across],
        [degree_words((lon + 180.0) % 360.0 - 180.0, "EW", east - west) for lon in across],
    )
    axes.set_yticks(
        [frame.on_paper((frame.plane.lon, lat))[1] for lat in up],
        [degree_words(lat, "NS", north - south) for lat in up],
        rotation=90,
        va="center",
    )
    axes.grid(color="#c8c8c8", linewidth=0.4, linestyle=(0, (1, 2)))
    axes.set_axisbelow(True)
    axes.tick_params(labelsize=5.8, length=2, pad=1.5)


def draw_below(figure: Figure, content: SurveyMap, frame: MapFrame) -> None:
    """Draw the strip below the map, a millimetre on paper being one of its units."""
    wide, high = frame.paper_mm
    axes = figure.add_axes((0.0, 0.0, 1.0, BELOW_MM / high))
    axes.set_xlim(0, wide)
    axes.set_ylim(0, BELOW_MM)
    axes.axis("off")
    _scale_bar(axes, frame)
    _legend(axes, content)
    _north(axes, wide - 8.0)


def _scale_bar(axes: Axes, frame: MapFrame) -> None:
    """Draw a bar in four parts, black and white by turns."""
    whole = scale_bar_m(frame)
    long = whole / frame.metres_per_mm
    left, level, thick = 10.0, 5.0, 1.2
    for part in range(4):
        axes.barh(
            level,
            long / 4,
            left=left + part * long / 4,
            height=thick,
            facecolor=INK if part % 2 == 0 else "white",
            edgecolor=INK,
            linewidth=0.5,
        )
    for part in (0, 2, 4):
        words = distance_words(whole * part / 4) if part == 4 else f"{_in_unit(whole, part):g}"
        axes.text(
            left + part * long / 4, level + 1.4, words, ha="center", va="bottom", fontsize=6.4
        )


def _in_unit(whole: float, part: int) -> float:
    metres = whole * part / 4
    return metres / 1000 if whole >= 1000 else metres


def _legend(axes: Axes, content: SurveyMap) -> None:
    """Draw marks of a few values, with what they stand for."""
    values = [abs(site.value) for site in content.sites if site.value is not None]
    x = 76.0
    if values and max(values) > 0:
        axes.text(x, 13.6, f"area of a mark: {content.quantity} ({content.unit})", fontsize=6.4)
        for part in _LEGEND:
            value = round_down(part * max(values))
            radius = radius_mm(value, max(values))
            axes.add_patch(_circle((x + radius, 6.6), radius, FILL))
            words = with_figures(value, 1)
            axes.text(x + 2 * radius + 1.0, 6.6, words, va="center", fontsize=6.4)
            x += 2 * radius + 9.5
    bare = [site for site in content.sites if site.value is None]
    if bare:
        axes.plot(x + 6.0, 6.6, marker="x", markersize=4.0, color=INK, linestyle="")
        axes.text(x + 8.5, 6.6, _crossed(bare), va="center", fontsize=6.4)


def _crossed(bare: Sequence[MapSite]) -> str:
    """Return what a cross stands for on this map."""
    words = ("no discharge", "duplicates disagree")
    told = (any(not site.words for site in bare), any(site.words for site in bare))
    return " or ".join(word for word, there in zip(words, told, strict=True) if there)


def _circle(middle: tuple[float, float], radius: float, fill: str) -> Circle:
    from matplotlib import patches

    return patches.Circle(middle, radius, facecolor=fill, edgecolor=INK, linewidth=0.8)


def _north(axes: Axes, x: float) -> None:
    axes.annotate(
        "",
        (x, 12.0),
        (x, 1.5),
        arrowprops={
            "arrowstyle": "-|>",
            "color": INK,
            "linewidth": 1.0,
            "shrinkA": 0,
            "shrinkB": 0,
        },
    )
    axes.text(x, 12.6, "N", ha="center", va="bottom", fontsize=8.0, fontweight="bold")
