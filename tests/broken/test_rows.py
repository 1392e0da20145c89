"""Rows that look like something else: none is left out of the figures without a word."""

import json
from pathlib import Path

import pytest

from .cases import HEADS, run

# A row with readings stands between these; without it the discharge is another.
KEPT = [
    (
        "numbered with a sign",
        f"no;{HEADS}\n1;0;0;\n2;1;0.3;0.2\n#3;2;0.5;0.4\n4;3;0;\n",
        "tape",
    ),
    (
        "called a mean in another column",
        f"{HEADS};check\n0;0;;\n1;0.3;0.2;\n2;0.5;0.4;mean of 2\n3;0;;\n",
        "tape",
    ),
    (
        "called a sum in another column",
        f"{HEADS};check\n0;0;;\n1;0.3;0.2;\n2;0.5;0.4;sum checked\n3;0;;\n",
        "tape",
    ),
    (
        "called a total in the first column",
        f"place;{HEADS}\n;0;0;\n;1;0.3;0.2\ntotal loss of float;2;0.5;0.4\n;3;0;\n",
        "tape",
    ),
]


@pytest.mark.parametrize(
    ("text", "column"), [pytest.param(text, column, id=name) for name, text, column in KEPT]
)
def test_a_row_of_readings_is_used_or_refused(
    text: str, column: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Words beside readings do not make them a remark."""
    path = tmp_path / "flow.csv"
    path.write_text(text, encoding="utf-8")
    code, out, lines = run(capsys, "compute", path, "--json")
    if code == 2:
        assert any("row 4" in line for line in lines), lines
        return
    (gauging,) = json.loads(out)["gaugings"]
    assert [panel[column] for panel in gauging["panels"]] == [0, 1, 2, 3]


def test_a_tape_position_without_readings_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A vertical that nobody measured widens its neighbours' panels; the notes say so."""
    path = tmp_path / "flow.csv"
    path.write_text(f"{HEADS}\n0;0;\n1;0.3;0.2\n2;;\n3;0.4;0.2\n4;0;\n", encoding="utf-8")
    code, out, lines = run(capsys, "compute", path, "--json")
    if code == 2:
        assert any("row 4" in line for line in lines), lines
        return
    (gauging,) = json.loads(out)["gaugings"]
    assert any("tape 2" in note for note in gauging["notes"])


def test_a_line_in_brackets_above_a_sheet_does_not_make_it_json(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Titles stand above tables; the sheet below is read."""
    path = tmp_path / "flow.csv"
    path.write_text(f"[summer survey]\n{HEADS}\n0;0;\n1;0.3;0.2\n2;0;\n", encoding="utf-8")
    code, out, lines = run(capsys, "compute", path, "--json")
    assert code == 0, lines
    assert json.loads(out)["files"][0]["rows"] == {"used": 3, "remark": 2, "refused": 0}


def test_utf_16_without_its_mark_is_read_whole(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Every other byte of such a text is 0, which tells what it is."""
    path = tmp_path / "flow.csv"
    path.write_bytes(f"{HEADS}\n0;0;\n1;0.3;0.2\n2;0;\n".encode("utf-16-le"))
    code, out, _ = run(capsys, "compute", path, "--json")
    assert code == 0
    assert json.loads(out)["files"][0]["rows"] == {"used": 3, "remark": 1, "refused": 0}


def test_a_sheet_of_our_own_with_several_units_is_read_back(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """What `convert` writes for gaugings of different units keeps the unit of every row."""
    for name, unit in (("june", "m"), ("july", "ft")):
        heads = HEADS.replace("(m)", f"({unit})")
        text = f"site: {name}\n{heads}\n0;0;\n1;0.3;0.2\n2;0;\n"
        (tmp_path / f"{name}.csv").write_text(text, encoding="utf-8")
    both = tmp_path / "both.csv"
    files = [tmp_path / "june.csv", tmp_path / "july.csv"]
    assert run(capsys, "convert", *files, "--to", "csv", "-o", both)[0] == 0
    code, out, lines = run(capsys, "compute", both, "--json")
    assert code == 0, lines
    assert [g["units"]["length"] for g in json.loads(out)["gaugings"]] == ["m", "ft"]


def test_a_file_name_that_is_no_text_is_shown_as_well_as_it_can_be(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The name of a file is never what a computation fails at."""
    path = tmp_path / "flow\udcff.csv"
    path.write_text(f"{HEADS}\n0;0;\n1;0.3;0.2\n2;0;\n", encoding="utf-8")
    code, out, lines = run(capsys, "compute", path, "--json")
    assert code == 0, lines
    assert "flow" in json.loads(out)["files"][0]["file"]
