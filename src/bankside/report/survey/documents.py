"""The report of a survey as PDF or HTML: content and pictures, laid into the templates."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import attrs

from bankside.report.html_document import html_page
from bankside.report.survey.appendix import appended_pictures
from bankside.report.survey.compose import ComposedSurvey, compose_survey
from bankside.report.survey.content import SurveyContent
from bankside.report.survey.map_content import MapBy
from bankside.report.survey.map_part import MAP_KEY
from bankside.report.survey.map_picture import draw_survey_map
from bankside.report.survey.material import SurveyMaterial
from bankside.report.survey.numbering import in_order
from bankside.report.survey.sections import sections_key
from bankside.report.survey.sections_picture import draw_sections
from bankside.report.survey.unit_part import UNIT_KEY
from bankside.report.survey.unit_picture import draw_unit_discharges
from bankside.report.typst_document import Paper, typst_pdf

__all__ = ["SurveyReport", "make_survey_report", "survey_html", "survey_paper", "survey_pdf"]


@attrs.frozen
class SurveyReport:
    """A report ready to be set: its texts, and its pictures as SVG by key."""

    content: SurveyContent
    pictures: Mapping[str, str]


def make_survey_report(material: SurveyMaterial, map_by: MapBy = "discharge") -> SurveyReport:
    """Return the content of the report of a survey with its pictures drawn."""
    composed = compose_survey(material, map_by)
    pictures = {key: picture.decode() for key, picture in _pictures(composed)}
    for number, one in enumerate(in_order(material), 1):
        if one.note is not None:
            pictures |= appended_pictures(one.note, number)
    return SurveyReport(composed.content, pictures)


def _pictures(composed: ComposedSurvey) -> Iterator[tuple[str, bytes]]:
    if composed.map is not None:
        yield MAP_KEY, draw_survey_map(composed.map, "svg")
    for number, row in enumerate(composed.sections):
        yield sections_key(number), draw_sections(row, composed.scale, "svg")
    if composed.units:
        yield UNIT_KEY, draw_unit_discharges(composed.units, "svg")


def survey_paper(material: SurveyMaterial) -> Paper:
    """Return the paper that goes with most of the tapes: Letter with feet, A4 with metres."""
    visits = material.examined.visits
    feet = sum(1 for visit in visits if visit.gauging.units.length in ("ft", "in"))
    return "letter" if 2 * feet > len(visits) else "a4"


def survey_pdf(report: SurveyReport, paper: Paper) -> bytes:
    """Return the report as PDF, the same bytes for the same report; BanksideError if it fails."""
    content = attrs.asdict(report.content, filter=_is_shown)
    return typst_pdf("survey", content, report.pictures, paper=paper, day=report.content.day)


def survey_html(report: SurveyReport, paper: Paper) -> str:
    """Return the report as one HTML page that needs no other file."""
    content = attrs.asdict(report.content, filter=_is_shown)
    return html_page("survey", content, report.pictures, paper=paper)


def _is_shown(field: attrs.Attribute[object], value: object) -> bool:
    """Leave out days: they are for the file's own record, in which they are dates."""
    del value
    return field.name != "day"
