"""Somebody with a finger on the app: presses what the screen offers, by the name it bears there."""

from __future__ import annotations

import re

from playwright.sync_api import Locator, Page, expect

KEYS = {".": "point", "-": "minus"}
SAVED = "Saved on this device."


class Recorder:
    """Works the page of one device; counts what was pressed.

    Words that people write, such as a name, come from the phone's own keyboard, which is `write`.
    """

    def __init__(self, page: Page) -> None:
        self.page = page
        self.taps = 0
        self.pad = page.get_by_role("group", name="Keypad")
        self.panel = page.get_by_role("dialog")

    def tap(self, target: Locator) -> None:
        """Touch something on the screen, once."""
        target.tap()
        self.taps += 1

    def press(self, name: str | re.Pattern[str], within: Locator | None = None) -> None:
        """Press the button of this name."""
        self.tap((within or self.page).get_by_role("button", name=name, exact=True))

    def choose(self, name: str | re.Pattern[str], of: str) -> None:
        """Choose one of a few under the words that ask for it."""
        self.tap(self.page.get_by_role("group", name=of).locator("label").filter(has_text=name))

    def write(self, label: str, text: str) -> None:
        """Write into the field of this name, and leave it."""
        field = self.page.get_by_label(label, exact=True)
        field.fill(text)
        field.blur()

    def go(self, step: str) -> None:
        """Go to a step of the gauging by the bar at the top."""
        self.tap(self.page.get_by_role("link", name=re.compile(rf"^{step}\b")))
        expect(self.page.get_by_role("link", name=re.compile(rf"^{step}\b"))).to_have_attribute(
            "aria-current", "step"
        )

    # Reading

    def type(self, keys: str) -> None:
        """Press keys of the keypad: digits, the point, the minus."""
        for key in keys:
            self.press(KEYS.get(key, key), self.pad)

    def enter(self) -> None:
        """Press the big key, whatever it says it will do."""
        self.tap(self.big_key)

    def call(self, keys: str) -> None:
        """Type a figure and press the big key."""
        self.type(keys)
        self.enter()

    @property
    def big_key(self) -> Locator:
        """The button that takes what was typed; its words say as what."""
        return self.page.locator("button.say")

    @property
    def asked(self) -> str:
        """What is being typed: Tape, Depth, Velocity, with the unit."""
        return self.typed.get_attribute("aria-label") or ""

    @property
    def typed(self) -> Locator:
        """The large figure under the fingers."""
        return self.page.locator(".typed output")

    @property
    def called(self) -> Locator:
        """What is to be called out to the rod: where to go, how to set it."""
        return self.page.locator(".box.call .figure")

    @property
    def saved_line(self) -> Locator:
        """The line that says what was written last, and whether it is on the device."""
        return self.page.locator(".saved")

    def saved(self, told: str = "") -> str:
        """Wait until the page says that all is on the device, and tells what; return its words."""
        pattern = re.compile(rf"{re.escape(told)}.*{re.escape(SAVED)}", re.DOTALL)
        expect(self.saved_line).to_have_text(pattern)
        return self.saved_line.inner_text()

    def other(self, name: str | re.Pattern[str]) -> None:
        """Open the other things, and press one."""
        self.press("Other", self.pad)
        self.press(name, self.panel)
