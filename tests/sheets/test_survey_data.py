"""A published survey read as filed: every row accounted for, every filed total reproduced.

Flow transects of the Maryland Biological Stream Survey, summer 2015, as filed by the Maryland
Department of Natural Resources. Read in place and never copied; without the files, skipped.
"""

import csv
from collections import Counter
from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise
from pathlib import Path

import numpy as np
import openpyxl
import pytest

from bankside.gauging.compute import compute
from bankside.gauging.reconcile import Reconciliation, reconcile_all
from bankside.sheets.read import SheetReading, read_sheets
from bankside.sheets.write import to_csv

FOLDER = Path(__file__).parents[2] / "../shared/data/stream_survey_flow_2015"
TRANSECTS = FOLDER / "flow_transects.xlsx"
TOTALS = FOLDER / "totals_as_filed.csv"

pytestmark = pytest.mark.skipif(
    not (TRANSECTS.exists() and TOTALS.exists()),
    reason="the survey's flow transects are not beside this repository",
)

Rows = dict[str, list[tuple[float, float, float]]]


@pytest.fixture(scope="module")
def reading() -> SheetReading:
    """The survey, read without a single answer."""
    return read_sheets(TRANSECTS)


@pytest.fixture(scope="module")
def raw() -> Rows:
    """Site → tape, depth and velocity of its rows, read without our reader."""
    sites: Rows = {}
    rows = openpyxl.load_workbook(TRANSECTS).active.iter_rows(min_row=2, values_only=True)
    for site, _, tape, _, depth, velocity, *_ in rows:
        sites.setdefault(site, []).append((float(tape), float(depth), float(velocity)))
    return sites


@pytest.fixture(scope="module")
def filed() -> dict[str, float]:
    """Site → the agency's total, m³/s."""
    with TOTALS.open(encoding="utf-8", newline="") as stream:
        return {row["site"]: float(row["discharge_m3s"]) for row in csv.DictReader(stream)}


@pytest.fixture(scope="module")
def explained(reading: SheetReading) -> dict[str, Reconciliation]:
    """Site → what explains its filed total."""
    gaugings = [item.gauging for item in reading.gaugings if item.gauging is not None]
    found = reconcile_all([(gauging, compute(gauging)) for gauging in gaugings])
    return {
        gauging.site.name: reconciled
        for gauging, reconciled in zip(gaugings, found, strict=True)
        if gauging.site.name is not None and reconciled is not None
    }


def _runs(rows: list[tuple[float, float, float]]) -> Iterator[np.ndarray]:
    """Cut a site's rows where its tape starts again; each run is sorted along the tape."""
    cuts = [0]
    tape = [row[0] for row in rows]
    direction = np.sign(sum(np.sign(np.diff(tape)))) or 1
    cuts += [i + 1 for i, (a, b) in enumerate(pairwise(tape)) if (b - a) * direction < 0]
    for start, end in pairwise([*cuts, len(rows)]):
        run = np.array(rows[start:end])
        yield run[np.argsort(run[:, 0])]


def _mid_section(rows: list[tuple[float, float, float]]) -> float:
    """Mid-section by the trapezoid of depth times velocity over each run of the tape."""
    return sum(float(np.trapezoid(run[:, 1] * run[:, 2], run[:, 0])) for run in _runs(rows))


def _to_next(rows: list[tuple[float, float, float]]) -> float:
    """Distance to the next row times depth times velocity, the last of each run left out."""
    total = 0.0
    for run in _runs(rows):
        total += float(np.sum(np.diff(run[:, 0]) * run[:-1, 1] * run[:-1, 2]))
    return total


def _to_next_as_filed(rows: list[tuple[float, float, float]]) -> float:
    """The same in the order of the sheet, as the agency's spreadsheet multiplies."""
    total = 0.0
    for (here, depth, velocity), (there, _, _) in pairwise(rows):
        total += abs(there - here) * depth * velocity
    return total


def test_every_row_has_a_fate(reading: SheetReading) -> None:
    """Of 1309 rows 1302 are used; the heads and six rows of dry sites are kept as remarks."""
    assert reading.counts == {"used": 1302, "remark": 7, "refused": 0}
    assert [fate.row for fate in reading.rows] == list(range(1, 1310))
    kept = Counter(fate.reason for fate in reading.rows if fate.fate == "remark")
    assert kept["heads"] == 1
    assert sum(count for reason, count in kept.items() if "nothing was measured" in reason) == 6


def test_every_site_is_a_gauging(reading: SheetReading, raw: Rows) -> None:
    """The 100 sites come in their order; on five of them nothing was measured."""
    assert [item.label for item in reading.gaugings] == list(raw)
    assert len(raw) == 100
    dry = {item.label for item in reading.gaugings if item.gauging is None}
    assert dry == {site for site, rows in raw.items() if all(d == 0 for _, d, _ in rows)}
    assert len(dry) == 5


