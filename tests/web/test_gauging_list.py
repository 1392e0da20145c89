"""The gaugings on a device: started, exported, removed, taken in again, held by one tab."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

from playwright.sync_api import Page, expect

from .conftest import ContextMaker
from .setting_out import SITE, STREAM, add, name_the_site, read_the_edges, saved, start, to, type_in


def to_the_list(page: Page) -> None:
    """Leave the gauging."""
    page.get_by_role("link", name="List of gaugings").click()
    expect(page.get_by_role("heading", name="Gaugings")).to_be_visible()


def exported(page: Page, folder: Path) -> Path:
    """Export the only gauging of the list as a download, and say that the file is there."""
    # Neither sharing nor choosing a place: what is left is what every browser has.
    page.evaluate(
        "delete Window.prototype.showSaveFilePicker; window.showSaveFilePicker = undefined"
    )
    page.evaluate("navigator.canShare = () => false")
    with page.expect_download() as download:
        page.get_by_role("button", name="Export").click()
    path = folder / download.value.suggested_filename
    download.value.save_as(path)
    return path


def take_in(page: Page, path: Path) -> None:
    """Import a file from the list."""
    page.locator("input[type=file]").set_input_files(path)


def test_a_gauging_is_exported_only_once_somebody_says_that_the_file_is_there(
    page: Page, served: str, tmp_path: Path
) -> None:
    """A download that nobody confirms changes nothing, and what is here only cannot be removed."""
    start(page, served)
    name_the_site(page)
    saved(page)
    to_the_list(page)
    row = page.get_by_role("article")
    expect(row).to_contain_text("on this device only")
    expect(row.get_by_role("button", name="Remove")).to_have_count(0)
    path = exported(page, tmp_path)
    expect(row).to_contain_text("on this device only")
    page.get_by_role("button", name="Yes, it is there").click()
    expect(row.get_by_text("exported", exact=True)).to_be_visible()

    entries = json.loads(path.read_text(encoding="utf-8"))["entries"]
    said = {entry["what"]: entry["value"] for entry in entries}
    assert (said["site/stream"], said["site/name"]) == (STREAM, SITE)


def test_an_exported_gauging_is_removed_after_asking_and_comes_back_from_its_file(
    page: Page, served: str, tmp_path: Path
) -> None:
    """Removing asks first; the file brings every entry back."""
    start(page, served)
    name_the_site(page)
    saved(page)
    to_the_list(page)
    path = exported(page, tmp_path)
    page.get_by_role("button", name="Yes, it is there").click()
    count = len(json.loads(path.read_text(encoding="utf-8"))["entries"])
    page.get_by_role("button", name=re.compile("^Remove")).click()
    page.get_by_role("button", name="Keep it").click()
    expect(page.get_by_role("article")).to_be_visible()
    page.get_by_role("button", name=re.compile("^Remove")).click()
    page.get_by_role("button", name="Remove it").click()
    expect(page.get_by_text("There is no gauging on this device yet.")).to_be_visible()
    take_in(page, path)

    expect(page.get_by_role("article")).to_contain_text(f"{count} entries")
    expect(page.get_by_text(f"{count} of its {count} entries are new here")).to_be_visible()


def test_a_file_that_is_none_is_refused_in_a_sentence(
    page: Page, served: str, tmp_path: Path
) -> None:
    """The sentence names the file, and nothing is taken from it."""
    path = tmp_path / "notes.json"
    path.write_text('{"format": "something else"}', encoding="utf-8")
    page.goto(served)
    take_in(page, path)

    told = page.get_by_role("listitem").filter(has_text="notes.json was not taken")
    expect(told).to_contain_text("bankside.journal/1")
    expect(page.get_by_role("article")).to_have_count(0)


def visit(**changed: Any) -> dict[str, Any]:
    """An exported visit to the site a year before."""
    said = {
        "site/stream": STREAM,
        "site/name": SITE,
        "units/length": "m",
        "units/velocity": "m/s",
        "meter/kind": "electromagnetic",
        "meter/serial": "EM-07",
        "crew/c1": {"name": "I. Marrow", "role": "recorder"},
        "started": "2025-07-14T10:05:00-07:00",
        "stage/s1": {"value": "0.40", "at": "2025-07-14T10:00:00-07:00"},
        **changed,
    }
    return {
        "format": "bankside.journal/1",
        "gauging": "last-year",
        "entries": [
            {
                "id": f"e{n}",
                "gauging": "last-year",
                "device": "other",
                "sequence": n,
                "at": "2025-07-14T10:00:00-07:00",
                "what": what,
                "value": value,
            }
            for n, (what, value) in enumerate(said.items(), start=1)
        ],
    }


def test_a_gauging_starts_from_the_last_visit_with_what_still_holds(
    page: Page, served: str, tmp_path: Path
) -> None:
    """Site, units and meter come as new entries; the crew not where unticked, the stage never."""
    path = tmp_path / "last-year.bankside.json"
    path.write_text(json.dumps(visit()), encoding="utf-8")
    page.goto(served)
    take_in(page, path)
    expect(page.get_by_role("article")).to_contain_text(SITE)
    page.get_by_role("button", name="Start a new gauging").click()
    page.get_by_role("radio", name=f"{STREAM} · {SITE}").check()
    page.get_by_role("checkbox", name="Crew").uncheck()
    page.get_by_role("button", name="Start", exact=True).click()

    expect(page.get_by_role("heading", name="Set out")).to_be_visible()
    to(page, "set-out", "site")
    expect(page.get_by_text("Last visit on this device: 14 Jul 2025.")).to_be_visible()
    to(page, "set-out", "none")
    for part in (f"{STREAM} · {SITE}", "m · m/s · common-practice", "electromagnetic, EM-07"):
        expect(page.get_by_role("button", name=part)).to_be_visible()
    for part in ("Who does what", "Stage"):
        expect(page.get_by_role("button", name=f"{part} (not said yet)")).to_be_visible()
    to(page, "set-out", "site")
    page.get_by_role("button", name="Take over the crew of that day").click()
    expect(page.get_by_role("button", name="I. Marrow (recorder)")).to_be_visible()


def test_the_gate_tells_how_strong_the_water_was_at_the_last_visit(
    page: Page, served: str, tmp_path: Path
) -> None:
    """Depth times velocity of the last visit stands at the gate, in its units."""
    vertical = "channels/1/verticals/v1"
    read = visit(
        **{
            f"{vertical}/tape": "2.0",
            f"{vertical}/depth": "0.50",
            f"{vertical}/readings/r1": {"value": "0.60", "fraction": 0.6},
        }
    )
    path = tmp_path / "last-year.bankside.json"
    path.write_text(json.dumps(read), encoding="utf-8")
    page.goto(served)
    take_in(page, path)
    expect(page.get_by_role("article")).to_contain_text(SITE)
    page.get_by_role("button", name="Start a new gauging").click()
    page.get_by_role("radio", name=f"{STREAM} · {SITE}").check()
    page.get_by_role("button", name="Start", exact=True).click()
    expect(page.get_by_role("heading", name="Set out")).to_be_visible()
    to(page, "set-out", "wading")

    # 0.50 m × 0.60 m/s.
    expect(page.get_by_text(re.compile(r"0\.30? m²/s"))).to_be_visible()


def test_a_second_tab_reads_only_until_it_takes_over(page: Page, served: str) -> None:
    """Two tabs never write to one gauging: the second says so, and takes over on a press."""
    start(page, served)
    name_the_site(page)
    saved(page)
    other = page.context.new_page()
    other.goto(page.url)
    expect(other.get_by_text("open in another tab.")).to_be_visible()
    expect(other.get_by_role("textbox", name="Stream")).to_have_attribute("readonly", "")
    other.get_by_role("button", name="Write here from now on").click()
    expect(other.get_by_text("open in another tab.")).to_have_count(0)
    type_in(other, "Stream", "Tansy Run")
    saved(other)

    expect(page.get_by_text("open in another tab.")).to_be_visible()
    expect(page.get_by_role("textbox", name="Stream")).to_have_value("Tansy Run")


def test_trouble_with_saving_is_told_and_can_be_tried_again(page: Page, served: str) -> None:
    """While the device takes nothing the app says so and why, and never that it is saved."""
    start(page, served)
    saved(page)
    page.evaluate(
        """() => { window.kept = IDBObjectStore.prototype.add;
             IDBObjectStore.prototype.add = () => {
               throw new DOMException("no room", "QuotaExceededError"); }; }"""
    )
    type_in(page, "Stream", STREAM)
    trouble = page.get_by_role("alert").filter(has_text="Not saved:")
    expect(trouble).to_contain_text("no room left")
    expect(page.get_by_text("Saved on this device")).to_have_count(0)
    to_the_list(page)
    expect(page.get_by_role("alert").filter(has_text=f"Not saved of {STREAM}")).to_be_visible()
    page.evaluate("() => { IDBObjectStore.prototype.add = window.kept; }")
    page.get_by_role("button", name="Try again").click()

    expect(page.get_by_role("alert").filter(has_text="Not saved")).to_have_count(0)


def test_two_presses_on_start_make_one_gauging(page: Page, served: str) -> None:
    """Gloves press twice: the second press begins no gauging beside the first."""
    page.goto(served)
    page.get_by_role("button", name="Start a new gauging").click()
    page.get_by_role("radio", name="feet").check()
    button = page.get_by_role("button", name="Start", exact=True)
    button.evaluate("(button) => { button.click(); button.click(); }")
    expect(page.get_by_role("heading", name="Set out")).to_be_visible()
    saved(page)
    to_the_list(page)

    expect(page.get_by_role("article")).to_have_count(1)


def test_a_gauging_that_was_left_may_be_written_to_in_another_tab(
    new_context: ContextMaker, served: str
) -> None:
    """Leaving with all saved closes the gauging: another tab may write to it at once."""
    context = new_context()
    page, other = context.new_page(), context.new_page()
    start(page, served)
    add(page, "J. Ostrander", "Recorder")
    read_the_edges(page)
    saved(page)
    address = page.url
    to_the_list(page)
    other.goto(address)

    expect(other.get_by_text("Saved on this device")).to_be_visible()
    expect(other.get_by_text("open in another tab.")).to_have_count(0)


def test_a_gauging_left_while_it_is_saved_is_let_go_when_it_is(page: Page, served: str) -> None:
    """What was typed last is saved on the way out; then the tab holds the gauging no longer."""
    start(page, served)
    to(page, "check")
    page.get_by_role("textbox", name="What a reader should know").fill("weed at the right bank")
    page.get_by_role("link", name="List of gaugings").click()
    expect(page.get_by_role("article")).to_be_visible()

    held: list[str] = page.evaluate(
        """async () => {
          const held = async () => (await navigator.locks.query()).held.map(({ name }) => name);
          for (let i = 0; i < 100 && (await held()).length > 0; i++) {
            await new Promise((next) => setTimeout(next, 20));
          }
          return held();
        }"""
    )
    assert held == []
    expect(page.get_by_text("weed")).to_have_count(0)
    page.go_back()
    remarks = page.get_by_role("textbox", name="What a reader should know")
    expect(remarks).to_have_value("weed at the right bank")
