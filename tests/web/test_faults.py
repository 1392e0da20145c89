"""What befalls a phone at a stream: it dies at any moment, stops computing, sets its clock back.

Each test goes by what the page showed. Other faults: test_store.py has storage that is full, taken
away or newer, and two tabs; test_offline.py first visits broken off and updates that come while a
gauging is open; test_engine.py computing that dies or never starts.
"""

from __future__ import annotations

import json
import random
from collections.abc import Iterator, Sequence
from datetime import UTC, datetime, timedelta
from itertools import pairwise
from pathlib import Path
from typing import NamedTuple

import pytest
from playwright.sync_api import Page, Playwright, expect

from bankside.bank import answer

from .alder_fork import GAUGING, at_the_stream, downloads_only, exported, reading
from .browsing import Faults
from .conftest import ContextMaker
from .dying import Death, Phone
from .recorder import SAVED, Recorder

DEATHS = 50
FIGURES_BEFORE_A_DEATH = 3
LEFT_EDGE = "1.5"


class Figure(NamedTuple):
    """One figure that the crew calls."""

    quantity: str
    tape: str
    text: str

    @property
    def told(self) -> str:
        """How the page tells that it was said."""
        place = LEFT_EDGE if self.quantity == "Tape" else self.tape
        return {
            "Tape": f"Left edge at {place}.",
            "Depth": f"Depth {self.text} at {place}.",
            "Velocity": f"Velocity {self.text} at {place}.",
        }[self.quantity]


def called(verticals: int) -> list[Figure]:
    """What a crew calls from the left edge on, the same every time; no two verticals are alike."""
    chance = random.Random(17)
    figures = [Figure("Tape", LEFT_EDGE, LEFT_EDGE)]
    for place in range(verticals):
        tape = f"{4 + place / 10:.1f}"
        figures.append(Figure("Depth", tape, f"{chance.uniform(0.4, 2):.2f}"))
        figures.append(Figure("Velocity", tape, f"{chance.uniform(0.1, 1.9):.2f}"))
    return figures


def rows(figures: Sequence[Figure]) -> dict[str, list[str]]:
    """The table of what was read: for each tape position depth and velocity, as far as said."""
    table: dict[str, list[str]] = {}
    for quantity, tape, text in figures:
        if quantity == "Tape":
            table[tape] = ["left edge", ""]
        elif quantity == "Depth":
            table[tape] = [text, ""]
        else:
            table[tape][1] = text
    return table


def shown_rows(page: Page) -> dict[str, list[str]]:
    """The same table as the page shows it."""
    cells = page.locator(".above tbody tr").evaluate_all(
        "(rows) => rows.map((row) => [0, 1, 2].map((i) => row.cells[i].innerText.trim()))"
    )
    return {tape: [depth, velocity] for tape, depth, velocity in cells}


def last_saved(shown: Sequence[str], figures: Sequence[Figure]) -> int:
    """How many of the figures the page had shown as saved, by the texts of its line."""
    told = [figure.told for figure in figures]
    saved = [text for text in shown if text.endswith(SAVED)]
    return max((told.index(text.split(" ●")[0]) + 1 for text in saved if "●" in text), default=0)


@pytest.fixture
def phone(playwright: Playwright, tmp_path: Path, faults: Faults) -> Iterator[Phone]:
    """A phone that may die, and keeps its profile."""
    phone = Phone(playwright, tmp_path / "profile", faults)
    yield phone
    phone.close()


def test_what_was_shown_as_saved_outlives_every_death(phone: Phone, served: str) -> None:
    """At 50 random moments tab or browser is killed; nothing shown as saved is gone or doubled."""
    chance = random.Random(20260714)
    figures = called(80)
    page = phone.open(served)
    at_the_stream(page, served, positions=80)
    there = under_way = lost = 0
    for _ in range(DEATHS):
        death: Death = chance.choice(["tab", "tab", "browser"])
        processes = phone.aim(death)
        phone.shown.clear()
        said = there + chance.randrange(FIGURES_BEFORE_A_DEATH + 1)
        begun = chance.choice([0, 0, chance.randrange(len(figures[said].text))])
        for figure in figures[there:said]:
            Recorder(page).call(figure.text)
        Recorder(page).type(figures[said].text[:begun])
        phone.die(page, processes, death)

        saved = max(there, last_saved(phone.shown, figures))
        page = phone.open(f"{served}#/gauging/{GAUGING}/read")
        there = kept(page, figures, saved, said)
        under_way += said > saved
        lost += said - there
    print(f"{DEATHS} deaths, {there} figures, {under_way} times one was not yet shown as saved,")
    print(f"{lost} of those were not there afterwards.")

    assert texts(exported(page, served)) == [text for _, _, text in figures[:there]]


def kept(page: Page, figures: Sequence[Figure], saved: int, said: int) -> int:
    """How many of the figures the page has after a death; all it shows must be true of so many."""
    recorder = Recorder(page)
    recorder.saved()
    table = shown_rows(page)
    there = next((n for n in range(saved, said + 1) if rows(figures[:n]) == table), None)
    assert there is not None, f"{saved} figures were shown as saved, and there is {table}"
    due = figures[there]
    unit = "ft/s" if due.quantity == "Velocity" else "ft"
    assert recorder.asked == f"{due.quantity}, {unit}"
    where = "Left edge of water" if due.quantity == "Tape" else due.tape
    expect(page.locator(".box.call")).to_contain_text(where)
    typed = recorder.typed.inner_text().replace("—", "")
    assert due.text.startswith(typed)
    for _ in typed:
        recorder.press("Delete the last key", recorder.pad)
    return there


