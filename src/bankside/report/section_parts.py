"""Parts of a picture of a section: bed and water, velocities, the names of the banks."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from bankside.note.section_drawing import DrawnChannel
from bankside.report.canvas import INK

if TYPE_CHECKING:
    from matplotlib.axes import Axes

__all__ = ["GROUND", "SKY", "draw_bed", "draw_velocities", "name_banks"]

GROUND: Final = 1.22
SKY: Final = 0.45
_BANK: Final = 0.12
"""How far the picture goes down and up, and how high the banks are sketched, in deepest depths."""

_WATER: Final = "#f0f0f0"
_BROKEN: Final = (0, (2, 2))


def draw_velocities(axes: Axes, channel: DrawnChannel) -> None:
    """Draw a stem a vertical: filled where the velocity was measured there, open where not."""
    axes.axhline(0.0, color=INK, linewidth=0.5)
    for measured in (True, False):
        stems = [v for v in channel.verticals if v.depth and v.measured == measured]
        if not stems:
            continue
        tapes, velocities = [v.tape for v in stems], [v.velocity for v in stems]
        style = "solid" if measured else _BROKEN
        axes.vlines(tapes, 0.0, velocities, color=INK, linewidth=0.7, linestyle=style)
        axes.plot(
            tapes,
            velocities,
            marker="o",
            markersize=2.6,
            markeredgewidth=0.6,
            color=INK,
            markerfacecolor=INK if measured else "white",
            linestyle="",
            clip_on=False,
        )
    axes.tick_params(bottom=False)
    axes.spines["bottom"].set_visible(False)


def draw_bed(axes: Axes, channel: DrawnChannel, deepest: float) -> None:
    """Draw ground, water and verticals; above the water the banks are a mere sketch.

    Where no edge was measured the picture stays open: no bank and no ground is made up.
    """
    tapes = [vertical.tape for vertical in channel.verticals]
    depths = [vertical.depth for vertical in channel.verticals]
    margin = 0.06 * (channel.width or 1.0)
    axes.set_xlim(tapes[0] - margin, tapes[-1] + margin)
    axes.fill_between(tapes, 0.0, depths, facecolor=_WATER, linewidth=0.0)
    bed = list(zip(tapes, depths, strict=True))
    first, last = channel.unmeasured
    for (tape, depth), step, is_open in ((bed[0], -margin, first), (bed[-1], margin, last)):
        if is_open:
            axes.hlines(0.0, tape, tape + step, color=INK, linewidth=0.7, linestyle=(0, (1, 2)))
            continue
        bank = [(tape, 0.0), (tape + step, -_BANK * deepest)]
        axes.plot(*zip(*bank, strict=True), color=INK, linewidth=0.8, linestyle=(0, (3, 2)))
        axes.plot([tape, tape], [0.0, depth], color=INK, linewidth=1.2)
        bed = [*bank[::-1], *bed] if step < 0 else [*bed, *bank]
    ground_tapes, ground_depths = zip(*bed, strict=True)
    ground = axes.fill_between(ground_tapes, ground_depths, GROUND * deepest, facecolor="white")
    ground.set(hatch="////", edgecolor="#b5b5b5", linewidth=0.0)
    axes.plot(tapes, depths, color=INK, linewidth=1.2)
    axes.plot([tapes[0], tapes[-1]], [0.0, 0.0], color=INK, linewidth=0.7)
    axes.set_yticks([tick for tick in axes.get_yticks() if 0.0 <= tick < GROUND * deepest])
    for measured in (True, False):
        standing = [v for v in channel.verticals if v.measured == measured]
        if standing:
            style = "solid" if measured else _BROKEN
            depths = [v.depth for v in standing]
            places = [v.tape for v in standing]
            axes.vlines(places, 0.0, depths, color=INK, linewidth=0.5, linestyle=style)
    read = [(v.tape, f * v.depth) for v in channel.verticals if v.depth for f in v.fractions]
    if read:
        axes.plot(*zip(*read, strict=True), color=INK, marker="_", markersize=4.0, ls="")


def name_banks(axes: Axes, channel: DrawnChannel, noun: str) -> None:
    """Name the banks that were measured, and say where none was."""
    ends = list(zip(channel.banks, channel.unmeasured, strict=True))
    if channel.mirrored:
        ends.reverse()
    for place, side, (bank, is_open) in zip((0.0, 1.0), ("left", "right"), ends, strict=True):
        if bank is None and not is_open:
            continue
        axes.annotate(
            f"{'edge ' if noun else ''}not measured" if is_open else f"{bank}{noun}",
            (place, 1.0),
            xycoords="axes fraction",
            xytext=(3 if side == "left" else -3, -1),
            textcoords="offset points",
            ha=side,
            va="top",
            fontweight="bold",
            fontsize=6.5,
        )
