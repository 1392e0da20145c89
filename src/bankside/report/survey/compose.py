"""The report of a survey: everything that it says, in the order in which it is set."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Sequence
from importlib.metadata import version

import attrs

from bankside.note.cautions import reminder_lines
from bankside.note.content import Fact, FactGroup, Part
from bankside.note.facts import fact, one_line
from bankside.report.survey.appendix import appended
from bankside.report.survey.closures_part import closures_part
from bankside.report.survey.content import SurveyContent
from bankside.report.survey.duplicates_part import duplicates_part
from bankside.report.survey.exceptions_part import Exceptional, exceptions_of, exceptions_part
from bankside.report.survey.map_content import MapBy, SurveyMap
from bankside.report.survey.map_part import map_part, survey_map
from bankside.report.survey.material import SurveyMaterial
from bankside.report.survey.method_part import method_part
from bankside.report.survey.numbering import in_order
from bankside.report.survey.quality_part import quality_part
from bankside.report.survey.review import approved_words, not_approved_words
from bankside.report.survey.season_table import season_part
from bankside.report.survey.sections import SiteSection, sections_of, sections_part
from bankside.report.survey.sections_picture import (
    CommonScale,
    common_scale,
    sections_in_rows,
)
from bankside.report.survey.unit_part import unit_part, units_in_order
from bankside.survey.summary import SeasonTotals, summary_of
from bankside.survey.unit_discharge import UnitDischarge
from bankside.survey.words import listed

__all__ = ["ComposedSurvey", "compose_survey"]

_LONGEST_FOOT = 90


@attrs.frozen
class ComposedSurvey:
    """What the report says, and what its pictures are to be drawn from."""

    content: SurveyContent
    map: SurveyMap | None
    sections: tuple[tuple[SiteSection, ...], ...]
    scale: CommonScale
    units: tuple[UnitDischarge, ...]


def compose_survey(material: SurveyMaterial, map_by: MapBy = "discharge") -> ComposedSurvey:
    """Return everything that the report of a survey says."""
    survey = material.survey
    examined = material.examined
    summary = summary_of(survey, examined.visits, examined.rules)
    exceptions = exceptions_of(material)
    shown = survey_map(material, map_by)
    sections = sections_of(material)
    scale = common_scale(sections)
    rows = tuple(tuple(row) for row in sections_in_rows(sections, scale))
    units = units_in_order(material)
    days = sorted(visit.day for visit in examined.visits if visit.day is not None)
    parts = (
        season_part(material, summary),
        map_part(material, shown, map_by),
        sections_part(rows, scale.exaggeration),
        quality_part(material),
        duplicates_part(material),
        closures_part(material),
        unit_part(units),
        exceptions_part(exceptions),
        method_part(material),
        _cautions(material),
    )
    content = SurveyContent(
        title=f"Report of the survey: {survey.name}",
        kind="Survey of discharge by wading",
        name=survey.name,
        basin=survey.basin or "",
        season=fact("Season", _season(days)),
        groups=tuple(_groups(material, summary.totals, exceptions)),
        warnings=tuple(_warnings(material, exceptions)),
        parts=parts,
        notes_title="Measurement notes",
        notes_about=_notes_about(material),
        notes=tuple(
            appended(one, one.note, number)
            for number, one in enumerate(in_order(material), 1)
            if one.note is not None
        ),
        running=f"{_shortened(survey.name)} · Bankside {version('bankside')}",
        day=days[-1] if days else None,
    )
    return ComposedSurvey(content, shown, rows, scale, units)


def _notes_about(material: SurveyMaterial) -> str:
    """Return what the notes are, and which gaugings have none."""
    about = "Each gauging as it was called, with everything that its figure rests on."
    bare = [n for n, one in enumerate(in_order(material), 1) if one.note is None]
    if not bare:
        return about
    none = "has" if len(bare) == 1 else "have"
    return (
        f"{about} {listed([str(number) for number in bare])} {none} no note, as the readings give "
        "no discharge; Exceptions say why."
    )


def _season(days: Sequence[datetime.date]) -> str | None:
    if not days:
        return None
    first, last = days[0].isoformat(), days[-1].isoformat()
    return first if first == last else f"{first} to {last}"


def _shortened(title: str) -> str:
    return title if len(title) <= _LONGEST_FOOT else f"{title[: _LONGEST_FOOT - 1]}…"


def _groups(
    material: SurveyMaterial, totals: SeasonTotals, exceptions: Sequence[Exceptional]
) -> Iterator[FactGroup]:
    survey = material.survey
    gaugings_planned = totals.gaugings_planned
    yield FactGroup(
        "The survey",
        (
            fact("Basin", survey.basin),
            fact("Carried out by", survey.organisation),
            fact("Planned for", _planned(material)),
            Fact("Streams", str(len(survey.streams))),
            *([Fact("Remarks", survey.remarks)] if survey.remarks else []),
        ),
    )
    yield FactGroup(
        "What was done",
        (
            Fact("Sites", f"{totals.sites_visited} of {totals.sites_planned} planned were visited"),
            fact(
                "Gaugings",
                f"{totals.gaugings}"
                + (f", {gaugings_planned:g} planned" if gaugings_planned is not None else ""),
            ),
            Fact("With a discharge", str(_final(material))),
            *([Fact("Reviewed", reviewed)] if (reviewed := approved_words(material)) else []),
            Fact("Measured twice", totals.share.words),
            Fact("Exceptions", str(len(exceptions))),
        ),
    )
    yield FactGroup("Who took part", tuple(_crews(material)))


def _final(material: SurveyMaterial) -> int:
    """Return how many gaugings give a discharge, unfinished ones not counted."""
    return sum(1 for visit in material.examined.visits if visit.final_m3s is not None)


def _crews(material: SurveyMaterial) -> Iterator[Fact]:
    """Yield each crew once, its people in the order of its first record."""
    crews: dict[frozenset[str], str] = {}
    for one in in_order(material):
        people = [one_line(member.name) for member in one.visit.gauging.crew]
        if people:
            crews.setdefault(frozenset(people), listed(people))
    if not crews:
        yield fact("Crew", None)
    for words in crews.values():
        yield Fact("Crew", words)


def _planned(material: SurveyMaterial) -> str | None:
    starts, ends = material.survey.starts, material.survey.ends
    if starts is None and ends is None:
        return None
    return f"{starts or 'an open day'} to {ends or 'an open day'}"


def _warnings(material: SurveyMaterial, exceptions: Sequence[Exceptional]) -> Iterator[str]:
    """Yield what has to be seen before any figure."""
    said = (_grave_words(sum(1 for one in exceptions if one.grave)), not_approved_words(material))
    if any(said):
        yield f"Not the last word: {' '.join(part for part in said if part)}"
    if material.left_out:
        yield f"Left out, as they could not be read: {len(material.left_out)}."


def _grave_words(grave: int) -> str:
    """Return that exceptions keep figures from being final, empty where none does."""
    if not grave:
        return ""
    if grave == 1:
        return (
            "one exception keeps a figure of this report from being final; it stands first under "
            "Exceptions."
        )
    return (
        f"{grave} exceptions keep figures of this report from being final; they stand first under "
        "Exceptions."
    )


def _cautions(material: SurveyMaterial) -> Part:
    visits = material.examined.visits
    feet = sum(1 for visit in visits if visit.gauging.units.length in ("ft", "in"))
    return Part(
        "Wading can kill",
        sentences=(
            "Whoever goes to these sites again: the figures of this report say how the water was "
            "on the days of its gaugings, and nothing about the next day.",
        ),
        points=reminder_lines(material.examined.rules, "ft" if 2 * feet > len(visits) else "m"),
    )
