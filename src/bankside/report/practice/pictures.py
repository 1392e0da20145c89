"""Pictures of practice: the parts of an error, and the errors of everybody's tries."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bankside.practice.debrief.error_parts import ErrorParts
from bankside.practice.debrief.source_words import SOURCES
from bankside.practice.readiness.requirements import Requirements
from bankside.practice.readiness.standing import PersonStanding
from bankside.report.canvas import (
    INK,
    PictureForm,
    drawing_style,
    new_figure,
    picture_bytes,
    short_label,
)

__all__ = ["draw_error_parts", "draw_tries"]

_WIDTH_MM: Final = 180.0
_ROOM_MM: Final = 12.0
_ROW_MM: Final = 4.6
_GREY: Final = "#e4e4e4"
_LONGEST: Final = 34


def draw_error_parts(parts: ErrorParts, form: PictureForm) -> bytes:
    """Return a bar for each source, the largest filled; equal figures give equal bytes."""
    with drawing_style():
        figure = new_figure(_WIDTH_MM, _ROOM_MM + _ROW_MM * len(parts.parts))
        axes = figure.subplots()
        for row, (source, _) in enumerate(parts.parts):
            fill = INK if source == parts.largest else "white"
            axes.barh(row, parts.percent(source), 0.6, color=fill, edgecolor=INK, linewidth=0.6)
        axes.axvline(0.0, color=INK, linewidth=0.8)
        axes.set_yticks(
            range(len(parts.parts)), [SOURCES[source].name for source, _ in parts.parts]
        )
        axes.set_ylim(len(parts.parts) - 0.4, -0.6)
        axes.tick_params(axis="y", length=0)
        axes.set_xlabel("part of the error (% of the true discharge)")
        return picture_bytes(figure, form)


def draw_tries(
    people: Sequence[PersonStanding], requirements: Requirements, form: PictureForm
) -> bytes:
    """Return a row for each person and a dot for each try, filled where it counts."""
    with drawing_style():
        figure = new_figure(_WIDTH_MM, _ROOM_MM + 1.2 * _ROW_MM * max(len(people), 1))
        axes = figure.subplots()
        reach = requirements.within_percent
        axes.axvspan(-reach, reach, color=_GREY, linewidth=0)
        axes.axvline(0.0, color=INK, linewidth=0.8)
        for row, person in enumerate(people):
            for one in person.tries:
                if one.percent is not None:
                    counts = one in person.counted
                    axes.plot(
                        one.percent,
                        row,
                        marker="o",
                        markersize=4.2,
                        color=INK,
                        markerfacecolor=INK if counts else "white",
                        zorder=3,
                    )
        axes.set_yticks(
            range(len(people)), [short_label(person.person, _LONGEST) for person in people]
        )
        axes.set_ylim(len(people) - 0.4, -0.6)
        axes.tick_params(axis="y", length=0)
        axes.set_xlabel("off the true discharge (%)")
        return picture_bytes(figure, form)
