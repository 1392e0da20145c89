"""Reading at the stream: taps, keys, what is saved, what stays in sight, what is read aloud."""

from __future__ import annotations

import re
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from .browsing import Faults, picture
from .conftest import ROOT, ContextMaker
from .half_read import await_draft, half_read, kept, read_on

AXE = ROOT / "web" / "node_modules" / "axe-core" / "axe.min.js"
SMALL_PHONE: dict[str, Any] = {"viewport": {"width": 360, "height": 640}}

_SET = """(changed) => new Promise((done) => {
  const opened = indexedDB.open("bankside");
  opened.onsuccess = () => {
    const change = opened.result.transaction("settings", "readwrite");
    change.objectStore("settings").put(changed, "settings");
    change.oncomplete = () => { opened.result.close(); done(); };
  };
})"""


class Thumb:
    """A gloved thumb on the keypad, which counts its taps."""

    def __init__(self, page: Page) -> None:
        self._page = page
        self.taps = 0

    def tap(self, name: str) -> None:
        """Tap a button by its whole name."""
        self._page.get_by_role("button", name=name, exact=True).tap()
        self.taps += 1

    def type(self, figure: str) -> None:
        """Tap the keys of a figure, one after the other."""
        for key in figure:
            self.tap({".": "point", "-": "minus"}.get(key, key))


@pytest.fixture
def small(new_context: ContextMaker) -> Page:
    """A page on the smallest phone that the reading is made for."""
    return new_context(**SMALL_PHONE).new_page()


def test_a_planned_vertical_takes_seven_taps(small: Page, served: str) -> None:
    """With fixed decimals a depth of two digits and a velocity of three take 2 + 1 + 3 + 1 taps."""
    decimals = {"tape": 1, "depth": 1, "velocity": 2}
    small.goto(served)
    expect(small.get_by_role("heading", level=1)).to_be_visible()
    small.evaluate(_SET, {"fixedDecimals": True})
    read_on(small, served, half_read(3, decimals=decimals))
    thumb = Thumb(small)

    thumb.type("10")
    thumb.tap("Depth is 1.0 ft")
    expect(small.get_by_text("Rod for 0.6")).to_be_visible()
    thumb.type("083")
    thumb.tap("Velocity is 0.83 ft/s")
    expect(small.get_by_text("Velocity 0.83 at 6.1.")).to_be_visible()
    expect(small.locator(".saved")).to_contain_text("Saved on this device")

    assert thumb.taps == 7
    assert kept(small)[-3:] == [
        ("tape", "6.1"),
        ("depth", "1.0"),
        ("readings", {"value": "0.83", "fraction": 0.6}),
    ]
    expect(small.locator(".call")).to_contain_text("6.8")
    picture(small, "read_phone")


def test_both_points_of_a_deep_vertical_are_asked(small: Page, served: str) -> None:
    """The rule set asks for two points from 2.5 ft on: each is called with its setting of the rod.

    The scale of the rod is set to twice the depth for 0.2 and to half of it for 0.8.
    """
    read_on(small, served, half_read(0))
    thumb = Thumb(small)
    thumb.type("2.80")
    thumb.tap("Depth is 2.80 ft")
    expect(small.locator(".call")).to_contain_text("5.60")
    thumb.type(".91")
    thumb.tap("Velocity at 0.2 is 0.91 ft/s")
    expect(small.locator(".call")).to_contain_text("1.40")
    thumb.type(".72")
    thumb.tap("Velocity at 0.8 is 0.72 ft/s")
    expect(small.locator(".call")).to_contain_text("4.7")


def test_what_is_typed_outlives_a_reload(small: Page, served: str) -> None:
    """Digits that were typed and not yet said stand there again after the page was loaded anew."""
    read_on(small, served, half_read(3))
    Thumb(small).type("1.0")
    expect(small.get_by_role("button", name="Depth is 1.0 ft", exact=True)).to_be_visible()
    await_draft(small, "1.0")
    small.reload()
    expect(small.get_by_role("button", name="Depth is 1.0 ft", exact=True)).to_be_visible()


