"""A gauging that was read and is to be left: its file, and the way to the screens that end it."""

from __future__ import annotations

import json
import zlib
from pathlib import Path
from struct import pack
from typing import Any

from playwright.sync_api import Page, expect

from ..bank.entering import GAUGING, Entry, Pad, demo, said_of

AXE = Path(__file__).parents[2] / "web" / "node_modules" / "axe-core" / "axe.min.js"
SLIPPED, MEANT = "17", "1.7"


def alder_fork(*without: str) -> Pad:
    """Alder Fork as the recorder took it down, with everything but what is left out by its name."""
    pad = Pad()
    for what, value in said_of(demo("alder_fork.csv")):
        if what.split("/")[0] not in without:
            pad.say(what, value, by="J. Ostrander")
    pad.say("wading/w1", {"safe": True, "by": "I. Marrow"}).say("whole_flow", True)
    pad.say("zero_bank", "left").say("start_bank", "left")
    return pad


def with_a_slip(pad: Pad) -> Pad:
    """Write the depth of 1.7 ft that is there as 17, a point having slipped."""
    depth = next(
        entry
        for entry in pad.entries
        if entry["what"].endswith("/depth") and entry["value"] == MEANT
    )
    depth["value"] = SLIPPED
    return pad


def thinned(pad: Pad) -> Pad:
    """Leave out every second vertical between the edges, as a crew does in a hurry."""
    inner: dict[str, None] = {}
    edges = {
        entry["what"].split("/")[3] for entry in pad.entries if entry["what"].endswith("/edge")
    }
    for entry in pad.entries:
        parts = entry["what"].split("/")
        if parts[0] == "channels" and len(parts) > 3 and parts[3] not in edges:
            inner[parts[3]] = None
    out = set(list(inner)[1::2])
    pad.entries[:] = [e for e in pad.entries if not out & set(e["what"].split("/")[3:4])]
    return pad


def of_two_devices(pad: Pad) -> list[Entry]:
    """Let two devices correct one depth without knowing of each other: 0.90 here, 0.80 there."""
    depth = [entry for entry in pad.entries if entry["what"].endswith("/depth")][8]
    own = pad.say(depth["what"], "0.90", by="J. Ostrander").entries
    other: Entry = {**own[-1], "id": "other-1", "device": "other", "value": "0.80"}
    return [*own, {**other, "by": "I. Marrow"}]


def take_in(page: Page, address: str, entries: list[Entry], folder: Path) -> None:
    """Import the file of a gauging on the list of gaugings, as a person does."""
    file = folder / "alder_fork.bankside.json"
    document = {"format": "bankside.journal/1", "gauging": GAUGING, "entries": entries}
    file.write_text(json.dumps(document), encoding="utf-8")
    page.goto(address)
    with page.expect_file_chooser() as chooser:
        page.get_by_role("button", name="Import files").click()
    chooser.value.set_files(file)
    expect(page.get_by_text("are new here")).to_be_visible()


def to(page: Page, step: str) -> None:
    """Go to a step of the gauging by its address."""
    page.evaluate("place => { location.hash = place }", f"#/gauging/{GAUGING}/{step}")
    titles = {"plan": "Plan", "check": "Before leaving", "close": "Close", "note": "Alder Fork"}
    expect(page.get_by_role("heading", name=titles[step], level=1, exact=True)).to_be_visible()


def worked_out(page: Page) -> None:
    """Wait until the figures on the screen have all entries."""
    expect(page.get_by_text("Not told yet")).to_have_count(0)
    expect(page.get_by_text("cannot be told yet")).to_have_count(0)
    expect(page.get_by_text("being worked out")).to_have_count(0)


def photo(folder: Path) -> Path:
    """A picture as a camera takes it: 2,600 by 1,300 pixels of grey, as PNG."""

    def chunk(name: bytes, data: bytes) -> bytes:
        return pack(">I", len(data)) + name + data + pack(">I", zlib.crc32(name + data))

    head = pack(">IIBBBBB", 2600, 1300, 8, 0, 0, 0, 0)
    rows = zlib.compress((b"\0" + b"\x80" * 2600) * 1300)
    file = folder / "stream.png"
    file.write_bytes(
        b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", rows) + chunk(b"IEND", b"")
    )
    return file


def barriers(page: Page) -> list[Any]:
    """What axe finds on the screen that keeps somebody from using it, at level AAA too."""
    page.evaluate(AXE.read_text(encoding="utf-8"))
    found: list[Any] = page.evaluate(
        """async () => {
          const kinds = ["wcag2a", "wcag2aa", "wcag2aaa", "wcag21aa", "wcag22aa", "best-practice"];
          const { passes, violations } = await axe.run(document, { runOnly: kinds });
          if (passes.length === 0) throw new Error("axe looked at nothing");
          return violations.map((one) => [one.id, one.nodes.map((node) => node.html)]);
        }"""
    )
    return found


def near_or_small(page: Page) -> list[Any]:
    """The buttons and links on the screen below 60 pixels, or less than 8 from one another."""
    found: list[Any] = page.evaluate(
        """() => {
          const all = [...document.querySelectorAll("main :is(button, a, summary, label.button)")]
            .filter((one) => one.offsetParent !== null)
            .map((one) => ({ words: one.textContent.trim(), box: one.getBoundingClientRect() }));
          const small = all.filter(({ box }) => Math.min(box.width, box.height) < 59.5);
          const near = all.flatMap((a, i) => all.slice(i + 1).filter(({ box: b }) => {
            const dx = Math.max(a.box.left - b.right, b.left - a.box.right);
            const dy = Math.max(a.box.top - b.bottom, b.top - a.box.bottom);
            return Math.max(dx, dy) < 7.5;
          }).map((b) => `${a.words} | ${b.words}`));
          if (all.length === 0) throw new Error("there is nothing to press");
          return [...small.map(({ words }) => words), ...near];
        }"""
    )
    return found


def texts_of(page: Page, selector: str) -> list[str]:
    """All texts below an element but those inside pictures, each as people read it."""
    found: list[str] = page.locator(selector).evaluate(
        """(root) => {
          const walker = document.createTreeWalker(root, NodeFilter.SHOW_TEXT);
          const found = [];
          while (walker.nextNode()) {
            const words = walker.currentNode.data.replace(/\\s+/g, " ").trim();
            if (words && !walker.currentNode.parentElement.closest("svg, style")) found.push(words);
          }
          return found;
        }"""
    )
    return found
