"""`bankside bulk gather`: what becomes a row of the table, and what is told of the others."""

from __future__ import annotations

import json
import shutil
from pathlib import Path
from typing import Any

import pyarrow.parquet as pq
import pytest
from sqlalchemy import update

from bankside.archive.archive import Archive, create_archive
from bankside.archive.tables import gaugings
from bankside.cli import main
from bankside.gauging.journal.document import Journal, journal_to_json
from bankside.gauging.wire import to_json
from bankside.practice.crew import CAREFUL
from bankside.practice.making import make_stream
from bankside.practice.simulated_gauging import simulate_gauging

from ..archive.building import CROSSING_M3S, FASTER_M3S, Device, crossing, keep
from ..sheets.building import metric, text_sheet

SHEET = Path(__file__).parents[2] / "demo" / "sheets" / "alder_fork.csv"
Printed = pytest.CaptureFixture[str]
PRACTICE = simulate_gauging(make_stream("run", 3), CAREFUL, 1, 12).gauging
PRACTICE_SAID = "found practice on a simulated stream"
BUDGETS = {
    "iso-748": "iso_748_percent",
    "components": "components_percent",
    "interpolated-variance": "interpolated_variance_percent",
    "between-verticals": "between_percent",
}


def _archive(folder: Path, *devices: Device) -> tuple[str, Archive]:
    place = str(folder / "season.db")
    archive = create_archive(place)
    keep(archive, *devices)
    return place, archive


def _rows(table: Path) -> list[dict[str, Any]]:
    rows: list[dict[str, Any]] = pq.read_table(table).to_pylist()
    return rows


def _computed(folder: Path, capsys: Printed) -> dict[str, dict[str, Any]]:
    """What `bankside compute --json` says of the records in a folder, by the end of their names."""
    capsys.readouterr()
    assert main(["compute", "--json", *map(str, sorted(folder.iterdir()))]) == 0
    found = json.loads(capsys.readouterr().out)["gaugings"]
    return {Path(one["file"]).stem.rsplit("-", 1)[-1]: one for one in found}


def test_an_archive_gives_the_figures_of_compute(tmp_path: Path, capsys: Printed) -> None:
    """Each of its gaugings as it stands, to the last bit: finished, corrected later, or open."""
    corrected = crossing("g2", day="2026-07-15")
    corrected.review()
    corrected.correct()
    place, archive = _archive(
        tmp_path, crossing("g1"), corrected, crossing("g3", closed=False, day="2026-07-16")
    )
    archive.close()
    assert main(["archive", "import", place, str(SHEET)]) == 0
    table, out, records = (tmp_path / name for name in ("all.parquet", "out", "records"))

    assert main(["bulk", "gather", "--archive", place, "-o", str(table)]) == 0
    assert main(["bulk", "compute", str(table), str(out)]) == 0
    assert main(["archive", "export", place, "-o", str(records), "--what", "records"]) == 0

    ours = {row["gauging"]: row for row in _rows(out / "gaugings")}
    theirs = _computed(records, capsys)
    assert ours.keys() == theirs.keys()
    assert len(ours) == 4
    for id_, one in theirs.items():
        shared = one.keys() & ours[id_].keys()
        assert len(shared) == 8
        assert {name: ours[id_][name] for name in shared - {"channels"}} == {
            name: one[name] for name in shared - {"channels"}
        }
        budgets = {b["key"]: b["standard_percent"] for b in one["uncertainty"]["budgets"]}
        assert {ours[id_][name] == budgets.get(key) for key, name in BUDGETS.items()} == {True}
    discharges = [ours[id_]["discharge_m3s"] for id_ in ("g1", "g2", "g3")]
    assert discharges == pytest.approx([CROSSING_M3S, FASTER_M3S, CROSSING_M3S])


