"""One gauging from the code that pairs a phone to the report of the survey, as people go there."""

from __future__ import annotations

import html
import re
import subprocess
from pathlib import Path

from PIL import Image
from playwright.sync_api import FilePayload, Locator, Page, expect

from bankside.survey.document import survey_to_json

from . import walk
from .conftest import ContextMaker
from .crossing import Crossing, called
from .office import PASSWORD, REVIEWER, Office, summer
from .recorder import Recorder

LEAD = REVIEWER
SECOND, SECOND_PASSWORD = "K. Ashdown", "slow water in summer"
PHONE = "phone of J. Ostrander"
SHORT = Crossing(
    unit="m",
    left="0.4",
    right="4.9",
    verticals=(
        called("0.18", "0.10"),
        called("0.29", "0.211"),
        called("0.38", "0.263"),
        called("0.44", "0.322"),
        called("0.50", "0.362"),
        called("0.42", "0.301"),
        called("0.31", "0.226"),
        called("0.14", "0.064"),
    ),
    inserted=("2.2", called("0.41", "0.29")),
    misheard=(0, "0.81"),
    stages=("0.412", "0.41"),
    zero=("0.000", "0.002"),
)
ASKED = "Was the water clear to the bed?"
REMARK = "Clear to the bed. Light rain since nine."
BECAUSE = "Eight verticals do for so narrow a stream."


def test_a_gauging_goes_from_the_phone_to_the_report(
    new_context: ContextMaker, office: Office, tmp_path: Path
) -> None:
    """Paired, measured offline, sent back, mended, approved, and in the report as approved."""
    lead = new_context("desktop").new_page()
    sign_in(lead, office, LEAD, PASSWORD)
    put_down_survey(lead)
    name_reviewer(lead)
    phone = Recorder(new_context().new_page())
    pair(phone, office, make_code(lead))

    phone.page.context.set_offline(True)
    discharge = measure(phone, tmp_path)
    phone.page.context.set_offline(False)
    sync(phone)

    reviewer = new_context("desktop").new_page()
    sign_in(reviewer, office, SECOND, SECOND_PASSWORD)
    open_what_waits(reviewer)
    look_at(reviewer, discharge)
    send_back(reviewer)
    mend(phone)
    approve(reviewer)

    reviewer.get_by_role("link", name="Its survey").click()
    page = fetched(reviewer, "Report as a page", tmp_path)
    told = html.unescape(re.sub(r"<[^>]*>", " ", page.read_text(encoding="utf-8")))
    assert_told(told, discharge)
    pdf = fetched(reviewer, "Report as PDF", tmp_path)
    run = subprocess.run(["pdftotext", "-layout", pdf, "-"], capture_output=True, check=True)
    assert_told(run.stdout.decode(), discharge)


def sign_in(page: Page, office: Office, name: str, password: str) -> None:
    """Sign somebody in at a desk."""
    page.goto(f"{office.address}#/desk")
    page.get_by_label("Name").fill(name)
    page.get_by_label("Password").fill(password)
    page.get_by_role("button", name="Sign in").click()
    expect(page.get_by_role("heading", name="Surveys", level=1)).to_be_visible()


def put_down_survey(page: Page) -> None:
    """Hand in the file of a survey."""
    bar(page, "Office").get_by_role("link", name="Old sheets").click()
    survey = survey_to_json(summer()).encode("utf-8")
    file = FilePayload(name="summer.json", mimeType="application/json", buffer=survey)
    page.locator("input[type=file]").set_input_files(file)
    page.get_by_role("button", name="Take in summer.json").click()
    expect(page.get_by_role("heading", name="Taken in")).to_be_visible()


def name_reviewer(page: Page) -> None:
    """Give a second person an account."""
    bar(page, "Office").get_by_role("link", name="People").click()
    page.get_by_label("Name", exact=True).fill(SECOND)
    page.get_by_label("Role").first.select_option("reviewer")
    page.get_by_label(re.compile("^Password")).fill(SECOND_PASSWORD)
    page.get_by_role("button", name="Give the account").click()
    expect(page.get_by_role("listitem").filter(has_text=f"{SECOND}, reviewer")).to_be_visible()


def make_code(page: Page) -> str:
    """Make a code for the phone, and return the link that its picture holds."""
    page.get_by_label(re.compile("^What the device is called")).fill(PHONE)
    page.get_by_role("button", name="Make a code").click()
    code = page.get_by_role("img", name=re.compile("^QR code that opens"))
    expect(code).to_be_visible()
    return (code.get_attribute("alt") or "").removeprefix("QR code that opens ")


def pair(phone: Recorder, office: Office, link: str) -> None:
    """Open the link on the phone, pair it, and wait until it has all that it takes along."""
    page = phone.page
    # The office's name leads nowhere from here: the phone reaches it through the proxy.
    page.goto(office.address + link[link.index("#") :])
    phone.write("What this device is called", PHONE)
    phone.press("Pair this device")
    expect(page.get_by_text(f"as {PHONE} (crew)")).to_be_visible()
    expect(page.get_by_text(re.compile("^Last sync:"))).to_be_visible()
    phone.press(re.compile("Back$"))
    expect(page.get_by_text("Ready to work offline", exact=True)).to_be_visible()


