"""A gauging of an invented stream in the app: brought in as a file, read, and taken out again."""

from __future__ import annotations

import base64
import hashlib
import json
from pathlib import Path
from typing import Any

from playwright.sync_api import BrowserContext, Download, Page, expect
from playwright.sync_api import TimeoutError as TookTooLong

GAUGING = "5f0c2a9e-0000-4000-8000-000000000001"
PHOTO = b"\xff\xd8\xff\xe0 the left bank \xff\xd9"

# The sign tells it from what is only read aloud.
SAVED = "● Saved on this device."


def journal(positions: int = 20) -> dict[str, Any]:
    """The file of a gauging that is planned and not yet read, with a photo."""
    photo = hashlib.sha256(PHOTO).hexdigest()
    said = {
        "site/stream": "Alder Fork",
        "site/name": "below the footbridge",
        "units/length": "ft",
        "units/velocity": "ft/s",
        "zero_bank": "left",
        "start_bank": "left",
        "plan": {
            "rule": "equal width",
            "verticals": positions,
            "resolution": "0.1",
            "positions": [f"{4 + place / 10:.1f}" for place in range(positions)],
        },
        "photos/p1": {
            "purpose": "left bank",
            "sha256": photo,
            "bytes": len(PHOTO),
            "type": "image/jpeg",
        },
    }
    entries = [
        {
            "id": f"office-{sequence}",
            "gauging": GAUGING,
            "device": "office",
            "sequence": sequence,
            "at": "2026-07-14T10:12:03.250-07:00",
            "what": what,
            "value": value,
        }
        for sequence, (what, value) in enumerate(said.items(), start=1)
    ]
    file = {"type": "image/jpeg", "base64": base64.b64encode(PHOTO).decode("ascii")}
    return {
        "format": "bankside.journal/1",
        "gauging": GAUGING,
        "entries": entries,
        "files": {photo: file},
    }


def downloads_only(context: BrowserContext) -> None:
    """Have the browser save files as those do that let nobody choose the place."""
    context.add_init_script("delete window.showSaveFilePicker")


def imported(page: Page, address: str, content: bytes) -> None:
    """Import a file at the list of gaugings."""
    page.goto(address)
    page.locator("input[type=file]").set_input_files(
        {"name": "alder.bankside.json", "mimeType": "application/json", "buffer": content}
    )
    expect(page.get_by_text("alder.bankside.json: ")).to_be_visible()


def at_the_stream(page: Page, address: str, positions: int = 20) -> None:
    """Import the gauging and stand where it is read."""
    imported(page, address, json.dumps(journal(positions)).encode("utf-8"))
    reading(page, address)


def reading(page: Page, address: str) -> None:
    """Open the gauging where it is read."""
    page.goto(f"{address}#/gauging/{GAUGING}/read")
    expect(page.get_by_role("group", name="Keypad")).to_be_visible()


def say(page: Page, figure: str) -> None:
    """Type what is asked for and press the big key; whether it is saved is another matter."""
    page.keyboard.type(figure)
    page.keyboard.press("Enter")


def exported(page: Page, address: str) -> bytes:
    """Export the gauging from the list, and say that the file has arrived."""
    page.goto(address)
    return downloaded(page)


def downloaded(page: Page) -> bytes:
    """Export the gauging by the button that is there, and say that the file has arrived.

    Once a Chromium that was started again after a kill gave no file within a minute, for a reason
    that nobody saw. Where the app has made one it asks whether the file is there, and a person who
    does not find it presses again; where it has made none the test fails, and says what it shows.
    """
    try:
        download = _pressed(page)
    except TookTooLong:
        not_there = page.get_by_role("button", name="Not there")
        assert not_there.count() > 0, f"no file is made: {page.locator('body').inner_text()}"
        not_there.click()
        download = _pressed(page)
    page.get_by_role("button", name="Yes, it is there").click()
    expect(page.get_by_text("Exported as ")).to_be_visible()
    return Path(download.path()).read_bytes()


def _pressed(page: Page) -> Download:
    with page.expect_download() as download:
        page.get_by_role("button", name="Export").first.click()
    return download.value


def values(file: bytes) -> list[Any]:
    """What the entries of an exported file say, in order."""
    return [entry["value"] for entry in json.loads(file)["entries"]]
