"""Who is ready, in the app: from session files, on a small phone and without a network."""

from __future__ import annotations

import json
import re
import subprocess
from pathlib import Path

from playwright.sync_api import Page, expect

from ..archive.practised import session_file
from .browsing import picture

SMALL = {"width": 390, "height": 844}


def _files(folder: Path) -> list[Path]:
    """Sessions of two people, one of them without a discharge within the limit, and a journal."""
    files = []
    for name, content in (
        ("ann.json", session_file("Ann Ash")),
        ("ben.json", session_file("Ben Birch", "cobble riffle", 5)),
        ("journal.json", b'{"format": "bankside.journal/1"}'),
    ):
        (folder / name).write_bytes(content)
        files.append(folder / name)
    return files


def _load(page: Page, button: str, *files: Path) -> None:
    with page.expect_file_chooser() as chooser:
        page.get_by_role("button", name=button).click()
    chooser.value.set_files(list(files))


def _fits(page: Page) -> None:
    """Nothing is wider than the screen."""
    assert page.evaluate("document.documentElement.scrollWidth") <= SMALL["width"]


def test_a_leader_sees_who_is_ready(page: Page, served: str, tmp_path: Path) -> None:
    """Files are loaded, requirements said, papers printed and marked on every page."""
    page.set_viewport_size(SMALL)  # type: ignore[arg-type]
    page.goto(f"{served}#/practice/readiness")
    expect(page.get_by_text("Nobody yet.")).to_be_visible()
    expect(page.get_by_text("Nothing here makes anybody safe in a river.")).to_be_visible()
    page.context.set_offline(True)

    _load(page, "Load session files", *_files(tmp_path))
    expect(page.get_by_text("0 of this device, 2 from files.")).to_be_visible()
    expect(page.get_by_text("journal.json was not taken: format must be")).to_be_visible()
    ann = page.get_by_role("row", name="Ann Ash")
    expect(ann).to_contain_text("4 streams more to gauge for the first time.")
    _fits(page)
    picture(page, "readiness-on-the-way")

    asked = {"format": "bankside.readiness/1", "streams": 1, "kinds": 1, "within_percent": 60}
    asked |= {"no_fix_now_open": False, "leader": "I. Marrow"}
    (tmp_path / "asked.json").write_text(json.dumps(asked))
    _load(page, "Load requirements", tmp_path / "asked.json")
    expect(ann).to_contain_text("Ready to go on, beside somebody who knows it.")
    streams = page.get_by_role("textbox", name="Streams, one after the other")
    expect(streams).to_have_value("1")
    page.get_by_role("textbox", name="Of how many kinds at least").fill("9")
    page.keyboard.press("Tab")
    expect(page.get_by_role("alert")).to_contain_text("kinds must be from 1 to 1 (got 9)")
    expect(ann).to_contain_text("Ready to go on")
    picture(page, "readiness")

    page.get_by_role("button", name="All papers, to print").click()
    paper = page.get_by_role("article", name="Certificate of practice, Ann Ash")
    expect(paper).to_contain_text("Ann Ash gauged 1 practice stream of 1 kind")
    expect(paper).to_contain_text("I. Marrow")
    expect(paper).to_contain_text("Nothing here makes anybody safe in a river.")
    _fits(page)
    picture(page, "readiness-papers")
    pages = _printed(page, tmp_path / "papers.pdf")
    assert len(pages) > 2
    assert all("PRACTICE" in one for one in pages), pages
    assert "Ben Birch" in pages[-1] and "Everybody" not in "".join(pages)

    page.get_by_role("button", name=re.compile("Everybody")).click()
    page.context.set_offline(False)
    page.reload()
    expect(page.get_by_text("0 of this device, 2 from files.")).to_be_visible()
    expect(streams).to_have_value("1")


def _printed(page: Page, file: Path) -> list[str]:
    """The text of each page, printed on sheets so low that a paper takes several."""
    page.pdf(path=file, width="210mm", height="110mm")
    run = subprocess.run(
        ["pdftotext", "-layout", file, "-"], capture_output=True, text=True, check=True
    )
    return run.stdout.split("\f")[:-1]
