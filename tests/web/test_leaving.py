"""Before the crew leaves: what is open is settled or answered, signed, exported and printed."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from .alder_fork import downloaded, downloads_only
from .browsing import Faults, picture
from .conftest import ContextMaker
from .leaving import (
    MEANT,
    SLIPPED,
    alder_fork,
    barriers,
    near_or_small,
    of_two_devices,
    photo,
    take_in,
    texts_of,
    thinned,
    to,
    with_a_slip,
    worked_out,
)

_PHOTOS = ("Upstream", "Downstream", "Left bank", "Right bank", "Staff gauge")


def _say(page: Page, name: str, text: str) -> None:
    field = page.get_by_role("textbox", name=name)
    field.fill(text)
    field.press("Tab")


def test_what_is_missing_is_done_one_by_one(page: Page, served: str, tmp_path: Path) -> None:
    """A slip, a conflict, stage, meter, photos, end and quality: at the end nothing is missing."""
    pad = with_a_slip(alder_fork("ended", "quality"))
    take_in(page, served, of_two_devices(pad), tmp_path)
    to(page, "check")
    worked_out(page)
    assert barriers(page) == []
    assert near_or_small(page) == []

    page.get_by_role("button", name=f"Write {MEANT} in place of {SLIPPED}").click()
    expect(page.get_by_text(f"{MEANT}, was {SLIPPED}.")).to_be_visible()
    expect(page.locator("#check-questions")).to_be_focused()

    page.get_by_role("button", name="0.80").click()
    expect(page.get_by_role("heading", name="Two devices differ")).to_have_count(0)

    _say(page, "Stage now, read again", "1.30")
    expect(page.get_by_text("The level is 0.02 ft lower than at first.")).to_be_visible()
    _say(page, "Zero after use", "0.00")
    file = photo(tmp_path)
    for name in _PHOTOS:
        page.get_by_label(f"Take photo: {name}").set_input_files(file)
        taken = page.get_by_role("img", name=f"{name}, taken at")
        expect(taken).to_be_visible()
        # The longest side is cut to 2,048 and the shape kept.
        expect(taken).to_have_js_property("naturalWidth", 2048)
        expect(taken).to_have_js_property("naturalHeight", 1024)
    page.get_by_role("button", name="Now", exact=True).click()
    page.get_by_role("radio", name="good").check()

    expect(page.get_by_text("Nothing is missing.")).to_be_visible()
    picture(page, "check_phone")


def test_a_finding_is_answered_taken_back_and_opened_again(
    page: Page, served: str, tmp_path: Path
) -> None:
    """An answer needs a reason, stands with it under Answered, and can be taken back."""
    take_in(page, served, with_a_slip(alder_fork()).entries, tmp_path)
    to(page, "check")
    worked_out(page)
    card = page.get_by_role("article").filter(has_text="Depth looks misread")
    card.get_by_role("button", name="It is right, because").click()
    expect(card.get_by_role("textbox", name="It is right, because")).to_be_focused()
    card.get_by_role("button", name="Keep this answer").click()
    expect(card.get_by_role("alert")).to_contain_text("Say first why it is right")
    card.get_by_role("button", name="The bed is like that here.").click()
    card.get_by_label("Accepted by").fill("")
    card.get_by_role("button", name="Keep this answer").click()
    expect(card.get_by_role("alert")).to_contain_text("Say who answers")
    card.get_by_label("Accepted by").fill("I. Marrow")
    card.get_by_role("button", name="Keep this answer").click()

    kept = page.get_by_role("listitem").filter(has_text="Depth looks misread")
    expect(kept).to_contain_text("The bed is like that here. (I. Marrow)")
    kept.get_by_role("button", name="Open it again").click()
    expect(card).to_be_visible()


def test_a_fix_is_taken_back_until_something_else_was_said(
    page: Page, served: str, tmp_path: Path
) -> None:
    """The button under the findings takes back what it stands under, never a later reading."""
    take_in(page, served, with_a_slip(alder_fork()).entries, tmp_path)
    to(page, "check")
    worked_out(page)
    fix = page.get_by_role("button", name=f"Write {MEANT} in place of {SLIPPED}")
    back = page.get_by_role("button", name="Take it back")
    fix.click()
    back.click()
    expect(page.get_by_text(f"Taken back: depth {MEANT}")).to_be_visible()
    expect(back).to_have_count(0)
    fix.click()
    expect(back).to_be_visible()
    _say(page, "Stage now, read again", "1.30")
    expect(page.get_by_text("The level is 0.02 ft lower than at first.")).to_be_visible()
    expect(back).to_have_count(0)


def test_what_to_do_next_leads_to_where_it_pays(page: Page, served: str, tmp_path: Path) -> None:
    """One press leads to Read at a place that pays; unread it is missed, and can be taken out."""
    take_in(page, served, thinned(alder_fork("ended")).entries, tmp_path)
    to(page, "check")
    worked_out(page)
    section = page.get_by_role("region", name="What to do next")
    expect(section).to_contain_text("No ± is set as wanted")
    expect(section.get_by_role("heading", level=3).first).to_contain_text("One more vertical at")
    expect(section).to_contain_text(re.compile(r"± [\d.]+ % expected, about 1 min"))
    assert barriers(page) == []
    section.screenshot(path=picture(page, "what-next"))
    more = section.get_by_role("button", name="Read one more at").first
    at = more.inner_text().removeprefix("Read one more at ").removesuffix(" ft")
    more.click()
    expect(page.get_by_role("heading", name="Read", level=1)).to_be_attached()
    expect(page.get_by_text(f"{at} ft").first).to_be_visible()
    to(page, "check")
    expect(page.get_by_role("link", name=f"Begun and not read: {at}")).to_be_visible()
    page.get_by_role("button", name=f"Take {at} out").click()
    expect(page.get_by_role("heading", name="Begun and not read")).to_have_count(0)


def test_the_target_set_in_the_plan_says_when_it_is_enough(
    page: Page, served: str, tmp_path: Path
) -> None:
    """Without one nothing more is worth it; ± 9 % is reached, and ± 3 % is not to be had here."""
    take_in(page, served, alder_fork("ended").entries, tmp_path)
    to(page, "check")
    worked_out(page)
    section = page.get_by_role("region", name="What to do next")
    expect(section).to_contain_text("Nothing more is worth its time")
    for target, told in (("9", "Enough: ± 7.7 % reached"), ("3", "Not in this section")):
        to(page, "plan")
        _say(page, "Wanted: ± at the most, %", target)
        to(page, "check")
        worked_out(page)
        expect(section).to_contain_text(f"Wanted: ± {target} %, 19 times in 20.")
        expect(section).to_contain_text(told)
    section.screenshot(path=picture(page, "what-next-not-here"))


def test_depths_sounded_beforehand_tell_how_many_verticals_do(
    page: Page, served: str, tmp_path: Path
) -> None:
    """They are kept as they are put in, and the plan goes by them once there are five."""
    take_in(page, served, alder_fork("ended", "plan").entries, tmp_path)
    to(page, "plan")
    page.get_by_text("Depths sounded beforehand").click()
    for tape, depth in (("6", "0.8"), ("10", "1.5"), ("14", "1.7"), ("18", "1.4"), ("22", "0.7")):
        _say(page, "Sounded at tape, ft", tape)
        _say(page, "Depth there, ft", depth)
        page.get_by_role("button", name="Put the depth in").click()
        expect(page.get_by_text(f"{depth} ft deep at {tape} ft")).to_be_visible()
    assert barriers(page) == []
    page.get_by_role("button", name="Lay out the verticals").click()
    expect(page.get_by_text("by 5 soundings alone")).to_be_visible()
    picture(page, "plan-soundings")
    page.reload()
    page.get_by_text("Depths sounded beforehand (5)").click()
    expect(page.get_by_text("1.7 ft deep at 14 ft")).to_be_visible()


def test_a_photo_that_is_no_picture_is_told_and_not_kept(
    page: Page, served: str, tmp_path: Path
) -> None:
    """What cannot be read as a picture gets a sentence; a photo taken out can be put back."""
    take_in(page, served, alder_fork().entries, tmp_path)
    to(page, "check")
    no_picture = tmp_path / "sheet.jpg"
    no_picture.write_bytes(b"no picture")
    page.get_by_label("Choose photo file: Field sheet").set_input_files(no_picture)
    expect(page.get_by_role("alert")).to_contain_text("“sheet.jpg” could not be read as a picture")
    page.get_by_label("Take photo: Upstream").set_input_files(photo(tmp_path))
    taken = page.get_by_role("img", name="Upstream, taken at")
    expect(taken).to_be_visible()
    page.get_by_role("button", name="Take out: Upstream").click()
    expect(taken).to_have_count(0)
    page.get_by_role("button", name="Put it back").click()
    expect(taken).to_be_visible()


def test_closing_over_open_findings_is_signed_with_a_reason(
    page: Page, served: str, tmp_path: Path
) -> None:
    """Nobody closes over a stop silently; closed is read only, and opened again with a reason."""
    take_in(page, served, with_a_slip(alder_fork()).entries, tmp_path)
    to(page, "close")
    worked_out(page)
    assert barriers(page) == []
    assert near_or_small(page) == []
    page.get_by_role("button", name="Sign and close").click()
    expect(page.get_by_role("alert")).to_contain_text("Say why it is closed with findings open")
    page.get_by_role("textbox", name="Or why it is closed").fill("dusk")
    page.get_by_role("button", name="Sign and close").click()
    expect(page.get_by_role("heading", name="Closed", level=1)).to_be_focused()
    expect(page.get_by_text("signed by J. Ostrander")).to_be_visible()
    expect(page.get_by_text("Reason given: dusk")).to_be_visible()

    to_check = page.get_by_role("navigation").get_by_role("link", name="Check")
    to_check.click()
    worked_out(page)
    expect(page.get_by_text("Left open: dusk").first).to_be_visible()
    expect(page.get_by_role("button", name="It is right, because")).to_have_count(0)

    page.get_by_role("navigation").get_by_role("link", name="Close").click()
    page.get_by_role("button", name="Open it again").click()
    page.get_by_role("button", name="Open it again", exact=True).click()
    expect(page.get_by_role("alert")).to_contain_text("Say why it is opened again")
    page.get_by_role("textbox", name="Why it is opened again").fill("a stage is missing")
    page.get_by_role("button", name="Open it again", exact=True).click()
    expect(page.get_by_role("heading", name="Close", level=1, exact=True)).to_be_focused()


def test_the_file_that_leaves_holds_what_was_shown(
    new_context: ContextMaker, served: str, tmp_path: Path
) -> None:
    """The export holds entries, photos and the figure; it counts once the person sees the file."""
    context = new_context("desktop")
    # Of the ways to hand a file over this one can be watched.
    context.add_init_script("delete window.showSaveFilePicker")
    page = context.new_page()
    take_in(page, served, alder_fork().entries, tmp_path)
    to(page, "check")
    page.get_by_label("Take photo: Upstream").set_input_files(photo(tmp_path))
    expect(page.get_by_role("img", name="Upstream, taken at")).to_be_visible()
    to(page, "close")
    worked_out(page)
    shown = page.locator(".figure").first.inner_text()
    page.get_by_role("button", name="Sign and close").click()
    expect(page.get_by_role("heading", name="Closed", level=1)).to_be_visible()
    expect(page.get_by_text("on this device only")).to_be_visible()
    worked_out(page)
    with page.expect_download() as download:
        page.get_by_role("button", name="Export it as one file").click()
    expect(page.get_by_text("on this device only")).to_be_visible()
    page.get_by_role("button", name="Yes, it is there").click()
    expect(page.get_by_text("on this device only")).to_have_count(0)

    file = tmp_path / download.value.suggested_filename
    download.value.save_as(file)
    document = json.loads(file.read_text(encoding="utf-8"))
    closed = document["entries"][-1]
    assert (closed["what"], closed["value"]["discharge"]) == ("closed", shown)
    assert len(document["files"]) == 1
    computed = _bankside("compute", file.name, "--json", folder=tmp_path)
    assert document["shown"]["discharge_m3s"] == pytest.approx(
        json.loads(computed)["gaugings"][0]["discharge_m3s"], rel=1e-12
    )


def test_where_the_gauging_is_is_told_only_while_it_is_known(
    page: Page, served: str, tmp_path: Path
) -> None:
    """Unread and unsaved are two things; nothing counts as exported while an entry is not saved."""
    downloads_only(page.context)
    take_in(page, served, alder_fork().entries, tmp_path)
    page.evaluate(
        """() => { window.kept = IDBObjectStore.prototype.getAll;
             IDBObjectStore.prototype.getAll = () => {
               throw new DOMException("not now", "DataError"); }; }"""
    )
    to(page, "check")
    expect(page.get_by_text("Whether there was an earlier visit could not be read")).to_be_visible()
    to(page, "close")
    where = page.locator("p.where")
    expect(where).to_contain_text("Whether it was exported could not be read")
    page.evaluate("() => { IDBObjectStore.prototype.getAll = window.kept; }")
    downloaded(page)
    expect(where.get_by_text("exported", exact=True)).to_be_visible()

    page.evaluate(
        """() => { window.kept = IDBObjectStore.prototype.add;
             IDBObjectStore.prototype.add = () => {
               throw new DOMException("no room", "QuotaExceededError"); }; }"""
    )
    worked_out(page)
    page.get_by_role("button", name="Sign and close").click()
    expect(page.get_by_role("alert").filter(has_text="Not saved:")).to_be_visible()
    expect(where).to_have_text("Not saved yet")
    page.evaluate("() => { IDBObjectStore.prototype.add = window.kept; }")
    page.get_by_role("button", name="Try again").first.click()
    expect(where).to_contain_text("on this device only")


def test_a_stream_that_cannot_be_measured_is_closed_with_the_reason(
    page: Page, served: str, tmp_path: Path
) -> None:
    """No reading, no discharge: the reason goes into the remarks, and nobody had to make one up."""
    take_in(page, served, alder_fork("channels", "ended").entries, tmp_path)
    to(page, "close")
    page.get_by_role("button", name="Sign and close").click()
    expect(page.get_by_role("alert")).to_contain_text("Say first what came out")
    page.get_by_role("radio", name="Could not be measured").check()
    page.get_by_role("textbox", name="Why it could not be measured").fill("in flood")
    page.get_by_role("button", name="Now", exact=True).click()
    page.get_by_role("button", name="Sign and close").click()
    expect(page.get_by_text("No discharge").first).to_be_visible()
    page.get_by_role("navigation").get_by_role("link", name="Check").click()
    remarks = page.get_by_role("textbox", name="What a reader should know")
    expect(remarks).to_have_value("Could not be measured: in flood")


def test_without_the_engine_people_go_on(
    new_context: ContextMaker, served: str, tmp_path: Path, faults: Faults
) -> None:
    """With nothing to compute it is said what cannot be told; closing and the journal work."""
    faults.expect("Failed to load resource|net::ERR_FAILED|Failed to fetch")
    context = new_context("phone", service_workers="block")
    faults.expect("reading 'waiting'")
    context.route(re.compile(r"/engine/"), lambda route: route.abort())
    page = context.new_page()
    take_in(page, served, alder_fork().entries, tmp_path)
    to(page, "check")
    expect(page.get_by_text("Nothing is computed")).to_be_visible()
    expect(page.get_by_text("Findings cannot be told yet.")).to_be_visible()
    assert barriers(page) == []
    page.evaluate("() => { location.hash = location.hash.replace('check', 'note') }")
    expect(page.get_by_text("The note cannot be composed now")).to_be_visible()
    expect(page.get_by_text("name of the stream: Alder Fork")).to_be_visible()
    to(page, "close")
    page.get_by_role("button", name="Sign and close").click()
    expect(page.get_by_role("alert")).to_contain_text("Nothing is computed")
    page.get_by_role("button", name="Close without the figures").click()
    expect(page.get_by_role("heading", name="Closed", level=1)).to_be_focused()


@pytest.mark.parametrize("name", ["phone", "desktop"])
def test_the_note_says_all_that_the_report_says(
    new_context: ContextMaker, served: str, tmp_path: Path, name: str
) -> None:
    """Every text of the report as HTML stands in the note, and on paper nothing of the app does."""
    context = new_context(name)
    page = context.new_page()
    entries = with_a_slip(alder_fork()).entries
    take_in(page, served, entries, tmp_path)
    to(page, "note")
    assert barriers(page) == []
    said = " ".join(texts_of(page, ".note"))
    picture(page, f"note_{name}")

    _bankside("report", "alder_fork.bankside.json", "--html", "-o", "o.html", folder=tmp_path)
    office = context.new_page()
    office.set_content((tmp_path / "o.html").read_text(encoding="utf-8"))
    expected = texts_of(office, "body")
    # Only who reads a file is told how it left the stream.
    file_alone = "The gauging was not closed where it was recorded: it may be unfinished."
    assert [words for words in expected if words not in said] in ([], [file_alone])
    assert len(expected) > 300

    page.emulate_media(media="print", color_scheme="dark")
    page.evaluate("() => { document.documentElement.dataset.look = 'dark' }")
    expect(page.get_by_role("navigation")).to_be_hidden()
    expect(page.get_by_role("button", name="Print the note")).to_be_hidden()
    ground = page.evaluate("getComputedStyle(document.body).backgroundColor")
    assert ground == "rgb(255, 255, 255)"


@pytest.mark.parametrize("step", ["check", "close", "note"])
def test_largest_text_fits_a_narrow_screen(
    new_context: ContextMaker, served: str, tmp_path: Path, step: str
) -> None:
    """At 320 pixels, with the largest text and the dark look, nothing is cut off at the side."""
    page = new_context("phone", viewport={"width": 320, "height": 640}).new_page()
    take_in(page, served, with_a_slip(alder_fork()).entries, tmp_path)
    to(page, step)
    worked_out(page)
    page.evaluate(
        "() => Object.assign(document.documentElement.dataset, { text: 'larger', look: 'dark' })"
    )
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
    assert barriers(page) == []


def _bankside(*arguments: str, folder: Path) -> str:
    return subprocess.run(
        [sys.executable, "-m", "bankside", *arguments],
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        cwd=folder,
        check=True,
    ).stdout