def test_every_reading_is_as_filed(reading: SheetReading, raw: Rows) -> None:
    """Tape, depth and velocity of every vertical are the sheet's figures, unchanged."""
    for item in reading.gaugings:
        if item.gauging is None:
            continue
        found = [
            (v.tape, v.depth, v.velocity[0].value)
            for channel in item.gauging.channels
            for v in channel.verticals
        ]
        assert found == raw[item.label], item.label


def test_every_filed_total_is_found(
    explained: dict[str, Reconciliation], filed: dict[str, float]
) -> None:
    """The total on each site's last row is the one that the agency lists."""
    assert set(explained) == set(filed)
    assert len(filed) == 95
    for site, total in filed.items():
        assert explained[site].discharge_m3s == pytest.approx(total, rel=1e-9, abs=1e-12), site
        assert explained[site].unit == "m3/s"


def test_every_filed_total_follows_its_rule(
    explained: dict[str, Reconciliation], filed: dict[str, float]
) -> None:
    """Distance to the next vertical gives every filed total within 0.1 %."""
    for site, total in filed.items():
        found = explained[site]
        assert found.rule == "distance to next vertical", site
        assert found.rule_m3s == pytest.approx(total, rel=1e-3, abs=1e-9), site


def test_the_rule_is_the_agencys_by_plain_arithmetic(raw: Rows, filed: dict[str, float]) -> None:
    """Independently: the agency's totals are distance to next times depth times velocity."""
    for site, total in filed.items():
        candidates = (_to_next(raw[site]), _to_next_as_filed(raw[site]))
        assert any(value == pytest.approx(total, rel=1e-3, abs=1e-9) for value in candidates), site


def test_our_discharge_is_the_mid_section_by_plain_arithmetic(
    reading: SheetReading, raw: Rows
) -> None:
    """Our figure of every site is the trapezoid of depth times velocity along the tape."""
    for item in reading.gaugings:
        if item.gauging is not None:
            expected = _mid_section(raw[item.label])
            ours = compute(item.gauging).discharge_m3s
            assert ours == pytest.approx(expected, rel=1e-9, abs=1e-15), item.label


def test_how_mid_section_differs_from_the_filed_totals(
    explained: dict[str, Reconciliation], raw: Rows, filed: dict[str, float]
) -> None:
    """The distribution of the differences is that of the raw rows, worked out apart."""
    flowing = [site for site in filed if filed[site] != 0]
    assert len(flowing) == 94
    expected = np.array(
        [100.0 * (_mid_section(raw[site]) - filed[site]) / filed[site] for site in flowing]
    )
    ours = np.array([explained[site].difference_percent for site in flowing])
    assert np.allclose(ours, expected, rtol=0, atol=1e-6)
    bounds = [-0.5, -0.05, 0.05, 0.5, 1, 2, 5, 10, 100]
    assert np.array_equal(np.histogram(ours, bounds)[0], np.histogram(expected, bounds)[0])
    # As the data set's own description says: most agree, two channels at one site part by 54 %.
    assert np.median(expected) == pytest.approx(0.0, abs=0.005)
    assert int(np.sum(np.abs(expected) <= 0.05)) == 68
    assert float(expected.max()) == pytest.approx(53.63, abs=0.01)


def test_the_site_with_two_channels(explained: dict[str, Reconciliation], raw: Rows) -> None:
    """One site parts by more than half: its first channel ends in water with no edge written."""
    site = max(explained, key=lambda name: explained[name].difference_percent or 0.0)
    runs = list(_runs(raw[site]))
    assert len(runs) == 2
    ends_wet = [run[-1, 1] * run[-1, 2] > 0 for run in runs]
    assert any(ends_wet)
    ours = explained[site].discharge_m3s + explained[site].difference_m3s
    assert ours == pytest.approx(_mid_section(raw[site]), rel=1e-9)


def test_one_site_exactly(raw: Rows, reading: SheetReading) -> None:
    """One site worked out in exact fractions of its written decimals agrees to 12 figures."""
    item = next(i for i in reading.gaugings if i.gauging is not None)
    rows = [tuple(Fraction(repr(value)) for value in row) for row in raw[item.label]]
    exact = sum(
        (x2 - x1) * (d1 * v1 + d2 * v2) / 2 for (x1, d1, v1), (x2, d2, v2) in pairwise(rows)
    )
    assert item.gauging is not None
    assert compute(item.gauging).discharge_m3s == pytest.approx(float(exact), rel=1e-12)


def test_the_survey_comes_back_from_one_table(reading: SheetReading, tmp_path: Path) -> None:
    """Written as one tidy table and read again, every site has the same bits of discharge."""
    gaugings = [item.gauging for item in reading.gaugings if item.gauging is not None]
    path = tmp_path / "survey.csv"
    path.write_text(to_csv(gaugings), encoding="utf-8")
    back = [item.gauging for item in read_sheets(path).gaugings]
    assert [g and compute(g).discharge_m3s for g in back] == [
        compute(g).discharge_m3s for g in gaugings
    ]
