"""Every figure and rule on every screen is told why, in two sentences with a source."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from bankside.practice.session.reach import make_reach

from .browsing import Faults, picture
from .conftest import ContextMaker
from .every_screen import every_screen
from .measured import complaints, faint, sideways, small
from .reasons_shown import Reasons
from .trainee import Habits, Trainee

STREAM, NUMBER = "easy run", 4
BEST = make_reach(STREAM, NUMBER).best
# The keys of a keyboard are no figures, and a field in hand would be left by looking.
_PASSED_OVER = {"read_keys", "set_out_fault"}
NARROW = {"viewport": {"width": 390, "height": 844}}


def test_every_figure_of_every_screen_is_told_why(page: Page, served: str, faults: Faults) -> None:
    """Whatever has a unit or takes a figure is marked, and its reason is behind one key."""
    faults.expect("QuotaExceededError")
    reasons = Reasons()
    for screen in every_screen(page, served):
        if screen not in _PASSED_OVER:
            reasons.look(page, screen)
        if screen == "read":
            _by_keys(page)
        if screen == "check":
            _without_a_network(page)

    assert not reasons.faults, "\n".join(reasons.faults)
    assert {"discharge", "share", "wading limits", "interval", "next", "exposure"} <= reasons.met


def _by_keys(page: Page) -> None:
    """Escape closes the reasons, the focus goes back, and no figure was typed meanwhile."""
    key = page.get_by_role("button", name="Why these figures?")
    key.focus()
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", name="Why these figures")).to_be_focused()
    page.keyboard.press("5")
    page.keyboard.press("Escape")
    expect(key).to_be_focused()
    expect(page.locator("output")).to_have_text("—")
    page.evaluate("document.activeElement.blur()")


def _without_a_network(page: Page) -> None:
    """All reasons of a screen, opened without a network, can be seen, read and pressed."""
    page.context.set_offline(True)
    page.get_by_role("button", name="Why?").click()
    panel = page.get_by_role("dialog", name="Why these figures")
    expect(panel.get_by_text("Thresholds are those of")).to_be_visible()
    panel.locator("details").evaluate_all("(all) => all.forEach((one) => (one.open = true))")
    for measure in (complaints, faint, small, sideways):
        assert measure(page) == []
    page.keyboard.press("Escape")
    page.context.set_offline(False)


def test_every_figure_of_practice_is_told_why(
    new_context: ContextMaker, served: str, faults: Faults
) -> None:
    """So it is at a stream that is simulated, in the water there, in the debrief and the drills."""
    page = new_context(**NARROW).new_page()
    reasons = Reasons()
    trainee = Trainee(page, Habits(section=BEST, verticals=1, seconds=10))
    trainee.arrive(served)
    expect(page.get_by_role("textbox", name="Its number")).to_be_visible()
    reasons.look(page, "choose_stream")
    trainee.pick(STREAM, NUMBER)
    left, right = trainee.hang_the_tape()
    page.get_by_role("button", name="Look at the staff gauge").click()
    expect(page.get_by_text("Staff gauge:")).to_be_visible()
    reasons.look(page, "stream")
    trainee.set_out(left, right)
    trainee.measure(left, right)
    page.get_by_role("button", name="In the water").click()
    reasons.look(page, "in_the_water")
    page.get_by_role("button", name="Back to the sheet").click()
    trainee.leave()
    reasons.look(page, "debrief")
    picture(page, "why/debrief")
    page.evaluate("location.hash = '#/practice/readiness'")
    expect(page.get_by_role("heading", name="What the leader asks for")).to_be_visible()
    reasons.look(page, "readiness")
    page.evaluate("location.hash = '#/practice/drills'")
    expect(page.get_by_role("button", name="Answer", exact=True)).to_be_visible()
    reasons.look(page, "drills")

    assert not reasons.faults, "\n".join(reasons.faults)
    assert {"true discharge", "practice stream", "drill", "readiness"} <= reasons.met
