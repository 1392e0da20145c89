"""Phones of a crew and the desk of its office: all come to hold the same, whatever fails."""

from __future__ import annotations

import json
import re
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Error as PlaywrightError
from playwright.sync_api import FilePayload, Page, Playwright, expect

from bankside.archive.files import file_of
from bankside.archive.register import put_survey
from bankside.archive.taking import take_file

from .alder_fork import GAUGING, PHOTO, downloads_only, exported, journal
from .browsing import Faults
from .conftest import ContextMaker
from .crew_phone import by_id, held, pair, sync, to, without_computing
from .dying import Phone
from .kept_gaugings import CLOSED, bring_in, kept_gaugings
from .office import REVIEWER, Office, go_on, summer
from .setting_out import type_in


@pytest.fixture
def phone(new_context: ContextMaker, faults: Faults) -> Iterator[Page]:
    """A phone without what computes, and without what keeps the app offline."""
    yield a_phone(new_context, faults)


def a_phone(new_context: ContextMaker, faults: Faults) -> Page:
    """Another such phone."""
    # The driver, where it blocks service workers, makes their registration give undefined.
    faults.expect("reading 'waiting'")
    return without_computing(new_context(service_workers="block")).new_page()


def test_a_phone_is_paired_by_the_address_that_the_office_shows(
    phone: Page, office: Office
) -> None:
    """The code stands in the form, leaves the address, and the phone is known by its name."""
    code = office.code()

    phone.goto(f"{office.address}#/pair/{code}")
    expect(phone.get_by_role("textbox", name="Code from the office")).to_have_value(code)
    phone.get_by_role("textbox", name="What this device is called").fill("phone of I. Marrow")
    phone.get_by_role("button", name="Pair this device").click()

    expect(phone.get_by_text("as phone of I. Marrow (crew)")).to_be_visible()
    expect(phone).to_have_url(re.compile("#/settings$"))
    phone.go_back()
    assert code not in phone.url
    phone.goto(f"{office.address}#/settings")
    expect(phone.get_by_text("as phone of I. Marrow (crew)")).to_be_visible()


def test_a_code_that_is_void_is_told_and_can_be_typed_anew(phone: Page, office: Office) -> None:
    """The server's own words stand in the form, and the next code holds."""
    phone.goto(f"{office.address}#/settings")
    phone.get_by_role("textbox", name="Code from the office").fill("ABCD 2345")
    phone.get_by_role("button", name="Pair this device").click()
    expect(phone.get_by_text("Say first what this device is called")).to_be_visible()
    phone.get_by_role("textbox", name="What this device is called").fill("tablet")
    phone.get_by_role("button", name="Pair this device").click()
    expect(phone.get_by_text("This code is none that is valid now")).to_be_visible()
    phone.get_by_role("textbox", name="Code from the office").fill(office.code().lower())
    phone.get_by_role("button", name="Pair this device").click()
    expect(phone.get_by_text("as tablet (crew)")).to_be_visible()


def test_on_the_machine_itself_no_code_is_typed(
    phone: Page, app: Path, tmp_path: Path, faults: Faults
) -> None:
    """Where nobody signs in, the page has the code made itself."""
    faults.expect(r"ERR_[A-Z_]+")
    office = Office(tmp_path, to_others=False)
    try:
        phone.goto(f"{office.address}#/settings")
        phone.get_by_role("textbox", name="What this device is called").fill("laptop")
        expect(phone.get_by_role("textbox", name="Code from the office")).to_have_count(0)
        phone.get_by_role("button", name="Pair this device").click()
        expect(phone.get_by_text("as laptop (crew)")).to_be_visible()
        bring_alder_fork(phone)
        expect(phone.get_by_text("All is on the server")).to_be_visible()
        assert by_id(office.journal(GAUGING)) == held(phone)[GAUGING]
    finally:
        office.stop()


