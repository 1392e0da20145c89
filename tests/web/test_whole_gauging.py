"""A whole gauging at a stream without signal, by touch alone, and the same figure in the office."""

from __future__ import annotations

import hashlib
import io
import json
import statistics
from base64 import b64decode
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from playwright.sync_api import Browser, Page, Playwright, expect

from bankside.cli import main

from . import walk
from .app_server import AppServer
from .browsing import Faults, device, picture
from .crossing import ALDER_FORK, QUILL_BROOK, Called, Crossing, as_sheet
from .recorder import Recorder

GPS = {"latitude": 45.0301, "longitude": -121.5202, "accuracy": 4.0}
HALF_WAY = 16
"""Where a picture shows how it stands."""
MOST_TAPS = 8
"""For a vertical with a depth of two digits and a velocity of three, both keys included."""
LONGEST_SIDE = 2048

Computed = Callable[[Path], dict[str, Any]]


@pytest.fixture
def computed(capsys: pytest.CaptureFixture[str]) -> Computed:
    """What `bankside compute --json` says of the only gauging of a file."""

    def compute(path: Path) -> dict[str, Any]:
        code = main(["compute", "--json", str(path)])
        said = capsys.readouterr()
        assert code == 0, said.err
        [gauging] = json.loads(said.out)["gaugings"]
        return dict(gauging)

    return compute


@dataclass(frozen=True)
class Taken:
    """A gauging that was taken on the phone, and what its screens said."""

    crossing: Crossing
    positions: list[str]
    taps: list[int]
    """At each vertical of the plan."""
    answered: int
    shown: str
    """The discharge on the screen of the closed gauging, with its unit."""
    note: str
    file: Path

    @property
    def exported(self) -> dict[str, Any]:
        """What the file holds."""
        document: dict[str, Any] = json.loads(self.file.read_text(encoding="utf-8"))
        return document

    def said(self, part: str) -> dict[str, list[dict[str, Any]]]:
        """The entries about one part of the verticals, by tape position, each in its order."""
        entries = self.exported["entries"]
        tapes = {
            entry["what"].removesuffix("/tape"): entry["value"]
            for entry in entries
            if entry["what"].endswith("/tape")
        }
        found: dict[str, list[dict[str, Any]]] = {}
        for entry in entries:
            place, _, rest = entry["what"].partition(f"/{part}")
            if place in tapes and place != entry["what"] and rest.count("/") < 2:
                found.setdefault(tapes[place], []).append(entry)
        return found


WAYS = {
    "feet, without the point key": (ALDER_FORK, "0.1", {"tape": 1, "depth": 2}),
    "metres, with it": (QUILL_BROOK, "0.05", None),
}


@pytest.fixture(scope="module", params=WAYS)
def taken(
    request: pytest.FixtureRequest,
    app: Path,
    playwright: Playwright,
    browser: Browser,
    tmp_path_factory: pytest.TempPathFactory,
) -> Iterator[Taken]:
    """A gauging from its first entry to its file, with no network and no server."""
    folder = tmp_path_factory.mktemp("taken")
    crossing, resolution, decimals = WAYS[request.param]
    server = AppServer()
    faults = Faults()
    context = browser.new_context(
        **device(playwright, "phone"), geolocation=GPS, permissions=["geolocation"]
    )
    faults.watch(context)
    # A phone's browser has no place to choose for a file: it goes to the downloads.
    context.add_init_script("delete window.showSaveFilePicker")
    page = context.new_page()
    page.goto(server.address)
    expect(page.get_by_text("Ready to work offline", exact=True)).to_be_visible()
    server.stop()
    context.set_offline(True)
    page.reload()
    yield _taken(page, crossing, resolution, decimals, folder)
    context.close()
    assert faults.unexpected() == []


