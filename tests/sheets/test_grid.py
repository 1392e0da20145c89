"""What a file is, and what is refused before anything is read."""

import os
from datetime import date
from pathlib import Path

import pytest

from bankside.gauging.faults import InputRefused
from bankside.sheets.files import grid as grid_module
from bankside.sheets.files.grid import Grid, cell, column_letter, error_literal, padded_rows
from bankside.sheets.files.reading import read_grids

TABLE = b"tape,depth,velocity\n0.4,0.35,0.41\n0.8,0.37,0.44\n"


def _sentence(path: Path, **options: str) -> str:
    """The one sentence by which a file is refused."""
    with pytest.raises(InputRefused) as caught:
        read_grids(path, **options)
    (fault,) = caught.value.faults
    assert "\n" not in str(fault)
    assert fault.file is not None
    return str(fault)


@pytest.mark.parametrize(
    ("index", "letters"),
    [(0, "A"), (25, "Z"), (26, "AA"), (51, "AZ"), (701, "ZZ"), (702, "AAA"), (16383, "XFD")],
)
def test_columns_have_the_letters_that_spreadsheets_show(index: int, letters: str) -> None:
    """Column letters are those a person sees above the column."""
    assert column_letter(index) == letters


def test_a_negative_column_is_no_column() -> None:
    """A negative index is a mistake of the caller."""
    with pytest.raises(ValueError, match="0 or more"):
        column_letter(-1)


def test_cells_outside_the_grid_are_empty() -> None:
    """Asking beyond a short row, the last row or before the first gives None."""
    grid = Grid("a.csv", None, rows=(("x",), ()), row_numbers=(1, 2))

    assert cell(grid, 0, 0) == "x"
    assert [cell(grid, *place) for place in [(0, 1), (1, 0), (2, 0), (-1, 0), (0, -1)]] == [
        None
    ] * 5


def test_rows_are_cut_after_their_last_value_but_keep_marked_cells() -> None:
    """A cell with an error has no value, and still its row does not look empty."""
    rows = padded_rows([[1.0, None, None], [None, None]], {(1, 1), (2, 0)})

    assert rows == ((1.0,), (None, None), (None,))


@pytest.mark.parametrize("text", ["#DIV/0!", "#N/A", "#n/a", "#REF!"])
def test_errors_of_spreadsheets_are_known(text: str) -> None:
    """What a failed formula leaves behind is told from other texts."""
    assert error_literal(text) == text.upper()


@pytest.mark.parametrize("text", ["", "#", "# N/A", "N/A", "#1", "#note"])
def test_other_texts_are_no_errors(text: str) -> None:
    """A number sign alone makes no error."""
    assert error_literal(text) is None


def test_a_text_table_is_read_whatever_its_name(tmp_path: Path) -> None:
    """Content decides what a file is, not its name."""
    path = tmp_path / "table.xlsx"
    path.write_bytes(TABLE)

    (grid,) = read_grids(path)

    assert grid.file == "table.xlsx"
    assert grid.sheet is None
    assert grid.rows[1] == ("0.4", "0.35", "0.41")
    assert not grid.hidden


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"%PDF-1.7\n", "PDF"),
        (b"\x89PNG\r\n\x1a\n", "PNG image"),
        (b"\xff\xd8\xff\xe0", "JPEG image"),
        (b"\x1f\x8b\x08\x00", "gzip archive"),
        (b"SQLite format 3\x00", "database"),
        (b"{\\rtf1", "Rich Text"),
        (b"<html><table><tr><td>1</td></tr></table></html>", "web page"),
        (b"\xef\xbb\xbf\n <!DOCTYPE HTML>\n<html>", "web page"),
        ("<html>".encode("utf-16"), "web page"),
        (b'<?xml version="1.0"?><Workbook/>', "XML file"),
        (b'{"format": "x"}', "JSON"),
        (b'[\n {"a": 1}]', "JSON"),
        (b"", "empty file"),
        (b"\x00\x01\x02\x03\x04", "binary data"),
        (b"\x09\x08\x10\x00\x00\x06\x05\x00", "binary data"),
    ],
)
def test_a_file_that_is_no_table_is_named(tmp_path: Path, content: bytes, words: str) -> None:
    """Whatever is given in place of a table is told what it is and what would be right."""
    path = tmp_path / "sheet.xls"
    path.write_bytes(content)

    sentence = _sentence(path)

    assert words in sentence
    assert "would be right" in sentence


def test_folders_devices_and_pipes_are_refused_without_waiting(tmp_path: Path) -> None:
    """Only an ordinary file is opened; a pipe would keep the reader waiting for ever."""
    pipe = tmp_path / "pipe.csv"
    os.mkfifo(pipe)

    assert "folder" in _sentence(tmp_path)
    assert "device or a pipe" in _sentence(pipe)
    assert "device or a pipe" in _sentence(Path(os.devnull))


def test_a_missing_file_or_a_broken_link_is_said_to_be_missing(tmp_path: Path) -> None:
    """A path that leads to nothing gets a sentence."""
    link = tmp_path / "link.csv"
    link.symlink_to(tmp_path / "gone.csv")

    assert "no such file" in _sentence(tmp_path / "gone.csv")
    assert "no such file" in _sentence(link)


def test_paths_that_cannot_be_opened_get_a_sentence(tmp_path: Path) -> None:
    """A loop of links, a name that is too long, a NUL in the name: a sentence each."""
    loop = tmp_path / "loop.csv"
    loop.symlink_to(loop)

    for path in (loop, tmp_path / ("x" * 300), tmp_path / "a\0b.csv"):
        assert "could not be opened" in _sentence(path)


def test_a_file_without_permission_gets_a_sentence(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A file that may not be read is said to be one."""
    path = tmp_path / "closed.csv"
    path.write_bytes(TABLE)

    def refuse(*_: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "open", refuse)

    assert "no permission" in _sentence(path)


def test_too_large_a_file_is_refused_by_its_size(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A file over the limit is not read at all; the sentence says the limit and what to do."""
    path = tmp_path / "large.csv"
    with path.open("wb") as stream:
        stream.truncate(grid_module.MAX_FILE_BYTES + 1)
    monkeypatch.setattr(Path, "open", lambda *_: pytest.fail("the file was opened"))

    assert "at most 64 MB are read: split the file" in _sentence(path)


def test_the_name_shown_is_one_printable_line(tmp_path: Path) -> None:
    """A file name with a line break or with bytes that are no text still gives one sentence."""
    path = tmp_path / os.fsdecode(b"a\nb\xff.csv")
    path.write_bytes(b"")

    assert _sentence(path).startswith("a?b\N{REPLACEMENT CHARACTER}.csv: found an empty file")


def test_a_sheet_cannot_be_picked_in_a_text_file(tmp_path: Path) -> None:
    """Asking a text file for a sheet is answered, not passed over."""
    path = tmp_path / "table.csv"
    path.write_bytes(TABLE)

    assert 'no sheet "June"' in _sentence(path, sheet="June")


def test_a_grid_holds_typed_values() -> None:
    """Values of workbooks keep their kind."""
    grid = Grid("a.xlsx", "June", rows=((1.0, True, date(2026, 7, 14)),), row_numbers=(1,))

    assert cell(grid, 0, 2) == date(2026, 7, 14)
