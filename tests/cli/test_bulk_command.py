"""`bankside bulk` from the sheets to a comparison, as somebody types it."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pyarrow.parquet as pq
import pytest

from bankside.cli import main

SHEETS = Path(__file__).parents[2] / "demo" / "sheets"


def test_sheets_are_gathered_computed_and_checked(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The figures are those of `bankside compute`; again, everything is there already."""
    table, out = tmp_path / "table.parquet", tmp_path / "out"
    sheet = SHEETS / "alder_fork.csv"
    assert main(["bulk", "gather", str(sheet), "-o", str(table)]) == 0
    assert main(["bulk", "compute", str(table), str(out), "--uncertainty", "published"]) == 0
    capsys.readouterr()
    assert main(["compute", "--json", str(sheet)]) == 0
    gaugings = json.loads(capsys.readouterr().out)["gaugings"]

    rows = pq.read_table(out / "gaugings").to_pylist()
    assert [row["discharge_m3s"] for row in rows] == [one["discharge_m3s"] for one in gaugings]
    assert pq.read_table(out / "panels").num_rows == sum(len(one["panels"]) for one in gaugings)

    assert main(["bulk", "compute", str(table), str(out), "--uncertainty", "published"]) == 0
    assert "1 of 1 parts were there." in capsys.readouterr().err
    assert main(["bulk", "compare", str(out), str(out), "--against", "mean_section_m3s"]) == 0
    assert "\n1 gauging\n" in "\n" + capsys.readouterr().out


def test_rule_sets_are_compared(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What each of two rule sets finds, check by check."""
    table = tmp_path / "table.parquet"
    assert main(["bulk", "simulate", "200", "-o", str(table)]) == 0
    for rules in ("common-practice", "after-usgs-tm-3-a8"):
        assert main(["bulk", "check", str(table), str(tmp_path / rules), "--rules", rules]) == 0
    capsys.readouterr()

    folders = [str(tmp_path / rules) for rules in ("common-practice", "after-usgs-tm-3-a8")]
    assert main(["bulk", "compare", *folders]) == 0

    assert "One panel carries too much" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("arguments", "why"),
    [
        (["gather", "-o", "out.parquet"], "files or --archive must be given, one of them"),
        (["simulate", "0", "-o", "out.parquet"], "gaugings must be at least 1 (got 0)"),
        (["simulate", "9", "-o", "out.csv"], "one that ends in .parquet, such as out.parquet"),
        (["compare", "a", "b", "--most", "-1"], "--most must be at least 0 (got -1)"),
        (["compute", "none.parquet", "out"], "found nothing there; the path of a table"),
        (["compute", "none", "out", "--part", "0"], "--part must be at least 1 (got 0)"),
        (["compute", "none", "out", "--workers", "0"], "--workers must be at least 1"),
    ],
)
def test_what_cannot_be_done_is_said(
    arguments: list[str],
    why: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """One sentence, and nothing is written."""
    monkeypatch.chdir(tmp_path)

    assert main(["bulk", *arguments]) == 2

    assert why in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_a_plain_install_says_what_is_missing() -> None:
    """Without the compiler one sentence names what adds it."""
    script = (
        "import sys, importlib.util as u; find = u.find_spec;"
        "u.find_spec = lambda name, *a: None if name == 'numba' else find(name, *a);"
        "from bankside.cli import main; sys.exit(main(['bulk', 'simulate', '1', '-o', 'x']))"
    )
    run = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=False, timeout=60
    )

    assert run.returncode == 2
    assert run.stderr == (
        "Whole archives need numba, which a plain install has not: "
        "pip install 'bankside[bulk]' adds them.\n"
    )
