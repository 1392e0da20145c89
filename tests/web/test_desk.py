"""The desk of an office in a browser: from the overview of a survey to a verdict on a gauging."""

from __future__ import annotations

import json
import re

import pytest
from playwright.sync_api import FilePayload, Page, expect

from .browsing import Faults
from .conftest import ContextMaker
from .desk_archive import SURVEY, DeskOffice

WHO = "R. Voss"

DROP = """(zone, { name, text }) => {
  const data = new DataTransfer();
  data.items.add(new File([text], name, { type: "text/csv" }));
  zone.dispatchEvent(new DragEvent("drop", { dataTransfer: data, bubbles: true }));
}"""

# The day can be read in two ways; the total is the sheet's own, by widths to the next vertical.
ASKING_SHEET = """Stream;Tansy Run
Site;at the upper bridge
Date;03/08/2026
Distance (m);Depth (m);Velocity (m/s)
1.0;0;0
1.5;0.32;0.41
2.0;0.55;0.62
2.5;0.61;0.70
3.0;0.44;0.51
3.5;0;0
"""


@pytest.fixture
def desk(new_context: ContextMaker, desk_office: DeskOffice) -> Page:
    """A page at a desk, where somebody has written a name."""
    page = new_context("desktop").new_page()
    page.goto(f"{desk_office.address}#/desk")
    page.get_by_label("Your name").fill(WHO)
    page.get_by_label("Your name").press("Tab")
    return page


def go(page: Page, place: str, heading: str | re.Pattern[str]) -> None:
    """Go to a place of the desk by its address."""
    page.evaluate("place => { location.hash = place }", place)
    expect(page.get_by_role("heading", name=heading, level=1)).to_be_visible()


def test_the_first_screen_at_the_stream_asks_for_nothing_of_the_desk(
    new_context: ContextMaker, desk_office: DeskOffice, faults: Faults
) -> None:
    """What the desk is made of is fetched when somebody goes there, and a link leads there."""
    # The driver, where it blocks service workers, makes their registration give undefined.
    faults.expect("reading 'waiting'")
    page = new_context(service_workers="block").new_page()
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(desk_office.address)
    link = page.get_by_role("link", name="Office")
    expect(link).to_be_visible()
    assert not [url for url in asked if "/assets/Desk" in url or "/assets/Map" in url]

    link.click()

    expect(page.get_by_role("heading", name="Surveys", level=1)).to_be_visible()
    assert [url for url in asked if "/assets/Desk" in url]
    assert not [url for url in asked if "/assets/Map" in url]


def test_a_server_without_an_archive_shows_no_way_to_a_desk(page: Page, served: str) -> None:
    """Where there is no office nothing speaks of one, and its address says so."""
    page.goto(served)
    expect(page.get_by_role("button", name="Start a new gauging")).to_be_visible()
    page.wait_for_load_state("networkidle")
    expect(page.get_by_role("link", name="Office")).to_have_count(0)
    page.goto(f"{served}#/desk")
    expect(page.get_by_role("heading", name="No archive here")).to_be_visible()


def test_the_overview_tells_how_far_a_survey_has_come(desk: Page) -> None:
    """Sites and gaugings are counted, and the sites stand from the sources down."""
    desk.get_by_role("link", name=re.compile("^Marrowmere basin")).click()
    main = desk.get_by_role("main")
    expect(main.get_by_text(re.compile(r"^\s*18\s+of 19\s*$"))).to_be_visible()
    expect(main.get_by_text(re.compile(r"^\s*26\s+◐\s+to review\s*$"))).to_be_visible()
    table = desk.get_by_role("table", name="Sites from the sources down")
    streams = table.get_by_role("row").locator("td:nth-child(2)").all_inner_texts()
    assert streams[:4] == ["Sorrel Burn", "Sorrel Burn", "Sorrel Burn", "Mere Water"]
    assert streams[-1] == "Mere Water"
    # Nobody was at the first site, and a visit was planned there.
    expect(table.get_by_role("row").nth(1)).to_contain_text("0 of 1")

    main.get_by_role("link", name=re.compile(r"^26\s+to review$")).click()
    gaugings = desk.get_by_role("table", name="Gaugings of the survey").locator("tbody tr")
    expect(gaugings).to_have_count(26)
    expect(desk.get_by_label("Show")).to_have_value("to-review")
    expect(desk.locator("#survey-gaugings")).to_be_in_viewport()
    main.get_by_role("link", name=re.compile("without a check of the meter$")).click()
    expect(gaugings).to_have_count(3)
    main.get_by_role("link", name="Each meter").click()
    expect(desk.get_by_role("heading", name="Meters").last).to_be_in_viewport()