def measure(phone: Recorder, folder: Path) -> str:
    """Take a gauging at a site of the survey; return the discharge that the phone shows."""
    page = phone.page
    phone.press("Start a new gauging")
    page.get_by_role("searchbox", name="Find a site").fill("alder foot")
    phone.tap(page.get_by_role("group", name="Sites of the office's surveys").locator("label"))
    phone.choose("metres", of="Units of tape, rod and meter")
    phone.press("Start")
    expect(page.get_by_role("heading", name="Set out")).to_be_visible()
    walk.set_out(phone, SHORT)
    walk.plan(phone, SHORT, "0.05")
    for vertical in SHORT.verticals:
        walk.read_vertical(phone, vertical, None)
    phone.press("Go to Check")
    expect(page.get_by_role("heading", name="Before leaving")).to_be_visible()
    walk.answer_findings(phone)
    photo = folder / "upstream.jpg"
    Image.linear_gradient("L").resize((800, 600)).convert("RGB").save(photo, "JPEG")
    walk.finish(phone, SHORT, photo, quality="fair")
    walk.answer_findings(phone)
    return close(phone)


def close(phone: Recorder) -> str:
    """Sign and close, go back to the list, and return the discharge that was shown."""
    discharge = walk.close(phone)
    phone.tap(phone.page.get_by_role("link", name="List of gaugings"))
    return discharge


def sync(phone: Recorder) -> None:
    """Have the phone sync, and wait until all of it is on the server."""
    phone.tap(phone.page.get_by_role("link", name="Settings"))
    phone.press("Sync now")
    expect(phone.page.get_by_text("Every gauging of this device is on the server.")).to_be_visible()
    phone.press(re.compile("Back$"))


def open_what_waits(page: Page) -> None:
    """From the overview of the survey to the one gauging that waits."""
    page.get_by_role("link", name=re.compile("^Summer")).click()
    main = page.get_by_role("main")
    expect(main.get_by_text(re.compile(r"^\s*1\s+◐\s+to review\s*$"))).to_be_visible()
    bar(page, "Parts of the survey").get_by_role("link", name="Gaugings").click()
    table = page.get_by_role("table", name="Gaugings of the survey")
    table.get_by_role("link").first.click()
    expect(page.get_by_role("heading", name=walk.STREAM)).to_be_visible()


def bar(page: Page, name: str) -> Locator:
    """A bar of links of the desk."""
    return page.get_by_role("navigation", name=name)


def part(page: Page, heading: str) -> Locator:
    """The part of a gauging's page under a heading."""
    return page.locator("section", has=page.get_by_role("heading", name=heading, exact=True))


def look_at(page: Page, discharge: str) -> None:
    """The figure is that of the phone, beside its picture and the findings with their answers."""
    expect(part(page, "Discharge").locator(".figure")).to_contain_text(discharge, timeout=180_000)
    expect(page.get_by_role("img", name=re.compile("verticals"))).to_be_visible()
    findings = part(page, "Findings")
    expect(findings.get_by_text("No finding is open.")).to_be_visible()
    expect(findings).to_contain_text("Too few verticals")


def send_back(page: Page) -> None:
    """Ask the crew for what nobody wrote down."""
    review = part(page, "Review")
    review.get_by_label(re.compile("^Reason")).fill(ASKED)
    review.get_by_role("button", name="Send back").click()
    expect(review.locator(".state")).to_have_text(re.compile("sent back$"))


def mend(phone: Recorder) -> None:
    """The phone is told, a remark answers what was asked, and the gauging is closed again."""
    page = phone.page
    sync(phone)
    row = page.get_by_role("article").filter(has_text=walk.STREAM)
    expect(
        row.get_by_text(re.compile(f"^Sent back by {SECOND}.*{re.escape(ASKED)}"))
    ).to_be_visible()
    phone.tap(row.get_by_role("link"))
    phone.go("Close")
    phone.press(re.compile("^Open it again"))
    phone.write("Why it is opened again", "the office asks")
    phone.press("Open it again")
    phone.go("Check")
    phone.write("What a reader should know", REMARK)
    close(phone)
    sync(phone)


def approve(page: Page) -> None:
    """With the remark before their eyes somebody approves it, and says why that is enough."""
    page.reload()
    journal = page.get_by_role("region", name="Entries of the journal")
    expect(journal).to_contain_text(REMARK)
    review = part(page, "Review")
    review.get_by_label(re.compile("^Reason")).fill(BECAUSE)
    review.get_by_role("button", name="Approve").click()
    expect(review.locator(".state")).to_have_text(re.compile(" approved$"))


def fetched(page: Page, button: str, folder: Path) -> Path:
    """Fetch a document of the survey, and return where it is."""
    with page.expect_download() as download:
        page.get_by_role("button", name=button).click()
    path = folder / download.value.suggested_filename
    download.value.save_as(path)
    return path


def assert_told(report: str, discharge: str) -> None:
    """A report names the site, the discharge as approved, and who approved it."""
    words = " ".join(report.split())
    assert f"{walk.STREAM}, {walk.SITE}" in words
    assert discharge in words
    assert f"approved by {SECOND}" in words
