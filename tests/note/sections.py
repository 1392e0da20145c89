"""Sections of invented channels, and what is drawn of them."""

import attrs

from bankside.gauging.compute import compute
from bankside.gauging.records import Channel, Gauging
from bankside.note.section_drawing import SectionDrawing, section_drawing

from .gaugings import plain


def drawing_of(gauging: Gauging, *how: str) -> SectionDrawing:
    """What is drawn of a gauging."""
    return section_drawing(gauging, compute(gauging, *how))  # type: ignore[arg-type]


def with_channels(*channels: Channel) -> Gauging:
    """A gauging of these channels."""
    return attrs.evolve(plain(), channels=channels)