def test_a_table_wider_than_a_tablet_says_so_and_is_moved_by_keys(desk: Page) -> None:
    """The last column comes into sight; where all of them are, nothing is said."""
    desk.set_viewport_size({"width": 820, "height": 1100})
    go(desk, f"#/desk/surveys/{SURVEY}/gaugings", re.compile("^Marrowmere basin"))
    hint = desk.get_by_text("Wider than the page")
    expect(hint).to_be_visible()
    last = desk.get_by_role("columnheader", name="Meter")
    expect(last).not_to_be_in_viewport()
    desk.get_by_role("region", name="Gaugings of the survey").focus()
    for _ in range(30):
        desk.keyboard.press("ArrowRight")
    expect(last).to_be_in_viewport()
    desk.set_viewport_size({"width": 1900, "height": 1100})
    expect(hint).to_have_count(0)


def test_gaugings_are_put_in_order_by_keys_and_found_by_words(desk: Page) -> None:
    """A head of the table turns the order by Enter, and the search finds a crew."""
    go(desk, f"#/desk/surveys/{SURVEY}/gaugings", re.compile("^Marrowmere basin"))
    table = desk.get_by_role("table", name="Gaugings of the survey")
    head = table.get_by_role("columnheader", name=re.compile("^Discharge"))
    head.get_by_role("button").focus()
    for order, sign in (("ascending", 1), ("descending", -1)):
        desk.keyboard.press("Enter")
        expect(head).to_have_attribute("aria-sort", order)
        texts = table.locator("tbody td:nth-child(5)").all_inner_texts()
        figures = [float(text) for text in texts if text != "–"]
        assert len(figures) > 20
        assert figures == sorted(figures, reverse=sign < 0)

    desk.get_by_label("Find gaugings").fill("quayle mere")
    desk.keyboard.press("Enter")
    found = desk.get_by_role("table", name="Gaugings found")
    expect(found).to_be_visible()
    for row in found.locator("tbody tr").all_inner_texts():
        assert "T. Quayle" in row and "Mere Water" in row


def test_the_map_shows_what_the_list_beside_it_tells(desk: Page) -> None:
    """Every site with a place is a circle, sized by choice; keys point to it from the list."""
    go(desk, f"#/desk/surveys/{SURVEY}/map", re.compile("^Marrowmere basin"))
    circles = desk.locator(".leaflet-container path.site")
    listed = desk.get_by_role("table", name="Sites on the map").locator("tbody tr")
    expect(listed).to_have_count(19)
    lost = listed.filter(has_text="place not written down").count()
    expect(circles).to_have_count(19 - lost)
    expect(desk.locator(".leaflet-container path.unknown")).to_have_count(1)
    expect(desk.locator(".leaflet-control-scale")).to_contain_text("km")

    def widths() -> list[float]:
        boxes = [circle.bounding_box() for circle in circles.all()]
        return sorted(box["width"] for box in boxes if box)

    by_discharge = widths()
    desk.get_by_role("radio", name=re.compile("^unit discharge")).check()
    expect(desk.locator(".leaflet-container path.site")).to_have_count(19 - lost)
    assert widths() != by_discharge

    listed.nth(1).get_by_role("link").focus()
    expect(desk.locator(".leaflet-container path.pointed")).to_have_count(1)
    desk.locator(".leaflet-container path.pointed").click(force=True)
    expect(desk.get_by_role("heading", name="Access and hazards")).to_be_visible()


