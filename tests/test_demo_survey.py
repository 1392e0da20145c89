"""The invented survey holds what its README promises, and is made anew to the same files."""

import json
import math
import subprocess
import sys
from collections.abc import Callable, Iterator
from itertools import combinations, pairwise
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import numpy as np
import openpyxl
import pytest
from PIL import Image

from bankside.gauging.records import Gauging
from bankside.gauging.rule_sets.load import load_rule_set
from bankside.gauging.units import metres_per
from bankside.intake.journals import united_sources
from bankside.intake.read import read_gaugings
from bankside.sheets.answers import Answers
from bankside.survey.document import survey_from_json
from bankside.survey.records import Survey
from bankside.survey.visits import Visit, visits_of

FOLDER = Path(__file__).parents[1] / "demo" / "survey"
CREWS = ("north", "south", "west")


def _handed_over() -> list[Path]:
    return sorted(path for crew in CREWS for path in (FOLDER / crew).iterdir())


@pytest.fixture(scope="module")
def survey() -> Survey:
    """The survey with its streams and sites."""
    return survey_from_json((FOLDER / "survey.json").read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def visits(survey: Survey) -> tuple[Visit, ...]:
    """Every gauging that the crews hand over, worked out."""
    sources = united_sources([read_gaugings(path, Answers()) for path in _handed_over()])
    items = [item for source in sources for item in source.items]
    assert [item.faults for item in items if item.faults] == []
    gaugings = [item.gauging for item in items if item.gauging is not None]
    return visits_of(gaugings, survey.sites, load_rule_set("common-practice"))


@pytest.fixture
def true_m3s(monkeypatch: pytest.MonkeyPatch) -> Iterator[Callable[[Visit], float]]:
    """What truly passed on a visit, which stands in no file."""
    monkeypatch.syspath_prepend(str(FOLDER))
    from making.basin import SITES, flow_m3s

    def flow(visit: Visit) -> float:
        assert visit.site is not None and visit.day is not None
        return float(flow_m3s(SITES[visit.site.id], visit.day))

    yield flow


def _at(visits: tuple[Visit, ...], site: str) -> list[Visit]:
    return [visit for visit in visits if visit.site is not None and visit.site.id == site]


def _apart(one: Visit, other: Visit) -> float:
    """How far two discharges are apart, in standard uncertainties of their difference."""
    a, b = one.standard_uncertainty_m3s, other.standard_uncertainty_m3s
    assert one.discharge_m3s is not None and other.discharge_m3s is not None
    assert a is not None and b is not None
    return abs(one.discharge_m3s - other.discharge_m3s) / math.sqrt(a * a + b * b)


def _content(path: Path) -> Any:
    """The bytes of a file; of a workbook what stands in its cells, as its writer may change."""
    if path.suffix != ".xlsx":
        return path.read_bytes()
    workbook = openpyxl.load_workbook(path)
    return {sheet.title: [[cell.value for cell in row] for row in sheet] for sheet in workbook}


def test_made_anew_it_is_the_same(tmp_path: Path) -> None:
    """Whoever runs the script gets the files that stand beside it, and no others."""
    subprocess.run([sys.executable, FOLDER / "make.py", tmp_path], check=True, timeout=120)

    made = {p.relative_to(tmp_path): _content(p) for p in tmp_path.rglob("*") if p.is_file()}
    names = ["survey.json", "points.gpx", *(p.relative_to(FOLDER) for p in _handed_over())]
    assert made == {Path(name): _content(FOLDER / name) for name in names}


def test_there_are_sites_enough_on_streams_enough(survey: Survey) -> None:
    """A basin, not a brook: 19 sites on 6 streams, each site with its label."""
    assert len(survey.sites) == 19
    assert len({site.stream for site in survey.sites}) == 6
    assert [site.id for site in survey.sites if site.label is None] == []
    assert [site.id for site in survey.sites if site.drainage_area_km2 is None] == ["QL-01"]


def test_sites_lie_on_their_streams_where_they_say(survey: Survey) -> None:
    """Distances along the lines are those of the sites, and mouths lie on the stream they join."""
    lines = {stream.name: [(p.lon, p.lat) for p in stream.line] for stream in survey.streams}
    for stream in survey.streams:
        if stream.joins is not None:
            mouth = lines[stream.name][-1]
            along, off = _along_and_off(lines[stream.joins], mouth)
            assert off < 0.005
            assert along == pytest.approx(stream.joins_at_km, abs=0.02)
    for site in survey.sites:
        if site.position is not None:
            place = (site.position.lon, site.position.lat)
            along, off = _along_and_off(lines[site.stream], place)
            assert off < 0.005, site.id
            assert along == pytest.approx(site.along_km, abs=0.02), site.id


def _along_and_off(line: list[tuple[float, float]], place: tuple[float, float]) -> Any:
    """Kilometres from the mouth of a line to a place, and how far off the line that is."""
    scale = np.array([math.cos(math.radians(45.6)), 1.0]) * math.radians(1.0) * 6371.0088
    points, at = np.array(line)[::-1] * scale, np.array(place) * scale
    best, along = (math.inf, 0.0), 0.0
    for a, b in pairwise(points):
        long = float(np.linalg.norm(b - a))
        part = min(1.0, max(0.0, float(np.dot(at - a, b - a)) / long**2))
        best = min(best, (float(np.linalg.norm(a + part * (b - a) - at)), along + part * long))
        along += long
    return best[1], best[0]


def test_three_crews_measure_in_conventions_of_their_own(visits: tuple[Visit, ...]) -> None:
    """27 gaugings by three crews, in feet, in metres and in centimetres, each at a known site."""
    assert len(visits) == 27
    assert [visit.id for visit in visits if visit.site is None] == []
    crews = {frozenset(m.name for m in visit.gauging.crew) for visit in visits}
    assert len(crews) == 3 and len(frozenset.union(*crews)) == 9
    units = {(v.gauging.units.length, v.gauging.units.depth) for v in visits}
    assert units == {("ft", None), ("m", "cm"), ("m", None)}


def test_the_figures_are_those_of_the_invented_water(
    visits: tuple[Visit, ...], true_m3s: Callable[[Visit], float]
) -> None:
    """What was read comes to what truly passed, but for the meter that was held back."""
    off = {
        (visit.site.id, str(visit.day), visit.gauging.meter.serial): 100
        * (visit.discharge_m3s / true_m3s(visit) - 1)
        for visit in visits
        if visit.site and visit.discharge_m3s and visit.gauging.meter and visit.gauging.ended
    }
    slow = off.pop(("MW-02", "2026-07-23", "P-12"))
    assert -16 < slow < -9
    assert max(map(abs, off.values())) < 5
    assert 0.5 < np.std(list(off.values())) < 3


def test_water_goes_on(true_m3s: Callable[[Visit], float]) -> None:
    """The invented water is added up along the streams: nothing gets lost on a day."""
    from datetime import date

    from making.basin import SITES, SPRINGS_M3S, STREAMS, flow_m3s

    yields = {stream.name: stream.yields for stream in STREAMS}
    day = date(2026, 7, 14)
    flow = {id_: flow_m3s(site, day) for id_, site in SITES.items()}
    for id_, site in SITES.items():
        if site.area_km2 is not None:
            above = site.above
            own = site.area_km2 - sum(SITES[other].area_km2 or 0 for other in above)
            extra = {"SB-01": SPRINGS_M3S, "QB-03": -flow["QL-01"]}.get(id_, 0.0)
            expected = sum(flow[o] for o in above) + own * yields[site.stream] / 1000 + extra
            assert own > 0
            assert flow[id_] == pytest.approx(expected)


def test_duplicates_agree_but_for_one(visits: tuple[Visit, ...]) -> None:
    """Four sites were measured twice on a day; at one the figures are too far apart."""
    pairs = {
        a.site.id: _apart(a, b)
        for a, b in combinations(visits, 2)
        if a.site is not None and a.site == b.site and a.day == b.day
    }
    assert set(pairs) == {"AF-03", "QB-02", "MW-01", "MW-02"}
    assert {site for site, apart in pairs.items() if apart > 2} == {"MW-02"}


@pytest.mark.parametrize(
    ("above", "below"), [(("AF-02", "TB-01"), "AF-03"), (("QB-01", "TR-01"), "QB-02")]
)
def test_confluences_close(visits: tuple[Visit, ...], above: tuple[str, ...], below: str) -> None:
    """What comes in at two confluences goes on, within twice the uncertainty."""
    out = _at(visits, below)[0]
    ins = [next(v for v in _at(visits, site) if v.day == out.day) for site in above]
    left = out.discharge_m3s - sum(v.discharge_m3s for v in ins)  # type: ignore[operator,misc]
    variance = sum((v.standard_uncertainty_m3s or 0.0) ** 2 for v in (*ins, out))
    assert abs(left) < 2 * math.sqrt(variance)


def test_the_springs_show(visits: tuple[Visit, ...]) -> None:
    """Sorrel Burn carries clearly more below its springs than above, on one day."""
    above, below = _at(visits, "SB-02")[0], _at(visits, "SB-01")[0]
    assert above.day == below.day
    assert (below.discharge_m3s or 0) > (above.discharge_m3s or 0)
    assert _apart(above, below) > 4


def test_one_tape_hangs_from_the_other_bank(visits: tuple[Visit, ...]) -> None:
    """On its second visit the bed of QB-01 is the mirror image of the first."""
    first, second = (_bed(visit.gauging) for visit in _at(visits, "QB-01"))

    assert np.corrcoef(first, second)[0, 1] < 0.8
    assert np.corrcoef(first, second[::-1])[0, 1] > 0.97
    others = [_at(visits, site) for site in ("MW-05", "MW-04", "AF-01")]
    for a, b in others:
        assert np.corrcoef(_bed(a.gauging), _bed(b.gauging))[0, 1] > 0.95


def _bed(gauging: Gauging) -> Any:
    """Depths from the left edge to the right, as called, over twenty equal parts of the width."""
    units = gauging.units
    verticals = gauging.channels[0].verticals
    left = next(v.tape for v in verticals if v.edge == "left")
    right = next(v.tape for v in verticals if v.edge == "right")
    along = sorted(((v.tape - left) / (right - left), v.depth or 0.0) for v in verticals)
    places, depths = zip(*along, strict=True)
    return metres_per(units.depth or units.length) * np.interp(
        (np.arange(20) + 0.5) / 20, places, depths
    )


def test_a_mix_up_of_units_was_found_and_is_kept(visits: tuple[Visit, ...]) -> None:
    """The record says which unit stood there before, who put it right and why."""
    found = [c for v in _at(visits, "QB-03") for c in v.gauging.corrections]

    assert [(c.what, c.was, c.now) for c in found] == [("unit of velocity", "ft/s", "m/s")]
    assert found[0].by == "R. Fenwright" and "training day" in (found[0].reason or "")


def test_what_went_wrong_is_in_it(survey: Survey, visits: tuple[Visit, ...]) -> None:
    """No staff gauge, an unfinished gauging, an overdue meter, sites without visit or position."""
    assert [(v.site.id, str(v.day)) for v in visits if v.gauging.no_gauge and v.site] == [
        ("TR-02", "2026-07-27")
    ]
    journals = [json.loads(path.read_text("utf-8")) for path in FOLDER.glob("west/*.json")]
    still_open = [j for j in journals if all(e["what"] != "closed" for e in j["entries"])]
    assert [e["value"] for j in still_open for e in j["entries"] if e["what"] == "site/label"] == [
        "TR-02"
    ]
    overdue = {
        v.gauging.meter.serial
        for v in visits
        if v.gauging.meter and any(f.check == "Calibration overdue" for f in v.findings)
    }
    assert overdue == {"P-12"}
    visited = {v.site.id for v in visits if v.site}
    assert [site.id for site in survey.sites if site.id not in visited] == ["SB-03"]
    assert [site.id for site in survey.sites if site.position is None] == ["MW-01"]


def test_the_waypoints_are_those_of_the_sites(survey: Survey) -> None:
    """Every site with a position has a waypoint of its label."""
    root = ElementTree.parse(FOLDER / "points.gpx").getroot()
    space = "{http://www.topografix.com/GPX/1/1}"
    found = {
        point.findtext(f"{space}name"): (float(point.attrib["lon"]), float(point.attrib["lat"]))
        for point in root.iter(f"{space}wpt")
    }
    assert found == {
        site.label: (site.position.lon, site.position.lat)
        for site in survey.sites
        if site.position is not None
    }


def test_pictures_are_small_and_can_be_opened(tmp_path: Path) -> None:
    """Six drawings, each a PNG of less than 40 kB, named by the entries of their journals."""
    from bankside.gauging.journal.document import journal_from_json

    opened = 0
    for path in FOLDER.glob("west/*.json"):
        journal = journal_from_json(path.read_text(encoding="utf-8"))
        named = {e.value["sha256"] for e in journal.entries if e.what.startswith("photos/")}
        assert named == set(journal.files)
        for file in journal.files.values():
            assert len(file.content) < 40_000
            picture = tmp_path / f"{file.sha256}.png"
            picture.write_bytes(file.content)
            with Image.open(picture) as image:
                image.load()
                assert image.format == "PNG" and image.size == (200, 140)
            opened += 1
    assert opened == 6
