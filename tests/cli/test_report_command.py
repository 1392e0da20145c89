"""`bankside report`: which files come out, and what is said where none can."""

import html
import subprocess
from pathlib import Path

import openpyxl
import pytest

from bankside.cli import main

SHEETS = Path(__file__).parents[2] / "demo" / "sheets"
FEET = str(SHEETS / "alder_fork.csv")
METRES = str(SHEETS / "quill_brook.xlsx")


def names(folder: Path) -> list[str]:
    """The files in a folder, in order."""
    return sorted(path.name for path in folder.iterdir())


def test_several_gaugings_make_a_file_each(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Files are named by stream, site and date, and their names are printed."""
    assert main(["report", FEET, METRES, "--output-folder", str(tmp_path)]) == 0

    wanted = [
        "Alder_Fork_above_the_footbridge_2026-07-14.pdf",
        "Quill_Brook_below_the_ford_2026-07-15.pdf",
    ]
    assert names(tmp_path) == wanted
    assert capsys.readouterr().out.split("\n")[:2] == [str(tmp_path / name) for name in wanted]
    assert all((tmp_path / name).read_bytes().startswith(b"%PDF-") for name in wanted)


@pytest.mark.parametrize(
    ("options", "suffix", "start"),
    [
        ([], ".pdf", b"%PDF-"),
        (["--html"], ".html", b"<!DOCTYPE html>"),
        (["--figure", "svg"], ".svg", b"<?xml"),
        (["--figure", "png"], ".png", b"\x89PNG"),
    ],
)
def test_one_gauging_goes_to_the_file_that_was_named(
    options: list[str], suffix: str, start: bytes, tmp_path: Path
) -> None:
    """Each kind of file is what its name says."""
    target = tmp_path / f"note{suffix}"

    assert main(["report", FEET, "-o", str(target), *options]) == 0
    assert target.read_bytes().startswith(start)


def test_the_same_gauging_twice_makes_two_files(tmp_path: Path) -> None:
    """A name that is taken gets a number; nothing is written over in one run."""
    assert main(["report", FEET, FEET, "--figure", "svg", "--output-folder", str(tmp_path)]) == 0

    stem = "Alder_Fork_above_the_footbridge_2026-07-14"
    assert names(tmp_path) == [f"{stem}.svg", f"{stem}_2.svg"]


def test_a_name_makes_no_folder_and_no_hidden_file(tmp_path: Path) -> None:
    """Whatever a stream is called, its file lies in the folder that was named."""
    sheet = tmp_path / "sheet.csv"
    sheet.write_text(
        "# stream: ../../.CON: <x> \n# site: " + "y" * 300 + "\n"
        "tape (m),depth (m),velocity (m/s),edge\n0,0,0,left\n1,0.5,0.3,\n2,0.5,0.3,\n3,0,0,right\n",
        encoding="utf-8",
    )
    folder = tmp_path / "out"
    folder.mkdir()

    assert main(["report", str(sheet), "--figure", "svg", "--output-folder", str(folder)]) == 0
    assert names(folder) == [f"CON_x_{'y' * 74}.svg"]


def test_a_long_name_is_shortened_and_the_date_is_not(tmp_path: Path) -> None:
    """The date tells one note of a site from the next."""
    sheet = written(tmp_path, stream="s" * 90, site="t" * 90, date="2026-07-14")
    folder = tmp_path / "out"

    assert main(["report", str(sheet), "--figure", "svg", "--output-folder", str(folder)]) == 0
    assert names(folder) == [f"{'s' * 69}_2026-07-14.svg"]


def written(folder: Path, last: str = "3,0,0,right", **header: str) -> Path:
    """A sheet of four verticals with a header of its own."""
    sheet = folder / "sheet.csv"
    lines = [f"# {name.replace('_', ' ')}: {value}" for name, value in header.items()]
    lines += ["tape (m),depth (m),velocity (m/s),edge", "0,0,0,left", "1,0.5,0.3,", "2,0.5,0.3,"]
    sheet.write_text("\n".join([*lines, last]) + "\n", encoding="utf-8")
    return sheet


def test_a_folder_that_is_not_there_is_made(tmp_path: Path) -> None:
    """Nobody has to make folders first."""
    folder = tmp_path / "season" / "notes"

    assert main(["report", FEET, "--figure", "svg", "--output-folder", str(folder)]) == 0
    assert names(folder) == ["Alder_Fork_above_the_footbridge_2026-07-14.svg"]


def test_of_several_files_none_is_written_if_one_is_there(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A run does not stop half way: the last name is taken, so the first is not written either."""
    taken = tmp_path / "Quill_Brook_below_the_ford_2026-07-15.svg"
    taken.write_text("signed", encoding="utf-8")
    arguments = ["report", FEET, METRES, "--figure", "svg", "--output-folder", str(tmp_path)]

    assert main(arguments) == 2
    assert f"{taken}: is there already" in capsys.readouterr().err
    assert names(tmp_path) == [taken.name]
    assert taken.read_text(encoding="utf-8") == "signed"


def test_an_unfinished_gauging_is_told_from_a_finished_one(tmp_path: Path) -> None:
    """Before the crew is out nobody is asked for what is still to come, and the note says so."""
    sheet, target = written(tmp_path, last="3,0.4,0.2,"), tmp_path / "note.html"
    arguments = ["report", str(sheet), "--html", "-o", str(target), "--replace"]

    assert main([*arguments, "--unfinished"]) == 0
    so_far = target.read_text(encoding="utf-8")
    assert main(arguments) == 0
    finished = target.read_text(encoding="utf-8")
    assert "Unfinished: readings are still to come" in so_far and "Unfinished" not in finished
    assert "Right edge not measured: the figure is too small" in so_far
    assert "No starting or finishing edge" in finished
    assert "No starting or finishing edge" not in so_far


@pytest.mark.parametrize("form", ["html", "workbook"])
def test_an_unknown_rule_set_is_told_on_the_file(form: str, tmp_path: Path) -> None:
    """Whoever reads the file learns that other values were used than the record asks for."""
    sheet = written(tmp_path, rule_set="nobodys")
    target = tmp_path / ("note.html" if form == "html" else "note.xlsx")

    assert main(["report", str(sheet), f"--{form}", "-o", str(target)]) == 0
    words = (
        html.unescape(target.read_text(encoding="utf-8"))
        if form == "html"
        else " ".join(
            str(cell.value)
            for row in openpyxl.load_workbook(target)["Summary"].iter_rows()
            for cell in row
        )
    )
    assert 'The record names the rule set "nobodys", which is not known here' in words


def test_a_file_that_is_there_stays_unless_it_may_be_replaced(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A signed note is not written over by chance."""
    target = tmp_path / "note.svg"
    target.write_text("signed", encoding="utf-8")
    arguments = ["report", FEET, "--figure", "svg", "-o", str(target)]

    assert main(arguments) == 2
    assert target.read_text(encoding="utf-8") == "signed"
    assert "is there already" in capsys.readouterr().err
    assert main([*arguments, "--replace"]) == 0
    assert target.read_bytes().startswith(b"<?xml")


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        ([FEET, METRES, "-o", "a.pdf"], "--output is for one gauging, found 2"),
        ([FEET, "-o", "a.png"], "a.png: found this name; one that ends in .pdf"),
        ([FEET, "-o", "a.pdf", "--output-folder", "."], "were both given"),
        ([FEET, "--html", "--figure", "svg"], "--html and --figure were both given"),
        ([FEET, "--output-folder", FEET], "alder_fork.csv: is no folder"),
        ([FEET, "--rules", "nobody"], 'a rule set must be one of "common-practice"'),
        ([FEET, "--paper", "a5"], "a4"),
    ],
)
def test_what_cannot_be_done_is_said_in_one_sentence(
    arguments: list[str],
    sentence: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """A wrong command names what was found and what would be right, and writes nothing."""
    monkeypatch.chdir(tmp_path)

    assert main(["report", *arguments]) == 2
    assert sentence in capsys.readouterr().err
    assert names(tmp_path) == []


def test_the_paper_can_be_chosen(tmp_path: Path) -> None:
    """Feet may go on A4 as well."""
    target = tmp_path / "note.pdf"
    assert main(["report", FEET, "--paper", "a4", "-o", str(target)]) == 0

    run = subprocess.run(
        ["pdfinfo", target], capture_output=True, text=True, check=True, timeout=60
    )
    assert "(A4)" in run.stdout
    assert "Pages:           2" in run.stdout
