"""What a change changes: counted by size, ranked, and said by check."""

from __future__ import annotations

import json
from pathlib import Path

import pyarrow as pa
import pyarrow.parquet as pq
import pytest

from bankside.bulk.compare import Change, CheckChange, compare_figures, compare_findings
from bankside.bulk.run_folder import FORMAT, LAST_TABLE
from bankside.gauging.faults import InputRefused


def _folder(folder: Path, name: str, **columns: list[object]) -> Path:
    """A finished run by hand, of one part."""
    kind = {"gaugings": "compute", "findings": "check"}[name]
    document = {"format": FORMAT, "kind": kind, "inputs": [["in", 9, ""]], "gaugings_a_part": 9}
    for table in {name, LAST_TABLE[kind]}:
        (folder / table).mkdir(parents=True)
        pq.write_table(pa.table(columns), folder / table / "part-000000.parquet")
    (folder / "run.json").write_text(json.dumps(document), encoding="utf-8")
    return folder


def test_changes_are_counted_and_the_largest_stand_first(tmp_path: Path) -> None:
    """By hand: 10 % more, 0.5 % less, the same, and a figure on one side alone."""
    before = _folder(
        tmp_path / "a",
        "gaugings",
        gauging=["p", "q", "r", "s"],
        discharge_m3s=[1.0, 2.0, 3.0, None],
    )
    after = _folder(
        tmp_path / "b",
        "gaugings",
        gauging=["r", "p", "q", "s"],
        discharge_m3s=[3.0, 1.1, 1.99, 4.0],
    )

    compared = compare_figures(before, after, "discharge_m3s", "discharge_m3s", 3)

    assert compared.gaugings == 4
    assert compared.alone == 1
    # Unchanged, up to 0.1, 1, 5 and 10 %, above; 1.1 is a little more than 10 % in floats.
    assert compared.counts == (1, 0, 1, 0, 0, 1)
    assert [one.gauging for one in compared.changes] == ["s", "p", "q"]
    assert compared.changes[0] == Change("s", None, 4.0, None)
    assert compared.changes[2].percent == pytest.approx(-0.5)


def test_two_figures_of_one_run_are_held_against_each_other(tmp_path: Path) -> None:
    """One method against the other; a negative discharge changes by a percent of its amount."""
    run = _folder(
        tmp_path / "a", "gaugings", gauging=["p"], discharge_m3s=[-2.0], mean_section_m3s=[-1.9]
    )

    compared = compare_figures(run, run, "discharge_m3s", "mean_section_m3s", 9)

    assert compared.changes[0].percent == pytest.approx(5.0)


def test_findings_that_come_and_go_are_counted_by_check(tmp_path: Path) -> None:
    """The check that changes most stands first; a severity that is not told is one of its own."""
    before = _folder(
        tmp_path / "a",
        "findings",
        gauging=["p", "q", "p"],
        check=["Bed not resolved", "Bed not resolved", "Weak section"],
        severity=[None, None, "note"],
    )
    after = _folder(
        tmp_path / "b",
        "findings",
        gauging=["q", "p", "r", "s"],
        check=["Bed not resolved", "Weak section", "Weak section", "Weak section"],
        severity=[None, "note", "note", "note"],
    )

    assert compare_findings(before, after) == (
        CheckChange("Weak section", "note", before=1, after=3, new=2, gone=0),
        CheckChange("Bed not resolved", None, before=2, after=1, new=0, gone=1),
    )


def test_what_is_no_run_or_has_no_such_figure_is_said(tmp_path: Path) -> None:
    """The folder, what was found in it, and which figures there are."""
    run = _folder(tmp_path / "a", "gaugings", gauging=["p"], discharge_m3s=[1.0])
    checked = _folder(tmp_path / "b", "findings", gauging=["p"], check=["c"], severity=["note"])

    def said(after: Path, figure: str = "discharge_m3s") -> str:
        with pytest.raises(InputRefused) as refused:
            compare_figures(run, after, "discharge_m3s", figure, 1)
        return str(refused.value).partition(": ")[2]

    of_bulk = "must be a folder of bankside bulk compute or bankside bulk check"
    assert said(tmp_path) == f"{of_bulk} (found a, b)"
    assert said(tmp_path / "none") == f"{of_bulk} (found nothing there)"
    assert said(checked) == (
        "must be a folder of bankside bulk compute (found one of bankside bulk check)"
    )
    assert said(run, "flow") == 'must have a figure "flow" (found discharge_m3s)'


def test_a_run_that_is_not_whole_is_not_compared(tmp_path: Path) -> None:
    """Neither an interrupted one, of which gaugings would seem to be gone, nor a damaged one."""
    run = _folder(tmp_path / "a", "gaugings", gauging=["p"], discharge_m3s=[1.0])
    part = run / "gaugings" / "part-000000.parquet"
    part.write_bytes(part.read_bytes()[:50])
    with pytest.raises(InputRefused, match="gaugings: must be readable to its end"):
        compare_figures(run, run, "discharge_m3s", "discharge_m3s", 1)
    part.unlink()
    with pytest.raises(InputRefused, match=r"must be a finished run \(found 0 of 1 parts\)"):
        compare_figures(run, run, "discharge_m3s", "discharge_m3s", 1)
