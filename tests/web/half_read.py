"""A gauging that is half read, put on the device as the app itself keeps it."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import Page, expect

GAUGING = "5f0c2a9e-1111-4222-8333-444455556666"
POSITIONS = [f"{4 + 0.7 * i:.1f}" for i in range(25)]

_PUT = """(entries) => new Promise((done, refuse) => {
  const opened = indexedDB.open("bankside");
  opened.onerror = () => refuse(opened.error);
  opened.onsuccess = () => {
    const change = opened.result.transaction("entries", "readwrite");
    for (const entry of entries) change.objectStore("entries").put(entry);
    change.onabort = () => refuse(change.error);
    change.oncomplete = () => { opened.result.close(); done(); };
  };
})"""

_ALL = """() => new Promise((done, refuse) => {
  const opened = indexedDB.open("bankside");
  opened.onerror = () => refuse(opened.error);
  opened.onsuccess = () => {
    const all = opened.result.transaction("entries").objectStore("entries").getAll();
    all.onsuccess = () => { opened.result.close(); done(all.result); };
  };
})"""

_DRAFTED = """async (typed) => {
  const drafts = () => new Promise((done, refuse) => {
    const opened = indexedDB.open("bankside");
    opened.onerror = () => refuse(opened.error);
    opened.onsuccess = () => {
      const all = opened.result.transaction("drafts").objectStore("drafts").getAll();
      all.onsuccess = () => { opened.result.close(); done(JSON.stringify(all.result)); };
    };
  });
  for (let i = 0; i < 500; i++) {
    if ((await drafts()).includes(JSON.stringify(typed))) return true;
    await new Promise((next) => setTimeout(next, 20));
  }
  return false;
}"""


def half_read(verticals: int, **said: Any) -> list[dict[str, Any]]:
    """The entries of a gauging of Quill Brook, planned at 25 positions, with so many read.

    `said` are further entries; two underlines stand for a slash.
    """
    told: list[tuple[str, Any]] = [
        ("site/stream", "Quill Brook"),
        ("units/length", "ft"),
        ("units/velocity", "ft/s"),
        ("rule_set", "common-practice"),
        ("crew/a", {"name": "J. Ostrander", "role": "recorder"}),
        ("wading/w1", {"safe": True, "by": "I. Marrow"}),
        ("start_bank", "left"),
        ("started", "2026-07-14T10:00:00.000-07:00"),
        *_edge("ve", "3.2", "left"),
        *_edge("vz", "21.9", "right"),
        ("plan", {"rule": "equal", "verticals": 25, "resolution": "0.1", "positions": POSITIONS}),
        *[(what.replace("__", "/"), value) for what, value in said.items()],
    ]
    for i in range(verticals):
        vertical = f"channels/1/verticals/w{i}"
        told += [
            (f"{vertical}/tape", POSITIONS[i]),
            (f"{vertical}/depth", f"{0.4 + 0.1 * i:.2f}"),
            (f"{vertical}/readings/r1", {"value": f"{0.3 + 0.1 * i:.2f}", "fraction": 0.6}),
        ]
    return [
        {
            "id": f"00000000-0000-4000-8000-{sequence:012d}",
            "gauging": GAUGING,
            "device": "tablet",
            "sequence": sequence,
            "at": f"2026-07-14T10:{sequence // 60:02d}:{sequence % 60:02d}.000-07:00",
            "what": what,
            "value": value,
        }
        for sequence, (what, value) in enumerate(told, 1)
    ]


def _edge(key: str, tape: str, side: str) -> list[tuple[str, Any]]:
    parts = {"tape": tape, "edge": side, "bank": "sloping", "depth": "0"}
    return [(f"channels/1/verticals/{key}/{part}", value) for part, value in parts.items()]


def read_on(page: Page, address: str, entries: list[dict[str, Any]]) -> None:
    """Put the entries on the page's device and open the reading of their gauging."""
    page.goto(address)
    expect(page.get_by_role("heading", level=1)).to_be_visible()
    page.evaluate(_PUT, entries)
    page.goto(f"{address}#/gauging/{GAUGING}/read")
    page.reload()
    expect(page.get_by_role("group", name="Keypad")).to_be_visible()


def kept(page: Page) -> list[tuple[str, Any]]:
    """What the device keeps, in order: the last parts of what was said, and the values.

    What is shown as said may still be on its way, and the line about saving says so.
    """
    expect(page.locator(".saved")).to_contain_text("● Saved on this device.")
    entries = sorted(page.evaluate(_ALL), key=lambda entry: entry["sequence"])
    return [("/".join(entry["what"].split("/")[4:5]), entry["value"]) for entry in entries]


def await_draft(page: Page, typed: str) -> None:
    """Wait until the device keeps what is typed and not yet said."""
    assert page.evaluate(_DRAFTED, typed), f"{typed} is not kept"
