"""What is kept on the device, in a real browser: full, taken away, newer, and in two tabs."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import BrowserContext, CDPSession, Locator, Page, Playwright, expect

from bankside.gauging.journal.document import journal_from_json

from .alder_fork import (
    PHOTO,
    SAVED,
    at_the_stream,
    downloaded,
    downloads_only,
    exported,
    imported,
    reading,
    say,
    values,
)
from .browsing import own_profile
from .conftest import ContextMaker


@pytest.fixture
def context(new_context: ContextMaker) -> BrowserContext:
    """A phone whose browser downloads files."""
    context = new_context()
    downloads_only(context)
    return context


@pytest.fixture
def page(context: BrowserContext) -> Page:
    """A page on that phone."""
    return context.new_page()


@pytest.fixture
def devtools(page: Page) -> CDPSession:
    """The browser's own tools, on the page."""
    return page.context.new_cdp_session(page)


# Takes the room that is left, down to what no entry fits in; with noise, which no disk compresses.
FILL = """async () => {
  const db = await new Promise((done) => {
    const opening = indexedDB.open("other things");
    opening.onupgradeneeded = () =>
      opening.result.createObjectStore("things", { autoIncrement: true });
    opening.onsuccess = () => done(opening.result);
  });
  const noise = (bytes) => {
    const all = new Uint8Array(bytes);
    for (let at = 0; at < bytes; at += 65536) crypto.getRandomValues(all.subarray(at, at + 65536));
    return all;
  };
  const fits = (bytes) => new Promise((done) => {
    const writing = db.transaction("things", "readwrite");
    writing.objectStore("things").add(noise(bytes));
    writing.oncomplete = () => done(true);
    writing.onabort = () => done(false);
  });
  let puts = 0;
  for (let bytes = 1 << 22; bytes > 32; bytes >>= 2) while (puts++ < 200 && (await fits(bytes)));
  return puts;
}"""


def not_saved(page: Page) -> Locator:
    """The line that says what is not saved, and why."""
    return page.get_by_role("alert").filter(has_text="✕ Not saved")


def saved(page: Page, told: str) -> None:
    """What was said last, in words, is shown as saved."""
    expect(page.get_by_text(told)).to_be_visible()
    expect(page.get_by_text(SAVED)).to_be_visible()


def called(said: list[Any]) -> list[Any]:
    """Those of the values that these tests call, in order."""
    return [value for value in said if value in ("1.5", "1.05")]


def test_a_gauging_comes_back_from_its_file_after_the_site_data_were_cleared(
    page: Page, devtools: CDPSession, served: str
) -> None:
    """The file holds all, for Python too: cleared, imported and exported again it is the same."""
    at_the_stream(page, served)
    say(page, "1.5")
    say(page, "1.05")
    saved(page, "Depth 1.05 at 4.0.")
    before = exported(page, served)
    devtools.send("Storage.clearDataForOrigin", {"origin": served, "storageTypes": "all"})
    page.reload()
    expect(page.get_by_text("There is no gauging on this device yet.")).to_be_visible()

    imported(page, served, before)

    read = journal_from_json(before.decode("utf-8"))
    assert called([entry.value for entry in read.entries]) == ["1.5", "1.05"]
    assert [file.content for file in read.files.values()] == [PHOTO]
    assert exported(page, served) == before
    reading(page, served)
    expect(page.get_by_role("cell", name="1.05")).to_be_visible()


def test_a_full_device_says_so_and_loses_nothing(
    playwright: Playwright, served: str, tmp_path: Path
) -> None:
    """Without room a reading stays on the screen and goes into the export; with room it is kept."""
    # A profile on the disk: what is kept in memory alone is not held to a quota.
    with own_profile(playwright, tmp_path) as context:
        context.set_default_timeout(60_000)
        downloads_only(context)
        full(context.new_page(), served)


def full(page: Page, served: str) -> None:
    """Fill the device between two readings, and make room again."""
    devtools = page.context.new_cdp_session(page)
    devtools.send("Storage.overrideQuotaForOrigin", {"origin": served, "quotaSize": 60_000_000})
    at_the_stream(page, served)
    say(page, "1.5")
    saved(page, "Left edge at 1.5.")
    page.evaluate(FILL)

    say(page, "1.05")
    expect(not_saved(page)).to_contain_text("no room left")
    expect(page.get_by_text(SAVED)).to_have_count(0)
    assert values(downloaded(page))[-1] == "1.05"

    devtools.send("Storage.overrideQuotaForOrigin", {"origin": served})
    not_saved(page).get_by_role("button", name="Try again").click()
    saved(page, "Depth 1.05 at 4.0.")
    page.reload()
    expect(page.get_by_role("cell", name="1.05")).to_be_visible()


