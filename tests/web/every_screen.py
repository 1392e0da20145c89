"""A tour of the app: every screen, every part and panel of it, with something to show."""

from __future__ import annotations

import re
from collections.abc import Iterator

from playwright.sync_api import Page, expect

from bankside.archive.register import put_survey

from .crew_phone import pair, sync, to
from .kept_gaugings import CLOSED, LAST_VISIT, NOT_WADED, UNDER_WAY, bring_in, kept_gaugings
from .office import Office, summer
from .setting_out import PARTS

NOTHING_FITS = """() => {
  IDBObjectStore.prototype.add = () => { throw new DOMException("", "QuotaExceededError"); };
}"""


def choose_look(page: Page, address: str, look: str, *more: str) -> None:
    """Choose a look, and whatever else by its name, in the settings."""
    page.goto(f"{address}#/settings")
    for name in (look, *more):
        page.get_by_role("radio", name=re.compile(f"^{name}")).check()
    expect(page.locator("html")).to_have_attribute("data-look", look)


def every_screen(page: Page, address: str) -> Iterator[str]:
    """Go from one screen to the next and give the name of each once it stands."""
    page.goto(f"{address}#/")
    expect(page.get_by_text("There is no gauging on this device yet.")).to_be_visible()
    yield "list_empty"
    page.get_by_role("button", name="Start a new gauging").click()
    yield "list_new"
    page.get_by_role("button", name="Not now").click()
    bring_in(page, kept_gaugings())
    yield "list"
    page.get_by_role("button", name="Start a new gauging").click()
    page.get_by_role("radio", name=re.compile("Quill Brook")).check()
    yield "list_new_from_last_visit"
    go(page, "#/settings", "Settings")
    yield "settings"
    yield from _set_out(page)
    yield from _plan(page)
    yield from _read(page)
    yield from _panels(page)
    yield from _leave(page)
    go(page, f"#/gauging/{CLOSED}/read", "Read")
    yield "read_closed"
    go(page, "#/gauging/nowhere/read", "No gauging here")
    yield "no_gauging"
    go(page, f"#/gauging/{UNDER_WAY}/read", "Read")
    page.evaluate(NOTHING_FITS)
    _type(page, "1.05")
    page.keyboard.press("Enter")
    expect(page.locator(".saved")).to_contain_text("Not saved.")
    yield "read_not_saved"


def go(page: Page, place: str, heading: str) -> None:
    """Go to a place of the app by its address; what it says of the figures has all entries."""
    page.evaluate("place => { location.hash = place }", place)
    expect(page.get_by_role("heading", name=heading, level=1, exact=True)).to_be_attached()
    settled(page)


def settled(page: Page) -> None:
    """Wait until nothing on the screen is still being worked out."""
    for words in ("Not told yet", "cannot be told yet", "being worked out", "being composed"):
        expect(page.get_by_text(words)).to_have_count(0)
    expect(page.locator("[aria-busy=true]")).to_have_count(0)


def _set_out(page: Page) -> Iterator[str]:
    for part in PARTS:
        go(page, f"#/gauging/{UNDER_WAY}/set-out/{part}", "Set out")
        page.locator("main details").evaluate_all(
            "(all) => all.forEach((one) => (one.open = true))"
        )
        yield f"set_out_{part}"
    page.get_by_role("textbox", name="Tape at the right edge").fill("1,5")
    yield "set_out_fault"
    page.get_by_role("textbox", name="Tape at the right edge").fill("")
    go(page, f"#/gauging/{NOT_WADED}/set-out/wading", "Set out")
    yield "set_out_stay_out"
    go(page, f"#/gauging/{CLOSED}/set-out/meter", "Set out")
    yield "set_out_closed"


def _plan(page: Page) -> Iterator[str]:
    go(page, f"#/gauging/{NOT_WADED}/plan", "Plan")
    yield "plan_without_edges"
    go(page, f"#/gauging/{CLOSED}/plan", "Plan")
    yield "plan"
    go(page, f"#/gauging/{UNDER_WAY}/plan", "Plan")
    yield "plan_under_way"


def _read(page: Page) -> Iterator[str]:
    go(page, f"#/gauging/{UNDER_WAY}/read", "Read")
    yield "read"
    _type(page, "1.05")
    yield "read_depth"
    page.keyboard.press("Enter")
    _type(page, "08")
    yield "read_fault"
    page.keyboard.press("Backspace")
    _type(page, ".83")
    yield "read_velocity"
    page.keyboard.press("Enter")
    _type(page, "17.5")
    page.keyboard.press("Enter")
    expect(page.get_by_text("Come out of the water.").first).to_be_visible()
    settled(page)
    yield "read_question"


