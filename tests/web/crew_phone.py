"""A phone of a crew that is paired with an office: what it holds, and how it is told to sync."""

from __future__ import annotations

import re
from typing import Any

from playwright.sync_api import BrowserContext, Page, expect

from .office import Office

# All entries that the browser keeps, by gauging.
_HELD = """() => new Promise((resolve, reject) => {
  const opening = indexedDB.open("bankside");
  opening.onerror = () => reject(opening.error);
  opening.onsuccess = () => {
    const db = opening.result;
    const asked = db.transaction("entries").objectStore("entries").getAll();
    asked.onsuccess = () => { db.close(); resolve(asked.result); };
    asked.onerror = () => reject(asked.error);
  };
})"""


def without_computing(context: BrowserContext) -> BrowserContext:
    """Leave out what computes: it is no part of sync, and takes long to start."""
    context.route("**/engine/**", lambda route: route.abort())
    return context


def pair(page: Page, office: Office, name: str) -> None:
    """Pair the phone as its crew does: by the address in the picture that the office shows."""
    page.goto(f"{office.address}#/pair/{office.code()}")
    page.get_by_role("textbox", name="What this device is called").fill(name)
    page.get_by_role("button", name="Pair this device").click()
    expect(page.get_by_text(f"as {name} (crew)")).to_be_visible()


def sync(page: Page) -> None:
    """Sync now, and wait until that came to its end."""
    to(page, "#/settings")
    page.get_by_role("button", name="Sync now").click()
    expect(page.get_by_text("Every gauging of this device is on the server.")).to_be_visible()
    expect(page.get_by_text(re.compile("^Last sync:"))).to_be_visible()


def to(page: Page, place: str) -> None:
    """Go to a place of the app by its address, the page as it is."""
    page.evaluate("place => { location.hash = place }", place)


def held(page: Page) -> dict[str, list[dict[str, Any]]]:
    """The entries that are on the phone, by gauging and in the order of their ids."""
    gaugings: dict[str, list[dict[str, Any]]] = {}
    for entry in sorted(page.evaluate(_HELD), key=lambda entry: str(entry["id"])):
        gaugings.setdefault(entry["gauging"], []).append(entry)
    return gaugings


def by_id(entries: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Return entries in the order of their ids."""
    return sorted(entries, key=lambda entry: str(entry["id"]))
