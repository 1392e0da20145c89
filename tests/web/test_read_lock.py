"""Keys that are locked against rain: no tap says anything, and everybody can open them."""

from __future__ import annotations

import random
from typing import Any

import pytest
from playwright.sync_api import Locator, Page, expect

from .browsing import picture
from .conftest import ContextMaker
from .every_screen import choose_look
from .half_read import half_read, kept, read_on
from .measured import complaints, faint, sideways, small
from .recorder import Recorder

SMALL_PHONE: dict[str, Any] = {"viewport": {"width": 360, "height": 640}}
ON_ITS_SIDE: dict[str, Any] = {"viewport": {"width": 640, "height": 360}}
ZOOMED: dict[str, Any] = {"viewport": {"width": 640, "height": 400}, "device_scale_factor": 2}
NARROW: dict[str, Any] = {"viewport": {"width": 320, "height": 568}}

LISTEN = """() => {
  window.tones = { begun: 0, hushed: 0 };
  const tone = OscillatorNode.prototype, { start, disconnect } = tone;
  tone.start = function (...when) { tones.begun += 1; return start.apply(this, when); };
  tone.disconnect = function (...from) { tones.hushed += 1; return disconnect.apply(this, from); };
}"""
LATER = """(ms) => {
  const now = performance.now.bind(performance);
  performance.now = () => now() + ms;
}"""


class Rain:
    """Puts drops and fingers on the glass of one device, wherever they fall."""

    def __init__(self, page: Page) -> None:
        self._page = page
        self._session = page.context.new_cdp_session(page)

    def shower(self, drops: int) -> None:
        """Let single drops fall that the glass takes for taps, the same ones each time."""
        glass = self._page.viewport_size
        assert glass is not None
        chance = random.Random(7)
        for _ in range(drops):
            self._page.touchscreen.tap(
                chance.uniform(1, glass["width"] - 1), chance.uniform(1, glass["height"] - 1)
            )

    def fingers(self, *on: Locator) -> None:
        """Touch several places at once, and let go of them one after the other."""
        points = []
        for finger, target in enumerate(on):
            box = target.bounding_box()
            assert box is not None
            points.append({"x": box["x"] + 30, "y": box["y"] + 30, "id": finger})
        for many in range(1, len(points) + 1):
            self._touch("touchStart", points[:many])
        for many in range(len(points) - 1, -1, -1):
            self._touch("touchEnd", points[:many])

    def _touch(self, kind: str, points: list[dict[str, float]]) -> None:
        self._session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})


@pytest.fixture
def phone(new_context: ContextMaker) -> Page:
    """A page on the smallest phone that the reading is made for."""
    return new_context(**SMALL_PHONE).new_page()


def lock(page: Page) -> Recorder:
    """Lock the keys as a recorder does, by two taps."""
    recorder = Recorder(page)
    recorder.other("Lock the keys")
    expect(page.get_by_role("heading", name="The keys are locked")).to_be_visible()
    return recorder


def key(page: Page, number: int) -> Locator:
    """One of the keys that unlock."""
    return page.get_by_role("button", name=f"Unlock: {number}", exact=True)


def still_locked(page: Page, due: int = 1) -> None:
    """The keys are locked, and the one that is due in turn is this."""
    expect(page.locator("dialog.locked footer p")).to_have_text(
        "To unlock: 1, 2, 3" if due == 1 else f"Now {due}"
    )


def opened(page: Page) -> None:
    """The keys are open."""
    expect(page.locator("dialog.locked")).to_have_count(0)


def test_a_shower_on_locked_keys_says_nothing(phone: Page, served: str) -> None:
    """After hundreds of taps everywhere the same is kept, typed and called; without, it is not."""
    read_on(phone, served, half_read(3))
    recorder = Recorder(phone)
    recorder.type("1.0")
    before = kept(phone)
    lock(phone)

    Rain(phone).shower(300)

    expect(phone.locator("dialog.locked")).to_be_visible()
    expect(phone.locator("dialog.locked .call")).to_contain_text("6.1")
    # The rain stops and the glass is wiped.
    phone.get_by_role("heading", name="The keys are locked").tap()
    for number in (1, 2, 3):
        key(phone, number).tap()
    opened(phone)
    expect(recorder.big_key).to_have_text("Depth is 1.0 ft")
    assert kept(phone) == before
    Rain(phone).shower(30)
    expect(recorder.big_key).not_to_have_text("Depth is 1.0 ft")