def _taken(
    page: Page,
    crossing: Crossing,
    resolution: str,
    decimals: dict[str, int] | None,
    folder: Path,
) -> Taken:
    recorder = Recorder(page)
    if decimals:
        walk.without_point_key(recorder)
    walk.start(recorder, crossing.unit)
    walk.name_site(recorder)
    walk.set_out(recorder, crossing)
    positions = walk.plan(recorder, crossing, resolution)
    picture(page, f"planned_{crossing.unit}")
    taps = _read(recorder, crossing, positions, decimals)
    recorder.press("Go to Check")
    expect(page.get_by_role("heading", name="Before leaving")).to_be_visible()
    picture(page, f"leaving_{crossing.unit}")
    walk.answer_findings(recorder)
    walk.finish(recorder, crossing, _photo(folder), quality="good")
    # It was all too quick for people, and that is found once the end is said.
    answered = walk.answer_findings(recorder)
    shown = walk.close(recorder)
    file = walk.export(recorder, folder)
    recorder.tap(page.get_by_role("link", name="Read or print the note"))
    expect(page.get_by_role("img", name="Section")).to_be_visible()
    picture(page, f"note_{crossing.unit}", full_page=True)
    note = page.get_by_role("region", name="Discharge", exact=True).inner_text()
    return Taken(crossing, positions, taps, answered, shown, note, file)


def _read(
    recorder: Recorder, crossing: Crossing, positions: list[str], decimals: dict[str, int] | None
) -> list[int]:
    taps = []
    wrong, misheard = crossing.misheard
    for place, called in enumerate(crossing.verticals):
        if place == HALF_WAY:
            picture(recorder.page, f"reading_{crossing.unit}")
        first = replace(called, depth=misheard) if place == wrong else called
        taps.append(walk.read_vertical(recorder, first, decimals and decimals["depth"]))
        if called.angle:
            walk.angle(recorder, positions[place], called.angle)
        if called.remark:
            walk.remark(recorder, positions[place], called.remark)
    right = crossing.verticals[wrong].depth
    where = positions[wrong]
    walk.correct_depth(recorder, where, right, "misheard", decimals and decimals["depth"])
    walk.insert(recorder, *crossing.inserted, decimals)
    picture(recorder.page, f"read_{crossing.unit}")
    return taps


def _photo(folder: Path) -> Path:
    """Make a picture as large as a camera's."""
    path = folder / "upstream.jpg"
    Image.linear_gradient("L").resize((3000, 2000)).convert("RGB").save(path, "JPEG")
    return path


def test_the_office_computes_what_the_phone_showed(taken: Taken, computed: Computed) -> None:
    """The file gives, in CPython, the discharge that was shown, equal to the last bit."""
    shown = taken.exported["shown"]["discharge_m3s"]

    assert computed(taken.file)["discharge_m3s"].hex() == float(shown).hex()


def test_a_table_of_the_same_readings_gives_the_same_figure(
    taken: Taken, computed: Computed, tmp_path: Path
) -> None:
    """Written as a table and never seen by the app, the readings give the same to the last bit."""
    sheet = tmp_path / "sheet.csv"
    sheet.write_text(as_sheet(taken.crossing, taken.positions), encoding="utf-8")
    shown = taken.exported["shown"]["discharge_m3s"]

    assert computed(sheet)["discharge_m3s"].hex() == float(shown).hex()


def test_the_screens_show_the_figure_of_the_office(taken: Taken, computed: Computed) -> None:
    """The closed gauging and the note show the office's discharge, to three figures, as called."""
    in_metres = computed(taken.file)["discharge_m3s"]
    called = in_metres / 0.3048**3 if taken.crossing.unit == "ft" else in_metres
    words = f"{called:.3g} {taken.crossing.unit}³/s"

    assert taken.shown == words
    assert words in taken.note


