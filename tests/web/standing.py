"""How the app says that it stands, and the first steps of a person in it."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from .hosts import Host

READY = "Ready to work offline"
COMPUTES = "Computing is ready"


def line(page: Page, text: str) -> None:
    """Wait until the line that tells how it stands says this."""
    expect(page.get_by_role("status").get_by_text(text, exact=True).first).to_be_visible()


def without_engine(page: Page) -> None:
    """Spare a test that is not about computing the wait for it: no thread can be started."""
    page.add_init_script("window.Worker = class { constructor() { throw new Error('none') } }")


def ready(page: Page, host: Host) -> None:
    """Visit the app and wait until it is kept."""
    page.goto(host.address)
    line(page, READY)


def open_gauging(page: Page) -> None:
    """Begin a gauging, which then is open."""
    page.get_by_role("button", name="New gauging").click()
    page.get_by_role("radio", name="feet").check()
    page.get_by_role("button", name="Start", exact=True).click()
    expect(page.get_by_text("Saved on this device").first).to_be_visible()


def close_gauging(page: Page) -> None:
    """Go back to the list."""
    page.get_by_role("link", name="List of gaugings").click()