@pytest.mark.parametrize("how", ["cleared by the browser", "deleted by another tab"])
def test_readings_are_kept_again_when_the_storage_is_taken_away(
    page: Page, devtools: CDPSession, served: str, how: str
) -> None:
    """What an open page holds goes back to the device by itself, and further readings follow."""
    at_the_stream(page, served)
    say(page, "1.5")
    saved(page, "Left edge at 1.5.")
    other = page.context.new_page()
    other.goto(served)
    expect(other.get_by_role("link", name="Alder Fork")).to_be_visible()

    if how == "cleared by the browser":
        devtools.send("Storage.clearDataForOrigin", {"origin": served, "storageTypes": "indexeddb"})
    else:
        other.evaluate(
            "new Promise((done) => { indexedDB.deleteDatabase('bankside').onsuccess = done; })"
        )
    say(page, "1.05")
    saved(page, "Depth 1.05 at 4.0.")

    kept = values(exported(other, served))
    assert kept[0] == "Alder Fork"
    assert called(kept) == ["1.5", "1.05"]


def test_a_page_that_meets_a_newer_version_says_so_and_changes_nothing(
    page: Page, served: str
) -> None:
    """After another tab changed the database, the older page keeps off it and offers the export."""
    at_the_stream(page, served)
    say(page, "1.5")
    saved(page, "Left edge at 1.5.")
    other = page.context.new_page()
    other.goto(served)
    expect(other.get_by_role("link", name="Alder Fork")).to_be_visible()
    count = """() => new Promise((done) => {
      const opening = indexedDB.open("bankside", 99);
      opening.onsuccess = () => {
        const counting = opening.result.transaction("entries").objectStore("entries").count();
        counting.onsuccess = () => { opening.result.close(); done(counting.result); };
      };
    })"""
    before = other.evaluate(count)
    expect(page.get_by_role("alert").first).to_contain_text("A newer version of this app")

    say(page, "1.05")
    expect(not_saved(page)).to_contain_text("A newer version of this app")
    with page.expect_download() as download:
        page.get_by_role("button", name="Export").first.click()
    # The photo is out of reach as well, so this file is not the whole gauging.
    expect(page.get_by_text("1 photo could not be read and is not")).to_be_visible()
    expect(page.get_by_role("button", name="Yes, it is there")).to_have_count(0)
    assert called(values(Path(download.value.path()).read_bytes())) == ["1.5", "1.05"]
    assert other.evaluate(count) == before


def test_a_second_tab_reads_along_and_takes_over_when_the_first_is_gone(
    page: Page, served: str
) -> None:
    """One tab writes; the other shows its entries, and writes after a person's word."""
    at_the_stream(page, served)
    second = page.context.new_page()
    reading(second, served)
    expect(second.get_by_text("open in another tab.")).to_be_visible()
    expect(second.get_by_role("button", name="7", exact=True)).to_be_disabled()

    say(page, "1.5")
    say(page, "1.05")
    saved(page, "Depth 1.05 at 4.0.")
    expect(second.get_by_role("cell", name="1.05")).to_be_visible()
    page.close()
    expect(second.get_by_text("That tab is gone.")).to_be_visible()
    expect(second.get_by_role("button", name="7", exact=True)).to_be_disabled()

    second.get_by_role("button", name="Write here from now on").click()
    expect(second.get_by_role("button", name="7", exact=True)).to_be_enabled()
    say(second, "2.25")
    saved(second, "Velocity 2.25 at 4.0.")
    sequences = [entry["sequence"] for entry in json.loads(exported(second, served))["entries"]]
    assert sequences == list(range(1, len(sequences) + 1))


def test_typed_digits_outlive_a_reload_and_are_no_reading(page: Page, served: str) -> None:
    """What is typed and not yet said is there again, and in no export."""
    at_the_stream(page, served)
    page.keyboard.type("12.7")
    page.evaluate(
        """() => new Promise((done) => {
          const opening = indexedDB.open("bankside");
          opening.onsuccess = () => {
            const look = () => {
              const all = opening.result.transaction("drafts").objectStore("drafts").getAll();
              all.onsuccess = () => {
                if (!JSON.stringify(all.result).includes("12.7")) return look();
                opening.result.close();
                done();
              };
            };
            look();
          };
        })"""
    )
    page.reload()
    expect(page.get_by_role("group", name="Keypad")).to_be_visible()

    expect(page.get_by_text("12.7").first).to_be_visible()
    assert "12.7" not in values(exported(page, served))
