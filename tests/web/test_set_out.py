"""Setting a gauging out on a phone: what is typed stays as typed, and nothing is guessed."""

from __future__ import annotations

import re

from playwright.sync_api import Page, expect

from .conftest import ContextMaker
from .setting_out import (
    add,
    decide,
    fields,
    name_the_site,
    read_the_edges,
    saved,
    start,
    to,
    type_in,
)


def test_what_was_set_out_is_there_after_the_page_is_loaded_anew(page: Page, served: str) -> None:
    """Every field comes back from the device as it was typed, the last 0 of a figure included."""
    start(page, served)
    name_the_site(page)
    add(page, "J. Ostrander", "Recorder", "Leader")
    read_the_edges(page, left="3.0")
    to(page, "set-out", "stage")
    page.get_by_role("radio", name="Yes").check()
    type_in(page, "Stage 1", "1.30")
    saved(page)
    page.reload()

    to(page, "set-out", "left")
    expect(page.get_by_role("textbox", name="Tape at the left edge")).to_have_value("3.0")
    expect(fields(page, "Left edge").get_by_role("radio", name="sloping")).to_be_checked()
    to(page, "set-out", "stage")
    expect(page.get_by_role("textbox", name="Stage 1")).to_have_value("1.30")
    for words in ("Alder Fork · above the footbridge", "J. Ostrander (recorder, leader)"):
        expect(page.get_by_role("button", name=re.compile(re.escape(words)))).to_be_visible()


def test_a_comma_is_refused_in_a_sentence_at_its_field(page: Page, served: str) -> None:
    """A figure with a comma is not taken; it stays in the field, and a press writes the point."""
    start(page, served)
    to(page, "set-out", "left")
    field = page.get_by_role("textbox", name="Tape at the left edge")
    field.fill("3,2")
    field.press("Tab")

    expect(field).to_have_attribute("aria-invalid", "true")
    expect(field).to_have_accessible_description(re.compile("“3,2” has a comma"))
    expect(page.get_by_role("alert").filter(has_text="has a comma")).to_be_visible()
    to(page, "plan")
    to(page, "set-out", "tape")
    expect(page.get_by_role("button", name="Left edge of water (something was not")).to_be_visible()
    to(page, "set-out", "left")
    expect(field).to_have_value("3,2")
    page.get_by_role("button", name="Write 3.2").click()
    expect(field).to_have_value("3.2")
    expect(field).not_to_have_attribute("aria-invalid", "true")


def test_what_is_being_typed_is_said_when_the_phone_is_put_away(page: Page, served: str) -> None:
    """A text still under the fingers is saved when the page is hidden, its field not yet left."""
    start(page, served)
    page.get_by_role("textbox", name="Stream").fill("Quill Brook")
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    saved(page)
    page.reload()

    expect(page.get_by_role("textbox", name="Stream")).to_have_value("Quill Brook")


def test_a_time_that_is_emptied_stays_empty(page: Page, served: str) -> None:
    """The time is taken with a stage when it is read; nobody makes another one up later."""
    start(page, served)
    to(page, "set-out", "stage")
    page.get_by_role("radio", name="Yes").check()
    type_in(page, "Stage 1", "1.30")
    when = fields(page, "Stage").get_by_label("Read at")
    expect(when).not_to_have_value("")
    when.fill("")
    type_in(page, "Stage 1", "1.31")
    saved(page)

    expect(when).to_have_value("")


def test_a_position_is_the_mean_of_fixes_until_it_is_taken(
    new_context: ContextMaker, served: str
) -> None:
    """The device measures until somebody takes the mean, and says of how many fixes it is one."""
    here = {"latitude": 45.25, "longitude": -122.5, "accuracy": 8}
    context = new_context(permissions=["geolocation"], geolocation=here)
    page = context.new_page()
    start(page, served)
    page.get_by_role("button", name="Measure with this device").click()
    measuring = page.get_by_role("group", name="Measuring the position")
    expect(measuring).to_contain_text("mean of 1 fix")
    context.set_geolocation({**here, "latitude": 45.5})
    expect(measuring).to_contain_text("mean of 2 fixes")
    page.get_by_role("button", name="Stop and take the mean").click()

    said = fields(page, "Site")
    # Two fixes of one accuracy: (45.25 + 45.5) / 2.
    expect(said).to_contain_text("latitude 45.375000, longitude -122.500000 ± 8 m, mean of 2 fixes")


