"""The frame of every document of practice: its mark stands in head, first lines and foot."""

from __future__ import annotations

import datetime
from collections.abc import Mapping, Sequence
from importlib.metadata import version
from typing import Final

from bankside.gauging.practice_mark import PRACTICE_WORDS
from bankside.note.content import FactGroup, Part
from bankside.note.facts import fact, one_line
from bankside.report.survey.content import SurveyContent
from bankside.report.survey.documents import SurveyReport

__all__ = ["practice_document"]

_LONGEST_FOOT: Final = 70


def practice_document(
    kind: str,
    name: str,
    day: datetime.date | None,
    groups: Sequence[FactGroup],
    parts: Sequence[Part],
    pictures: Mapping[str, str],
    *,
    warnings: Sequence[str] = (),
) -> SurveyReport:
    """Return a document of practice, ready to be set; nobody can take it for one of real water."""
    line = one_line(name)
    short = line if len(line) <= _LONGEST_FOOT else f"{line[: _LONGEST_FOOT - 1]}…"
    content = SurveyContent(
        title=f"{kind}: {line}",
        kind=f"PRACTICE · {kind}",
        name=line,
        basin="",
        season=fact("Day", None if day is None else day.isoformat()),
        groups=tuple(groups),
        warnings=(PRACTICE_WORDS, *warnings),
        parts=tuple(parts),
        notes_title="",
        notes_about="",
        notes=(),
        running=f"PRACTICE · {short} · Bankside {version('bankside')}",
        day=day,
    )
    return SurveyReport(content, pictures)
