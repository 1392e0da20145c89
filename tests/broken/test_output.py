"""Writing: what cannot be written is said, and nothing is left half-written."""

import io
import json
import sys
from pathlib import Path

import openpyxl
import pytest

from bankside.cli import main

from .cases import SOUND, run

NAME = "Łękno près du pont 🐟"
SOUND_TEXT = f"site: {NAME}\n" + "\n".join(SOUND) + "\n"


@pytest.fixture
def sheet(tmp_path: Path) -> Path:
    """A sound sheet in a folder of its own."""
    folder = tmp_path / "sheets"
    folder.mkdir()
    path = folder / "flow.csv"
    path.write_text(SOUND_TEXT, encoding="utf-8")
    return path


def _refused(capsys: pytest.CaptureFixture[str], *arguments: object) -> str:
    """Return the one line by which a command was refused."""
    code, out, lines = run(capsys, *arguments)
    assert (code, out) == (2, ""), lines
    (line,) = lines
    return line


@pytest.mark.parametrize("form", ["json", "csv", "xlsx"])
def test_an_output_that_is_there_is_kept(
    form: str, sheet: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Only --replace writes over a file."""
    output = tmp_path / f"kept.{form}"
    output.write_text("kept", encoding="utf-8")
    line = _refused(capsys, "convert", sheet, "--to", form, "--output", output)
    assert str(output) in line and "is there already" in line and "--replace" in line
    assert output.read_text(encoding="utf-8") == "kept"
    assert sorted(tmp_path.iterdir()) == [output, sheet.parent]


def test_a_refused_sheet_leaves_the_file_to_be_replaced_as_it_was(
    sheet: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """--replace replaces by a whole file or not at all."""
    sheet.write_text(SOUND_TEXT.replace("0.50", "O.50"), encoding="utf-8")
    output = tmp_path / "kept.csv"
    output.write_text("kept", encoding="utf-8")
    line = _refused(capsys, "convert", sheet, "--to", "csv", "-o", output, "--replace")
    assert 'found "O.50"' in line
    assert output.read_text(encoding="utf-8") == "kept"


@pytest.mark.parametrize("form", ["json", "csv", "xlsx"])
def test_an_output_in_no_folder_is_refused(
    form: str, sheet: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The sentence names the path and asks for a folder."""
    output = tmp_path / "nowhere" / f"flow.{form}"
    line = _refused(capsys, "convert", sheet, "--to", form, "--output", output)
    assert str(output) in line and "cannot be written" in line and "a folder" in line
    assert list(tmp_path.iterdir()) == [sheet.parent]


def test_an_output_below_a_file_is_refused(
    sheet: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A file is no folder to write into."""
    output = sheet / "flow.json"
    line = _refused(capsys, "convert", sheet, "--to", "json", "--output", output)
    assert str(output) in line and "cannot be written" in line


@pytest.mark.parametrize("form", ["json", "csv", "xlsx"])
def test_an_output_that_is_a_folder_is_refused(
    form: str, sheet: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """--replace replaces no folder."""
    output = tmp_path / "folder"
    output.mkdir()
    line = _refused(capsys, "convert", sheet, "--to", form, "--output", output, "--replace")
    assert str(output) in line and "folder" in line
    assert sorted(tmp_path.iterdir()) == [output, sheet.parent]
    assert list(output.iterdir()) == []


def test_an_output_with_too_long_a_name_is_refused(
    sheet: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """What the file system does not take is no fault of the program."""
    line = _refused(capsys, "convert", sheet, "--to", "csv", "-o", tmp_path / ("x" * 300))
    assert "cannot be written" in line
    assert list(tmp_path.iterdir()) == [sheet.parent]


@pytest.mark.parametrize("command", [("compute",), ("convert", "--to", "csv")])
def test_answers_that_cannot_be_kept_are_told_before_anything_is_printed(
    command: tuple[str, ...], sheet: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A command that is refused has printed nothing."""
    answers = tmp_path / "nowhere" / "answers.toml"
    line = _refused(capsys, command[0], sheet, *command[1:], "--keep-answers", answers)
    assert "answers.toml" in line and "cannot be written" in line


def test_a_text_longer_than_a_cell_is_not_cut(
    sheet: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A workbook's cell holds 32,767 signs; a longer remark is refused, never shortened."""
    remark = "ice " * 10_000
    rows = [row + ";" for row in SOUND[1:]]
    rows[1] += remark
    sheet.write_text("\n".join([SOUND[0] + ";remarks", *rows]) + "\n", encoding="utf-8")
    output = tmp_path / "flow.xlsx"
    code, _, lines = run(capsys, "convert", sheet, "--to", "xlsx", "--output", output)
    if code == 0:
        texts = [cell.value for row in openpyxl.load_workbook(output).active for cell in row]
        assert remark.strip() in texts
    else:
        assert code == 2 and not output.exists()
        assert "32,767" in lines[0]


@pytest.mark.parametrize("arguments", [(), ("--json",), ("--each", "--rows")])
def test_a_terminal_that_lacks_a_letter_is_no_fault(
    arguments: tuple[str, ...], sheet: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A name that an old code page cannot show is shown as well as it can be."""
    raw = io.BytesIO()
    monkeypatch.setattr(sys, "stdout", io.TextIOWrapper(raw, encoding="cp1252"))
    assert main(["compute", str(sheet), *arguments]) == 0
    sys.stdout.flush()
    if "--json" in arguments:
        assert json.loads(raw.getvalue())["gaugings"][0]["site"] == NAME
    else:
        assert "0.3200" in raw.getvalue().decode("cp1252")


@pytest.mark.parametrize("form", ["json", "csv"])
def test_converting_to_a_pipe_of_an_old_code_page_loses_no_letter(
    form: str, sheet: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """What is written is whole in UTF-8, or refused with the way round: --output."""
    raw = io.BytesIO()
    monkeypatch.setattr(sys, "stdout", io.TextIOWrapper(raw, encoding="cp1252"))
    code = main(["convert", str(sheet), "--to", form])
    sys.stdout.flush()
    if code == 0:
        written = raw.getvalue()
        name = json.loads(written)["site"]["name"] if form == "json" else written.decode()
        assert NAME in name
    else:
        assert code == 2 and raw.getvalue() == b""
        assert "--output" in capsys.readouterr().err
