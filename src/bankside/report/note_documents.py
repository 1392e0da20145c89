"""A measurement note as PDF or HTML: content and pictures, laid into the templates."""

from __future__ import annotations

from collections.abc import Mapping

import attrs

from bankside.gauging.records import Gauging
from bankside.gauging.share_limits import limits_of
from bankside.note.compose import MAP_KEY, note_content, section_key
from bankside.note.content import NoteContent
from bankside.note.map_point import map_point
from bankside.note.material import NoteMaterial
from bankside.note.section_drawing import section_drawing, section_rows
from bankside.report.html_document import html_page
from bankside.report.locator_map import draw_locator_map
from bankside.report.section_figure import draw_section
from bankside.report.typst_document import Paper, typst_pdf

__all__ = ["Note", "make_note", "note_html", "note_pdf", "usual_paper"]


@attrs.frozen
class Note:
    """A note ready to be set: its texts, and its pictures as SVG by key."""

    content: NoteContent
    pictures: Mapping[str, str]


def make_note(material: NoteMaterial) -> Note:
    """Return the content of a note with its pictures drawn."""
    drawing = section_drawing(material.gauging, material.result, limits_of(material.rules))
    pictures = {
        section_key(number): draw_section(drawing, "svg", [row]).decode()
        for number, row in enumerate(section_rows(drawing))
    }
    here = map_point(material.gauging)
    if here is not None:
        pictures[MAP_KEY] = draw_locator_map(here, material.others, "svg").decode()
    return Note(note_content(material), pictures)


def usual_paper(gauging: Gauging) -> Paper:
    """Return the paper that goes with the unit of the tape: Letter with feet, A4 with metres."""
    return "letter" if gauging.units.length in ("ft", "in") else "a4"


def note_pdf(note: Note, paper: Paper) -> bytes:
    """Return a note as PDF; equal notes give equal bytes. BanksideError if it cannot be set."""
    content = attrs.asdict(note.content, filter=_is_shown)
    return typst_pdf("note", content, note.pictures, paper=paper, day=note.content.day)


def note_html(note: Note, paper: Paper) -> str:
    """Return a note as one HTML page that prints on the paper and needs no other file."""
    content = attrs.asdict(note.content, filter=_is_shown)
    return html_page("note", content, note.pictures, paper=paper)


def _is_shown(field: attrs.Attribute[object], value: object) -> bool:
    """Leave out the day: it is for the file's own record, in which it is a date."""
    del value
    return field.name != "day"
