"""The sections of a survey beside each other: every site in metres, from its left edge on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import attrs

from bankside.gauging.rounding import to_figures
from bankside.note.content import Part, Picture
from bankside.note.section_drawing import (
    DrawnChannel,
    DrawnVertical,
    SectionDrawing,
    section_drawing,
)
from bankside.report.survey.material import Surveyed, SurveyMaterial
from bankside.report.survey.numbering import in_order, numbers_of

__all__ = ["SiteSection", "sections_key", "sections_of", "sections_part"]


@attrs.frozen
class SiteSection:
    """The section of a site: its channels in metres, as somebody sees them who faces downstream.

    `channels` are those of the last gauging with a discharge, and `earlier` the others of the
    site, oldest first, each with its day: their beds alone are drawn.
    """

    site: str
    place: str
    words: str
    channels: tuple[DrawnChannel, ...]
    earlier: tuple[tuple[str, tuple[DrawnChannel, ...]], ...] = ()

    @property
    def width(self) -> float:
        """How wide all its channels are together."""
        return sum(channel.width for channel in self.channels)


def sections_key(row: int) -> str:
    """Return the key of the picture of a row of sections."""
    return f"sections {row + 1}"


def sections_of(material: SurveyMaterial) -> tuple[SiteSection, ...]:
    """Return the sections in the order in which the water meets them."""
    groups: dict[str, list[Surveyed]] = {}
    for one in in_order(material):
        if one.visit.site is not None and _has_section(one):
            groups.setdefault(one.visit.site.id, []).append(one)
    return tuple(_section(group, material) for group in groups.values())


def _has_section(one: Surveyed) -> bool:
    return one.visit.result is not None and one.visit.finished


def _section(group: Sequence[Surveyed], material: SurveyMaterial) -> SiteSection:
    *earlier, last = group
    site, numbers = last.visit.site, numbers_of(material)
    assert site is not None  # sections_of asks for it
    flow = last.visit.discharge_m3s or 0.0
    day = "" if last.visit.day is None else f"{last.visit.day.isoformat()}, "
    return SiteSection(
        site=site.id,
        place=f"{site.stream}, {site.name}",
        words=f"note {numbers[last.visit.id]}, {day}{to_figures(flow, 3)} m³/s",
        channels=_channels(last),
        earlier=tuple((f"note {numbers[one.visit.id]}", _channels(one)) for one in earlier),
    )


def _channels(one: Surveyed) -> tuple[DrawnChannel, ...]:
    result = one.visit.result
    assert result is not None  # sections_of asks for it
    drawing = section_drawing(one.visit.gauging, result)
    return tuple(_in_metres(channel, drawing) for channel in drawing.channels)


def _in_metres(channel: DrawnChannel, drawing: SectionDrawing) -> DrawnChannel:
    """Return a channel in SI, its tape counted from the left edge where that is known."""
    units = drawing.units
    first, last = channel.verticals[0].tape, channel.verticals[-1].tape
    verticals = [
        DrawnVertical(
            tape=((last - v.tape) if channel.mirrored else (v.tape - first)) * units.metres,
            depth=v.depth * units.depth_metres,
            velocity=v.velocity * units.metres_per_second,
            measured=v.measured,
            fractions=(),
        )
        for v in channel.verticals
    ]
    open_left, open_right = channel.unmeasured
    return attrs.evolve(
        channel,
        verticals=tuple(reversed(verticals) if channel.mirrored else verticals),
        panels=(),
        first_bank=None if channel.first_bank is None else "left",
        unmeasured=(open_right, open_left) if channel.mirrored else (open_left, open_right),
    )


def _times(exaggeration: float) -> str:
    """Return how large depths are drawn beside widths: "1.7 times as large as"."""
    shown = f"{exaggeration:.1f}"
    return "as large as" if shown == "1.0" else f"{shown} times as large as"


def sections_part(rows: Sequence[Sequence[SiteSection]], exaggeration: float) -> Part:
    """Return the pictures of the sections, a row each; depths are drawn so many times larger."""
    if not rows:
        return Part("Sections", sentences=("No site gives a section.",))
    return Part(
        "Sections",
        sentences=(
            "All sections have one scale, in metres from the left edge of water, seen facing "
            f"downstream; depths are drawn {_times(exaggeration)} widths. Dots: mean "
            "velocity at each vertical, open where none was read. Broken lines: the beds of the "
            "other gaugings of the site, named where they are drawn, left edge upon left edge.",
        ),
        pictures=tuple(
            Picture(sections_key(number), " ".join(_described(row)), "")
            for number, row in enumerate(rows)
        ),
    )


def _described(row: Sequence[SiteSection]) -> Iterator[str]:
    for section in row:
        verticals = [v for channel in section.channels for v in channel.verticals]
        deepest = max(verticals, key=lambda v: v.depth)
        fastest = max(verticals, key=lambda v: abs(v.velocity))
        yield (
            f"{section.site}, {section.place} ({section.words}): {section.width:.2f} m wide, "
            f"deepest {deepest.depth:.2f} m at {deepest.tape:.2f} m, fastest "
            f"{fastest.velocity:.2f} m/s at {fastest.tape:.2f} m."
        )