def test_a_site_shows_its_visits_and_says_which_section_was_turned_about(desk: Page) -> None:
    """Two sections lie over one another, the odd one is told, photos come from the archive."""
    go(desk, "#/desk/sites/QB-01", "Quill Brook, above Tansy Run")
    expect(desk.get_by_text("better turned about")).to_be_visible()
    # The crew read in metres; the page tells feet, as was chosen.
    expect(desk.get_by_text("stage: ")).to_have_text(
        "stage: 1.142 ft then, 1.05 ft now, 0.09 ft lower."
    )
    expect(desk.get_by_text("discharge: ")).to_contain_text("31.0 ft³/s then, 27.5 ft³/s now")
    expect(desk.get_by_text("Local rules, permits, the site's hazard plan")).to_be_visible()
    picture = desk.get_by_role("img", name=re.compile("^Sections over one another"))
    expect(picture.locator("path.bed")).to_have_count(2)
    before = picture.locator("path.bed").last.get_attribute("d")
    desk.get_by_role("button", name="Turn round 2026-07-28").click()
    expect(desk.get_by_text("Turned round here to try: 2026-07-28.")).to_be_visible()
    assert picture.locator("path.bed").last.get_attribute("d") != before
    photo = desk.get_by_role("img", name=re.compile("^Upstream")).first
    expect(photo).to_be_visible()
    assert photo.evaluate("picture => picture.complete && picture.naturalWidth > 100")


def test_a_gauging_is_sent_back_with_a_reason_and_approved(
    desk: Page, desk_office: DeskOffice
) -> None:
    """Without a reason nothing is sent back; each verdict is an entry with the state looked at."""
    row = desk_office.row("TB-02", "2026-07-22")
    go(desk, f"#/desk/gaugings/{row['id']}", re.compile("^Teasel Beck"))
    review = desk.locator("section", has=desk.get_by_role("heading", name="Review"))
    review.get_by_role("button", name="Send back").click()
    expect(review.get_by_role("alert")).to_contain_text("Say why it is sent back")
    review.get_by_label(re.compile("^Reason")).fill("Which end of the tape is the left bank?")
    review.get_by_role("button", name="Send back").click()
    expect(review.get_by_text("Sent back.", exact=True)).to_be_visible()
    expect(review.locator(".state")).to_have_text(re.compile("sent back$"))
    review.get_by_role("button", name="Approve").click()
    expect(review.locator(".state")).to_have_text(re.compile(" approved$"))
    expect(review.get_by_role("button", name="Approved")).to_be_disabled()
    line = desk.get_by_role("region", name="Entries of the journal").locator("tbody tr").last
    expect(line).to_contain_text(re.compile("review: approved *sent back$"))

    said = [entry for entry in desk_office.entries(row["id"]) if entry.what == "review"]
    assert [entry.value["verdict"] for entry in said] == ["sent back", "approved"]
    assert [entry.value["by"] for entry in said] == [WHO, WHO]
    assert said[0].reason == "Which end of the tape is the left bank?"
    assert said[0].value["state"] == said[1].value["state"]
    assert desk_office.row("TB-02", "2026-07-22")["state"] == "approved"


def test_what_is_odd_beside_other_gaugings_stands_at_each_of_them(
    desk: Page, desk_office: DeskOffice
) -> None:
    """A duplicate that disagrees names the other gauging, in one system, with a way to it."""
    rows = desk_office.ask(f"surveys/{SURVEY}")["rows"]
    here, other = (
        next(row for row in rows if (row["started"] or "").startswith(f"2026-07-23T{clock}"))
        for clock in ("09:30", "11:20")
    )
    go(desk, f"#/desk/gaugings/{here['id']}", re.compile("^Mere Water"))
    beside = desk.locator("section", has=desk.get_by_role("heading", name="Beside other gaugings"))
    found = beside.locator("details").filter(has_text="Duplicate disagrees")
    expect(found).to_contain_text("95.3 ft³/s and 107 ft³/s")
    expect(found).not_to_contain_text("m³/s (")
    found.get_by_role("link", name=re.compile("11:20$")).click()
    expect(desk).to_have_url(re.compile(f"{other['id']}$"))
    expect(beside).to_contain_text("Duplicate disagrees")


