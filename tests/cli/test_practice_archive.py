"""`bankside practice` with an archive: sessions kept, who is ready, and places only to be read."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from bankside.archive.archive import create_archive, open_archive
from bankside.cli import main
from bankside.cli.practice import practice_app

from ..archive.closed_folder import nobody
from ..archive.practised import keep_practice, session_file
from ..report.documents import pdf_text

Printed = pytest.CaptureFixture[str]


@pytest.fixture
def place(tmp_path: Path) -> Path:
    """An archive beside a folder with the sessions of two people."""
    folder = tmp_path / "sessions"
    folder.mkdir()
    for person in ("Ann Ash", "Ben Birch"):
        (folder / f"{person}.json").write_bytes(session_file(person))
    create_archive(tmp_path / "season.db").close()
    return tmp_path / "season.db"


def practice(*arguments: object) -> int:
    """Run the command."""
    return main(["practice", *map(str, arguments)])


def test_sessions_are_kept_once(place: Path, capsys: Printed) -> None:
    """Whatever is handed in again adds nothing; what is no session is named beside it."""
    assert practice("keep", place, place.parent / "sessions", "--by", "I. Marrow") == 0
    assert "2 practice sessions kept." in capsys.readouterr().out
    (place.parent / "sessions" / "real.json").write_text('{"format": "bankside.journal/1"}')

    assert practice("keep", place, place.parent / "sessions") == 2
    printed = capsys.readouterr()
    assert "no practice sessions kept, 2 there already." in printed.out
    assert printed.err.startswith("real.json, format: format must be")
    assert practice("list", place) == 0
    out = capsys.readouterr().out
    assert "Ann Ash: 1 practice session, the last on 2026-05-04." in out


def test_who_is_ready_is_kept_and_given_again(place: Path, capsys: Printed) -> None:
    """The table and a paper for each, a record once, and the record as it was kept."""
    practice("keep", place, place.parent / "sessions")
    papers = place.parent / "papers"
    given = ("readiness", "--archive", place)
    assert practice(*given, "--keep", "--certificates", papers) == 0
    first = capsys.readouterr().out
    assert "kept as practice record 1." in first and "Ben Birch" in first
    assert practice(*given, "--keep", "--by", "another") == 0
    assert "there already as practice record 1." in capsys.readouterr().out
    assert practice(*given, "--record", 1) == 0
    assert capsys.readouterr().out.strip() in first
    assert practice("list", place) == 0
    assert "Record 1 of " in capsys.readouterr().out

    ann, ben = sorted(papers.iterdir())
    text = " ".join(pdf_text(ann.read_bytes(), place.parent).split())
    assert "PRACTICE · On the way" in text and "Nothing here makes anybody safe in a river" in text
    assert ben.name == "02-Ben-Birch.pdf"


def test_everything_comes_out_as_it_came(place: Path, capsys: Printed) -> None:
    """Sessions byte for byte, and the records; nothing is written over."""
    practice("keep", place, place.parent / "sessions")
    practice("readiness", "--archive", place, "--keep")
    out = place.parent / "out"
    assert practice("export", place, "-o", out) == 0
    files = sorted(out.iterdir())
    assert [one.name for one in files] == [
        *("0001-Ann_Ash.json", "0002-Ben_Birch.json"),
        "record-0001.json",
    ]
    assert files[0].read_bytes() == session_file("Ann Ash")
    assert practice("export", place, "-o", out) == 2
    assert "is there already" in capsys.readouterr().err


@pytest.fixture
def closed() -> Iterator[Path]:
    """An archive with practice in a folder that everybody may enter; pytest's are closed."""
    made = Path(tempfile.mkdtemp(prefix="bankside-"))
    made.chmod(0o755)
    with create_archive(made / "season.db") as archive, archive.writing() as connection:
        keep_practice(connection)
    yield made / "season.db"
    made.chmod(0o755)
    shutil.rmtree(made)


def test_an_archive_that_can_only_be_read_is_read(closed: Path, capsys: Printed) -> None:
    """What would be kept there is refused in one sentence, and no byte of it changes."""
    content = closed.read_bytes()
    file = closed.parent / "session.json"
    file.write_bytes(session_file("Cy Fir"))
    assert practice_app.name == ("practice",)  # its modules are closed to others, and loaded here
    with nobody(closed.parent):
        assert practice("list", closed) == 0
        assert practice("keep", closed, file) == 2
        assert practice("readiness", "--archive", closed, "--keep") == 2
    printed = capsys.readouterr()
    assert "Ann Ash: 1 practice session" in printed.out
    assert [line.split(": ", 1)[1] for line in printed.err.splitlines()] == [
        "the archive can be read and not written; its file and folder must allow it."
    ] * 2
    assert closed.read_bytes() == content


def test_practice_in_order_is_verified(closed: Path, capsys: Printed) -> None:
    """`archive verify` covers it."""
    assert main(["archive", "verify", str(closed)]) == 0
    with open_archive(closed) as archive, archive.writing() as connection:
        connection.exec_driver_sql("DROP TRIGGER practice_sessions_no_delete")
        connection.exec_driver_sql("DELETE FROM practice_sessions WHERE number = 2")
    capsys.readouterr()
    assert main(["archive", "verify", str(closed)]) == 1
    assert "practice record 1" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("readiness", "--keep", "sessions"), "want the archive that is meant"),
        (("readiness", "--archive", "season.db", "sessions"), "found files beside --archive"),
        (("readiness", "--archive", "season.db"), "bankside practice keep takes them in"),
        (("readiness", "--archive", "season.db", "--record", "7"), "it keeps none"),
        (("readiness", "--archive", "a.db", "--record", "1", "--keep"), "goes with neither"),
        (("readiness", "--archive", "nowhere.db"), "There is no archive"),
        (("readiness", "empty"), "empty: found nothing to read; a practice session is right here"),
        (("readiness", "others"), "found no practice session in 2 files; a practice session is"),
        (("keep", "season.db", "others"), "found no practice session in 2 files; a practice"),
        (("debrief", "sheet.csv"), "sheet.csv: found a file that ends in .csv; a practice session"),
        (("readiness",), "found no files; a practice session is right here"),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, tuple) else "",
)
def test_one_clear_sentence(
    arguments: tuple[str, ...],
    said: str,
    place: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: Printed,
) -> None:
    """What was found, and where a session comes from; nothing is repeated file by file."""
    monkeypatch.chdir(place.parent)
    for folder in ("empty", "others"):
        (place.parent / folder).mkdir()
    for name in ("a.json", "b.json"):
        (place.parent / "others" / name).write_text('{"format": "bankside.journal/1"}')
    (place.parent / "sheet.csv").write_text("tape,depth\n")

    assert practice(*arguments) == 2
    (line,) = capsys.readouterr().err.splitlines()
    assert said in line
