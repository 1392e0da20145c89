"""What the browser may clear: it is asked to keep the readings, and people are told the answer."""

from __future__ import annotations

import json

import pytest
from playwright.sync_api import Page, Playwright, expect

from .alder_fork import imported, journal, reading, say
from .conftest import ContextMaker
from .standing import close_gauging, open_gauging, without_engine

HINT = "Put Bankside on the Home Screen before the first reading"


@pytest.mark.parametrize(
    ("answer", "words"),
    [
        (True, "The browser keeps it until you remove it."),
        (False, "The browser may clear it when the device runs out of room"),
    ],
)
def test_the_browser_is_asked_once_and_with_the_first_gauging(
    page: Page, served: str, answer: bool, words: str
) -> None:
    """Nobody is asked before anything is stored, nor twice; Settings tell the answer."""
    without_engine(page)
    granted = str(answer).lower()
    page.add_init_script(
        f"""window.asked = 0;
        navigator.storage.persist = async () => {{ window.asked += 1; return {granted}; }};"""
    )
    page.goto(served)
    expect(page.get_by_role("heading", name="Gaugings")).to_be_visible()
    assert page.evaluate("window.asked") == 0
    for _ in range(2):
        open_gauging(page)
        close_gauging(page)
    page.get_by_role("link", name="Settings").click()
    expect(page.get_by_text(words)).to_be_visible()
    assert page.evaluate("window.asked") == 1


def test_the_browser_is_asked_at_an_import_and_at_a_save_in_a_gauging_that_was_opened(
    page: Page, served: str
) -> None:
    """Whatever way readings come to the device, and anew on each page until it is granted."""
    without_engine(page)
    page.add_init_script(
        """window.asked = 0;
        navigator.storage.persist = async () => { window.asked += 1; return false; };"""
    )
    imported(page, served, json.dumps(journal()).encode("utf-8"))
    assert page.evaluate("window.asked") == 1

    reading(page, served)
    page.reload()
    expect(page.get_by_role("group", name="Keypad")).to_be_visible()
    assert page.evaluate("window.asked") == 0
    say(page, "1.5")
    say(page, "1.05")
    expect(page.get_by_text("Depth 1.05 at 4.0.")).to_be_visible()
    assert page.evaluate("window.asked") == 1


@pytest.mark.parametrize("name", ["iPhone 15", "iPad Pro 11"])
def test_safari_is_told_to_put_the_app_on_the_home_screen(
    playwright: Playwright, new_context: ContextMaker, served: str, name: str
) -> None:
    """Where a tab's store is cleared after a week unused, this is said before the first reading."""
    safari = playwright.devices[name]
    page = new_context(user_agent=safari["user_agent"]).new_page()
    without_engine(page)
    page.goto(served)
    expect(page.get_by_text(HINT)).to_be_visible()


def test_others_are_not_told_so(page: Page, served: str) -> None:
    """A phone whose tabs keep their store has no such sentence in the way."""
    without_engine(page)
    page.goto(served)
    expect(page.get_by_role("heading", name="Gaugings")).to_be_visible()
    expect(page.get_by_text(HINT)).to_have_count(0)