def test_what_changed_meanwhile_is_looked_at_again_before_it_is_approved(
    desk: Page, desk_office: DeskOffice, faults: Faults
) -> None:
    """A verdict on entries that are no longer all is refused, and what is new is shown."""
    faults.expect("409")
    row = desk_office.row("TB-02", "2026-07-22")
    go(desk, f"#/desk/gaugings/{row['id']}", re.compile("^Teasel Beck"))
    review = desk.locator("section", has=desk.get_by_role("heading", name="Review"))
    expect(review.get_by_role("button", name="Approve")).to_be_enabled()
    desk_office.say(row["id"], "remarks", "weed at the left bank", "the crew was asked")
    review.get_by_role("button", name="Approve").click()
    expect(review.get_by_role("alert")).to_contain_text("More was said of this gauging")
    expect(desk.get_by_role("region", name="Entries of the journal")).to_contain_text(
        "weed at the left bank"
    )
    assert desk_office.row("TB-02", "2026-07-22")["state"] == "to review"
    review.get_by_role("button", name="Approve").click()
    expect(review.locator(".state")).to_have_text(re.compile(" approved$"))


def test_a_figure_is_corrected_with_a_reason_and_what_stood_there_stays(
    desk: Page, desk_office: DeskOffice
) -> None:
    """A correction is an entry with its reason; the figure that is filed follows it."""
    row = desk_office.row("TB-02", "2026-07-22")
    go(desk, f"#/desk/gaugings/{row['id']}", re.compile("^Teasel Beck"))
    desk.get_by_role("button", name="Correct the vertical at 8.2", exact=True).click()
    form = desk.get_by_role("dialog")
    form.get_by_label("depth, ft", exact=True).fill("0.98")
    form.get_by_role("button", name="Keep the correction").click()
    expect(form.get_by_role("alert")).to_contain_text("Say why it is corrected")
    form.get_by_role("button", name="As it stands on the sheet.").click()
    form.get_by_role("button", name="Keep the correction").click()

    line = desk.get_by_role("region", name="Entries of the journal").get_by_role(
        "row", name=re.compile("0.98")
    )
    expect(line).to_contain_text("0.92")
    expect(line).to_contain_text("As it stands on the sheet.")
    expect(line).to_contain_text(WHO)
    filed = desk.locator("section", has=desk.get_by_role("heading", name="Figures filed"))
    expect(filed).to_contain_text("the readings changed")
    after = desk_office.row("TB-02", "2026-07-22")
    assert after["discharge_m3s"] > row["discharge_m3s"]
    last = desk_office.entries(row["id"])[-1]
    assert (last.value, last.reason, last.by) == ("0.98", "As it stands on the sheet.", WHO)


def test_a_finding_is_answered_at_the_desk_and_the_figure_is_that_of_the_archive(
    desk: Page, desk_office: DeskOffice
) -> None:
    """The page computes what the archive has filed, and an answer of the office is kept."""
    row = desk_office.row("QL-01", "2026-07-22")
    go(desk, f"#/desk/gaugings/{row['id']}", re.compile("^Quill Brook"))
    result = desk.locator("section", has=desk.get_by_role("heading", name="Discharge"))
    expect(result).to_contain_text("by Between verticals", timeout=180_000)
    expect(result).not_to_contain_text("The figure that is filed is")
    expect(desk.get_by_role("img", name=re.compile("verticals"))).to_be_visible()
    findings = desk.locator("section", has=desk.get_by_role("heading", name="Findings", exact=True))
    card = findings.get_by_role("article").filter(has_text="EXPLAIN").first
    # Nobody is at the stream any more, to read another vertical there.
    expect(findings.get_by_role("button", name=re.compile("Read one more"))).to_have_count(0)
    card.get_by_role("button", name="It is right, because").click()
    card.get_by_label("It is right, because").fill("The meter was read to 0.05.")
    card.get_by_role("button", name="Keep this answer").click()
    expect(findings.get_by_text("The meter was read to 0.05.")).to_be_visible()
    said = [e for e in desk_office.entries(row["id"]) if e.what.startswith("answers/")]
    assert said[-1].value["reason"] == "The meter was read to 0.05."


