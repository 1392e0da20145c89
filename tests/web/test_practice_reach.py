"""Looking along a practice reach, and staying out where nobody should go in."""

from __future__ import annotations

import re
from pathlib import Path

from playwright.sync_api import Page, expect

from bankside.gauging.json_text import parsed
from bankside.practice.readiness.tries import tries_of
from bankside.practice.session.document import practice_from_document
from bankside.practice.session.reach import make_reach

from .browsing import picture
from .reasons_shown import Reasons
from .setting_out import decide, to
from .trainee import Habits, Trainee

STREAM = "after rain"
NUMBER = next(n for n in range(1, 50) if make_reach(STREAM, n).signs.drift)


def test_who_looks_along_the_water_and_stays_out_has_done_it_right(
    page: Page, served: str, tmp_path: Path
) -> None:
    """Brown water that rises: seen, decided at the gate, closed, praised, and handed in."""
    page.add_init_script("delete window.showSaveFilePicker")
    page.set_viewport_size({"width": 390, "height": 844})
    Trainee(page, Habits(section="A")).choose(served, STREAM, NUMBER)
    along = page.get_by_role("img", name=re.compile("^Section [ABC], seen along"))
    expect(along).to_have_count(3)
    for place, name in enumerate("ABC"):
        seen = along.nth(place)
        expect(seen).to_have_accessible_name(re.compile(f"^Section {name}, .*brown all over"))
        box = seen.bounding_box()
        assert box is not None and box["x"] >= 0 and box["x"] + box["width"] <= 390
        assert seen.locator("path.streaks").first.get_attribute("d")
    expect(page.get_by_text("The water is brown: its bed is not seen.")).to_be_visible()
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    page.get_by_role("button", name="Throw leaves in at A").click()
    expect(along.first.locator("ellipse.leaf").first).to_be_visible()
    picture(page, "practice reach along the water", full_page=True)

    decide(page, safe=False)
    to(page, "close")
    page.get_by_role("textbox", name="Why it could not be measured").fill("It rises, and is brown.")
    page.get_by_role("button", name="Now", exact=True).click()
    page.get_by_label("Signed by").fill("T. Quayle")
    page.get_by_role("button", name="Sign and close").click()
    expect(page.get_by_role("heading", name="Closed", level=1)).to_be_visible()
    to(page, "debrief")

    expect(page.get_by_text("You stayed out, and that was right")).to_be_visible()
    expect(page.get_by_text("The stream carried")).to_have_count(0)
    expect(page.get_by_text("Another day tells more than a guess")).to_be_visible()
    picture(page, "practice debrief of staying out", full_page=True)
    reasons = Reasons()
    reasons.look(page, "judged")
    assert not reasons.faults, "\n".join(reasons.faults)
    page.get_by_role("button", name="Save as a file for the leader").click()
    page.get_by_role("textbox", name="Who practised").fill("T. Quayle")
    with page.expect_download() as download:
        page.get_by_role("button", name="Save as a file for the leader").click()
    path = tmp_path / download.value.suggested_filename
    download.value.save_as(path)
    (found,) = tries_of([practice_from_document(parsed(path.read_text(encoding="utf-8")))])
    assert (found.left, found.stops, found.set_aside) == (True, 0, False)
