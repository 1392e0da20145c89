"""Somebody who practises in the app: looks at what is drawn, and types what was read."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from playwright.sync_api import Page, expect

from .drawn_scale import read_rod, read_tape
from .every_screen import settled
from .recorder import Recorder
from .setting_out import decide, fields, to, type_in

FACES_INTO_FLOW = 0
_FOOT = 0.1


@dataclass
class Habits:
    """How somebody works; the defaults are those of a careful person."""

    section: str
    verticals: int = 9
    clears: bool = True
    skew: int = 0
    seconds: int = 60
    facing: int = 0
    stands: str = "downstream, to the side"
    meter: str = "ft/s"
    resets: bool = True
    types: bool = False
    """Whether depths are typed on a keyboard as soon as the sheet is there again."""
    sets_the_rod: bool = True
    """Whether the scale is set anew at every vertical."""


@dataclass
class Trainee:
    """Plays one practice gauging in feet on a page of the app."""

    page: Page
    habits: Habits
    read: list[tuple[float, float, float]] = field(default_factory=list)
    """Tape, depth and velocity of every vertical, as typed."""

    def play(self, address: str, stream: str, number: int) -> None:
        """Go through a whole gauging, from the choice of the stream to the debrief."""
        self.choose(address, stream, number)
        left, right = self.hang_the_tape()
        self.set_out(left, right)
        self.measure(left, right)
        self.leave()

    def choose(self, address: str, stream: str, number: int) -> None:
        """Choose a stream and its number."""
        self.arrive(address)
        self.pick(stream, number)

    def arrive(self, address: str) -> None:
        """Go to where a stream is chosen."""
        self.page.goto(f"{address}#/practice")
        self.page.get_by_role("button", name="Go to a practice stream").click()

    def pick(self, stream: str, number: int) -> None:
        """Pick a stream and its number there, in feet."""
        page = self.page
        page.locator("label").filter(has_text=stream).first.click()
        type_in(page, "Its number", str(number))
        page.locator("label").filter(has_text="feet and tenths").click()
        page.get_by_role("button", name="Go to the stream").click()
        expect(page.get_by_role("heading", name="The stream")).to_be_visible()

    def hang_the_tape(self) -> tuple[float, float]:
        """Choose the section, clear it, stretch the tape; return both edges as read."""
        page, habits = self.page, self.habits
        page.locator("label").filter(has_text=f"Section {habits.section}").click()
        if habits.clears:
            page.get_by_role("button", name=re.compile("^Clear stones")).click()
            expect(page.get_by_text("Stones and weed are cleared")).to_be_visible()
        page.get_by_role("slider", name=re.compile("^Turn the tape")).fill(str(habits.skew))
        page.get_by_role("button", name="Stretch the tape like this").click()
        edges = []
        for side in ("left", "right"):
            page.get_by_role("button", name=f"Look at the {side} edge").click()
            expect(page.get_by_text(f"{side.capitalize()} edge, ")).to_be_visible()
            edges.append(
                round(read_tape(page.get_by_role("img", name=re.compile("^A tape")), _FOOT), 2)
            )
        return edges[0], edges[1]

    def set_out(self, left: float, right: float) -> None:
        """Say on the normal screens what was found."""
        page = self.page
        decide(page, safe=True)
        to(page, "set-out", "tape")
        for group in ("zero hangs", "crew starts"):
            page.get_by_role("group", name=group).get_by_label("left bank").check()
        for side, tape in (("left", left), ("right", right)):
            to(page, "set-out", side)
            type_in(page, f"Tape at the {side} edge", str(tape))
            sloping = fields(page, f"{side.capitalize()} edge")
            sloping.get_by_role("radio", name="sloping").check()
        to(page, "read")

    def measure(self, left: float, right: float) -> None:
        """Read verticals at equal distances."""
        recorder = Recorder(self.page)
        count = self.habits.verticals
        for i in range(count):
            tape = round(left + (right - left) * (i + 0.5) / count, 1)
            recorder.call(f"{tape:g}")
            depth, velocity = self.in_the_water(first=i == 0)
            self.read.append((tape, depth, velocity))
            if self.habits.types:
                self.page.keyboard.type(f"{depth:.2f}\n")
            else:
                recorder.call(f"{depth:.2f}")
            expect(recorder.page.locator(".box.call")).to_contain_text("Rod for 0.6")
            recorder.call(f"{velocity:.2f}")
            recorder.saved()

    def in_the_water(self, first: bool) -> tuple[float, float]:
        """Stand the rod, set the meter, hold it; return depth and velocity as they show."""
        page, habits = self.page, self.habits
        page.get_by_role("button", name=re.compile("^In the water")).click()
        water = page.get_by_role("dialog", name="In the water")
        water.get_by_role("button", name=re.compile("^Stand the rod")).click()
        rod = water.get_by_role("img", name=re.compile("^A rod"))
        expect(rod).to_be_visible()
        depth = round(read_rod(rod, _FOOT), 2)
        if first or habits.sets_the_rod:
            water.get_by_role("slider", name="Slide the rod's scale").fill(f"{depth:.2f}")
        if first:
            water.get_by_role("slider", name="Turn the meter").fill(str(habits.facing))
            for words in (habits.stands, habits.meter, "40 times"):
                water.locator("label").filter(has_text=words).click()
        if first or habits.resets:
            water.get_by_role("button", name="Reset the mean").click()
        hold = water.get_by_role("button", name=f"Hold {habits.seconds} s")
        hold.click()
        expect(water.get_by_role("timer")).to_contain_text(f"{habits.seconds} s")
        velocity = float(water.locator(".meter .figure").inner_text())
        water.get_by_role("button", name="Back to the sheet").click()
        return depth, velocity

    def leave(self) -> None:
        """Sign and close, whatever is still asked, and look at the debrief."""
        page = self.page
        to(page, "close")
        # Which findings are open, and so what is asked, is known once all is worked out.
        settled(page)
        reason = page.get_by_role("textbox", name="Or why it is closed with them open")
        page.get_by_role("button", name="Now", exact=True).click()
        page.get_by_label("Signed by").fill("T. Quayle")
        # The end makes it a finished gauging, of which more may be found.
        expect(page.locator("dl.behind")).to_have_count(0)
        if reason.is_visible():
            reason.fill("Practice.")
            page.keyboard.press("Tab")
        page.get_by_role("button", name="Sign and close").click()
        expect(page.get_by_role("heading", name="Closed", level=1)).to_be_visible()
        to(page, "debrief")
        expect(page.get_by_text("The stream carried")).to_be_visible()