def test_every_figure_is_kept_as_it_was_typed(taken: Taken) -> None:
    """Depths, velocities, angles and stages stand in the file digit by digit, zeros included."""
    crossing = taken.crossing
    called = dict(zip(taken.positions, crossing.verticals, strict=True))
    called[crossing.inserted[0]] = crossing.inserted[1]
    depths = {tape: said[-1]["value"] for tape, said in taken.said("depth").items()}
    velocities = {
        tape: {str(entry["value"]["fraction"]): entry["value"]["value"] for entry in said}
        for tape, said in taken.said("readings").items()
    }
    angles = {tape: said[-1]["value"] for tape, said in taken.said("angle").items()}
    entries = taken.exported["entries"]
    stages = [one["value"]["value"] for one in entries if one["what"].startswith("stage/")]

    edges = {crossing.left: "0", crossing.right: "0"}
    assert depths == {tape: one.depth for tape, one in called.items()} | edges
    assert velocities == {tape: one.velocity for tape, one in called.items()}
    assert angles == {tape: one.angle for tape, one in called.items() if one.angle}
    assert stages == list(crossing.stages)


def test_what_was_corrected_stands_in_the_file(taken: Taken) -> None:
    """The depth that was misheard, its correction, the reason and who wrote it are all there."""
    wrong, misheard = taken.crossing.misheard
    first, second = taken.said("depth")[taken.positions[wrong]]

    assert (first["value"], second["value"]) == (misheard, taken.crossing.verticals[wrong].depth)
    assert (second["reason"], second["by"]) == ("misheard", "J. Ostrander")
    assert second["replaces"] == [first["id"]]


def test_the_record_has_every_vertical_in_its_place(taken: Taken) -> None:
    """Edges at the ends, verticals in the order of the tape, the inserted one among them."""
    [channel] = taken.exported["record"]["channels"]
    tapes = [vertical["tape"] for vertical in channel["verticals"]]
    crossing = taken.crossing
    written = [crossing.left, *taken.positions, crossing.inserted[0], crossing.right]

    assert tapes == sorted(float(tape) for tape in written)


def test_the_header_is_in_the_record(taken: Taken) -> None:
    """Site, position, crew, meter, stages, remarks and quality are those that were said."""
    record = taken.exported["record"]

    assert (record["site"]["stream"], record["site"]["name"]) == (walk.STREAM, walk.SITE)
    assert record["site"]["position"]["lat"] == pytest.approx(GPS["latitude"], abs=1e-9)
    assert [member["name"] for member in record["crew"]] == [name for name, _ in walk.CREW]
    assert record["quality"] == "good"
    assert {one["what"].split("/")[0] for one in taken.exported["entries"]} >= {"wading", "closed"}


def test_the_photo_is_in_the_file(taken: Taken) -> None:
    """It is a JPEG under its own checksum, its longest side cut down."""
    [(sha256, file)] = taken.exported["files"].items()
    content = b64decode(file["base64"])

    assert hashlib.sha256(content).hexdigest() == sha256
    with Image.open(io.BytesIO(content)) as kept:
        assert (kept.format, max(kept.size)) == ("JPEG", LONGEST_SIDE)


def test_findings_were_answered(taken: Taken) -> None:
    """Every finding that was open before leaving has an answer with a name in the file."""
    answers = [one for one in taken.exported["entries"] if one["what"].startswith("answers/")]

    assert "Too quick to be true" in {answer["value"]["check"] for answer in answers}
    assert len(answers) == taken.answered
    assert {answer["by"] for answer in answers} == {"J. Ostrander"}


def test_a_vertical_takes_few_taps(taken: Taken, capsys: pytest.CaptureFixture[str]) -> None:
    """Without the point key, two digits of depth and three of velocity take 8 taps at most."""
    with capsys.disabled():
        median = statistics.median(taken.taps)
        print(f"\nTaps at each vertical ({taken.crossing.unit}): {taken.taps}; median {median}.")
    verticals = zip(taken.taps, taken.crossing.verticals, strict=True)
    two_and_three = [taps for taps, called in verticals if digits(called) == (2, 3)]

    if taken.crossing is ALDER_FORK:
        assert two_and_three
        assert max(two_and_three) <= MOST_TAPS


def digits(called: Called) -> tuple[int, int]:
    """How many digits of a depth and of a first velocity count."""
    figures = (called.depth, next(iter(called.velocity.values())))
    first, second = (len(figure.replace(".", "").strip("-").lstrip("0")) for figure in figures)
    return first, second