def _panels(page: Page) -> Iterator[str]:
    page.keyboard.press("u")
    expect(page.locator(".saved")).to_contain_text("Taken back")
    settled(page)
    panel = page.get_by_role("dialog")
    page.keyboard.press("o")
    expect(panel).to_be_visible()
    yield "read_other"
    panel.get_by_role("button", name="Lock the keys").click()
    expect(panel.get_by_role("heading", name="The keys are locked")).to_be_visible()
    yield "read_locked"
    for key in "123":
        panel.get_by_role("button", name=f"Unlock: {key}").click()
    expect(panel).to_have_count(0)
    page.keyboard.press("o")
    for name, named in (
        (re.compile("^Remark at"), "read_remark"),
        ("Another channel", "read_channels"),
        ("Keys of a keyboard", "read_keys"),
        ("Correct something", "read_correct"),
    ):
        panel.get_by_role("button", name=name).click()
        yield named
        if named != "read_correct":
            panel.get_by_role("button", name="Back").click()
            page.keyboard.press("o")
    panel.get_by_role("button", name="Open 10", exact=True).click()
    yield "read_vertical"
    panel.get_by_role("button", name=re.compile("^Correct depth")).click()
    yield "read_correcting"
    page.keyboard.press("Escape")


def _leave(page: Page) -> Iterator[str]:
    go(page, f"#/gauging/{UNDER_WAY}/check", "Before leaving")
    page.locator("#check-journal").locator("..").locator("summary").click()
    yield "check"
    page.get_by_role("button", name="It is right, because").first.click()
    yield "check_answering"
    go(page, f"#/gauging/{UNDER_WAY}/close", "Close")
    page.get_by_role("button", name="Sign and close").click()
    expect(page.get_by_role("alert")).to_be_visible()
    yield "close"
    go(page, f"#/gauging/{CLOSED}/close", "Closed")
    yield "closed"
    page.get_by_role("button", name="Open it again").click()
    yield "closed_reopening"
    go(page, f"#/gauging/{CLOSED}/note", "Quill Brook")
    yield "note"


def _type(page: Page, figure: str) -> None:
    for key in figure:
        page.keyboard.press(key)


def office_screens(page: Page, office: Office) -> Iterator[str]:
    """Go through what a phone shows that is paired with an office, without what computes."""
    with office.archive() as archive, archive.writing() as connection:
        put_survey(connection, summer())
    page.goto(f"{office.address}#/pair/{office.code()}")
    expect(page.get_by_role("button", name="Pair this device")).to_be_visible()
    page.get_by_role("button", name="Pair this device").click()
    expect(page.get_by_role("alert")).to_be_visible()
    yield "settings_pairing"
    pair(page, office, "phone of I. Marrow")
    sync(page)
    to(page, "#/")
    page.context.set_offline(True)
    bring_in(page, kept_gaugings())
    expect(page.get_by_text("4 gaugings wait for the server")).to_be_visible()
    yield "list_waiting"
    page.context.set_offline(False)
    sync(page)
    page.get_by_role("button", name="Unpair").click()
    yield "settings_paired"
    office.review(CLOSED, "sent back", reason="No second stage was read.")
    office.review(LAST_VISIT, "approved")
    sync(page)
    to(page, "#/")
    expect(page.get_by_text("Sent back by")).to_be_visible()
    yield "list_reviewed"
    page.get_by_role("button", name="Start a new gauging").click()
    page.get_by_role("radio", name="Another site of the office's surveys").check()
    yield "list_new_at_a_survey_site"
    to(page, f"#/gauging/{UNDER_WAY}/set-out/site")
    page.get_by_role("button", name="It is that site").click()
    expect(page.get_by_text("Site of a survey:")).to_be_visible()
    yield "set_out_survey_site"
    to(page, f"#/gauging/{CLOSED}/check")
    expect(page.get_by_text("Sent back by")).to_be_visible()
    yield "check_sent_back"
    to(page, f"#/gauging/{LAST_VISIT}/close")
    page.get_by_role("button", name="Open it again").click()
    expect(page.get_by_text("Approved by").first).to_be_visible()
    yield "closed_approved"
    office.revoke_all()
    to(page, "#/settings")
    page.get_by_role("button", name="Sync now").click()
    expect(page.get_by_text("The office does not let this device in any more")).to_be_visible()
    yield "settings_revoked"
    to(page, "#/")
    expect(page.get_by_text("The office does not let this device in: see Settings")).to_be_visible()
    yield "list_revoked"