def test_the_keypad_is_in_sight_and_large(small: Page, served: str) -> None:
    """On the smallest phone figures and keys stand whole on the glass; keys of 60 px, 8 apart."""
    read_on(small, served, half_read(3))
    for part in (".call", ".typed", ".keypad", "button.say"):
        expect(small.locator(part)).to_be_in_viewport(ratio=0.99)
    boxes = [key.bounding_box() for key in small.locator(".keypad button").all()]
    assert len(boxes) == 16
    for box in boxes:
        assert box is not None
        assert box["width"] >= 60
        assert box["height"] >= 60
        for other in boxes:
            assert other is not None
            across = max(
                other["x"] - box["x"] - box["width"], box["x"] - other["x"] - other["width"]
            )
            down = max(
                other["y"] - box["y"] - box["height"], box["y"] - other["y"] - other["height"]
            )
            assert other == box or max(across, down) >= 7.99


def test_nothing_that_is_not_saved_is_called_saved(small: Page, served: str) -> None:
    """Where the device has no room the reading stands there as not saved, until it is."""
    read_on(small, served, half_read(3))
    small.evaluate(
        "() => { const kept = IDBObjectStore.prototype, { add } = kept;"
        " kept.add = () => { throw new DOMException('', 'QuotaExceededError'); };"
        " window.makeRoom = () => { kept.add = add; }; }"
    )
    thumb = Thumb(small)
    thumb.type("1.05")
    thumb.tap("Depth is 1.05 ft")
    expect(small.locator(".saved")).to_contain_text("Not saved.")
    expect(small.locator(".saved")).not_to_contain_text("Saved on this device")
    small.evaluate("() => makeRoom()")
    small.locator(".saved").get_by_role("button", name="Try again").tap()
    expect(small.locator(".saved")).to_contain_text("Saved on this device")
    assert kept(small)[-1] == ("depth", "1.05")


def test_entry_goes_on_without_an_engine(small: Page, served: str, faults: Faults) -> None:
    """While nothing computes no rod setting is made up, and both velocities are kept."""
    faults.expect("engine|Failed to load|Failed to fetch|net::|worker")
    small.route("**/engine/**", lambda route: route.abort())
    read_on(small, served, half_read(3))
    thumb = Thumb(small)
    thumb.type("2.80")
    thumb.tap("Depth is 2.80 ft")
    expect(small.locator(".call")).not_to_contain_text("Rod")
    thumb.tap("0.2 and 0.8")
    thumb.type(".91")
    thumb.tap("Velocity at 0.2 is 0.91 ft/s")
    thumb.type(".72")
    thumb.tap("Velocity at 0.8 is 0.72 ft/s")
    expect(small.locator(".saved")).to_contain_text("Saved on this device")
    assert [value["fraction"] for _, value in kept(small)[-2:]] == [0.2, 0.8]


def test_a_slip_is_put_right_with_one_press_and_both_figures_are_kept(
    small: Page, served: str
) -> None:
    """A depth with a slip is asked about at once; the figure called stays, struck through."""
    read_on(small, served, half_read(6))
    thumb = Thumb(small)
    thumb.type("0.09")
    thumb.tap("Depth is 0.09 ft")
    fix = small.locator(".strip button").first
    expect(fix).to_have_text("0.9")
    fix.tap()
    expect(small.get_by_text("was 0.09, is 0.9.")).to_be_visible()
    assert [value for what, value in kept(small) if what == "depth"][-2:] == ["0.09", "0.9"]
    expect(small.locator("tr.present s")).to_have_text("was 0.09")


