"""What people typed, in everything that is written: it stays text, and nothing runs."""

from __future__ import annotations

import csv
import io
import json
import re
import zipfile
from collections.abc import Iterator
from pathlib import Path

import attrs
import pytest
from lxml import etree

from bankside.cli import main
from bankside.exchange.data import SurveyData
from bankside.exchange.write import written_as
from bankside.gauging.compute import compute
from bankside.gauging.records import Channel, CrewMember, Gauging, Meter, Site
from bankside.gauging.text_guard import guarded
from bankside.gauging.wire import to_json
from bankside.report.html_document import page_policy
from bankside.report.note_documents import make_note, note_html, note_pdf
from bankside.report.survey.data_comparisons import survey_tables
from bankside.report.survey.documents import make_survey_report, survey_html, survey_pdf
from bankside.report.survey.table_files import table_files
from bankside.report.workbook import gauging_workbook
from bankside.sheets.read import read_sheets
from bankside.sheets.write import to_csv, write_xlsx
from bankside.survey.records import Survey, SurveySite

from ..hostile import FORMULAS, HOSTILE, MARKUP, SETTING, TERMINAL
from ..note.gaugings import bare, material
from .documents import Page, pdf_text
from .survey.surveys import renamed

_ALL = " ¦ ".join((*MARKUP, *SETTING, *TERMINAL))
_NUMBER = re.compile(r"[+-]?[\d.]+(e[+-]?\d+)?")
# What starts something when a document is opened, or goes elsewhere from it.
_ACTIVE = (b"/JavaScript", b"/JS", b"/Launch", b"/OpenAction", b"/AA", b"/URI", b"/EmbeddedFile")


def _typed(text: str) -> Gauging:
    """Return a gauging that says this text wherever people type."""
    made = bare()
    first, *others = made.channels[0].verticals
    channel = Channel((attrs.evolve(first, remark=text), *others), made.channels[0].name)
    return attrs.evolve(
        made,
        channels=(channel, *made.channels[1:]),
        site=Site(text, text),
        crew=(CrewMember(text, "rod"), CrewMember("Ada Brook", "recorder")),
        meter=Meter(kind=text, serial=text),
        remarks=text,
        moved=text,
    )


def _several(text: str) -> SurveyData:
    """Return a survey whose sites and gaugings are called so."""
    site = SurveySite("s1", text, text, also=(f"{text} too",), label=text, remarks=text)
    return SurveyData(Survey("low-flow", text, remarks=text, sites=(site,)), (_typed(text),) * 1)


def _cells(text: str, delimiter: str) -> Iterator[str]:
    for row in csv.reader(io.StringIO(text, newline=""), delimiter=delimiter):
        yield from row


def _formulas(text: str, delimiters: str) -> list[str]:
    """Return the cells that a spreadsheet would work out, at whichever sign it cuts."""
    return [
        cell
        for delimiter in delimiters
        for cell in _cells(text, delimiter)
        if guarded(cell) != cell and not cell.startswith("'") and not _NUMBER.fullmatch(cell)
    ]


def _parts(workbook: bytes) -> dict[str, str]:
    with zipfile.ZipFile(io.BytesIO(workbook)) as archive:
        return {name: archive.read(name).decode("utf-8") for name in archive.namelist()}


@pytest.mark.parametrize("text", FORMULAS)
def test_no_table_in_csv_has_a_formula(text: str) -> None:
    """In tidy tables, packages and the tables of a report no cell is one to a spreadsheet."""
    tidy = to_csv([_typed(text)])
    assert _formulas(tidy, ",") == _formulas(to_csv([_typed(text), _typed("B")]), ",") == []
    above = "".join(line for line in tidy.splitlines(True) if line.lstrip('"').startswith("#"))
    assert above.count("\n") > 3 and _formulas(above, ",;\t|") == []
    package = written_as(_several(text), "datapackage").files
    tables = table_files(survey_tables(renamed(text)), None)
    files = {n: c for n, c in (*package.items(), *tables.items()) if n.endswith(".csv")}
    assert len(files) > 10
    assert {n: f for n, c in files.items() if (f := _formulas(c.decode(), ","))} == {}


@pytest.mark.parametrize("text", FORMULAS)
def test_a_guarded_sheet_is_read_back_as_it_was_typed(text: str, tmp_path: Path) -> None:
    """What keeps a spreadsheet from working a remark out is no part of it."""
    path = tmp_path / "flow.csv"
    path.write_text(to_csv([_typed(text)]), encoding="utf-8", newline="")
    (item,) = read_sheets(path).gaugings
    assert item.gauging is not None, item.faults
    assert item.gauging.remarks == " ".join(text.split())


