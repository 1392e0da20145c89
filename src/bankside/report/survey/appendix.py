"""The measurement notes of a survey as an appendix: what each note says, under its number."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import attrs

from bankside.gauging.share_limits import limits_of
from bankside.note.compose import CAUTIONS_TITLE, note_content, section_key
from bankside.note.content import NoteContent, Part, Picture
from bankside.note.material import NoteMaterial
from bankside.note.section_drawing import section_drawing, section_rows
from bankside.report.section_figure import draw_section
from bankside.report.survey.material import Surveyed
from bankside.report.survey.review import filed_words, state_words
from bankside.survey.words import site_words

__all__ = ["appended", "appended_pictures"]

_BY_READINGS: Final = "Discharge by the readings as they are now"


def appended(one: Surveyed, note: NoteMaterial, number: int) -> NoteContent:
    """Return a note as it stands among others, its pictures under keys of its own.

    Its head says where it stands, in which state and by whose verdict, and with its figure what was
    filed instead. What the crew might have done at the stream is not said: nobody can do it any
    more. Cautions and map stand in the report once, and a note that is signed is printed by itself.
    """
    content = note_content(note, afterwards=True)
    site = one.visit.site
    head = (
        f"Note {number}",
        "" if site is None else f"{site.id}, {site_words(site)}",
        one.file,
        state_words(one.visit),
    )
    filed = filed_words(one.visit)
    headline = content.headline
    if filed:
        # Whoever sees a figure under "approved" must not take it for the one that was approved.
        told = f"Not the figure of the report: {filed}"
        headline = attrs.evolve(headline, name=_BY_READINGS, warnings=(told, *headline.warnings))
    return attrs.evolve(
        content,
        kind=" · ".join(part for part in head if part),
        headline=headline,
        map=None,
        parts=tuple(
            _with_keys(part, number) for part in content.parts if part.title != CAUTIONS_TITLE
        ),
        signatures=(),
    )


def appended_pictures(note: NoteMaterial, number: int) -> Mapping[str, str]:
    """Return the pictures of a note as SVG, under the same keys."""
    drawing = section_drawing(note.gauging, note.result, limits_of(note.rules))
    return {
        _key(section_key(row), number): draw_section(drawing, "svg", [channels]).decode()
        for row, channels in enumerate(section_rows(drawing))
    }


def _with_keys(part: Part, number: int) -> Part:
    return attrs.evolve(part, pictures=tuple(_keyed(one, number) for one in part.pictures))


def _keyed(picture: Picture, number: int) -> Picture:
    return attrs.evolve(picture, key=_key(picture.key, number))


def _key(key: str, number: int) -> str:
    return f"note {number} {key}"
