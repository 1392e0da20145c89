"""Pictures of many sections at one common scale, as many side by side as fit on the page."""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

import attrs

from bankside.note.section_drawing import DrawnChannel
from bankside.report.canvas import (
    INK,
    PictureForm,
    drawing_style,
    new_figure,
    picture_bytes,
    short_label,
    text_size_mm,
)
from bankside.report.section_parts import GROUND, SKY, draw_bed, draw_velocities
from bankside.report.survey.sections import SiteSection

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

__all__ = ["CommonScale", "common_scale", "draw_sections", "sections_in_rows"]

_WIDTH_MM: Final = 180.0
_LEFT_MM: Final = 11.0
_RIGHT_MM: Final = 3.0
_NARROWEST_MM: Final = 46.0
"""A slot of a section is no narrower, so that its title has room."""
_BANKS: Final = 1.12
"""So many times its width does a section take up with the sketch of its banks."""
_TITLE_MM: Final = 8.0
_VELOCITY_MM: Final = 9.0
_BED_MM: Final = 19.5
_TICKS_MM: Final = 5.0
_GAP_MM: Final = 1.5
_DASHES: Final = ((0, (5, 2)), (0, (1.5, 1.5)), (0, (5, 1.5, 1, 1.5)))
_STEPS: Final = (0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0)
_TICK_MM: Final = 11.0


@attrs.frozen
class CommonScale:
    """Millimetres on paper for a metre across, the greatest depth and the fastest velocity."""

    mm_per_m: float
    deepest: float
    slowest: float
    fastest: float

    @property
    def exaggeration(self) -> float:
        """How many times depths are drawn larger than widths."""
        return _BED_MM / ((GROUND + SKY) * self.deepest) / self.mm_per_m


def common_scale(sections: Sequence[SiteSection]) -> CommonScale:
    """Return the scale at which the widest section fits on the page, and the deepest in its row."""
    room = _WIDTH_MM - _LEFT_MM - _RIGHT_MM
    channels = [channel for section in sections for channel in _all_channels(section)]
    widest = max((_drawn_width(section) for section in sections), default=0.0)
    verticals = [vertical for channel in channels for vertical in channel.verticals]
    speeds = [vertical.velocity for vertical in verticals]
    deepest = max((vertical.depth for vertical in verticals), default=0.0) or 1.0
    across = room / widest if widest else room
    return CommonScale(
        # A small stream is drawn smaller than the page: no depth is drawn flatter than it is.
        mm_per_m=min(across, _BED_MM / ((GROUND + SKY) * deepest)),
        deepest=deepest,
        slowest=min(0.0, *speeds, 0.0),
        fastest=max(0.0, *speeds, 0.0) or 1.0,
    )


def _all_channels(section: SiteSection) -> list[DrawnChannel]:
    return [*section.channels, *(c for _, channels in section.earlier for c in channels)]


def _drawn_width(section: SiteSection) -> float:
    """Return how wide a section is with the widest of its gaugings, banks included, in metres."""
    earlier = [sum(channel.width for channel in channels) for _, channels in section.earlier]
    return _BANKS * max(section.width, *earlier, 0.0)


def sections_in_rows(
    sections: Sequence[SiteSection], scale: CommonScale
) -> list[list[SiteSection]]:
    """Return the sections in their order, as many in a row as fit side by side."""
    rows: list[list[SiteSection]] = []
    left = 0.0
    for section in sections:
        slot = _slot_mm(section, scale)
        if not rows or slot > left:
            rows.append([])
            left = _WIDTH_MM
        rows[-1].append(section)
        left -= slot
    return rows


def _slot_mm(section: SiteSection, scale: CommonScale) -> float:
    drawn = _drawn_width(section) * scale.mm_per_m
    # A hair less than the page, so that the widest section still fits after rounding.
    return max(_LEFT_MM + drawn + _RIGHT_MM, _NARROWEST_MM) - 1e-6


def draw_sections(row: Sequence[SiteSection], scale: CommonScale, form: PictureForm) -> bytes:
    """Return a row of sections as SVG or PNG, 180 mm wide; equal rows give equal bytes."""
    height = _TITLE_MM + _VELOCITY_MM + _GAP_MM + _BED_MM + _TICKS_MM
    with drawing_style():
        figure = new_figure(_WIDTH_MM, height, laid_out=False)
        left = 0.0
        for section in row:
            _draw(figure, section, scale, left, height)
            left += _slot_mm(section, scale)
        return picture_bytes(figure, form)


