"""The measurement note as one HTML page."""

import re

import pytest

from bankside.gauging.compute import compute
from bankside.gauging.records import Gauging
from bankside.gauging.rule_sets.load import load_rule_set
from bankside.note.as_json import content_as_json
from bankside.note.material import gather
from bankside.report.note_documents import make_note, note_html

from ..note.gaugings import ENDLESS, HOSTILE, bare, material, named, plain
from ..note.odd_gaugings import demo
from .documents import Page


def html_of(gauging: Gauging) -> str:
    """The note of a gauging as a page."""
    return note_html(make_note(material(gauging)), "a4")


@pytest.mark.parametrize(
    "gauging",
    [plain(), bare(), named(HOSTILE), named(ENDLESS)],
    ids=["plain", "bare", "hostile", "endless"],
)
def test_the_page_is_whole_and_fetches_nothing(gauging: Gauging) -> None:
    """Every element is closed, no identifier comes twice, and no other file is asked for."""
    page = Page(html_of(gauging))

    identifiers = [a["id"] for _, a in page.elements if "id" in a]
    assert len(identifiers) == len(set(identifiers))
    assert page.count("link") == page.count("script") == page.count("img") == 0
    targets = [
        v for _, a in page.elements for n, v in a.items() if n in ("href", "xlink:href", "src")
    ]
    assert all(value is not None and value.startswith("#") for value in targets)
    assert {value[1:] for value in targets if value} <= set(identifiers)


def test_the_page_can_be_read_by_everybody() -> None:
    """It names its language, has headings in order, table heads with scope, words for pictures."""
    page = Page(html_of(plain()))

    assert ("html", {"lang": "en"}) in page.elements
    assert page.count("h1") == 1 and page.count("h2") > 5
    scopes = {a.get("scope") for name, a in page.elements if name == "th"}
    assert scopes == {"col", "row"}
    pictures = [a for _, a in page.elements if a.get("role") == "img"]
    assert len(pictures) == page.count("svg") == 2
    assert "deepest 0.89 m at tape 4" in (pictures[1]["aria-label"] or "")


def test_the_page_says_what_the_note_says() -> None:
    """The texts are those of the PDF: the figure, the struck reading, the signatures."""
    text = html_of(plain())

    assert re.search(r"<del>\s*8\.3\s*</del>", text)
    words = Page(text).text
    for wanted in (
        "2.13 m³/s",
        "Not a final figure: 1 stop",
        "Light wind upstream.",
        "Checked by",
        "Wading can kill",
    ):
        assert wanted in words


def test_what_people_wrote_cannot_become_markup() -> None:
    """Tags and templates in a name come out as the signs that were typed."""
    text = html_of(named(HOSTILE))

    assert "<script" not in text
    page = Page(text)
    assert "<script>alert(1)</script>" in page.text
    assert "{{ 7*7 }}" in page.text and "49" not in page.text.split("7*7")[0][:200]
    assert "山の川" in page.text and "\u202e" not in text and "[U+202E]" in page.text


def _texts(value: object) -> set[str]:
    """Every line of every text among plain values, spaces as single spaces."""
    if isinstance(value, dict):
        return set().union(*map(_texts, value.values()))
    if isinstance(value, list):
        return set().union(*map(_texts, value))
    return (
        {" ".join(line.split()) for line in value.split("\n")} if isinstance(value, str) else set()
    )


@pytest.mark.parametrize("name", [*demo()])
def test_a_page_drawn_from_the_plain_values_says_the_same(name: str) -> None:
    """Every text of the page and every word read aloud stands in them as well, line by line."""
    gauging = demo()[name]
    note = make_note(gather(gauging, compute(gauging), load_rule_set("common-practice")))
    texts = _texts(content_as_json(note.content))
    page = Page(note_html(note, "a4"))

    shown = {" ".join(text.split()) for text in page.texts} - {""}
    read_aloud = {a["aria-label"] or "" for _, a in page.elements if "aria-label" in a}
    assert len(shown) > 150 and len(read_aloud) >= 4
    assert shown | read_aloud <= texts


@pytest.mark.parametrize("gauging", [bare(), named(HOSTILE)], ids=["bare", "hostile"])
def test_odd_gaugings_too_say_the_same_in_plain_values(gauging: Gauging) -> None:
    """What was not recorded and what people wrote is shown by the same signs on both ways."""
    note = make_note(material(gauging))
    page = Page(note_html(note, "a4"))

    shown = {" ".join(text.split()) for text in page.texts} - {""}
    assert len(shown) > 100
    assert shown <= _texts(content_as_json(note.content))


def test_equal_notes_are_equal_pages() -> None:
    """A page made again is the same, sign by sign."""
    assert html_of(plain()) == html_of(plain())