def test_an_alarm_is_not_ended_by_a_guess_in_the_row(small: Page, served: str) -> None:
    """A depth that may be a slip calls the crew out: another is written in full sight only."""
    read_on(small, served, half_read(6))
    thumb = Thumb(small)
    thumb.type("10.2")
    thumb.tap("Depth is 10.2 ft")
    strip = small.locator(".strip")
    expect(strip).to_contain_text("Come out of the water.")
    expect(small.locator(".call")).to_contain_text("Come out of the water")
    expect(strip.get_by_role("button")).to_have_count(1)
    strip.get_by_role("button", name="What to do").tap()
    panel = small.get_by_role("dialog")
    expect(panel.get_by_text("only if the crew says so").first).to_be_visible()
    panel.get_by_role("button", name="It is right, because").first.tap()
    expect(panel.get_by_label("Decided by, as a rule the crew leader")).to_have_value("")
    panel.get_by_role("button", name="Not now").tap()
    panel.get_by_role("button", name=re.compile("Write .* in place of 10.2")).tap()
    expect(small.locator(".saved")).to_contain_text(", was 10.2.")


def test_what_was_said_last_is_taken_back_by_one_tap(small: Page, served: str) -> None:
    """Taking back is an entry, is told, and can itself be taken back."""
    read_on(small, served, half_read(3))
    thumb = Thumb(small)
    thumb.type("1.05")
    thumb.tap("Depth is 1.05 ft")
    thumb.tap("Take back")
    expect(small.get_by_text("Taken back: depth 1.05 at 6.1.")).to_be_visible()
    thumb.tap("Bring back")
    expect(small.get_by_role("button", name="Type the velocity", exact=True)).to_be_visible()
    assert [value for what, value in kept(small) if what == "depth"][-3:] == ["1.05", None, "1.05"]


def test_a_keyboard_alone_reads_a_vertical(desktop: Page, served: str) -> None:
    """Digits, Enter, Backspace and the letters do all that the keypad does."""
    read_on(desktop, served, half_read(3))
    for key in ("1", ".", "0", "6", "Backspace", "5", "Enter"):
        desktop.keyboard.press(key)
    expect(desktop.get_by_text("Rod for 0.6")).to_be_visible()
    for key in ("t", "-", ".", "1", "2", "Enter"):
        desktop.keyboard.press(key)
    expect(desktop.get_by_text("Velocity -0.12 at 6.1.")).to_be_visible()
    desktop.keyboard.press("u")
    expect(desktop.get_by_text("Taken back: velocity -0.12 at 6.1.")).to_be_visible()
    assert [what for what, _ in kept(desktop)][-4:] == ["tape", "depth", "readings", "readings"]


@pytest.mark.parametrize("look", ["light", "dark"])
@pytest.mark.parametrize("name", ["phone", "tablet", "desktop"])
def test_nothing_is_hard_to_see_or_without_a_name(
    new_context: ContextMaker, served: str, name: str, look: str
) -> None:
    """By axe: contrast of 7:1, names for all that can be pressed, in the reading and over it."""
    page = new_context(name).new_page()
    page.goto(served)
    expect(page.get_by_role("heading", level=1)).to_be_visible()
    page.evaluate(_SET, {"look": look})
    read_on(page, served, half_read(9))
    for key in ("1", "2", ".", "5", "Enter"):
        page.keyboard.press(key)
    expect(page.locator(".out").first).to_be_visible()
    assert complaints(page) == []
    picture(page, f"read_{name}_{look}")
    page.keyboard.press("o")
    expect(page.get_by_role("dialog")).to_be_visible()
    assert complaints(page) == []


def complaints(page: Page) -> list[str]:
    """What axe has to say about the page as it is now."""
    page.evaluate(AXE.read_text(encoding="utf-8"))
    found: list[str] = page.evaluate(
        "async () => { const rules = ['wcag2a', 'wcag2aa', 'wcag2aaa', 'wcag21a', 'wcag21aa',"
        " 'wcag22aa', 'best-practice']; const { violations } = await axe.run({ runOnly: rules });"
        " return violations.flatMap(({ id, nodes }) => nodes.map((n) => `${id}: ${n.target}`)); }"
    )
    return found
