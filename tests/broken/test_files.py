"""Paths that are no readable file, and files of answers that hold none."""

import os
from pathlib import Path

import pytest

from .cases import SOUND, Case, check, parametrized, run

SOUND_TEXT = "\n".join(SOUND) + "\n"


def _sparse(path: Path) -> None:
    with path.open("wb") as stream:
        stream.write(SOUND_TEXT.encode())
        stream.truncate(200 * 1024 * 1024)


def _sparse_record(path: Path) -> None:
    with path.open("wb") as stream:
        stream.write(b'{"format": ')
        stream.truncate(200 * 1024 * 1024)


def _to_itself(path: Path) -> None:
    path.symlink_to(path)


PATHS = [
    Case("missing", lambda path: None, ("found no such file", "path of a table would be right")),
    Case(
        "a folder",
        Path.mkdir,
        ("found a folder", "the tables in it, such as those of FOLDER/*.csv, would"),
    ),
    Case("a pipe", os.mkfifo, ("found a device or a pipe", "ordinary file would be right")),
    Case("a link to itself", _to_itself, ("could not be opened", "symbolic links")),
    Case("200 MB", _sparse, ("found more than 64 MB", "at most 64 MB are read", "split the file")),
    Case("200 MB of a record", _sparse_record, ("found more than 64 MB", "at most 64 MB are read")),
    Case(
        "a pattern that no shell has filled in",
        lambda path: None,
        ("*.csv", "found no such file"),
        file="*.csv",
    ),
]


@parametrized(PATHS)
def test_a_path_that_is_no_readable_file_is_refused(
    case: Case, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Nothing is opened that could hang or fill the memory."""
    check(case, tmp_path, capsys)


def test_a_device_is_refused_unread(capsys: pytest.CaptureFixture[str]) -> None:
    """An endless device is not even opened."""
    code, out, lines = run(capsys, "compute", "/dev/zero")
    assert (code, out) == (2, "")
    assert lines == ["zero: found a device or a pipe; an ordinary file would be right"]


def test_the_faults_of_every_file_are_told_at_once(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A sound file among broken ones is not computed, and every broken one is named."""
    names = ("june.csv", "july.csv", "august.csv")
    (tmp_path / names[0]).write_text(SOUND_TEXT, encoding="utf-8")
    (tmp_path / names[1]).write_text(SOUND_TEXT.replace("0.50", "O.50"), encoding="utf-8")
    code, out, lines = run(capsys, "compute", *(tmp_path / name for name in names))
    assert (code, out) == (2, "")
    assert lines[0].startswith('july.csv, row 4, column B "depth (m)": found "O.50"')
    assert lines[1].startswith("august.csv: found no such file")
    assert lines[2:] == [
        "one other gauging could be computed: say --keep-going to leave the refused ones out"
    ]


ANSWERS = [
    ("no TOML", "decimal = \n", ("line 1", "TOML")),
    ("no text", b"\xff\xfe\x00", ("TOML",)),
    ("an unknown key", 'colour = "red"\n', ("colour", "is no answer", "date_order, decimal")),
    ("an unknown choice", 'decimal = "dot"\n', ("decimal", "'dot'", "point, comma would be right")),
    ("a number for a text", "separator = 1\n", ("separator", "found 1", "a text would be right")),
    ("no table of columns", 'columns = "B"\n', ("columns", "'B'", "a table of names")),
    (
        "an unknown column",
        '[columns]\ndeep = "B"\n',
        ("columns", "'deep'", "tape, depth, velocity"),
    ),
    ("a number for a head", "[columns]\ndepth = 2\n", ("columns", "found 2 for depth", "a head")),
    ("no head at all", "[columns]\ndepth = []\n", ("columns", "depth", "would be right")),
    ("an unknown unit", '[units]\ncolour = "m"\n', ("units", "'colour'", "tape, depth, velocity")),
    ("a unit that is none", '[units]\ndepth = "furlong"\n', ("units", "depth", "'furlong'", "cm")),
    ("a rating that is no list", 'rating = "0.5"\n', ("rating", "'0.5'", "a list of texts")),
]


@pytest.mark.parametrize(
    ("content", "says"),
    [pytest.param(content, says, id=name) for name, content, says in ANSWERS],
)
def test_a_file_of_answers_that_holds_none_is_refused(
    content: str | bytes,
    says: tuple[str, ...],
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """The sentence names the file of answers, the key, and what would be right."""
    path, answers = tmp_path / "flow.csv", tmp_path / "answers.toml"
    path.write_text(SOUND_TEXT, encoding="utf-8")
    answers.write_bytes(content if isinstance(content, bytes) else content.encode())
    code, out, lines = run(capsys, "compute", path, "--answers", answers)
    assert (code, out) == (2, "")
    (line,) = lines
    assert line.startswith("answers.toml")
    assert all(part in line for part in says), line


@pytest.mark.parametrize("kind", ["missing", "folder"])
def test_a_file_of_answers_that_cannot_be_opened_is_refused(
    kind: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The sentence is about the file of answers and shows no error number."""
    path, answers = tmp_path / "flow.csv", tmp_path / "answers.toml"
    path.write_text(SOUND_TEXT, encoding="utf-8")
    if kind == "folder":
        answers.mkdir()
    code, out, lines = run(capsys, "compute", path, "--answers", answers)
    assert (code, out) == (2, "")
    (line,) = lines
    assert line.startswith("answers.toml: ")
    assert "Errno" not in line
