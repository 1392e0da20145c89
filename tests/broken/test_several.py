"""A file of several gaugings of which one is broken: named, left out when asked, and counted."""

import json
from pathlib import Path
from typing import Any

import pytest

from .cases import HEADS, run

ROWS = "0;0;\n1;0.30;0.20\n2;0;\n"


def _block(site: str, rows: str = ROWS, date: str = "2026-07-14", heads: str = HEADS) -> str:
    return f"site: {site}\ndate: {date}\n{heads}\n{rows}\n"


POINTS = HEADS + ";fraction"
BROKEN = [
    (
        "a reading",
        _block("Birch", "0;0;\n1;0.3O;0.20\n2;0;\n"),
        'flow.csv, row 12, column B "depth (m)": found "0.3O"',
    ),
    ("a date", _block("Birch", date="31.02.2026"), 'flow.csv, row 9: found "31.02.2026"'),
    (
        "two left edges",
        _block("Birch", "0;0;;left\n1;0.3;0.2;\n2;0;;left\n", heads=HEADS + ";edge"),
        "flow.csv, row 13",
    ),
    (
        "a single odd fraction",
        _block("Birch", "0;0;;\n1;0.3;0.2;0.3\n2;0;;\n", heads=POINTS),
        "flow.csv, row 12",
    ),
    ("one vertical", _block("Birch", "1;0.3;0.2\n"), "flow.csv, row 11"),
]
SEVERAL = pytest.mark.parametrize(
    ("block", "says"), [pytest.param(block, says, id=name) for name, block, says in BROKEN]
)


def _written(folder: Path, block: str) -> Path:
    path = folder / "flow.csv"
    path.write_text(_block("Alder") + block + _block("Cedar"), encoding="utf-8")
    return path


def _rows(path: Path) -> int:
    return path.read_text(encoding="utf-8").count("\n")


@SEVERAL
def test_one_broken_gauging_refuses_the_file_and_the_way_round_is_named(
    block: str, says: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Nothing is computed by halves unless a person says so."""
    code, out, lines = run(capsys, "compute", _written(tmp_path, block))
    assert (code, out) == (2, "")
    assert lines[0].startswith(says), lines
    assert "2 other gaugings could be computed" in lines[1]
    assert "--keep-going" in lines[1]
    assert len(lines) == 2


@SEVERAL
def test_with_keep_going_the_others_are_computed_and_every_row_is_counted(
    block: str, says: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The refused gauging is on stderr and under not_computed; the rows add up to the file's."""
    path = _written(tmp_path, block)
    code, out, lines = run(capsys, "compute", path, "--keep-going", "--json")
    assert code == 0
    assert lines[0].startswith(says), lines
    document: dict[str, Any] = json.loads(out)
    assert [gauging["site"] for gauging in document["gaugings"]] == ["Alder", "Cedar"]
    (refused,) = document["not_computed"]
    assert "Birch" in refused["gauging"]
    assert says in refused["reason"]
    assert refused["rows"]["used"] == 0 and refused["rows"]["refused"] > 0
    (file,) = document["files"]
    assert sum(file["rows"].values()) == _rows(path)
    assert file["rows"]["used"] == 6
    parts = [gauging["rows"] for gauging in document["gaugings"]] + [refused["rows"]]
    assert all(sum(p[fate] for p in parts) <= n for fate, n in file["rows"].items())


def test_with_keep_going_the_table_counts_the_refused_rows(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """People see that rows are missing from the figures above."""
    path = _written(tmp_path, BROKEN[0][1])
    code, out, lines = run(capsys, "compute", path, "--keep-going")
    assert code == 0
    assert f"{_rows(path)} rows: 6 used" in out and "3 refused" in out
    assert lines[0].startswith(BROKEN[0][2])


def test_converting_names_the_way_round_too(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """`convert` has the same option and says so."""
    path = _written(tmp_path, BROKEN[0][1])
    code, out, lines = run(capsys, "convert", path, "--to", "csv")
    assert (code, out) == (2, "")
    assert lines[0].startswith(BROKEN[0][2])
    assert "--keep-going" in lines[1]
    code, out, lines = run(capsys, "convert", path, "--to", "csv", "--keep-going")
    assert code == 0
    assert "Alder" in out and "Cedar" in out and "Birch" not in out
    assert lines[0].startswith(BROKEN[0][2])


def test_keep_going_does_not_hide_that_nothing_is_left(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Where every gauging is refused there is nothing to go on with."""
    path = tmp_path / "flow.csv"
    path.write_text(BROKEN[0][1] + BROKEN[0][1].replace("Birch", "Dogwood"), encoding="utf-8")
    code, out, lines = run(capsys, "compute", path, "--keep-going")
    assert (code, out, len(lines)) == (2, "", 1)
    assert "the same on rows 5, 12" in lines[0]


def test_a_section_of_edges_alone_holds_nothing_to_compute(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Edges of water with no water between them are a dry section, and said to be."""
    path = tmp_path / "flow.csv"
    path.write_text(f"{HEADS};edge\n0;0;;left\n5;0;;right\n", encoding="utf-8")
    for command, ending in (("compute", "nothing to compute"), ("convert", "nothing to write")):
        more = ["--to", "csv"] if command == "convert" else []
        code, out, lines = run(capsys, command, path, *more)
        assert (code, out) == (2, "")
        (line,) = lines
        assert line.startswith("flow.csv: ")
        assert "no row holds a depth above 0" in line and line.endswith(ending)