def test_no_workbook_has_a_formula_or_a_link_of_what_was_typed(tmp_path: Path) -> None:
    """Texts are written as texts: only our own figures are worked out, and nothing is linked."""
    for text in HOSTILE:
        write_xlsx([_typed(text)], tmp_path / "flow.xlsx")
        tidy = _parts((tmp_path / "flow.xlsx").read_bytes())
        tables = _parts(table_files(survey_tables(renamed(text)), None)["survey.xlsx"])
        for parts in (tidy, tables):
            said = "".join(parts.values())
            assert "<f>" not in said and "<hyperlink" not in said and "externalLink" not in said
        gauging = _typed(text)
        audit = _parts(gauging_workbook(gauging, compute(gauging)))
        formulas = re.findall(r"<f>(.*?)</f>", "".join(audit.values()))
        assert formulas and not any(
            word in formula for formula in formulas for word in ("cmd", "HYPERLINK", "WEBSERVICE")
        )
        assert "1+1" not in "".join(formulas) and "<hyperlink" not in "".join(audit.values())


def test_no_page_has_an_element_or_attribute_of_what_was_typed() -> None:
    """A note and a report hold what they always hold, run nothing and show what was typed."""
    plain = Page(note_html(make_note(material(_typed("plain"))), "a4"))
    note = note_html(make_note(material(_typed(_ALL))), "a4")
    quiet = renamed("plain")
    report = survey_html(make_survey_report(renamed(_ALL)), "a4")
    known = {name for name, _ in plain.elements}
    known |= {n for n, _ in Page(survey_html(make_survey_report(quiet), "a4")).elements}
    assert known.isdisjoint({"script", "iframe", "object", "embed", "link", "base", "form", "a"})
    for text in (note, report):
        page = Page(text)
        assert {name for name, _ in page.elements} <= known
        names = {name for _, attributes in page.elements for name in attributes}
        assert not [name for name in names if name.startswith("on") or name == "style"]
        assert "<script>alert(1)</script>" in page.text and "{{ 7*7 }}" in page.text
        assert "root:" not in page.text and "\x1b" not in text and "\u202e" not in text
        (policy,) = (a["content"] for n, a in page.elements if n == "meta" and "http-equiv" in a)
        assert policy == page_policy("a4") and "unsafe" not in policy


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_a_page_lets_in_its_own_style_and_no_other(paper: str) -> None:
    """The hash in the policy is that of the one style that the page has."""
    import base64
    import hashlib

    page = note_html(make_note(material(bare())), paper)  # type: ignore[arg-type]
    (style,) = re.findall(r"<style[^>]*>(.*?)</style>", page, re.DOTALL)
    digest = base64.b64encode(hashlib.sha256(style.encode()).digest()).decode()
    assert f"style-src 'sha256-{digest}'" in page_policy(paper)  # type: ignore[arg-type]


def test_no_document_has_an_order_of_what_was_typed(tmp_path: Path) -> None:
    """What sets a document reads no file for a name, works nothing out and starts nothing."""
    note = note_pdf(make_note(material(_typed(_ALL))), "a4")
    report = survey_pdf(make_survey_report(renamed(_ALL)), "a4")
    for pdf in (note, report):
        words = pdf_text(pdf, tmp_path)
        # Long words may break between any two letters.
        squeezed = "".join(words.split()).replace("\u200b", "")
        assert '#read("/etc/passwd")' in squeezed and "*strong*" in squeezed
        assert "root:x" not in squeezed and "<script>alert(1)</script>" in squeezed
        assert [mark for mark in _ACTIVE if mark in pdf] == []


@pytest.mark.parametrize("text", [t for t in HOSTILE if "\x1b" not in t and "\x07" not in t])
def test_what_other_programs_read_is_what_was_typed(text: str) -> None:
    """GeoJSON and WaterML hold the text itself, and no element or member of it."""
    data = _several(text)
    features = json.loads(written_as(data, "geojson").files[""])["features"]
    assert text in [value for feature in features for value in feature["properties"].values()]
    root = etree.fromstring(written_as(data, "waterml").files[""])
    kinds = {etree.QName(element).localname for element in root.iter()}
    assert kinds.isdisjoint({"script", "img", "svg", "iframe", "a"})
    said = {" ".join((element.text or "").split()) for element in root.iter()}
    assert " ".join(text.split()) in said


@pytest.mark.parametrize("command", [("compute",), ("check",), ("compute", "--each", "--rows")])
def test_a_terminal_is_given_no_orders(
    command: tuple[str, ...], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Colours, titles and overwritten lines come from us alone, not from a name in a file."""
    for number, text in enumerate(TERMINAL):
        path = tmp_path / f"flow-{number}.json"
        path.write_text(to_json(_typed(text)), encoding="utf-8")
        main([command[0], str(path), *command[1:]])
        said = capsys.readouterr()
        assert said.out + said.err
        assert not set("\x1b\x07\r\u202e") & set(said.out + said.err), text