def test_what_is_on_the_server_says_so_and_may_be_removed(phone: Page, office: Office) -> None:
    """Each gauging with all entries and photos; the photo is there byte for byte."""
    pair(phone, office, "phone of I. Marrow")
    phone.context.set_offline(True)
    bring_alder_fork(phone)
    expect(phone.get_by_text("7 entries and 1 photo wait for the server")).to_be_visible()
    phone.context.set_offline(False)

    to(phone, "#/")
    expect(phone.get_by_text("All is on the server")).to_be_visible()
    row = phone.get_by_role("article").filter(has_text="Alder Fork")
    expect(row.get_by_text("on the server", exact=True)).to_be_visible()
    assert by_id(office.journal(GAUGING)) == held(phone)[GAUGING]
    (sha256,) = journal()["files"]
    with office.archive() as archive, archive.reading() as connection:
        kept = file_of(connection, sha256)
    assert kept is not None and kept.content == PHOTO
    row.get_by_role("button", name="Remove").click()
    phone.get_by_role("button", name="Remove it").click()
    expect(phone.get_by_text("There is no gauging on this device yet.")).to_be_visible()


def test_two_phones_and_the_desk_come_to_hold_the_same(
    new_context: ContextMaker, faults: Faults, office: Office
) -> None:
    """One phone is without a network for a day; each gauging is everywhere, each entry once."""
    first, second = (a_phone(new_context, faults) for _ in range(2))
    pair(first, office, "phone of J. Ostrander")
    second.clock.install()
    pair(second, office, "phone of T. Quayle")
    second.context.set_offline(True)
    common = kept_gaugings()

    to(first, "#/")
    bring_in(first, common)
    sync(first)
    office.review(CLOSED, "sent back", reason="No second stage.")
    to(second, "#/")
    bring_in(second, {CLOSED: common[CLOSED]})
    _say_remark(second, CLOSED, "weed along the left bank")
    to(second, "#/")
    second.get_by_role("button", name="Start a new gauging").click()
    second.get_by_role("radio", name="A site that is new on this device").check()
    second.get_by_role("radio", name="metres").check()
    second.get_by_role("button", name="Start", exact=True).click()
    expect(second.get_by_role("heading", name="Set out")).to_be_visible()
    second.get_by_label("Stream", exact=True).fill("Tansy Run")
    second.get_by_label("Site", exact=True).fill("below the weir")
    second.keyboard.press("Tab")
    second.clock.fast_forward("24:00:00")
    expect(second.get_by_text("Saved on this device")).to_be_visible()
    second.context.set_offline(False)

    to(second, "#/")
    expect(second.get_by_text("All is on the server")).to_be_visible()
    # A run that was under way may have asked before the other phone was heard.
    for _ in range(20):
        sync(first)
        sync(second)
        if held(first) == held(second):
            break
        first.wait_for_timeout(500)

    one, other = held(first), held(second)
    assert set(one) == set(other) > set(common)
    assert len(one) == len(common) + 1
    for gauging, entries in one.items():
        assert entries == other[gauging] == by_id(office.journal(gauging))
    whats = [entry["what"] for entry in one[CLOSED]]
    assert whats.count("review") == 1 and whats.count("remarks") >= 1


def _say_remark(page: Page, gauging: str, words: str) -> None:
    """Open a closed gauging again, and say a remark."""
    to(page, f"#/gauging/{gauging}/close")
    page.get_by_role("button", name="Open it again").click()
    page.get_by_role("textbox", name="Why it is opened again").fill("a remark was forgotten")
    page.get_by_role("button", name="Open it again", exact=True).click()
    to(page, f"#/gauging/{gauging}/check")
    type_in(page, "What a reader should know", words)
    expect(page.get_by_text("Saved on this device")).to_be_visible()


REQUESTS = (
    "POST /api/1/entries",
    "POST /api/1/files/missing",
    "PUT /api/1/files/",
    "GET /api/1/gaugings/",
    "POST /api/1/pull",
    "GET /api/1/field",
)


def test_a_server_that_is_killed_in_the_middle_loses_nothing(phone: Page, office: Office) -> None:
    """At each request of a sync in turn, before it is heard and once it was heard."""
    pair(phone, office, "phone of I. Marrow")
    office.kill()
    bring_alder_fork(phone)
    for request in REQUESTS:
        for moment in ("before", "after"):
            died = threading.Event()
            _die_at(office, request, moment, died)
            office.start()
            to(phone, "#/settings")
            phone.get_by_role("button", name="Sync now").click()
            assert died.wait(60), f"{request} was never asked"
            expect(phone.get_by_text(re.compile("trouble of its own|be reached"))).to_be_visible()
    office.start()
    sync(phone)

    assert by_id(office.journal(GAUGING)) == held(phone)[GAUGING]
    to(phone, "#/")
    expect(phone.get_by_text("All is on the server")).to_be_visible()