def test_only_the_three_keys_in_turn_open(phone: Page, served: str) -> None:
    """A tap that goes astray starts over; one key tapped twice by a shaking hand does not."""
    read_on(phone, served, half_read(3))
    lock(phone)
    key(phone, 2).tap()
    key(phone, 3).tap()
    still_locked(phone)
    key(phone, 1).tap()
    key(phone, 2).tap()
    still_locked(phone, due=3)
    phone.locator("dialog.locked .now").tap()
    still_locked(phone)
    key(phone, 3).tap()
    still_locked(phone)
    for number in (1, 1, 2, 2, 3):
        key(phone, number).tap()
    opened(phone)


def test_many_fingers_at_once_are_no_taps(phone: Page, served: str) -> None:
    """A sleeve or a hand on several places at once counts for nothing, and starts over."""
    read_on(phone, served, half_read(3))
    lock(phone)
    rain = Rain(phone)
    rain.fingers(key(phone, 1))
    still_locked(phone, due=2)
    rain.fingers(key(phone, 2), phone.locator("dialog.locked .now"))
    still_locked(phone)
    rain.fingers(key(phone, 1), key(phone, 2), key(phone, 3))
    still_locked(phone)
    for number in (1, 2, 3):
        rain.fingers(key(phone, number))
    opened(phone)


def test_keys_of_a_keyboard_say_nothing_but_can_open(desktop: Page, served: str) -> None:
    """Digits, letters, Enter and Esc do nothing; going from key to key and pressing each opens."""
    read_on(desktop, served, half_read(3))
    before = kept(desktop)
    big_key = desktop.locator("button.say")
    desktop.keyboard.press("o")
    desktop.get_by_role("button", name="Lock the keys").press("Enter")
    expect(desktop.get_by_role("heading", name="The keys are locked")).to_be_focused()

    # A press beside the keys takes the focus out of the panel in some browsers.
    for focus in ("kept", "lost"):
        if focus == "lost":
            desktop.evaluate("document.activeElement.blur()")
            expect(desktop.locator("body")).to_be_focused()
        for pressed in ("1", ".", "2", "3", "Enter", "t", "u", "o", "d", "g", "Backspace"):
            desktop.keyboard.press(pressed)
        for _ in range(5):
            desktop.keyboard.press("Escape")
        still_locked(desktop)
    expect(big_key).to_have_text("Type the depth")
    expect(desktop.locator(".keypad .count")).to_contain_text("Start counting down")

    desktop.get_by_role("heading", name="The keys are locked").focus()
    for number, way in ((1, "Enter"), (2, "Space"), (3, "Enter")):
        desktop.keyboard.press("Tab")
        expect(key(desktop, number)).to_be_focused()
        desktop.keyboard.press(way)
    opened(desktop)
    assert kept(desktop) == before
    desktop.keyboard.type("1.2")
    expect(big_key).to_have_text("Depth is 1.2 ft")


def test_enter_held_down_does_not_open(desktop: Page, served: str) -> None:
    """A key of the keyboard that is held presses one key over and over, and no other."""
    read_on(desktop, served, half_read(3))
    lock_by_click(desktop)
    key(desktop, 1).focus()
    for _ in range(10):
        desktop.keyboard.down("Enter")
    desktop.keyboard.up("Enter")
    still_locked(desktop, due=2)


