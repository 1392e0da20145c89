"""The demonstration runs, and shows what it promises."""

import csv
import json
import runpy
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]


def test_the_demonstration_runs_to_its_end(capsys: pytest.CaptureFixture[str]) -> None:
    """Plan, tables, reconciliation and files come out of one run."""
    runpy.run_path(str(ROOT / "demo" / "run.py"), run_name="__main__")
    shown = capsys.readouterr().out

    assert "25 verticals in 23.9 ft" in shown
    assert 'follows "distance from last vertical"' in shown
    assert 'follows "mean-section"' in shown
    for note in ("Alder_Fork_above_the_footbridge", "Quill_Brook_below_the_ford"):
        assert f"out/{note}_2026-07-1" in shown
    assert len(list((ROOT / "out").glob("*_2026-07-1?.pdf"))) == 2
    assert "alder_fork_sheet.pdf: US Letter, 25 verticals" in " ".join(shown.split())
    assert (ROOT / "out" / "alder_fork_sheet.pdf").read_bytes().startswith(b"%PDF-")
    assert "did you mean 0.36 m?" in " ".join(shown.split())
    assert len(list((ROOT / "out").glob("*.xlsx"))) == 2
    assert "out/marrowmere.pdf" in shown
    assert (ROOT / "out" / "marrowmere.pdf").read_bytes().startswith(b"%PDF-")
    with (ROOT / "out" / "marrowmere_tables" / "gaugings.csv").open(encoding="utf-8") as table:
        assert len(list(csv.DictReader(table))) == 27
    record = json.loads((ROOT / "out" / "two_gaugings.json").read_text(encoding="utf-8"))
    assert [g["site"]["stream"] for g in record["gaugings"]] == ["Alder Fork", "Quill Brook"]
    lines = (ROOT / "out" / "alder_fork_tidy.csv").read_text(encoding="utf-8").splitlines()
    rows = list(csv.DictReader(line for line in lines if not line.startswith("#")))
    assert len(rows) == 27
    assert float(rows[13]["depth (ft)"]) == 1.70