def _draw(
    figure: Figure, section: SiteSection, scale: CommonScale, left: float, height: float
) -> None:
    room = _slot_mm(section, scale) - 2
    figure.text(
        (left + 1) / _WIDTH_MM,
        1 - 3.2 / height,
        _fitting(f"{section.site}  {section.place}", room, 7.4, "bold"),
        fontsize=7.4,
        fontweight="bold",
    )
    figure.text(
        (left + 1) / _WIDTH_MM,
        1 - 6.4 / height,
        _fitting(section.words, room, 6.6, "normal"),
        fontsize=6.6,
    )
    start = left + _LEFT_MM
    for number, channel in enumerate(section.channels):
        wide = _BANKS * channel.width * scale.mm_per_m
        _draw_channel(figure, section, number, scale, (start, wide, height))
        start += wide


def _fitting(text: str, room_mm: float, points: float, weight: str) -> str:
    """Return a title, cut short where it is longer than its room."""
    whole = short_label(text, len(text))
    if text_size_mm(whole, points, weight)[0] <= room_mm:
        return whole
    fits = bisect_left(
        range(1, len(whole)),
        True,
        key=lambda length: text_size_mm(short_label(whole, length), points, weight)[0] > room_mm,
    )
    return short_label(whole, max(1, fits))


def _draw_channel(
    figure: Figure,
    section: SiteSection,
    number: int,
    scale: CommonScale,
    place: tuple[float, float, float],
) -> None:
    left, wide, height = place
    channel = section.channels[number]
    bed = figure.add_axes(
        (left / _WIDTH_MM, _TICKS_MM / height, wide / _WIDTH_MM, _BED_MM / height)
    )
    bed.set_ylim(GROUND * scale.deepest, -SKY * scale.deepest)
    draw_bed(bed, channel, scale.deepest)
    # The frame is that of the common scale, not that of the channel's own margins.
    margin = (_BANKS - 1) / 2 * channel.width
    bed.set_xlim(channel.verticals[0].tape - margin, channel.verticals[-1].tape + margin)
    _earlier_beds(bed, section, number)
    bed.set_xticks(_ticks(channel.width, scale))
    velocity = figure.add_axes(
        (
            left / _WIDTH_MM,
            (_TICKS_MM + _BED_MM + _GAP_MM) / height,
            wide / _WIDTH_MM,
            _VELOCITY_MM / height,
        )
    )
    velocity.set_xlim(bed.get_xlim())
    velocity.set_ylim(1.08 * scale.slowest, 1.08 * scale.fastest)
    draw_velocities(velocity, channel)
    velocity.tick_params(labelbottom=False)
    velocity.set_yticks(_velocity_ticks(scale))
    for axes in (bed, velocity):
        axes.tick_params(labelsize=5.8, pad=1.5)
    if number:
        for axes in (bed, velocity):
            axes.tick_params(labelleft=False)
    else:
        bed.set_ylabel("m", fontsize=6, labelpad=1)
        velocity.set_ylabel("m/s", fontsize=6, labelpad=1)


def _earlier_beds(axes: Axes, section: SiteSection, number: int) -> None:
    """Draw the beds of other gaugings over that of the last one, each with its own dashes."""
    for which, (words, channels) in enumerate(section.earlier):
        if number >= len(channels):
            continue
        verticals = channels[number].verticals
        axes.plot(
            [vertical.tape for vertical in verticals],
            [vertical.depth for vertical in verticals],
            color=INK,
            linewidth=0.8,
            linestyle=_DASHES[which % len(_DASHES)],
            label=words,
            zorder=4,
            clip_on=False,
        )
    if section.earlier and number == 0:
        axes.legend(
            loc="lower right",
            fontsize=5.8,
            frameon=True,
            framealpha=0.9,
            edgecolor="none",
            borderpad=0.15,
            handlelength=2.6,
            labelspacing=0.15,
        )


def _ticks(width: float, scale: CommonScale) -> list[float]:
    """Return tick positions at round metres that are far enough apart on paper, for all alike."""
    step = next((s for s in _STEPS if s * scale.mm_per_m >= _TICK_MM), _STEPS[-1])
    return [step * n for n in range(math.floor(width / step + 1e-9) + 1)]


def _velocity_ticks(scale: CommonScale) -> list[float]:
    step = next((s for s in _STEPS if s >= scale.fastest / 2.5), _STEPS[-1])
    first = math.ceil(scale.slowest / step)
    return [step * n for n in range(first, math.floor(scale.fastest / step) + 1)]