def _die_at(office: Office, request: str, moment: str, died: threading.Event) -> None:
    """Have the server killed once at a request, before it hears it or after it has answered."""

    def die(asked: str) -> bool:
        if not asked.startswith(request) or died.is_set():
            return False
        office.kill()
        died.set()
        return True

    office.proxy.before = die if moment == "before" else go_on
    office.proxy.after = die if moment == "after" else go_on


def bring_alder_fork(page: Page) -> None:
    """Import a gauging with a photo."""
    to(page, "#/")
    content = json.dumps(journal()).encode("utf-8")
    file = FilePayload(name="alder.json", mimeType="application/json", buffer=content)
    page.locator("input[type=file]").set_input_files(file)
    expect(page.get_by_text("alder.json: ")).to_be_visible()


@pytest.mark.parametrize("moment", ["before", "after"])
@pytest.mark.parametrize("request_", REQUESTS[:5])
def test_a_phone_that_is_killed_in_the_middle_loses_nothing(
    playwright: Playwright,
    office: Office,
    tmp_path: Path,
    faults: Faults,
    request_: str,
    moment: str,
) -> None:
    """While a request is on its way, and while its answer is: the phone goes on when it is back."""
    phone = Phone(playwright, tmp_path / "profile", faults)
    page = phone.open(office.address)
    pair(page, office, "phone of I. Marrow")
    sync(page)
    asked, dead = threading.Event(), threading.Event()

    def hold(found: str) -> bool:
        if not found.startswith(request_) or asked.is_set():
            return False
        asked.set()
        # The server hears of it, or does not, when the phone is no more.
        dead.wait(60)
        return moment == "before"

    setattr(office.proxy, moment, hold)
    processes = phone.aim("browser")
    bring_alder_fork(page)
    assert asked.wait(60), f"{request_} was never asked"
    phone.die(page, processes, "browser")
    dead.set()

    page = phone.open(f"{office.address}#/settings")
    sync(page)
    assert by_id(office.journal(GAUGING)) == held(page)[GAUGING]
    assert len(held(page)[GAUGING]) == len(journal()["entries"])
    phone.close()


def test_a_revoked_phone_keeps_everything_and_exports(phone: Page, office: Office) -> None:
    """It says that it is let in no more; another code lets it in again, with all it holds."""
    downloads_only(phone.context)
    pair(phone, office, "phone of I. Marrow")
    bring_alder_fork(phone)
    office.revoke_all()

    to(phone, "#/settings")
    phone.get_by_role("button", name="Sync now").click()
    expect(phone.get_by_text("The office does not let this device in any more")).to_be_visible()
    file = json.loads(exported(phone, office.address))
    assert len(file["entries"]) == len(held(phone)[GAUGING]) == len(journal()["entries"])
    expect(
        phone.get_by_text("The office does not let this device in: see Settings")
    ).to_be_visible()

    to(phone, "#/settings")
    phone.get_by_role("button", name="Unpair").click()
    phone.get_by_role("button", name="Unpair it").click()
    phone.get_by_role("textbox", name="Code from the office").fill(office.code())
    phone.get_by_role("textbox", name="What this device is called").fill("the same phone")
    phone.get_by_role("button", name="Pair this device").click()
    sync(phone)
    assert by_id(office.journal(GAUGING)) == held(phone)[GAUGING]