def test_a_sheet_is_dragged_in_asked_about_and_taken_in(
    desk: Page, desk_office: DeskOffice
) -> None:
    """Nothing is kept while a day can be read in two ways; the answer lets it in."""
    before = desk_office.ask("surveys")["surveys"][0]["gaugings"]
    go(desk, "#/desk/sheets", "Old sheets")
    zone = desk.get_by_role("group", name="Drag files here, or choose them")
    zone.evaluate(DROP, {"name": "tansy.csv", "text": ASKING_SHEET})
    card = desk.get_by_role("article", name="tansy.csv")
    expect(card).to_contain_text("1 question")
    expect(card.get_by_role("button", name=re.compile("^Take in"))).to_have_count(0)
    card.get_by_role("button", name=re.compile("day-first")).click()
    expect(card).to_contain_text("ready")
    expect(card.get_by_role("row", name=re.compile("Tansy Run"))).to_contain_text("2026-08-03")
    assert desk_office.ask("search?text=2026-08-03")["rows"] == []
    card.get_by_role("button", name="Take in tansy.csv").click()
    expect(card).to_contain_text("taken in")
    expect(desk.get_by_role("heading", name="Taken in")).to_be_visible()
    card.get_by_role("link").first.click()
    expect(desk.get_by_role("heading", name=re.compile("^Tansy Run"), level=1)).to_be_visible()
    # The survey had ended by then.
    assert desk_office.ask("surveys")["surveys"][0]["gaugings"] == before
    assert len(desk_office.ask("search?text=2026-08-03")["rows"]) == 1


def test_many_files_are_looked_at_and_taken_in_together(
    desk: Page, desk_office: DeskOffice
) -> None:
    """What is ready goes in with one press; what no answer makes readable says why."""
    go(desk, "#/desk/sheets", "Old sheets")
    readable = [
        FilePayload(
            name=f"sheet {n}.csv",
            mimeType="text/csv",
            buffer=ASKING_SHEET.replace("03/08", f"2{n}/08").encode(),
        )
        for n in range(3)
    ]
    none = [
        FilePayload(name="none.csv", mimeType="text/csv", buffer=b"a,b\n1,2\n"),
        FilePayload(name="photo.jpg", mimeType="image/jpeg", buffer=b"\xff\xd8\xff\xe0rest"),
        FilePayload(name="cut.xlsx", mimeType="", buffer=b"PK\x03\x04cut"),
    ]
    desk.locator("input[type=file]").set_input_files([*readable, *none])
    expect(desk.get_by_role("status").filter(has_text="6 looked at")).to_contain_text(
        "3 ready, 1 with questions, 2 that cannot be read"
    )
    for name, why in (("photo.jpg", "found a JPEG image"), ("cut.xlsx", "found a damaged")):
        card = desk.get_by_role("article", name=name)
        expect(card).to_contain_text("cannot be read")
        expect(card.locator(".alert")).to_contain_text(why)
        expect(card.get_by_role("group", name="Questions")).to_have_count(0)
    expect(desk.get_by_role("article", name="none.csv")).to_contain_text("a column as “tape”")
    expect(desk.get_by_role("main")).not_to_contain_text("--")
    desk.get_by_role("button", name="Take in all 3 that are ready").click()
    summary = desk.locator("section", has=desk.get_by_role("heading", name="Taken in"))
    expect(summary).to_contain_text("3 files in")
    expect(summary).to_contain_text("3 gaugings, 3 of them new")
    assert len(desk_office.ask("search?text=tansy+2026-08")["rows"]) == 3


TYPED = """3.2 l
4.2 0.30 0.41
5.2 0.62 0.70
" 0.80 0.9
" 1.10 0.95
" 0.9 "
" 0.70 0.60
" 0.41 0.35
" r"""


def type_rows(page: Page, columns: int = 3) -> None:
    """Type the rows of a paper sheet by keys alone, from the first cell on."""
    page.get_by_label("Tape, row 1", exact=True).focus()
    for line in TYPED.splitlines():
        cells = line.split()
        for cell in [*cells, *[""] * (columns - len(cells))]:
            if cell:
                page.keyboard.type(cell)
            page.keyboard.press("Enter")


