"""A published survey of flow transects dropped on the desk: what the command line says, in a page.

Flow transects of the Maryland Biological Stream Survey, summer 2015, as filed by the Maryland
Department of Natural Resources. Read in place and never copied; without the files, skipped.
"""

from __future__ import annotations

import csv
import re
import time
from base64 import b64encode
from pathlib import Path

import pytest
from playwright.sync_api import Locator, Page, expect

from bankside.cli.inputs import compute_all
from bankside.intake.source import Source
from bankside.sheets.read import read_sheets

from .conftest import ContextMaker
from .desk_archive import DeskOffice

FOLDER = Path(__file__).parents[2] / "../shared/data/stream_survey_flow_2015"
TRANSECTS, TOTALS = "flow_transects.xlsx", "totals_as_filed.csv"

pytestmark = pytest.mark.skipif(
    not ((FOLDER / TRANSECTS).exists() and (FOLDER / TOTALS).exists()),
    reason="the survey's flow transects are not beside this repository",
)

DROP = """(zone, files) => {
  const data = new DataTransfer();
  for (const { name, base64 } of files) {
    const bytes = Uint8Array.from(atob(base64), (sign) => sign.charCodeAt(0));
    data.items.add(new File([bytes], name));
  }
  const drop = { dataTransfer: data, bubbles: true, cancelable: true };
  zone.dispatchEvent(new DragEvent("drop", drop));
}"""


@pytest.fixture
def sheets(new_context: ContextMaker, desk_office: DeskOffice) -> Page:
    """A desk where sheets are handed in."""
    page = new_context("desktop").new_page()
    page.goto(f"{desk_office.address}#/desk/sheets")
    expect(page.get_by_role("heading", name="Old sheets", level=1)).to_be_visible()
    return page


def test_a_published_survey_is_taken_in_by_one_drag(
    sheets: Page, desk_office: DeskOffice, capsys: pytest.CaptureFixture[str]
) -> None:
    """Gaugings, rows and explained totals on the page are those of the command line."""
    read = read_sheets(FOLDER / TRANSECTS)
    source = Source(read.file, read.gaugings, read.counts, read.notes)
    _, computed = compute_all([source], "mid-section", "half-width")
    with (FOLDER / TOTALS).open(encoding="utf-8", newline="") as stream:
        filed = {row["site"] for row in csv.DictReader(stream)}
    began = time.monotonic()
    drop(sheets, *sorted(FOLDER.iterdir()))
    expect(sheets.get_by_role("progressbar", name="Files done")).to_be_visible()
    count = len(list(FOLDER.iterdir()))
    expect(sheets.get_by_role("status").filter(has_text=f"{count} looked at")).to_be_visible()
    looked = time.monotonic() - began

    card = sheets.get_by_role("article", name=TRANSECTS)
    table = card.get_by_role("group", name="Gaugings found").locator("tbody tr")
    expect(table).to_have_count(len(read.gaugings))
    follow = table.filter(has_text="The total follows “distance to next vertical”")
    expect(follow).to_have_count(len(computed))
    expect(card.get_by_text(rows_told(read.counts))).to_be_visible()
    told = sheets.get_by_role("article", name=TOTALS)
    expect(told).to_contain_text("found no row of heads for tape, depth and velocity")

    began = time.monotonic()
    card.get_by_role("button", name=f"Take in {TRANSECTS}").click()
    summary = part(sheets, "Taken in")
    expect(summary).to_contain_text(f"{len(computed)} gaugings, {len(computed)} of them new")
    taken = time.monotonic() - began
    expect(summary).to_contain_text(rows_told(read.counts))
    expect(summary).to_contain_text(
        f"{len(computed)} carried a total of their own; {len(computed)}"
    )
    assert {one.gauging.site.name for one in computed} == filed
    with capsys.disabled():
        said = " ".join(summary.inner_text().split())
        print(f"\nLooked at in {looked:.1f} s, taken in in {taken:.1f} s. {said}")

    card.get_by_role("link").first.click()
    expect(part(sheets, "Original sheet")).to_contain_text(TRANSECTS)


def drop(page: Page, *files: Path) -> None:
    """Let go of files over the place for them, all at once."""
    zone = page.get_by_role("group", name="Drag files here, or choose them")
    content = [
        {"name": path.name, "base64": b64encode(path.read_bytes()).decode()} for path in files
    ]
    zone.evaluate(DROP, content)


def part(page: Page, heading: str) -> Locator:
    """The part of a page under a heading."""
    return page.locator("section", has=page.get_by_role("heading", name=heading, exact=True))


def rows_told(counts: dict[str, int]) -> re.Pattern[str]:
    """What became of rows, as the page says it."""
    fates = (counts["used"], counts["remark"], counts["refused"])
    return re.compile("Rows.*: {} used,\\s+{} kept as remark, {} refused".format(*fates))
