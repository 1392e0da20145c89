"""Surveys for documents: the invented one of the demonstration, and small ones at every edge."""

from functools import cache
from pathlib import Path

import attrs

from bankside.gauging.records import Gauging, Site
from bankside.intake.journals import united_sources
from bankside.intake.read import read_gaugings
from bankside.report.survey.material import Handed, LeftOut, SurveyMaterial, gather_survey
from bankside.sheets.answers import Answers
from bankside.survey.document import survey_from_json
from bankside.survey.records import Survey

from ...survey.building import BROOK, LOWER, SURVEY, UPPER, gauging

DEMO = Path(__file__).parents[3] / "demo" / "survey"


def demo_survey() -> Survey:
    """The survey of the demonstration, without its gaugings."""
    return survey_from_json((DEMO / "survey.json").read_text(encoding="utf-8"))


@cache
def demo_handed() -> tuple[Handed, ...]:
    """What the three crews of the demonstration hand over."""
    paths = sorted(p for crew in ("north", "south", "west") for p in (DEMO / crew).iterdir())
    sources = united_sources([read_gaugings(path, Answers()) for path in paths])
    return tuple(
        Handed(item.gauging, source.file, item.notes, item.finished)
        for source in sources
        for item in source.items
        if item.gauging is not None
    )


@cache
def demo_material() -> SurveyMaterial:
    """The demonstration with everything worked out, gaugings up to a day apart held together."""
    return gather_survey(demo_survey(), demo_handed(), window_days=1)


@cache
def few_material() -> SurveyMaterial:
    """Five gaugings of the demonstration, unfinished and corrected ones among them."""
    wanted = {("QB-01", 28), ("QB-01", 21), ("TR-02", 24), ("QB-03", 22), ("MW-02", 23)}
    kept = [
        one
        for one, whole in zip(demo_handed(), demo_material().surveyed, strict=True)
        if whole.visit.site is not None
        and whole.visit.day is not None
        and (whole.visit.site.id, whole.visit.day.day) in wanted
    ]
    return gather_survey(demo_survey(), kept, window_days=1)


def small(*gaugings: Gauging, survey: Survey = SURVEY, left_out: int = 0) -> SurveyMaterial:
    """A small survey with these gaugings, and with files that could not be read."""
    lost = [LeftOut(f"lost_{n}.csv", "the file", ("found nothing.",)) for n in range(left_out)]
    return gather_survey(survey, [Handed(g, "sheet.csv") for g in gaugings], left_out=lost)


def three() -> SurveyMaterial:
    """A stream with a brook: 1.0 m³/s above, 0.2 of the brook, 1.2 below."""
    return small(
        gauging(1.0, id_="a", site=Site(id=UPPER.id), crew=("A. Hollins",), serial="X-1"),
        gauging(0.2, id_="b", site=Site(id=BROOK.id), crew=("A. Hollins",), serial="X-1"),
        gauging(1.2, id_="c", site=Site(id=LOWER.id), crew=("K. Ashdown",), serial="X-2"),
    )


def renamed(text: str) -> SurveyMaterial:
    """A survey in which everything that people write is this text."""
    site = attrs.evolve(UPPER, name=text, also=(), label=text, remarks=text)
    survey = attrs.evolve(
        SURVEY,
        name=text,
        basin=text,
        organisation=text,
        remarks=text,
        sites=(site, LOWER, BROOK),
    )
    one = gauging(1.0, id_=text, site=Site(id=UPPER.id), crew=(text,), serial=text, remarks=text)
    return small(one, survey=survey, left_out=1)