def test_a_refused_position_says_what_to_do_and_can_be_typed(page: Page, served: str) -> None:
    """Without leave the app says how to give it, and takes a position that is typed."""
    start(page, served)
    page.get_by_role("button", name="Measure with this device").click()
    expect(page.get_by_role("alert").filter(has_text="does not let the app know")).to_be_visible()
    page.get_by_role("button", name="Type it").click()
    type_in(page, "Latitude", "95")
    expect(page.get_by_role("alert").filter(has_text="between −90 and 90")).to_be_visible()
    type_in(page, "Latitude", "45.250")
    type_in(page, "Longitude", "-122.5")
    page.get_by_role("button", name="Take this position").click()

    expect(fields(page, "Site")).to_contain_text("latitude 45.250, longitude -122.5, as typed")


def test_who_stays_out_is_told_so_on_every_step(page: Page, served: str) -> None:
    """A no at the gate is kept, said on every step, and leads to closing without a measurement."""
    start(page, served)
    decide(page, safe=False)
    stay_out = page.get_by_role("alert").filter(has_text="Stay out of the water.")
    expect(stay_out).to_be_visible()
    for step in ("plan", "read", "check"):
        to(page, step)
        expect(stay_out).to_contain_text("Decided by J. Ostrander.")
    to(page, "set-out", "wading")
    page.get_by_role("link", name="Say why it could not be measured").click()

    expect(page.get_by_role("radio", name="Could not be measured")).to_be_checked()


def test_the_first_tap_on_stay_out_counts_with_a_name_still_in_hand(
    page: Page, served: str
) -> None:
    """A name typed that stands in the crew as well: nothing moves away under the finger."""
    page.set_viewport_size({"width": 390, "height": 844})
    start(page, served)
    add(page, "J. Ostrander", "Leader")
    to(page, "set-out", "wading")
    page.get_by_label("Who decides").fill("J. Ostrander")
    stay_out = page.get_by_role("button", name="Stay out", exact=True)
    stay_out.scroll_into_view_if_needed()
    box = stay_out.bounding_box()
    assert box is not None
    page.mouse.move(box["x"] + box["width"] / 2, box["y"] + 8)
    page.mouse.down()
    page.mouse.up()

    expect(page.get_by_role("alert").filter(has_text="Stay out of the water.")).to_be_visible()
    chosen = page.get_by_role("button", name="J. Ostrander", exact=True)
    expect(chosen).to_have_attribute("aria-pressed", "true")


def test_nobody_decides_without_a_name_or_wades_alone_without_a_reason(
    page: Page, served: str
) -> None:
    """The gate asks who decides, how it stands, and why somebody should wade alone."""
    start(page, served)
    to(page, "set-out", "wading")
    wade = page.get_by_role("button", name="Safe to wade", exact=True)
    wade.click()
    expect(page.get_by_role("alert").filter(has_text="Say who decides")).to_be_visible()
    type_in(page, "Who decides", "J. Ostrander")
    page.get_by_role("radio", name="Alone", exact=True).check()
    wade.click()
    expect(page.get_by_role("alert").filter(has_text="whether the water is cold")).to_be_visible()
    page.get_by_role("radio", name="Cold", exact=True).check()
    wade.click()
    expect(page.get_by_role("alert").filter(has_text="Nobody wades alone")).to_be_visible()

    expect(page.get_by_text("Decided so far")).to_have_count(0)


def test_edges_that_contradict_the_zero_of_the_tape_are_told(page: Page, served: str) -> None:
    """With the zero at the left bank a greater figure at the left edge is asked about."""
    start(page, served)
    read_the_edges(page, left="24.1", right="3.2")

    expect(page.get_by_role("alert").filter(has_text="zero hangs at the left bank")).to_be_visible()


def test_a_sloping_edge_has_no_depth_to_ask_for_and_a_steep_one_has(
    page: Page, served: str
) -> None:
    """The depth at the edge is asked for where there is one, and cannot be 0 there."""
    start(page, served)
    to(page, "set-out", "left")
    part = fields(page, "Left edge")
    type_in(page, "Tape at the left edge", "3.2")
    part.get_by_role("radio", name="sloping").check()
    depth = page.get_by_role("textbox", name="Depth at the edge")
    expect(depth).to_have_count(0)
    part.get_by_role("radio", name="steep").check()
    expect(depth).to_have_value("")
    depth.fill("0")
    depth.press("Tab")

    expect(page.get_by_role("alert").filter(has_text="without depth is sloping")).to_be_visible()


def last_entry(page: Page, what: str) -> object:
    """The value that was said last of something, read from the database of the page."""
    return page.evaluate(
        """what => new Promise((resolve, reject) => {
             const opening = indexedDB.open("bankside");
             opening.onerror = () => reject(opening.error);
             opening.onsuccess = () => {
               const all = opening.result.transaction("entries").objectStore("entries").getAll();
               all.onsuccess = () => {
                 const said = all.result.filter(entry => entry.what === what);
                 said.sort((a, b) => a.sequence - b.sequence);
                 opening.result.close();
                 resolve(said.at(-1)?.value ?? null);
               };
             };
           })""",
        what,
    )


