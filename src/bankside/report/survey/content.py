"""What the report of a survey says, as plain texts: written once, set by every template."""

from __future__ import annotations

import datetime

import attrs

from bankside.note.content import Fact, FactGroup, NoteContent, Part

__all__ = ["SurveyContent"]


@attrs.frozen
class SurveyContent:
    """Everything that the report of a survey says, in the order in which it is set.

    `warnings` are to be seen before anything else. `notes` are the measurement notes of the
    appendix. `running` stands at the foot of every page. `day` is the last day of the gaugings, for
    the file's own record, None where it is unknown.
    """

    title: str
    kind: str
    name: str
    basin: str
    season: Fact
    groups: tuple[FactGroup, ...]
    warnings: tuple[str, ...]
    parts: tuple[Part, ...]
    notes_title: str
    notes_about: str
    notes: tuple[NoteContent, ...]
    running: str
    day: datetime.date | None = None