def texts(file: bytes) -> list[str]:
    """The figures in the entries of an exported file, in order: each as it was typed."""
    found = []
    edge = False
    for entry in json.loads(file)["entries"]:
        what, value = entry["what"], entry["value"]
        if what.endswith("/tape") and not edge:
            edge = True
            found.append(value)
        elif what.endswith("/depth") and value != "0":
            found.append(value)
        elif "/readings/" in what:
            found.append(value["value"])
    return found


# The head of a record of a hundred bytes in Chromium's database, and thirty of them.
HALF_A_RECORD = bytes(4) + (100).to_bytes(2, "little") + b"\x01" + bytes(30)


def test_readings_come_back_where_the_browser_threw_its_database_away(
    phone: Phone, served: str
) -> None:
    """Half a record at the end of the database, others behind it, and the browser begins anew."""
    figures = called(3)
    here = f"{served}#/gauging/{GAUGING}/read"
    page = phone.open(served)
    at_the_stream(page, served)
    said(page, figures[:3])
    phone.die(page, phone.aim("browser"), "browser")
    (log,) = phone.profile.glob("Default/IndexedDB/*.leveldb/*.log")
    log.write_bytes(log.read_bytes() + HALF_A_RECORD)

    page = phone.open(here)
    Recorder(page).saved()
    assert shown_rows(page) == rows(figures[:3])
    assert page.get_by_text("The browser had lost").count() == 0
    said(page, figures[3:5])
    phone.die(page, phone.aim("browser"), "browser")

    page = phone.open(here)
    Recorder(page).saved()
    lost = page.get_by_role("alert").filter(has_text="The browser had lost what this device keeps.")
    expect(lost).to_contain_text(
        "1 gauging is back from the second copy, with every reading that it had."
    )
    expect(lost).to_be_in_viewport()
    assert shown_rows(page) == rows(figures[:5])
    page.reload()
    expect(lost).to_be_visible()
    page.get_by_role("button", name="I have seen it").tap()
    expect(lost).to_have_count(0)
    assert texts(exported(page, served)) == [text for _, _, text in figures[:5]]
    page.reload()
    expect(page.get_by_role("link", name="Alder Fork").first).to_be_visible()
    assert lost.count() == 0


def said(page: Page, figures: Sequence[Figure]) -> None:
    """Call figures, and wait until the last one is told as saved."""
    for figure in figures:
        Recorder(page).call(figure.text)
    Recorder(page).saved(figures[-1].told)


@pytest.fixture
def recorder(new_context: ContextMaker, served: str) -> Recorder:
    """Somebody who reads a gauging on a phone that computes."""
    context = new_context()
    downloads_only(context)
    page = context.new_page()
    at_the_stream(page, served)
    expect(page.get_by_text("Computing is")).to_have_count(0)
    return Recorder(page)


def test_entry_goes_on_while_computing_dies_and_the_result_catches_up(
    recorder: Recorder, served: str, faults: Faults
) -> None:
    """Readings are saved meanwhile, no old figure stands as new, and the right one comes."""
    faults.expect("killed by the test")
    page = recorder.page
    figures = called(8)
    for figure in figures[:9]:
        recorder.call(figure.text)
    discharge = page.locator(".standing dd").first
    expect(discharge).to_contain_text("ft³/s")
    before = discharge.inner_text()

    page.workers[0].evaluate("setTimeout(() => { throw new Error('killed by the test') })")
    expect(page.get_by_text("Computing is being started again")).to_be_visible()
    for figure in figures[9:]:
        recorder.call(figure.text)
        recorder.saved(figure.told)
        if figure.quantity == "Velocity":
            assert discharge.inner_text() != before

    expect(discharge).to_contain_text("ft³/s")
    after = discharge.inner_text()
    assert after != before
    assert after == discharge_here(exported(page, served))


def discharge_here(file: bytes) -> str:
    """The discharge so far of an exported file, with its unit, by the Python of this test."""
    entries = json.loads(file)["entries"]
    now = datetime.now(UTC).isoformat()
    view = json.loads(answer(json.dumps({"ask": "look", "entries": entries, "now": now})))
    return f"{view['result']['discharge']} {view['result']['discharge_unit']}"


def test_a_clock_set_back_changes_no_order(recorder: Recorder, served: str) -> None:
    """After the clock of the phone went back an hour all goes on as called, and stays so."""
    page = recorder.page
    figures = called(8)
    page.clock.install()
    reading(page, served)
    for figure in figures[:9]:
        recorder.call(figure.text)
    recorder.saved(figures[8].told)
    page.clock.set_system_time(datetime.now() - timedelta(hours=1))
    for figure in figures[9:]:
        recorder.call(figure.text)
    recorder.saved(figures[-1].told)

    assert shown_rows(page) == rows(figures)
    page.reload()
    expect(page.locator(".above tbody tr")).to_have_count(9)
    assert shown_rows(page) == rows(figures)
    content = exported(page, served)
    assert texts(content) == [text for _, _, text in figures]
    moments = [datetime.fromisoformat(entry["at"]) for entry in json.loads(content)["entries"][8:]]
    assert any(later < earlier for earlier, later in pairwise(moments))