def test_a_plan_is_laid_out_changed_by_hand_and_begun(page: Page, served: str) -> None:
    """The engine lays verticals out; one is moved by a graduation, one typed; reading begins."""
    start(page, served)
    read_the_edges(page, left="0", right="10")
    to(page, "plan")
    verticals = page.get_by_role("textbox", name="Verticals")
    verticals.fill("4")
    verticals.press("Tab")
    page.get_by_role("button", name="Lay out the verticals").click()
    # Four verticals in five intervals of 2 ft.
    expect(page.get_by_text("4 verticals from the left bank")).to_be_visible()
    page.get_by_text("The positions one by one").click()
    page.get_by_role("button", name="2 4.0 ft").click()
    page.get_by_role("button", name="0.1 on").click()
    page.get_by_role("button", name="Done").click()
    type_in(page, "Put in a vertical at", "9.5")
    expect(page.get_by_role("button", name="5 9.5 ft")).to_be_visible()
    type_in(page, "Put in a vertical at", "11")
    expect(page.get_by_role("alert").filter(has_text="between 0 and 10")).to_be_visible()
    saved(page)
    plan = last_entry(page, "plan")
    assert isinstance(plan, dict)
    assert plan["positions"] == ["2.0", "4.1", "6.0", "8.0", "9.5"]
    page.get_by_role("button", name="Begin reading").click()

    expect(page).to_have_url(re.compile("/read$"))
    assert last_entry(page, "started") is not None


def test_the_picture_of_the_plan_has_the_left_bank_on_the_left(page: Page, served: str) -> None:
    """Also where the tape runs from right to left, until somebody turns the picture."""
    start(page, served)
    read_the_edges(page, left="20", right="2")
    to(page, "plan")
    picture = page.get_by_role("img", name="looking downstream")

    def place(name: str) -> float:
        box = picture.get_by_text(name).bounding_box()
        assert box is not None
        return box["x"]

    assert place("left 20") < place("right 2")
    page.get_by_role("button", name="Turn the picture").click()
    picture = page.get_by_role("img", name="looking upstream")
    assert place("right 2") < place("left 20")


def test_nobody_passes_the_gate_unasked(page: Page, served: str) -> None:
    """Plan and readings ask for the decision; where it is to stay out, nothing leads on to them."""
    start(page, served)
    for step in ("plan", "read"):
        to(page, step)
        expect(page.get_by_text("Not decided yet.")).to_be_visible()
    page.get_by_role("link", name="Decide").click()
    decide(page, safe=True)
    to(page, "plan")
    expect(page.get_by_text("Not decided yet.")).to_have_count(0)
    expect(page.get_by_role("button", name="Begin reading")).to_be_visible()
    to(page, "set-out", "wading")
    decide(page, safe=False)
    to(page, "plan")
    expect(page.get_by_text("Stay out of the water.")).to_be_visible()
    expect(page.get_by_role("button", name="Begin reading")).to_have_count(0)
    expect(page.get_by_role("link", name="Say why it could not be measured")).to_be_visible()


def test_a_figure_in_hand_stays_with_its_gauging(page: Page, served: str) -> None:
    """Who goes to another gauging with a figure half typed finds it said where it was typed."""
    start(page, served)
    other = page.url.removeprefix(served)
    start(page, f"{served}#/")
    first = page.url.removeprefix(served)
    to(page, "set-out", "left")
    page.get_by_role("textbox", name="Tape at the left edge").press_sequentially("3.2")
    page.evaluate("place => { location.hash = place }", other.replace("/set-out", "/set-out/left"))
    expect(page.get_by_role("textbox", name="Tape at the left edge")).to_have_value("")

    page.evaluate("place => { location.hash = place }", first.replace("/set-out", "/set-out/right"))
    expect(page.get_by_role("button", name=re.compile("^Left edge"))).to_contain_text("3.2 ft")
    saved(page)


def test_a_clock_that_is_plainly_wrong_is_told(page: Page, served: str) -> None:
    """With what it says and what to do, where times are about to be written; readings go on."""
    page.clock.set_fixed_time("2020-01-03T10:05:00Z")
    start(page, served)
    told = page.get_by_text("This device's clock says 3 Jan 2020")
    expect(told).to_contain_text("Set date and time in the device's settings")
    to(page, "read")
    page.get_by_text("A clock is wrong").click()
    expect(told).to_be_visible()

    page.clock.set_fixed_time("2026-07-14T10:05:00Z")
    to(page, "set-out")
    expect(told).to_have_count(0)
