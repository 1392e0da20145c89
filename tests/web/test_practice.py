"""Practice in the app: whole gaugings of three people, and what the debrief says of each."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import Locator, Page, expect

from bankside.practice.debrief.debrief import debrief
from bankside.practice.session.document import Practice, practice_from_bytes
from bankside.practice.session.reach import make_reach

from .trainee import Habits, Trainee

STREAM, NUMBER = "easy run", 4
BEST = make_reach(STREAM, NUMBER).best
OTHER = next(one.name for one in make_reach(STREAM, NUMBER).sections if one.name != BEST)

CAREFUL = Habits(section=BEST, verticals=12, types=True)
HASTY = Habits(
    section=BEST,
    verticals=5,
    clears=False,
    seconds=10,
    facing=35,
    stands="close upstream",
    resets=False,
    sets_the_rod=False,
)
SWAPS_UNITS = Habits(section=BEST, verticals=9, meter="m/s")

Parts = dict[str, float]


def _debrief(page: Page) -> tuple[float, Parts]:
    """Return the whole error and the parts that are told, in percent."""
    [whole] = re.findall(r": ([+−][\d.]+) %", page.locator(".whole").inner_text())
    rows = page.locator("tbody tr")
    names = [text.split("\n")[0] for text in rows.locator("th").all_inner_texts()]
    figures = rows.locator("td.share").all_inner_texts()
    parts = {
        name: _figure(text.removesuffix(" %")) for name, text in zip(names, figures, strict=True)
    }
    return _figure(whole), parts


def _figure(text: str) -> float:
    return float(text.replace("−", "-"))


@pytest.mark.parametrize(
    ("habits", "causes", "least", "most"),
    [
        pytest.param(CAREFUL, (), 0.0, 5.0, id="careful"),
        pytest.param(HASTY, ("Handling the meter", "Setting the rod"), 20.0, 100.0, id="hasty"),
        pytest.param(SWAPS_UNITS, ("Handling the meter",), 60.0, 80.0, id="swaps units"),
    ],
)
def test_a_debrief_names_what_was_done_wrong(
    page: Page,
    served: str,
    tmp_path: Path,
    habits: Habits,
    causes: tuple[str, ...],
    least: float,
    most: float,
) -> None:
    """A careful person is within 5 %; others learn where it came from, and the parts add up."""
    # Nobody answers the browser's own question where to put a file.
    page.add_init_script("delete window.showSaveFilePicker")
    Trainee(page, habits).play(served, STREAM, NUMBER)
    whole, parts = _debrief(page)

    assert least <= abs(whole) <= most
    assert sum(parts.values()) == pytest.approx(whole, abs=0.05 * len(parts) + 0.5)
    told = sorted(parts, key=lambda name: -abs(parts[name]))
    assert set(causes) <= set(told[:3]), parts
    expect(page.locator("main ol > li")).to_have_count(3)
    expect(page.get_by_text("Practice. No real stream.")).to_be_visible()
    kept = _handed_in(page, tmp_path)
    assert kept.person == "T. Quayle"
    assert debrief(kept).percent == pytest.approx(whole, abs=0.6)
    assert kept.day is not None
    if habits is CAREFUL:
        _stands_in_the_record(page, tmp_path, kept)


def _handed_in(page: Page, folder: Path) -> Practice:
    """Return the session as its file for the leader holds it."""
    save = page.get_by_role("button", name="Save as a file for the leader")
    save.click()
    expect(page.get_by_role("alert")).to_have_text("Say first who practised.")
    page.get_by_role("textbox", name="Who practised").fill("T. Quayle")
    return _saved(page, save, folder)


def _saved(page: Page, save: Locator, folder: Path) -> Practice:
    with page.expect_download() as download:
        save.click()
    path = folder / download.value.suggested_filename
    download.value.save_as(path)
    return practice_from_bytes(path.read_bytes())


def _stands_in_the_record(page: Page, folder: Path, kept: Practice) -> None:
    """The session counts on this device under its name, and the list saves the same file."""
    page.get_by_role("link", name="Who is ready").click()
    expect(page.get_by_text("1 of this device, 0 from files.")).to_be_visible()
    expect(page.get_by_role("row", name="T. Quayle")).to_contain_text("1 of 1")
    page.get_by_role("link", name="List of practice gaugings").click()
    expect(page.get_by_role("button", name="Export to go on elsewhere")).to_be_visible()
    save = page.get_by_role("button", name="Save as a file for the leader")
    assert _saved(page, save, folder) == kept
