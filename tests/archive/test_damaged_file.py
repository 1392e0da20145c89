"""An archive's file of which a page is damaged: told in a sentence, wherever it is."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest

from bankside.archive.archive import create_archive, open_archive
from bankside.archive.trouble import ArchiveTrouble
from bankside.archive.verify import verify
from bankside.cli import main

from .building import crossing, keep


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """An archive in one file, with a few gaugings, which nobody has open."""
    place = tmp_path / "season.db"
    with create_archive(place) as archive:
        keep(archive, *(crossing(f"g{n}") for n in range(8)))
    return place


def _asked(file: Path, question: str) -> int:
    connection = sqlite3.connect(file)
    (answer,) = connection.execute(f"PRAGMA {question}").fetchone()
    connection.close()
    return int(answer)


def _damaged(whole: bytes, at: int, size: int, how: str) -> bytes:
    page = whole[at : at + size]
    if how == "cut off":
        return whole[:at]
    put = bytes(size) if how == "zeros" else page[::-1]
    return whole[:at] + put + whole[at + size :]


def _sentences(file: Path) -> list[str]:
    """What verifying says of an archive, that it cannot be opened among it."""
    try:
        with open_archive(file, to_write=False) as archive:
            return [f"{one.what}: {one.words}" for one in verify(archive)]
    except ArchiveTrouble as trouble:
        return [str(trouble)]


@pytest.mark.parametrize("how", ["zeros", "turned about", "cut off"])
def test_every_damaged_page_is_told(file: Path, how: str) -> None:
    """Whichever page it is, verifying says that something is wrong, and ends without a failure."""
    whole, size = file.read_bytes(), _asked(file, "page_size")
    assert _sentences(file) == []
    assert _asked(file, "freelist_count") == 0
    unseen = []
    for page in range(1, len(whole) // size):
        file.write_bytes(_damaged(whole, page * size, size, how))
        if not _sentences(file):
            unseen.append(page + 1)

    assert unseen == []


def test_the_command_says_that_a_file_is_damaged(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The exit code is 1 and the sentence says what to do, on every page."""
    whole, size = file.read_bytes(), _asked(file, "page_size")
    for page in range(1, len(whole) // size, 7):
        file.write_bytes(_damaged(whole, page * size, size, "turned about"))
        assert main(["archive", "verify", str(file)]) == 1, page
        out, err = capsys.readouterr()

        assert "Traceback" not in out + err
        assert "fault in Bankside" not in out + err
        assert "damaged" in out
