"""`bankside convert`: names that fit their form, and the offset of a sheet's times."""

import json
from pathlib import Path

import pytest

from bankside.cli import main

SHEET = (
    "Date: 2026-07-14\nStart: 10:05\ntape (m),depth (m),velocity (m/s)\n0,0,0\n1,0.5,0.4\n2,0,0\n"
)


@pytest.fixture
def sheet(tmp_path: Path) -> Path:
    """A sheet with a start that lacks its offset from UTC."""
    path = tmp_path / "alder.csv"
    path.write_text(SHEET, encoding="utf-8")
    return path


@pytest.mark.parametrize(
    ("form", "name"),
    [("json", "out.csv"), ("json", "out.XLSX"), ("csv", "out.json"), ("xlsx", "out.csv")],
)
def test_a_name_of_another_form_is_refused(
    form: str, name: str, sheet: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """JSON is not written under the name of a table, nor the other way round."""
    output = tmp_path / name
    assert main(["convert", str(sheet), "--to", form, "-o", str(output)]) == 2
    (line,) = capsys.readouterr().err.splitlines()
    assert f"one that ends in .{form} would be right, or --to {name[4:].lower()}" in line
    assert not output.exists()


@pytest.mark.parametrize("name", ["out.json", "out", "out.txt", "out.JSON"])
def test_other_names_are_taken(name: str, sheet: Path, tmp_path: Path) -> None:
    """A name that says no other form is the user's own."""
    assert main(["convert", str(sheet), "--to", "json", "-o", str(tmp_path / name)]) == 0
    assert json.loads((tmp_path / name).read_text(encoding="utf-8"))


@pytest.mark.parametrize("said", [["--time-zone", "-07:00"], ["--time-zone=-07:00"]])
def test_the_offset_as_an_option(
    said: list[str], sheet: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """An offset that begins with a minus is no option, and it is kept among the answers."""
    kept = tmp_path / "answers.toml"
    command = ["convert", str(sheet), "--to", "csv"]
    assert main([*command, *said, "--keep-answers", str(kept)]) == 0
    first = capsys.readouterr().out
    assert "# started: 2026-07-14T10:05:00-07:00\n" in first
    assert main([*command, "--answers", str(kept)]) == 0
    assert capsys.readouterr().out == first


def test_an_option_that_is_no_offset(sheet: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A name of a time zone is refused as an answer too."""
    assert main(["convert", str(sheet), "--to", "csv", "--time-zone", "MST"]) == 2
    told = capsys.readouterr().err
    assert told.startswith('--time-zone: found "MST"; the offset from UTC on that day')
    assert told.count("\n") == 1


@pytest.mark.parametrize(
    ("name", "begins"), [("out.json", b"{"), ("OUT.CSV", b"#"), ("out.gpkg", b"SQLite")]
)
def test_the_name_says_the_form(name: str, begins: bytes, sheet: Path, tmp_path: Path) -> None:
    """Where a name ends like one form alone, nobody has to say it."""
    assert main(["convert", str(sheet), "-o", str(tmp_path / name)]) == 0

    assert (tmp_path / name).read_bytes().startswith(begins)


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("out.zip", "may be several forms; --to datapackage or --to parquet would be right"),
        ("out.doc", "names no form; --to json, csv, xlsx, datapackage, "),
    ],
)
def test_a_name_that_says_no_form_asks_for_it(
    name: str, says: str, sheet: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """One sentence with what to add, and nothing is written."""
    assert main(["convert", str(sheet), "-o", str(tmp_path / name)]) == 2

    assert says in capsys.readouterr().err
    assert not (tmp_path / name).exists()
