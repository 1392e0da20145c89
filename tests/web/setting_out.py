"""Walking through the form that sets a gauging out, as a recorder does at Alder Fork."""

from __future__ import annotations

import re

from playwright.sync_api import Locator, Page, expect

STREAM, SITE = "Alder Fork", "above the footbridge"

PARTS = ("site", "crew", "wading", "units", "meter", "stage", "section", "tape", "left", "right")


def start(page: Page, address: str) -> None:
    """Open the app and start a gauging in feet at a site that is new on the device."""
    page.goto(address)
    page.get_by_role("button", name="Start a new gauging").click()
    page.get_by_role("radio", name="feet").check()
    page.get_by_role("button", name="Start", exact=True).click()
    expect(page.get_by_role("heading", name="Set out")).to_be_visible()


def to(page: Page, step: str, part: str = "") -> None:
    """Go to a step of the gauging that is open, by its address."""
    gauging = re.search(r"#(?:/practice)?/gauging/[^/]+", page.url)
    assert gauging is not None, f"no gauging is open at {page.url}"
    page.evaluate("place => { location.hash = place }", f"{gauging[0]}/{step}/{part}")
    names = {"set-out": "Set out", "plan": "Plan"}
    if step in names:
        expect(page.get_by_role("heading", name=names[step], level=1)).to_be_visible()


def fields(page: Page, name: str) -> Locator:
    """The part of the form that is open under a name."""
    return page.get_by_role("region", name=name)


def type_in(page: Page, name: str, text: str) -> None:
    """Type into a field and leave it, as a person does by going on."""
    field = page.get_by_role("textbox", name=name)
    field.fill(text)
    field.press("Tab")


def name_the_site(page: Page, site: str = SITE) -> None:
    """Say the stream and the site."""
    to(page, "set-out", "site")
    type_in(page, "Stream", STREAM)
    page.get_by_role("textbox", name="Site", exact=True).fill(site)
    page.keyboard.press("Tab")


def add(page: Page, name: str, *roles: str) -> None:
    """Add somebody to the crew."""
    to(page, "set-out", "crew")
    page.get_by_role("button", name="Add somebody").click()
    page.get_by_role("group", name="Somebody new").get_by_label("Name").fill(name)
    page.keyboard.press("Tab")
    for role in roles:
        page.get_by_role("group", name=name).get_by_label(role, exact=True).check()


def decide(page: Page, safe: bool) -> None:
    """Decide at the gate, J. Ostrander being the leader."""
    to(page, "set-out", "wading")
    for name in ("Not cold", "Not alone"):
        page.get_by_role("radio", name=name, exact=True).check()
    type_in(page, "Who decides", "J. Ostrander")
    page.get_by_role("button", name="Safe to wade" if safe else "Stay out", exact=True).click()


def read_the_edges(page: Page, left: str = "3.2", right: str = "24.1") -> None:
    """Hang the tape with its zero at the left bank and read both edges, which slope."""
    to(page, "set-out", "tape")
    page.get_by_role("group", name="zero hangs").get_by_label("left bank").check()
    page.get_by_role("group", name="crew starts").get_by_label("left bank").check()
    for side, tape in (("left", left), ("right", right)):
        to(page, "set-out", side)
        type_in(page, f"Tape at the {side} edge", tape)
        fields(page, f"{side.capitalize()} edge").get_by_role("radio", name="sloping").check()


def saved(page: Page) -> None:
    """Wait until the app says that all is on the device."""
    expect(page.get_by_text("Saved on this device")).to_be_visible()
