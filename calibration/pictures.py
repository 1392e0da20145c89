"""Pictures of the judgement: how often intervals hold the truth, and how wide they are."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import matplotlib as mpl
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from calibration.judged import METHODS
from calibration.tables import NAMES

__all__ = ["draw_pictures"]

# Told apart by mark and by shade, in print too.
_MARKS = {"between-verticals": "o", "interpolated-variance": "s", "iso-748": "^", "components": "x"}
_SHADES = {
    "between-verticals": "#0b4f6c",
    "interpolated-variance": "#c8553d",
    "iso-748": "#7a7a7a",
    "components": "#b0b0b0",
}
_CREWS = {"perfect": "perfect crews: between verticals", "drawn": "drawn crews: the whole"}
# The same figures give the same bytes.
_STYLE: dict[Any, Any] = {"svg.hashsalt": "bankside", "svg.fonttype": "none", "font.size": 9.0}


def draw_pictures(results: Mapping[str, Any], folder: Path) -> None:
    """Draw both pictures into a folder."""
    folder.mkdir(exist_ok=True)
    with mpl.rc_context(_STYLE):
        _save(_by_type(results), folder / "by-type.svg")
        _save(_by_verticals(results), folder / "by-verticals.svg")


def _save(figure: Figure, path: Path) -> None:
    figure.savefig(path, metadata={"Date": None})


def _by_type(results: Mapping[str, Any]) -> Figure:
    figure = Figure(figsize=(8.0, 3.6), layout="constrained")
    for axes, (crew, title) in zip(figure.subplots(1, 2, sharey=True), _CREWS.items(), strict=True):
        found = results["crews"][crew]
        for method in METHODS:
            kinds = found[method]["type"]
            coverage = [here["coverage 95"] for here in kinds.values()]
            _mark(axes, coverage, list(range(len(kinds))), method, line="")
        axes.set_yticks(range(len(kinds)), list(kinds))
        axes.axvspan(90.0, 98.0, color="#e8f1e4", zorder=0)
        axes.axvline(95.0, color="black", linewidth=0.6)
        axes.set_xlabel("the interval of 95 % holds the truth, %")
        axes.set_title(title, fontsize=9.0)
    axes.invert_yaxis()
    _legend(figure, axes)
    return figure


def _by_verticals(results: Mapping[str, Any]) -> Figure:
    figure = Figure(figsize=(8.0, 5.2), layout="constrained")
    grid = figure.subplots(2, 2, sharex=True, sharey="row")
    for column, (crew, title) in enumerate(_CREWS.items()):
        above, below = grid[0][column], grid[1][column]
        for method in METHODS:
            by_count = results["crews"][crew][method]["verticals"]
            counts = [float(count) for count in by_count]
            _mark(above, counts, [here["coverage 95"] for here in by_count.values()], method)
            _mark(below, counts, [here["width"] for here in by_count.values()], method)
        above.axhspan(90.0, 98.0, color="#e8f1e4", zorder=0)
        above.axhline(95.0, color="black", linewidth=0.6)
        above.set_title(title, fontsize=9.0)
        below.set_xlabel("verticals")
    grid[0][0].set_ylabel("95 % holds the truth, %")
    grid[1][0].set_ylabel("mean width, % of Q")
    grid[1][0].set_ylim(bottom=0.0)
    _legend(figure, grid[0][0])
    return figure


def _mark(axes: Axes, x: list[float], y: list[Any], method: str, line: str = "-") -> None:
    axes.plot(
        x,
        y,
        color=_SHADES[method],
        marker=_MARKS[method],
        markersize=5.0,
        linestyle=line,
        linewidth=1.0,
        label=NAMES[method],
    )


def _legend(figure: Figure, axes: Axes) -> None:
    handles, labels = axes.get_legend_handles_labels()
    figure.legend(handles, labels, loc="outside lower center", ncols=4, frameon=False)
