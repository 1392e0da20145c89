"""The picture of the section: bed, water, verticals, their velocities, and shares of the panels.

Black on white: what a colour could say is said by hatching, by open and filled marks and by words.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from bankside.gauging.share_limits import ShareLimits, above
from bankside.note.section_drawing import (
    DrawnChannel,
    DrawnPanel,
    SectionDrawing,
    section_rows,
    tape_words,
)
from bankside.report.canvas import (
    INK,
    PictureForm,
    drawing_style,
    new_figure,
    picture_bytes,
    short_label,
)
from bankside.report.section_parts import (
    GROUND,
    SKY,
    draw_bed,
    draw_velocities,
    name_banks,
)

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import SubFigure

__all__ = ["FIGURE_WIDTH_MM", "draw_section"]

FIGURE_WIDTH_MM: Final = 180.0
_ROW_HEIGHT_MM: Final = 56.0
_NARROWEST: Final = 0.16
"""A channel that would be drawn narrower than this part of its row is widened, to stay legible."""

_NARROW: Final = 0.2
"""Below this part of its row a channel has no room for more than "left" and "right"."""

_LETTERS_IN_A_ROW: Final = 85
"""So many letters of a title fit over a whole row; a longer name stands whole over the table."""

_NAMES_APART: Final = 0.22
"""The part of the height of the shares that a name takes up."""

_GREY: Final = "#8a8a8a"


def draw_section(
    drawing: SectionDrawing,
    form: PictureForm,
    rows: Sequence[Sequence[DrawnChannel]] | None = None,
) -> bytes:
    """Return the picture as SVG or PNG, 180 mm wide; equal drawings give equal bytes.

    Scales of depth, velocity and share are the same for all channels of the section. `rows` are
    those to draw, all of `section_rows` if nothing is said.
    """
    chosen = section_rows(drawing) if rows is None else rows
    with drawing_style():
        figure = new_figure(FIGURE_WIDTH_MM, _ROW_HEIGHT_MM * len(chosen))
        parts = figure.subfigures(len(chosen), 1, squeeze=False)
        for part, row in zip(parts[:, 0], chosen, strict=True):
            _draw_row(part, row, drawing)
        return picture_bytes(figure, form)


def _draw_row(part: SubFigure, row: Sequence[DrawnChannel], drawing: SectionDrawing) -> None:
    widths = [channel.width for channel in row]
    whole = sum(widths)
    grid = part.subplots(
        3,
        len(row),
        squeeze=False,
        sharex="col",
        sharey="row",
        height_ratios=[1.0, 0.9, 2.1],
        width_ratios=[max(width, _NARROWEST * whole) for width in widths],
    )
    units = drawing.units
    _scale(list(grid[:, 0]), drawing)
    for place, channel in enumerate(row):
        velocity, share, section = grid[:, place]
        draw_velocities(velocity, channel)
        _draw_shares(share, channel, drawing.limits, named=place == len(row) - 1)
        draw_bed(section, channel, _deepest(drawing))
        name_banks(section, channel, "" if channel.width < _NARROW * whole else " bank")
        if channel.mirrored:
            section.invert_xaxis()
        if channel.title:
            room = max(channel.width / whole, _NARROWEST) * _LETTERS_IN_A_ROW
            title = short_label(channel.title, int(room))
            velocity.set_title(title, fontsize=7.5, fontweight="bold", loc="left")
    for axes, name in zip(
        grid[:, 0],
        (
            f"velocity\n({units.velocity})",
            "share\n(%)",
            f"depth ({units.depth})",
        ),
        strict=True,
    ):
        axes.set_ylabel(name)
    part.supxlabel(tape_words(row, units.length), fontsize=7.0)
    part.align_ylabels(list(grid[:, 0]))


def _scale(axes: Sequence[Axes], drawing: SectionDrawing) -> None:
    """Set the scales that all channels of the section share."""
    velocity, share, section = axes
    speeds = [v.velocity for channel in drawing.channels for v in channel.verticals]
    velocity.set_ylim(*_from_zero(speeds, 1.15))
    shares = [p.share or 0.0 for channel in drawing.channels for p in channel.panels]
    share.set_ylim(*_from_zero([*shares, drawing.limits.aim], 1.2))
    deepest = _deepest(drawing)
    section.set_ylim(GROUND * deepest, -SKY * deepest)


def _from_zero(values: Sequence[float], room: float) -> tuple[float, float]:
    low, high = min(0.0, *values, 0.0), max(0.0, *values, 0.0)
    return (low * room, high * room) if high > low else (0.0, 1.0)


def _deepest(drawing: SectionDrawing) -> float:
    return max((v.depth for c in drawing.channels for v in c.verticals), default=0.0) or 1.0


def _draw_shares(axes: Axes, channel: DrawnChannel, limits: ShareLimits, named: bool) -> None:
    """Draw a bar a panel, as wide as the panel; hatched above the aim, crossed above the limit."""
    axes.axhline(0.0, color=INK, linewidth=0.5)
    for panel in channel.panels:
        if panel.share is not None:
            axes.bar(
                (panel.start + panel.end) / 2,
                panel.share,
                width=panel.end - panel.start,
                facecolor="white",
                edgecolor=INK,
                linewidth=0.5,
                hatch=_hatch(panel, limits),
            )
    if all(panel.share is None for panel in channel.panels):
        axes.text(0.5, 0.5, "no shares can be told", transform=axes.transAxes, ha="center")
    for limit, name in ((limits.aim, "aim"), (limits.limit, "limit")):
        if limit < axes.get_ylim()[1]:
            axes.axhline(limit, color=_GREY, linewidth=0.6, linestyle=(0, (4, 2)), zorder=3)
            if named and (limit == limits.limit or _apart(axes, limits)):
                axes.annotate(
                    f"{name} {limit:g} %",
                    (1.0, limit),
                    xycoords=("axes fraction", "data"),
                    xytext=(2, 0),
                    textcoords="offset points",
                    va="center",
                    fontsize=6.0,
                    annotation_clip=False,
                )
    axes.tick_params(bottom=False)
    axes.spines["bottom"].set_visible(False)


def _apart(axes: Axes, limits: ShareLimits) -> bool:
    """Return whether aim and limit stand far enough apart to name both."""
    low, high = axes.get_ylim()
    return high < limits.limit or _NAMES_APART * (high - low) < limits.limit - limits.aim


def _hatch(panel: DrawnPanel, limits: ShareLimits) -> str | None:
    share = panel.share or 0.0
    if above(share, limits.limit):
        return "xxxxxx"
    return "//////" if above(share, limits.aim) else None