def test_a_count_down_goes_on_and_sounds(phone: Page, served: str) -> None:
    """The time that was running before is shown, runs out, and its tones are not taken back."""
    phone.add_init_script(f"({LISTEN})()")
    read_on(phone, served, half_read(3))
    phone.locator(".keypad .count").tap()
    lock(phone)
    time = phone.locator("dialog.locked .time")
    expect(time).to_contain_text("Time left")
    picture(phone, "read_locked_counting")
    assert [*faint(phone), *complaints(phone), *sideways(phone)] == []
    phone.evaluate(LATER, 41_000)
    expect(time).to_contain_text("The time is up")
    picture(phone, "read_locked_time_up")
    assert [*faint(phone), *complaints(phone)] == []
    assert phone.evaluate("tones") == {"begun": 2, "hushed": 0}


def test_who_is_called_out_of_the_water_is_called_over_the_lock(phone: Page, served: str) -> None:
    """A finding that calls the crew out stands there, and no position is called."""
    read_on(phone, served, half_read(6))
    recorder = Recorder(phone)
    recorder.call("10.2")
    lock(phone)
    called = phone.locator("dialog.locked .call")
    expect(called).to_contain_text("Come out of the water")
    expect(called).to_contain_text("10.2")
    expect(called.locator(".figure")).to_have_count(0)
    picture(phone, "read_locked_out")
    assert [*faint(phone), *complaints(phone), *sideways(phone)] == []


def test_what_is_not_saved_is_told(phone: Page, served: str) -> None:
    """A reading that the device could not keep is not hidden by the lock."""
    read_on(phone, served, half_read(3))
    phone.evaluate(
        "() => { IDBObjectStore.prototype.add = () => {"
        " throw new DOMException('', 'QuotaExceededError'); }; }"
    )
    Recorder(phone).call("1.05")
    lock(phone)
    expect(phone.locator("dialog.locked .trouble")).to_have_text("Not saved. Unlock to see why.")
    assert faint(phone) == []


def test_a_page_that_is_loaded_anew_is_open(phone: Page, served: str) -> None:
    """The lock is kept nowhere."""
    read_on(phone, served, half_read(3))
    lock(phone)
    phone.reload()
    Recorder(phone).type("1.2")
    expect(phone.locator("button.say")).to_have_text("Depth is 1.2 ft")


@pytest.mark.parametrize(
    ("name", "options", "look", "more"),
    [
        ("phone", SMALL_PHONE, "light", ()),
        ("left_hand", SMALL_PHONE, "dark", ("left",)),
        ("on_its_side", ON_ITS_SIDE, "light", ()),
        ("on_its_side_left_hand", ON_ITS_SIDE, "dark", ("left",)),
        ("zoomed", ZOOMED, "light", ()),
        ("narrow_largest", NARROW, "dark", ("largest",)),
    ],
)
def test_all_of_it_stands_on_the_glass(
    new_context: ContextMaker,
    served: str,
    name: str,
    options: dict[str, Any],
    look: str,
    more: tuple[str, ...],
) -> None:
    """Figures and keys are whole in sight, large and clear, with the time that is left."""
    page = new_context(**options).new_page()
    choose_look(page, served, look, *more)
    read_on(page, served, half_read(3))
    recorder = Recorder(page)
    page.locator(".keypad .count").tap()
    recorder.call("1.05")
    lock(page)
    expect(page.locator("dialog.locked .call")).to_contain_text("Rod for 0.6")
    for number in (1, 2, 3):
        expect(key(page, number)).to_be_in_viewport(ratio=0.99)
    picture(page, f"read_locked_{name}")
    # The largest letters on the narrowest glass are scrolled, under the keys, which stay.
    if name != "narrow_largest":
        assert page.locator("dialog.locked").evaluate(
            "(all) => all.scrollHeight <= all.clientHeight"
        )
    assert [*faint(page), *complaints(page), *sideways(page), *small(page, control=60)] == []


def lock_by_click(page: Page) -> None:
    """Lock the keys where there is no glass to tap."""
    page.get_by_role("button", name="Other", exact=True).click()
    page.get_by_role("button", name="Lock the keys").click()
    expect(page.get_by_role("heading", name="The keys are locked")).to_be_visible()