def begin_sheet(page: Page) -> str:
    """Begin to type a paper sheet, with what stands above its rows; return its id."""
    go(page, "#/desk/paper", "Paper")
    page.get_by_role("button", name="Type a paper sheet").click()
    expect(page.get_by_role("heading", name="New sheet")).to_be_visible()
    for label, text in (("Stream", "Alder Fork"), ("Site", "above the footbridge")):
        page.get_by_label(label, exact=True).fill(text)
    page.get_by_label("Day", exact=True).fill("2026-07-30")
    page.get_by_label("Unit of the tape").select_option("ft")
    page.get_by_label("Unit of velocity").select_option("ft/s")
    page.get_by_label("Rod and meter by").fill("J. Ostrander")
    return page.url.rsplit("/", 1)[1]


def test_a_paper_sheet_is_typed_by_keys_and_stands_in_the_archive_as_typed(
    desk: Page, desk_office: DeskOffice
) -> None:
    """Figures keep every digit, ditto marks and letters are understood, and a name is on each."""
    gauging = begin_sheet(desk)
    type_rows(desk)
    expect(desk.get_by_text("All that was typed is in the archive.")).to_be_visible()
    cells = [
        [cell.input_value() for cell in row.get_by_role("textbox").all()]
        for row in desk.get_by_role("main").locator("tbody tr").all()
    ]
    assert cells[:4] == [
        ["3.2", "0", ""],
        ["4.2", "0.30", "0.41"],
        ["5.2", "0.62", "0.70"],
        ["6.2", "0.80", "0.9"],
    ]
    assert cells[5] == ["8.2", "0.9", "0.95"]
    so_far = desk.locator("section", has=desk.get_by_role("heading", name="So far"))
    expect(so_far.locator(".figure")).to_contain_text("ft³/s", timeout=180_000)
    expect(so_far).to_contain_text("Too few verticals")
    shown = so_far.locator(".figure").inner_text()
    desk.get_by_role("button", name="Hand it to review").click()
    expect(desk.get_by_role("heading", name=re.compile("^Alder Fork"), level=1)).to_be_visible()
    expect(desk.locator(".state").first).to_have_text(re.compile("to review$"))

    entries = desk_office.entries(gauging)
    assert {entry.by for entry in entries} == {WHO}
    depths = [entry.value for entry in entries if entry.what.endswith("/depth")]
    assert depths == ["0", "0.30", "0.62", "0.80", "1.10", "0.9", "0.70", "0.41", "0"]
    row = desk_office.row("AF-01", "2026-07-30")
    assert row["state"] == "to review"
    assert f"{row['discharge_m3s'] / 0.3048**3:.3g}" in shown


def test_what_is_typed_while_the_server_is_away_is_kept_and_handed_over_later(
    desk: Page, desk_office: DeskOffice, faults: Faults
) -> None:
    """The sheet says that the archive has not got it, and hands it over once it can."""
    faults.expect("ERR_|Failed to load")
    gauging = begin_sheet(desk)
    expect(desk.get_by_text("All that was typed is in the archive.")).to_be_visible()
    desk_office.server.stop()
    type_rows(desk)
    expect(desk.get_by_text("Saved on this device, and not yet in the archive.")).to_be_visible()
    desk_office.server.start()
    desk.get_by_role("button", name="Hand it over now").click()
    expect(desk.get_by_text("All that was typed is in the archive.")).to_be_visible()
    tapes = [e.value for e in desk_office.entries(gauging) if e.what.endswith("/tape")]
    assert tapes == ["3.2", "4.2", "5.2", "6.2", "7.2", "8.2", "9.2", "10.2", "11.2"]


def test_a_figure_that_is_none_is_marked_and_not_kept(desk: Page, desk_office: DeskOffice) -> None:
    """A comma is asked about in words and stays in its cell until it is written otherwise."""
    gauging = begin_sheet(desk)
    cell = desk.get_by_label("Depth, row 1")
    cell.fill("1,5")
    cell.press("Enter")
    expect(desk.get_by_text("Depth, row 1: not taken.")).to_be_visible()
    expect(cell).to_have_attribute("aria-invalid", "true")
    cell.fill("1.5")
    cell.press("Enter")
    expect(desk.get_by_text("not taken.")).to_have_count(0)
    expect(desk.get_by_text("All that was typed is in the archive.")).to_be_visible()

    def depths() -> list[object]:
        return [e.value for e in desk_office.entries(gauging) if e.what.endswith("/depth")]

    # The sentence stands from before until the page has begun to hand the figure over.
    for _ in range(20):
        if depths():
            break
        desk.wait_for_timeout(500)
    assert depths() == ["1.5"]


