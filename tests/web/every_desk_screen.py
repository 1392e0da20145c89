"""A tour of the desk: every screen, every part and panel of it, with something to show."""

from __future__ import annotations

import re
from collections.abc import Iterator

from playwright.sync_api import FilePayload, Page, expect

from .desk_archive import SURVEY, DeskOffice

_ASKS = b"""Stream;Tansy Run
Date;03/08/2026
Distance (m);Depth (m);Velocity (m/s)
1.0;0;0
2.0;0.55;0.62
3.0;0;0
"""


def every_desk_screen(page: Page, office: DeskOffice) -> Iterator[str]:
    """Go from one screen of the desk to the next and give the name of each once it stands."""
    page.goto(f"{office.address}#/desk")
    page.get_by_label("Your name").fill("R. Voss")
    page.get_by_label("Your name").press("Tab")
    page.get_by_label("Find gaugings").fill("mere")
    page.keyboard.press("Enter")
    expect(page.get_by_role("table", name="Gaugings found")).to_be_visible()
    yield "desk_surveys"
    yield from _survey(page)
    yield from _sites(page)
    yield from _gauging(page, office)
    yield from _sheets(page)
    yield from _paper(page)
    yield from _people(page)
    _to(page, "#/desk/nowhere", "Nothing here")
    yield "desk_nowhere"


def _survey(page: Page) -> Iterator[str]:
    for part, table in (
        ("", "Sites from the sources down"),
        ("/gaugings", "Gaugings of the survey"),
    ):
        _to(page, f"#/desk/surveys/{SURVEY}{part}", "^Marrowmere")
        expect(page.get_by_role("table", name=table)).to_be_visible()
        yield f"desk_survey{part.replace('/', '_')}"
    _to(page, f"#/desk/surveys/{SURVEY}/map", "^Marrowmere")
    expect(page.locator(".leaflet-container path.site").first).to_be_attached()
    page.get_by_role("table", name="Sites on the map").get_by_role("link").nth(3).focus()
    yield "desk_survey_map"
    _to(page, f"#/desk/surveys/{SURVEY}/checks", "^Marrowmere")
    page.locator("main details").evaluate_all("(all) => all.forEach((one) => (one.open = true))")
    yield "desk_survey_checks"


def _sites(page: Page) -> Iterator[str]:
    _to(page, "#/desk/sites/QB-01", "^Quill Brook")
    expect(page.get_by_role("img", name=re.compile("^Upstream")).first).to_be_visible()
    page.get_by_role("button", name=re.compile("^Turn round")).last.click()
    page.locator("main details").evaluate_all("(all) => all.forEach((one) => (one.open = true))")
    yield "desk_site"
    _to(page, "#/desk/sites/SB-03", "^Sorrel Burn")
    expect(page.get_by_text("Nobody has gauged here yet.")).to_be_visible()
    yield "desk_site_without_visits"
    _to(page, "#/desk/sites/nowhere", "nowhere")
    expect(page.get_by_role("alert")).to_be_visible()
    yield "desk_site_unknown"


def _gauging(page: Page, office: DeskOffice) -> Iterator[str]:
    gauging = office.row("MW-02", "2026-07-23")["id"]
    state = office.ask(f"gaugings/{gauging}")["state"]
    said = {"verdict": "approved", "state": state, "by": "R. Voss"}
    office.ask(f"gaugings/{gauging}/review", said)
    depths = [entry for entry in office.entries(gauging) if entry.what.endswith("/depth")]
    deep = next(entry for entry in depths if float(entry.value) > 0.3)
    office.say(gauging, deep.what, f"{float(deep.value) + 0.01:.2f}", "the crew was asked")
    _to(page, f"#/desk/gaugings/{gauging}", "^Mere Water")
    expect(page.locator(".state").first).to_contain_text("changed since approval")
    expect(page.get_by_text("still computing")).to_have_count(0, timeout=240_000)
    expect(page.get_by_role("heading", name="Section", exact=True)).to_be_visible()
    page.get_by_role("button", name="Send back").click()
    page.locator("main details").evaluate_all("(all) => all.forEach((one) => (one.open = true))")
    expect(page.get_by_label("Now", exact=True)).to_be_visible()
    yield "desk_gauging"
    page.get_by_role("button", name=re.compile("^Correct the vertical at")).nth(5).click()
    dialog = page.get_by_role("dialog")
    dialog.get_by_role("button", name="Keep the correction").click()
    expect(dialog.get_by_role("alert")).to_be_visible()
    yield "desk_gauging_correcting"
    dialog.get_by_role("button", name="Not now").click()