def test_what_the_office_holds_of_a_gauging_stands_where_it_matters(
    phone: Page, office: Office
) -> None:
    """Sent back: in the list and over the check. Approved: over each step, with a warning."""
    pair(phone, office, "phone of I. Marrow")
    to(phone, "#/")
    bring_in(phone, {CLOSED: kept_gaugings()[CLOSED]})
    sync(phone)
    office.review(CLOSED, "sent back", reason="No second stage.")
    sync(phone)

    sent_back = re.compile(f"Sent back by {re.escape(REVIEWER)}, 15 Jul 2026: No second stage.")
    to(phone, "#/")
    row = phone.get_by_role("article").filter(has_text="Quill Brook")
    expect(row.get_by_text(sent_back)).to_be_visible()
    row.get_by_role("link").click()
    expect(phone.get_by_role("heading", name="Before leaving")).to_be_visible()
    expect(phone.get_by_text(sent_back)).to_be_visible()

    office.review(CLOSED, "approved")
    sync(phone)
    to(phone, f"#/gauging/{CLOSED}/close")
    warning = phone.get_by_text("A change makes it “changed since approval”.")
    expect(warning).to_be_visible()
    _say_remark(phone, CLOSED, "weed along the left bank")
    expect(
        phone.get_by_text(f"Approved by {REVIEWER}, 15 Jul 2026, and changed since")
    ).to_be_visible()
    expect(warning).to_have_count(0)


def test_sites_and_last_visits_are_taken_along(
    new_context: ContextMaker, faults: Faults, office: Office
) -> None:
    """Without a network a site is chosen, its last visit laid beside, the way there told."""
    sheet = Path(__file__).parents[2] / "demo" / "sheets" / "alder_fork.csv"
    with office.archive() as archive:
        with archive.writing() as connection:
            put_survey(connection, summer())
        take_file(archive, sheet)
    office.settle()
    # Some 45 m south of the planned section.
    fix = {"latitude": 47.2496, "longitude": -122.5, "accuracy": 6}
    context = new_context(geolocation=fix, permissions=["geolocation"])
    page = context.new_page()
    pair(page, office, "phone of I. Marrow")
    expect(page.get_by_text("Computing is ready")).to_be_visible()
    sync(page)
    context.set_offline(True)

    to(page, "#/")
    page.get_by_role("button", name="Start a new gauging").click()
    page.get_by_role("searchbox", name="Find a site").fill("alder foot")
    sites = page.get_by_role("group", name="Sites of the office's surveys")
    expect(sites.get_by_role("radio")).to_have_count(1)
    expect(sites).to_contain_text("Summer · last visit 14 Jul 2026")
    sites.get_by_role("radio").check()
    page.get_by_role("radio", name="feet").check()
    page.get_by_role("button", name="Start", exact=True).click()

    page.get_by_role("button", name=re.compile(r"^Site \(said\)")).click()
    expect(page.get_by_text("Site of a survey: Alder Fork · above the footbridge.")).to_be_visible()
    expect(page.get_by_label("Stream", exact=True)).to_have_value("Alder Fork")
    expect(page.get_by_text("Last visit at the office: 14 Jul 2026.")).to_be_visible()
    page.get_by_role("button", name="Take over the meter of that day").click()
    page.get_by_role("button", name="Measure with this device").click()
    expect(
        page.get_by_text(re.compile("The planned section is 4[45] m ± 6 m to the north"))
    ).to_be_visible()
    page.get_by_role("button", name="Stop and take the mean").click()
    (entries,) = held(page).values()
    said = {entry["what"]: entry["value"] for entry in entries}
    assert said["site/id"] == "af1" and said["site/name"] == "above the footbridge"
    assert said["meter/kind"]


def test_the_offline_cache_lets_the_office_through(
    new_context: ContextMaker, faults: Faults, office: Office
) -> None:
    """What the server answers is asked for each time and never kept; no app in its place."""
    page = new_context().new_page()
    page.goto(office.address)
    page.evaluate("() => navigator.serviceWorker.ready")
    page.reload()
    assert page.evaluate("() => navigator.serviceWorker.controller !== null")
    before = office.proxy.asked.count("GET /api/1/about")
    for _ in range(2):
        about = page.evaluate("async () => (await fetch('api/1/about')).json()")
        assert about["archive"] == "season"
    assert office.proxy.asked.count("GET /api/1/about") >= before + 2
    kept = page.evaluate("""async () => {
      const names = await caches.keys();
      const all = await Promise.all(names.map(async (name) => (await caches.open(name)).keys()));
      return all.flat().map(({ url }) => url).filter((url) => url.includes("/api/"));
    }""")
    assert kept == []
    office.proxy.before = lambda _: True
    with pytest.raises(PlaywrightError, match="ERR_"):
        page.goto(f"{office.address}api/1/about")
    page = page.context.new_page()
    page.goto(office.address)
    expect(page.get_by_role("heading", name="Gaugings")).to_be_visible()