def test_what_of_an_archive_has_no_discharge_is_named(tmp_path: Path, capsys: Printed) -> None:
    """It stops nothing; where nothing at all is left, nothing is written."""
    place, archive = _archive(tmp_path, crossing("g1"))
    table = tmp_path / "all.parquet"
    begun = Device("g2")
    for what, value in (("units/length", "m"), ("site/stream", "Alder River")):
        begun.say(what, value)
    keep(archive, begun)

    assert main(["bulk", "gather", "--archive", place, "-o", str(table)]) == 2

    out = capsys.readouterr()
    assert out.out.endswith("all.parquet: 1 gauging.\n")
    assert out.err.startswith("gauging g2")
    assert [row["gauging"] for row in _rows(table)] == ["g1"]

    (tmp_path / "other").mkdir()
    place, other = _archive(tmp_path / "other", begun)
    table = tmp_path / "none.parquet"
    assert main(["bulk", "gather", "--archive", place, "-o", str(table)]) == 2
    assert "nothing was written, as no gauging was found" in capsys.readouterr().err
    assert not table.exists()
    for one in (archive, other):
        one.close()


def test_practice_never_gets_into_a_table(tmp_path: Path, capsys: Printed) -> None:
    """Not through an archive, nor from a file, nor out of an archive that somebody put it into."""
    place, archive = _archive(tmp_path, crossing("g1"))
    record, table = tmp_path / "practice.json", tmp_path / "all.parquet"
    record.write_text(to_json(PRACTICE), encoding="utf-8")
    assert main(["archive", "import", place, str(record)]) == 2

    assert main(["bulk", "gather", "--archive", place, "-o", str(table)]) == 0
    assert [row["gauging"] for row in _rows(table)] == ["g1"]
    capsys.readouterr()
    assert main(["bulk", "gather", str(record), "-o", str(tmp_path / "a.parquet")]) == 2
    assert capsys.readouterr().err.startswith(f"practice.json: {PRACTICE_SAID}")

    with archive.writing() as connection:
        members = json.loads(to_json(PRACTICE))
        del members["format"]
        connection.execute(update(gaugings).values(id=PRACTICE.id, record=json.dumps(members)))
    archive.close()
    assert main(["bulk", "gather", "--archive", place, "-o", str(tmp_path / "b.parquet")]) == 2
    assert PRACTICE_SAID in capsys.readouterr().err
    assert sorted(path.name for path in tmp_path.glob("*.parquet")) == ["all.parquet"]


def test_what_of_files_is_left_out_is_named_once(tmp_path: Path, capsys: Printed) -> None:
    """With its row; a gauging that stands twice is taken once; nothing is written over unasked."""
    good = text_sheet(tmp_path, metric(), "good.csv")
    unread = tmp_path / "unread.csv"
    unread.write_text("tape (m),depth (m),velocity (m/s)\n0,0,0\n1,0.2,\n2,0,0\n", encoding="utf-8")
    journal = tmp_path / "phone.json"
    journal.write_text(
        journal_to_json(Journal("g1", tuple(crossing("g1").entries))), encoding="utf-8"
    )
    (tmp_path / "again").mkdir()
    again = shutil.copy(good, tmp_path / "again" / "good.csv")
    table = tmp_path / "all.parquet"

    given = [*map(str, (good, unread, journal, again)), "-o", str(table)]
    assert main(["bulk", "gather", *given]) == 2

    out = capsys.readouterr()
    assert out.out.endswith("all.parquet: 2 gaugings.\n")
    said = out.err.splitlines()
    assert len(said) == 2
    assert said[0].startswith("unread.csv, row 3: velocity must be read at least once")
    assert said[1].startswith('good.csv: found a second gauging by the name of "good.csv, ')
    assert main(["bulk", "gather", str(good), "-o", str(table)]) == 2
    assert "is there already" in capsys.readouterr().err
    assert main(["bulk", "gather", str(good), "-o", str(table), "--replace"]) == 0
    assert len(_rows(table)) == 1