def _sheets(page: Page) -> Iterator[str]:
    _to(page, "#/desk/sheets", "Old sheets")
    yield "desk_sheets"
    good = _ASKS.replace(b"03/08", b"23/08")
    page.locator("input[type=file]").set_input_files(
        [
            FilePayload(name="asks.csv", mimeType="text/csv", buffer=_ASKS),
            FilePayload(name="good.csv", mimeType="text/csv", buffer=good),
            FilePayload(name="none.csv", mimeType="text/csv", buffer=b"a,b\n1,2\n"),
        ]
    )
    expect(page.get_by_role("status").filter(has_text="3 looked at")).to_be_visible()
    page.locator("main details").evaluate_all("(all) => all.forEach((one) => (one.open = true))")
    yield "desk_sheets_looked_at"
    page.get_by_role("button", name=re.compile("^Take in the one")).click()
    expect(page.get_by_role("heading", name="Taken in")).to_be_visible()
    yield "desk_sheets_taken_in"


def _paper(page: Page) -> Iterator[str]:
    _to(page, "#/desk/paper", "Paper")
    page.get_by_role("button", name="Type a paper sheet").click()
    expect(page.get_by_role("heading", name="New sheet")).to_be_visible()
    page.locator("main details").evaluate_all("(all) => all.forEach((one) => (one.open = true))")
    page.get_by_label("Stream", exact=True).fill("Alder Fork")
    page.get_by_label("Day", exact=True).fill("2026-07-30")
    page.get_by_label("Unit of the tape").select_option("ft")
    page.get_by_label("Unit of velocity").select_option("ft/s")
    page.get_by_label("Tape, row 1", exact=True).focus()
    for cell in ("3.2", "l", "", "4.2", "0.30", "0.41", "5.2", "0,6", "0.70", "6.2", "0.8", "9"):
        page.keyboard.type(cell)
        page.keyboard.press("Enter")
    page.get_by_label("Depth, row 3", exact=True).focus()
    page.keyboard.press("Enter")
    expect(page.get_by_text("not taken.")).to_be_visible()
    expect(page.locator("section[aria-busy=true]")).to_have_count(0)
    yield "desk_paper_typing"
    _to(page, "#/desk/paper", "Paper")
    expect(page.get_by_role("link", name="Alder Fork")).to_be_visible()
    yield "desk_paper"


def _people(page: Page) -> Iterator[str]:
    _to(page, "#/desk/people", "People and devices")
    page.get_by_label("Name", exact=True).fill("K. Ashdown")
    page.get_by_label(re.compile("^Password")).fill("slow water in summer")
    page.get_by_role("button", name="Give the account").click()
    page.get_by_role("button", name=re.compile("^Take the account away")).click()
    page.get_by_role("button", name="Make a code").click()
    expect(page.get_by_role("img", name=re.compile("^QR code"))).to_be_visible()
    yield "desk_people"


def _to(page: Page, place: str, heading: str) -> None:
    page.evaluate("place => { location.hash = place }", place)
    expect(page.get_by_role("heading", name=re.compile(heading), level=1)).to_be_visible()
    expect(page.locator("main [aria-busy=true]")).to_have_count(0)