def test_people_get_accounts_and_devices_a_code_to_be_scanned(
    desk: Page, desk_office: DeskOffice
) -> None:
    """An account is given and taken away; a code stands as words and as a picture."""
    go(desk, "#/desk/people", "People and devices")
    desk.get_by_label("Name", exact=True).fill("K. Ashdown")
    desk.get_by_label("Role").first.select_option("reviewer")
    desk.get_by_label(re.compile("^Password")).fill("slow water in summer")
    desk.get_by_role("button", name="Give the account").click()
    account = desk.get_by_role("listitem").filter(has_text="K. Ashdown, reviewer")
    expect(account).to_be_visible()
    assert desk_office.ask("people")["people"] == [{"name": "K. Ashdown", "role": "reviewer"}]
    account.get_by_role("button", name="Take the account away K. Ashdown").click()
    account.get_by_role("button", name="Take the account away: K. Ashdown").click()
    expect(account).to_have_count(0)

    desk.get_by_role("button", name="Make a code").click()
    code = desk.get_by_role("group", name="Code for the device")
    expect(code).to_contain_text(re.compile(r"[A-Z0-9]{4} [A-Z0-9]{4}"))
    picture = code.get_by_role("img", name=re.compile("^QR code that opens"))
    expect(picture).to_be_visible()
    picture.evaluate("picture => picture.decode()")


def test_an_account_signs_in_before_anything_is_shown(
    new_context: ContextMaker, desk_office: DeskOffice, faults: Faults
) -> None:
    """Where a token is needed the desk asks for name and password, and shows the token after."""
    faults.expect("401")
    page = new_context("desktop").new_page()
    shown: list[str | None] = []
    you = {"name": WHO, "role": "reviewer", "device": None}

    def about(route: object, request: object) -> None:
        token = request.headers.get("authorization")  # type: ignore[attr-defined]
        answer = {"version": "0", "archive": "season", "sign_in": True, "lineage": "l"}
        body = json.dumps(answer | {"you": you if token == "Bearer good" else None})
        route.fulfill(content_type="application/json", body=body)  # type: ignore[attr-defined]

    def sign_in(route: object, request: object) -> None:
        said = json.loads(request.post_data)  # type: ignore[attr-defined]
        good = said == {"name": WHO, "password": "quiet water"}
        wrong = {"error": {"status": 401, "said": "Name or password is wrong.", "faults": []}}
        body = {"token": "good", "you": you, "until": ""} if good else wrong
        route.fulfill(  # type: ignore[attr-defined]
            status=200 if good else 401, content_type="application/json", body=json.dumps(body)
        )

    def surveys(route: object, request: object) -> None:
        shown.append(request.headers.get("authorization"))  # type: ignore[attr-defined]
        route.continue_()  # type: ignore[attr-defined]

    page.route("**/api/1/about", about)
    page.route("**/api/1/sign-in", sign_in)
    page.route("**/surveys", surveys)
    page.goto(f"{desk_office.address}#/desk")
    expect(page.get_by_role("heading", name="Sign in", level=1)).to_be_visible()
    assert shown == []
    with page.expect_response("**/surveys"):
        for password in ("guessed", "quiet water"):
            page.get_by_label("Name").fill(WHO)
            page.get_by_label("Password").fill(password)
            page.get_by_role("button", name="Sign in").click()
            if password == "guessed":
                expect(page.get_by_role("alert")).to_contain_text("Name or password is wrong.")
    expect(page.get_by_role("heading", name="Surveys", level=1)).to_be_visible()
    expect(page.get_by_text(f"{WHO}, reviewer")).to_be_visible()
    # A reviewer takes in sheets and names nobody.
    expect(page.get_by_role("link", name="Old sheets")).to_be_visible()
    expect(page.get_by_role("link", name="People")).to_have_count(0)
    assert shown == ["Bearer good"]
    page.get_by_role("button", name="Sign out").click()
    expect(page.get_by_role("heading", name="Sign in", level=1)).to_be_visible()
