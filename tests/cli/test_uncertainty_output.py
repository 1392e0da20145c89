"""What `bankside compute` says about the uncertainty of a discharge."""

import json
import math
from pathlib import Path

import pytest

from bankside.cli import main

SHEET = str(Path(__file__).parents[2] / "demo" / "sheets" / "alder_fork.csv")


def test_the_methods_stand_side_by_side(capsys: pytest.CaptureFixture[str]) -> None:
    """One and two standard uncertainties are told for each method, and which is a lower bound."""
    assert main(["compute", SHEET]) == 0

    out = " ".join(capsys.readouterr().out.split())
    assert "ISO 748:2007, 9.3 (formula and tables from memory)" in out
    assert "Interpolated variance: Cohn, Kiang and Mason 2013" in out
    assert "Sauer and Meyer 1992" in out and "a lower bound" in out
    assert "The ± on the note is the first of these; docs/uncertainty.md explains each." in out


def test_the_parts_are_shown_with_where_they_come_from(capsys: pytest.CaptureFixture[str]) -> None:
    """Nobody has to take a figure on trust: its basis is one option away."""
    assert main(["compute", SHEET]) == 0
    without = capsys.readouterr().out
    assert main(["compute", SHEET, "--parts"]) == 0
    out = " ".join(capsys.readouterr().out.split())

    assert "left out, as nobody could source it: depth (S_d)" in out
    assert "S_v = 32 N^-0.88" in out and "S_v = 32 N^-0.88" not in without


def test_the_parts_add_up_in_the_json(capsys: pytest.CaptureFixture[str]) -> None:
    """Other programs get every part; their squares make the square of the whole."""
    assert main(["compute", SHEET, "--json"]) == 0
    budgets = json.loads(capsys.readouterr().out)["gaugings"][0]["uncertainty"]["budgets"]

    assert [b["key"] for b in budgets] == [
        "between-verticals",
        "iso-748",
        "interpolated-variance",
        "components",
    ]
    for budget in budgets:
        whole = math.sqrt(math.fsum(part["percent"] ** 2 for part in budget["parts"]))
        assert math.isclose(whole, budget["standard_percent"], rel_tol=1e-12)
        if budget["key"] != "between-verticals":
            assert budget["expanded_percent"] == 2 * budget["standard_percent"]
        assert budget["two_thirds_percent"] < budget["expanded_percent"]


def test_no_discharge_has_no_percent(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Still water gives a sentence instead of figures."""
    sheet = tmp_path / "still.csv"
    sheet.write_text(
        "tape (m),depth (m),velocity (m/s)\n0,0,0\n1,0.3,0\n2,0.3,0\n3,0,0\n", encoding="utf-8"
    )

    assert main(["compute", str(sheet)]) == 0
    out = " ".join(capsys.readouterr().out.split())
    assert "No uncertainty can be given in percent: the discharge is 0." in out


def test_what_is_grave_is_told_beside_the_figure(capsys: pytest.CaptureFixture[str]) -> None:
    """Nobody carries a figure away from a slipped reading without a word."""
    slipped = str(Path(SHEET).with_name("tansy_run.csv"))

    assert main(["compute", slipped]) == 0
    out = " ".join(capsys.readouterr().out.split())
    assert "The checks have 2 stop and 2 fix now: bankside check tansy_run.csv says what." in out
    assert main(["compute", SHEET]) == 0
    assert "The checks have" not in capsys.readouterr().out


def test_a_figure_in_doubt_is_said_to_be(capsys: pytest.CaptureFixture[str]) -> None:
    """A slipped depth stands before the percents that are worked out from it; else nothing does."""
    assert main(["compute", str(Path(SHEET).with_name("tansy_run.csv"))]) == 0
    assert "no range around this discharge can be promised" in _flat(capsys.readouterr().out)
    assert main(["compute", SHEET]) == 0
    assert "no range around" not in _flat(capsys.readouterr().out)


def test_the_json_says_whether_a_figure_is_in_doubt(capsys: pytest.CaptureFixture[str]) -> None:
    """Another program gets the flag that the text has as a sentence."""
    doubts = []
    for sheet in (SHEET, str(Path(SHEET).with_name("tansy_run.csv"))):
        assert main(["compute", sheet, "--json"]) == 0
        (one,) = json.loads(capsys.readouterr().out)["gaugings"]
        doubts.append(one["uncertainty"]["in_doubt"])

    assert doubts == [False, True]


def _flat(text: str) -> str:
    return " ".join(text.split())
