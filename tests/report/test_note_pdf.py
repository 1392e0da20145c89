"""The measurement note as PDF: its text, its tags, its pages, and the same bytes every time."""

import hashlib
import os
import re
import subprocess
import sys
from pathlib import Path

import attrs
import pytest

from bankside.gauging.faults import BanksideError
from bankside.gauging.records import Gauging
from bankside.report.note_documents import make_note, note_pdf, usual_paper
from bankside.report.typst_document import typst_pdf

from ..note.gaugings import ENDLESS, FEET, HOSTILE, METRES, bare, channel, material, named, plain
from .documents import pdf_facts, pdf_structure, pdf_text

TWO_CHANNELS = attrs.evolve(plain(), channels=(channel(9), channel(4, 20.0)))


def pdf_of(gauging: Gauging) -> bytes:
    """The note of a gauging on its usual paper."""
    return note_pdf(make_note(material(gauging)), usual_paper(gauging))


def test_the_note_reads_in_order(tmp_path: Path) -> None:
    """A program that reads aloud meets the result, the reasons and the signatures in this order."""
    text = pdf_structure(pdf_of(plain()), tmp_path)

    wanted = [
        *("Quill Brook", "below the ford", "2.13 m³/s", "± not told", "Where", "Section"),
        *("Findings of the checks", "Verticals", "Uncertainty", "Corrections", "8.3", "Remarks"),
        *("Light wind upstream.", "Wading can kill", "Signatures", "Checked by"),
    ]
    reached = 0
    for words in wanted:
        place = text.find(words, reached)
        assert place >= 0, words
        reached = place


@pytest.mark.parametrize(
    ("gauging", "size"),
    [(plain(FEET), "612 x 792 pts (letter)"), (plain(METRES), "595.276 x 841.89 pts (A4)")],
    ids=["feet", "metres"],
)
def test_feet_go_on_letter_and_metres_on_a4(gauging: Gauging, size: str, tmp_path: Path) -> None:
    """The paper is that of the place, on two pages at most, tagged and with a title."""
    facts = pdf_facts(pdf_of(gauging), tmp_path)

    assert facts["Page size"] == size
    assert facts["Pages"] in ("1", "2")
    assert facts["Tagged"] == "yes"
    assert facts["Title"] == ("Measurement of discharge: Quill Brook, below the ford, 2026-07-14")
    assert facts["CreationDate"].startswith("2026-07-14")


def test_tables_have_heads_and_pictures_have_words(tmp_path: Path) -> None:
    """Head cells, headings and figures are told apart for those who cannot see the page."""
    structure = pdf_structure(pdf_of(plain()), tmp_path)

    for tag in ("H1", "H2", "Table", "THead", "TH", "Figure"):
        assert re.search(rf"^ *{tag}\b", structure, re.MULTILINE), tag


@pytest.mark.parametrize(
    "gauging",
    [bare(), TWO_CHANNELS, named(HOSTILE), named(ENDLESS), named("Ы" * 300), plain(count=60)],
    ids=["bare", "two channels", "hostile", "endless", "long", "sixty"],
)
def test_every_gauging_can_be_set(gauging: Gauging, tmp_path: Path) -> None:
    """No name, gap or size stops the note, and all of it is a tagged document."""
    facts = pdf_facts(pdf_of(gauging), tmp_path)

    assert facts["Tagged"] == "yes"
    assert int(facts["Pages"]) <= 5


def test_what_people_wrote_is_text_and_never_markup(tmp_path: Path) -> None:
    """Signs of Typst stand as they were typed; those without letters stand as numbers."""
    text = pdf_text(pdf_of(named(HOSTILE)), tmp_path)

    for words in ('#import "x": *', "$x^2$", "= no heading", "[*bold*]", "{{ 7*7 }}"):
        assert words in text
    # A word that is too long for its column may break anywhere.
    text = text.replace("\u200b", "")
    assert "<script>alert(1)</script>" in text
    assert "[U+202E]backwards[U+202C]" in text
    assert "[U+1F41F]" in text


def test_a_long_table_repeats_its_head(tmp_path: Path) -> None:
    """Sixty verticals go on over the page, under the same head, none of them lost."""
    pdf = pdf_of(plain(count=60))
    text = pdf_text(pdf, tmp_path)

    assert text.count("mean velocity") >= 2
    assert "31.5" in text and int(pdf_facts(pdf, tmp_path)["Pages"]) <= 3


def pages(gauging: Gauging, folder: Path) -> list[list[str]]:
    """The lines of each page, as they stand on it."""
    path = folder / "laid_out.pdf"
    path.write_bytes(pdf_of(gauging))
    command = ["pdftotext", "-enc", "UTF-8", "-layout", str(path), "-"]
    text = subprocess.run(command, capture_output=True, text=True, check=True, timeout=60).stdout
    return [page.splitlines() for page in text.split("\f") if page.strip()]


@pytest.mark.parametrize("count", [17, 18, 19, 27, 28, 29, 60])
def test_a_table_is_not_torn(count: int, tmp_path: Path) -> None:
    """Four rows at least stay together, the total with them, and the uncertainty as a whole."""
    rows, uncertainty = [], []
    for page in pages(plain(count=count), tmp_path):
        rows.append(sum(bool(re.match(r" *(\d+\.\d|total) +\d", line)) for line in page))
        uncertainty.append(
            sum(bool(re.search("standard uncertaint|within, about", line)) for line in page)
        )

    assert sum(rows) == count + 3
    assert all(number == 0 or number >= 4 for number in rows)
    # The head and three totals.
    assert [number for number in uncertainty if number] == [4]


def test_equal_notes_are_equal_files() -> None:
    """A note made again is the same file, with or without a date."""
    for gauging in (plain(), bare()):
        assert pdf_of(gauging) == pdf_of(gauging)


def test_the_bytes_do_not_depend_on_the_run(tmp_path: Path) -> None:
    """Neither the order of hashes nor the clock gets into a document."""
    script = (
        "import sys, hashlib\n"
        "from bankside.cli import main\n"
        "main(['report', sys.argv[1], '--output-folder', sys.argv[2]])\n"
        "main(['report', sys.argv[1], '--output-folder', sys.argv[2], '--html'])\n"
    )
    sheet = Path(__file__).parents[2] / "demo" / "sheets" / "quill_brook.xlsx"
    digests = set()
    for seed in ("1", "2"):
        folder = tmp_path / seed
        folder.mkdir()
        environment = {**os.environ, "PYTHONHASHSEED": seed}
        command = [sys.executable, "-c", script, str(sheet), str(folder)]
        subprocess.run(command, env=environment, check=True, capture_output=True, timeout=120)
        files = sorted(folder.iterdir())
        assert [path.suffix for path in files] == [".html", ".pdf"]
        digests.add(tuple(hashlib.sha256(path.read_bytes()).hexdigest() for path in files))

    assert len(digests) == 1


def test_a_fault_of_a_template_is_told_in_a_sentence() -> None:
    """An error of the setting program does not reach people as a traceback."""
    with pytest.raises(BanksideError, match="could not be set as PDF"):
        typst_pdf("note", {"title": "without the rest"}, {}, paper="a4", day=None)
