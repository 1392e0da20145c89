"""A published survey of flow transects in an archive: every gauging, row and filed total.

Flow transects of the Maryland Biological Stream Survey, summer 2015, as filed by the Maryland
Department of Natural Resources. Read in place and never copied; without the files, skipped.
"""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from bankside.archive.archive import Archive
from bankside.archive.refresh import refresh
from bankside.archive.tables import gaugings
from bankside.archive.taking import TakenFile, take_file
from bankside.archive.verify import verify
from bankside.cli.inputs import compute_all
from bankside.intake.source import Source
from bankside.sheets.read import read_sheets

from .looking import everything, rows

FOLDER = Path(__file__).parents[2] / "../shared/data/stream_survey_flow_2015"
TRANSECTS = FOLDER / "flow_transects.xlsx"
TOTALS = FOLDER / "totals_as_filed.csv"

pytestmark = pytest.mark.skipif(
    not (TRANSECTS.exists() and TOTALS.exists()),
    reason="the survey's flow transects are not beside this repository",
)


def test_a_published_survey_is_taken_in_whole(archive: Archive) -> None:
    """Gaugings, rows and explained totals are those that `bankside compute` finds, in order."""
    taken = take_file(archive, TRANSECTS, by="a test")
    refresh(archive)
    read = read_sheets(TRANSECTS)
    source = Source(read.file, read.gaugings, read.counts, read.notes)
    _, computed = compute_all([source], "mid-section", "half-width")
    with TOTALS.open(encoding="utf-8", newline="") as stream:
        filed = {row["site"] for row in csv.DictReader(stream)}

    assert taken.faults == ()
    assert taken.rows == read.counts == {"used": 1302, "remark": 7, "refused": 0}
    assert len(taken.gaugings) == len(computed) == len(filed) == 95
    found = {row["place"]: row["discharge_m3s"] for row in rows(archive, gaugings)}
    assert found == {one.gauging.site.name: one.result.discharge_m3s for one in computed}
    assert set(found) == filed
    _reconciled(taken)

    assert list(verify(archive)) == []
    before = everything(archive)
    again = take_file(archive, TRANSECTS)
    assert (again.gaugings, again.added, again.faults) == (taken.gaugings, (), ())
    assert everything(archive) == before


def _reconciled(taken: TakenFile) -> None:
    """What was read for the archive explains each total that the agency filed."""
    assert taken.read is not None
    _, computed = compute_all([taken.read], "mid-section", "half-width")
    assert [one.item.label for one in computed if one.filed is None] == []
    rules = {one.filed.rule for one in computed if one.filed is not None}
    assert rules == {"distance to next vertical"}
