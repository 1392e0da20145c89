"""What a change changes: counted by size, ranked, and said by check."""

from __future__ import annotations

from pathlib import Path

import pyarrow as pa
import pyarrow.parquet as pq
import pytest

from bankside.bulk.compare import Change, CheckChange, compare_figures, compare_findings
from bankside.gauging.faults import InputRefused


def _folder(folder: Path, name: str, **columns: list[object]) -> Path:
    (folder / name).mkdir(parents=True)
    pq.write_table(pa.table(columns), folder / name / "part-000000.parquet")
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
    """The folder, and which figures there are."""
    run = _folder(tmp_path / "a", "gaugings", gauging=["p"], discharge_m3s=[1.0])

    with pytest.raises(InputRefused, match="must be a folder of bankside bulk compute"):
        compare_figures(run, tmp_path, "discharge_m3s", "discharge_m3s", 1)
    with pytest.raises(InputRefused, match=r'must have a figure "flow" \(found discharge_m3s\)'):
        compare_figures(run, run, "flow", "flow", 1)
