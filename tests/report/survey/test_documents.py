"""The report of a survey as PDF and as a page: its words, its structure, its bytes."""

import functools
import re
import subprocess
import sys
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path
from typing import Any

import attrs
import pytest

from bankside.note.signs import in_every_document, with_signs
from bankside.report.survey.documents import (
    SurveyReport,
    make_survey_report,
    survey_html,
    survey_paper,
    survey_pdf,
)
from bankside.report.survey.material import SurveyMaterial

from ...note.gaugings import ENDLESS, HOSTILE
from ..documents import Page, pdf_facts, pdf_tags, pdf_text
from .surveys import demo_material, few_material, renamed, small, three


@functools.cache
def few_report() -> SurveyReport:
    """The report of a few gaugings, its pictures drawn once for all tests."""
    return make_survey_report(few_material())


@functools.cache
def few_pdf() -> bytes:
    """That report on A4."""
    return survey_pdf(few_report(), "a4")


def test_the_report_is_tagged_and_dated_by_its_gaugings(tmp_path: Path) -> None:
    """A file for an archive: a title, tags, and the last day of the season, no clock."""
    facts = pdf_facts(few_pdf(), tmp_path)

    assert facts["Title"] == "Report of the survey: Marrowmere basin, low water of summer 2026"
    assert facts["Tagged"] == "yes"
    assert facts["CreationDate"].startswith("2026-07-28")
    assert facts["Page size"] == "595.276 x 841.89 pts (A4)"
    assert 8 < int(facts["Pages"]) < 20


def test_headings_go_down_step_by_step(tmp_path: Path) -> None:
    """Title, parts, notes and their parts: readers find their way by headings."""
    tags = pdf_tags(few_pdf(), tmp_path)
    levels = [int(tag[1]) for tag in tags if re.fullmatch("H[1-6]", tag)]

    assert levels[0] == 1 and levels.count(1) == 1
    assert levels.count(2) == 11 and levels.count(3) == 6 and levels.count(4) > 40
    assert all(after - before <= 1 for before, after in pairwise(levels))


def test_everything_that_is_said_is_set(tmp_path: Path) -> None:
    """Each text of the content stands on paper and on the page; the templates add none."""
    paper = _squeezed(pdf_text(few_pdf(), tmp_path))
    page = _squeezed(Page(survey_html(few_report(), "a4")).text)

    content = few_report().content
    for text in (content.running, *_texts(attrs.asdict(content))):
        assert _squeezed(text) in page, text
        assert _squeezed(text) in paper or _broken(text), text


def _texts(content: Any, key: str = "") -> Iterator[str]:
    """All texts that are shown: none that steer the template or stand for pictures."""
    if isinstance(content, dict):
        for name, value in content.items():
            yield from _texts(value, name)
    elif isinstance(content, list | tuple):
        for value in content:
            yield from _texts(value, key)
    elif isinstance(content, str) and key not in (
        *("kind", "align", "key", "description", "name"),
        *("signatures_title", "signature_fields", "running"),
    ):
        if key == "title" and content.startswith(("Report of", "Measurement of")):
            return  # the file's own title
        yield from str(with_signs(content, in_every_document)).split("\n")


def _squeezed(text: str) -> str:
    return re.sub(r"\s|\u200b", "", text)


def _broken(text: str) -> bool:
    """Whether a text is so long that a page or a column breaks it."""
    return len(text) > 40


def test_the_page_stands_alone_and_is_well_formed() -> None:
    """One file: every element closed, nothing fetched, a description for every picture."""
    html = survey_html(few_report(), "a4")
    page = Page(html)

    assert page.count("h1") == 1 and page.count("h3") >= 6
    assert not re.search(r'(src|href)="(?!#)', html)
    described = [a for name, a in page.elements if name == "div" and a.get("role") == "img"]
    assert len(described) == len(few_report().pictures)
    assert all(found["aria-label"] for found in described)
    ids = re.findall(r'\bid="([^"]+)"', html)
    assert len(ids) == len(set(ids))


@pytest.mark.parametrize(
    "material",
    [small(), three(), renamed(HOSTILE), renamed(ENDLESS), renamed("Ы" * 300)],
    ids=["empty", "small", "hostile", "endless", "long"],
)
def test_every_survey_can_be_set(material: SurveyMaterial, tmp_path: Path) -> None:
    """No name, gap or size stops the report, on paper or on a page."""
    report = make_survey_report(material)

    assert pdf_facts(survey_pdf(report, survey_paper(material)), tmp_path)["Tagged"] == "yes"
    Page(survey_html(report, "letter"))


def test_what_people_write_is_never_markup() -> None:
    """A name that looks like a script or a formula is shown as it was written."""
    html = survey_html(make_survey_report(renamed(HOSTILE)), "a4")

    assert "<script" not in html
    assert "&lt;script&gt;alert(1)&lt;/script&gt;" in html


def test_equal_surveys_give_equal_bytes(tmp_path: Path) -> None:
    """In another process, with another order of hashes, the same file comes out."""
    script = (
        "import sys, hashlib; from tests.report.survey.surveys import three\n"
        "from bankside.report.survey.documents import *\n"
        "report = make_survey_report(three())\n"
        "both = survey_pdf(report, 'a4'), survey_html(report, 'a4').encode()\n"
        "print(*(hashlib.sha256(one).hexdigest() for one in both))"
    )
    root = Path(__file__).parents[3]
    runs = {
        subprocess.run(
            [sys.executable, "-c", script],
            capture_output=True,
            text=True,
            check=True,
            cwd=root,
            env={
                "PYTHONHASHSEED": seed,
                "PYTHONPATH": f"{root / 'src'}:{root}",
                "PATH": "/usr/bin",
            },
            timeout=120,
        ).stdout
        for seed in ("1", "2")
    }
    assert len(runs) == 1


def test_the_paper_is_that_of_most_tapes() -> None:
    """Ten of the demonstration's gaugings are in feet, seventeen in metres."""
    assert survey_paper(demo_material()) == "a4"
