"""`bankside bulk` from the sheets to a comparison, as somebody types it."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pyarrow as pa
import pyarrow.parquet as pq
import pytest

from bankside.cli import main

SHEETS = Path(__file__).parents[2] / "demo" / "sheets"
RULES = ("common-practice", "after-florida-ft-1800")


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
    again = capsys.readouterr()
    assert "1 of 1 parts were there." in again.err
    assert again.out == f"{out}: {len(rows)} gauging, none worked out now.\n"
    assert main(["bulk", "compare", str(out), str(out), "--against", "mean_section_m3s"]) == 0
    assert "\n1 gauging\n" in "\n" + capsys.readouterr().out


def test_rule_sets_are_compared(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What each of two rule sets finds, check by check."""
    table = tmp_path / "table.parquet"
    assert main(["bulk", "simulate", "200", "-o", str(table)]) == 0
    for rules in RULES:
        assert main(["bulk", "check", str(table), str(tmp_path / rules), "--rules", rules]) == 0
    capsys.readouterr()

    folders = [str(tmp_path / rules) for rules in RULES]
    assert main(["bulk", "compare", *folders]) == 0

    before, *_, finding = capsys.readouterr().out.splitlines()[1].split(maxsplit=4)
    assert int(before) > 0
    assert finding == "Deeper than wading work (explain)"


@pytest.mark.parametrize("command", [["compute", "--uncertainty", "none"], ["check"]])
def test_what_was_left_out_is_told_whenever_it_is_asked(
    command: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """At first, of a finished folder, and of the parts that were there when it is taken up."""
    table, out = tmp_path / "in.parquet", tmp_path / "out"
    _written(table, [0.5, -1.0, 0.5, 0.5, -2.0, 0.5])
    again = ["bulk", *command, str(table), str(out), "--part", "2"]
    told = ["in.parquet, row 2, gauging 1: ", "in.parquet, row 5, gauging 4: "]

    def said(of_these: str) -> None:
        assert main(again) == 2
        found = capsys.readouterr()
        assert found.out == f"{out}: 4 gaugings{of_these}.\n"
        sentences = [line for line in found.err.splitlines() if "row" in line]
        assert [line.startswith(one) for line, one in zip(sentences, told, strict=True)] == [
            True
        ] * 2

    said("")
    said(", none worked out now")
    for file in out.rglob("part-000002.parquet"):
        file.unlink()
    said(", 1 worked out now")
    (out / "refused" / "part-000000.parquet").write_bytes(b"PAR1")
    assert main(again) == 2
    assert "part-000000.parquet: must be readable to its end" in capsys.readouterr().err


def test_what_lies_beside_tables_is_named(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A sheet and a folder; neither what is hidden, nor what is ours or a program's."""
    folder = tmp_path / "in"
    folder.mkdir()
    _written(folder / "a.parquet", [0.5])
    for name in (".hidden", "_SUCCESS", "run.json"):
        (folder / name).touch()
    assert main(["bulk", "check", str(folder), str(folder / "out")]) == 0
    assert capsys.readouterr().err == ""

    (folder / "sheet.csv").touch()
    (folder / "more").mkdir()
    assert main(["bulk", "check", str(folder), str(tmp_path / "out")]) == 0

    told = capsys.readouterr().err
    assert told.startswith(f"{folder}: found beside the tables what does not end in .parquet and ")
    assert "is passed over (more, sheet.csv); " in told


def test_an_id_on_several_rows_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Where it stands, in all tables of a folder, also those whose names end in capitals."""
    folder = tmp_path / "in"
    folder.mkdir()
    _written(folder / "A.PARQUET", [0.5, 0.6])
    _written(folder / "b.parquet", [0.5])

    assert main(["bulk", "check", str(folder), str(tmp_path / "out")]) == 0

    told = capsys.readouterr()
    assert told.out == f"{tmp_path / 'out'}: 3 gaugings.\n"
    where = f'("0", row 1 of {folder / "A.PARQUET"} and row 1 of {folder / "b.parquet"})'
    assert told.err.startswith(f"found 1 id on more than one row {where}; every row is worked out")


def test_a_table_is_not_gathered_again(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """It is named, with the command that it goes to; what was given beside it is gathered."""
    table, other = tmp_path / "table.parquet", tmp_path / "other.parquet"
    _written(table, [0.5])
    to_other = ["-o", str(other)]

    assert main(["bulk", "gather", str(table), *to_other]) == 2
    assert not other.exists()
    right = f"gathered already; `bankside bulk compute {table} FOLDER` would be right"
    assert right in capsys.readouterr().err

    assert main(["bulk", "gather", str(table), str(SHEETS / "alder_fork.csv"), *to_other]) == 2
    assert right in capsys.readouterr().err
    assert pq.read_metadata(other).num_rows > 0


def _written(table: Path, depths: list[float]) -> None:
    """One gauging for each depth, of three verticals, by the names 0, 1, 2 and so on."""
    columns = {
        "gauging": [str(number) for number in range(len(depths))],
        "tape_m": [[0.0, 1.0, 2.0]] * len(depths),
        "depth_m": [[0.0, depth, 0.0] for depth in depths],
        "velocity_ms": [[0.0, 0.25, 0.0]] * len(depths),
    }
    pq.write_table(pa.table(columns), table)


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


WITHOUT_NUMBA = (
    "import sys; sys.modules['numba'] = None;"
    "from bankside.cli import main; sys.exit(main(sys.argv[1:]))"
)


@pytest.mark.parametrize(
    ("line", "code", "says"),
    [
        ("bulk --help", 0, "Usage: bankside bulk COMMAND"),
        ("completion bash", 0, "_bankside()"),
        ("comptue x.csv", 2, 'Unknown command "comptue". Did you mean "compute"?'),
        ("bulk compute x.parquet out", 2, "-m pip install '.[bulk]' adds it."),
    ],
)
def test_a_plain_install_lacks_the_compiler_alone(line: str, code: int, says: str) -> None:
    """Without Numba only what is compiled is refused, by a sentence that names what adds it."""
    command = [sys.executable, "-c", WITHOUT_NUMBA, *line.split()]
    run = subprocess.run(command, capture_output=True, text=True, check=False, timeout=60)

    assert run.returncode == code
    assert says in run.stdout + run.stderr
    assert "Traceback" not in run.stderr
