"""No room, a process that is killed, damage, a wrong clock: nothing is lost by any of it."""

from __future__ import annotations

import datetime
import json
import resource
import signal
import sqlite3
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from types import SimpleNamespace

import psycopg
import pytest
from sqlalchemy.exc import DBAPIError

from bankside.archive import clock
from bankside.archive.accounts import add_account
from bankside.archive.archive import Archive, create_archive, open_archive
from bankside.archive.backup import archive_from_backup, backup
from bankside.archive.devices import make_code, pair
from bankside.archive.giving import journal_of
from bankside.archive.listing import gauging_rows
from bankside.archive.refresh import rework
from bankside.archive.sessions import open_session, signed_in
from bankside.archive.telling import told
from bankside.archive.trouble import ArchiveDamaged, ArchiveTrouble
from bankside.archive.verify import verify
from bankside.cli import main
from bankside.gauging.journal.document import Journal, journal_to_json

from .building import Device, crossing, keep
from .looking import everything

Printed = pytest.CaptureFixture[str]
_YEAR_S = 365 * 86400


@pytest.fixture
def season(tmp_path: Path) -> Path:
    """An archive in a file, with some gaugings, which nobody has open."""
    file = tmp_path / "season.db"
    with create_archive(file) as archive:
        keep(archive, *(crossing(f"g{n}", day=f"2026-07-1{n}") for n in range(4)))
    return file


@contextmanager
def _room(size: int) -> Iterator[None]:
    """Let no file grow beyond a size, as on a disk that is full."""
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (size, hard))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))


def _run(*arguments: object) -> int:
    return main([str(argument) for argument in arguments])


def _file_of(folder: Path, device: Device) -> Path:
    """The journal of a device as it exports it."""
    folder.mkdir(exist_ok=True)
    file = folder / f"{device.gauging}.json"
    journal = Journal(device.gauging, tuple(device.entries))
    file.write_text(journal_to_json(journal), encoding="utf-8")
    return file


def _names(folder: Path) -> list[str]:
    return sorted(one.name for one in folder.iterdir())


def test_an_archive_can_be_read_while_its_disk_is_full(season: Path, capsys: Printed) -> None:
    """What SQLite keeps beside an archive that is read finds no room, and is not needed."""
    with _room(1024):
        assert _run("archive", "list", season, "--survey", "none") == 0
        assert _run("archive", "verify", season) == 0
    assert "4 gaugings." in capsys.readouterr().out


def test_an_archive_for_which_there_is_no_room_leaves_no_file(season: Path, tmp_path: Path) -> None:
    """New or from a backup, nothing of it is in the way of trying again."""
    place = tmp_path / "office" / "new.db"
    place.parent.mkdir()
    with _room(32 * 1024):
        with pytest.raises(ArchiveTrouble, match=r"nothing of this was kept\.$"):
            create_archive(place)
        with pytest.raises(ArchiveTrouble, match=r"nothing of this was kept\.$"):
            archive_from_backup(season, place)
    assert _names(place.parent) == []
    archive_from_backup(season, place).close()
    assert _names(place.parent) == ["new.db"]


def test_an_import_that_runs_out_of_room_is_ended_by_the_same_import(
    season: Path, tmp_path: Path, capsys: Printed
) -> None:
    """It says which files are in; taken in again with room, each entry is there once."""
    folder = tmp_path / "phones"
    _file_of(folder, crossing("h1"))
    _file_of(folder, crossing("h2", remarks="x" * 400_000))
    with _room(300_000):
        assert _run("archive", "import", season, folder) == 2
    said = capsys.readouterr().err
    assert "The file before it is taken in as far as possible" in said and said.count("\n") == 1

    assert _run("archive", "import", season, folder) == 0
    with open_archive(season) as archive, archive.reading() as connection:
        assert len(gauging_rows(connection, ["h1", "h2"])) == 2
        assert list(verify(archive)) == []


def test_an_export_without_room_says_so(season: Path, tmp_path: Path, capsys: Printed) -> None:
    """No file is there in part, and another folder takes all of it."""
    with _room(1024):
        assert _run("archive", "export", season, "-o", tmp_path / "out") == 2
    assert capsys.readouterr().err.endswith("; room on its disk is right\n")
    assert _names(tmp_path / "out") == []


_KILLED = """
import os, signal, sys
import {module} as patched
done = 0
real = patched.{step}
def dies(*arguments):
    global done
    done += 1
    if done > {times}:
        os.kill(os.getpid(), signal.SIGKILL)
    return real(*arguments)
patched.{step} = dies
from bankside.cli import main
sys.exit(main(sys.argv[1:]))
"""


def _killed(module: str, step: str, times: int, *arguments: object) -> None:
    """Run a command that is killed when it comes to a step after so many times."""
    program = _KILLED.format(module=module, step=step, times=times)
    command = [sys.executable, "-c", program, *map(str, arguments)]
    ended = subprocess.run(command, check=False, capture_output=True)
    assert ended.returncode == -signal.SIGKILL, ended.stderr


@pytest.mark.parametrize("step", ["begin_new_line", "_into_one_file"])
def test_a_backup_that_is_killed_is_none(season: Path, tmp_path: Path, step: str) -> None:
    """No half of it bears the name, the archive is in order, and the next backup is whole."""
    file = tmp_path / "backups" / "monday.db"
    file.parent.mkdir()
    _killed("bankside.archive.backup", step, 0, "archive", "backup", season, file)
    assert [name for name in _names(file.parent) if not name.startswith(".bankside-")] == []
    assert _run("archive", "verify", season) == 0
    assert _run("archive", "backup", season, file) == 0
    assert _run("archive", "verify", file) == 0


def test_an_archive_from_a_backup_that_is_killed_is_none(season: Path, tmp_path: Path) -> None:
    """Nobody goes on with an archive in which there is nothing yet, or a part."""
    place = tmp_path / "office" / "new.db"
    place.parent.mkdir()
    arguments = ("archive", "init", place, "--from", season)
    _killed("bankside.archive.backup", "_number_on", 0, *arguments)
    assert not place.exists()
    assert _run(*arguments) == 0
    assert _run("archive", "verify", place) == 0


def test_an_export_that_is_killed_holds_whole_files_alone(season: Path, tmp_path: Path) -> None:
    """What is there can be taken in; what is hidden beside it is passed over."""
    out, new = tmp_path / "out", tmp_path / "new.db"
    arguments = ("archive", "export", season, "-o", out)
    _killed("bankside.cli.archive_export", "_write", 2, *arguments)
    whole = [one for one in out.iterdir() if not one.name.startswith(".")]
    assert len(whole) == 2
    for file in whole:
        json.loads(file.read_text(encoding="utf-8"))
    create_archive(new).close()
    assert _run("archive", "import", new, out) == 0


def _damage(file: Path, gauging: str) -> None:
    """Overwrite a few bytes of an entry, in the middle of a file that nobody has open."""
    content = bytearray(file.read_bytes())
    entry = content.find(f'"gauging":"{gauging}","id":'.encode())
    assert entry > 0
    at = content.find(b'"what":', entry)
    content[at : at + 3] = b"\0\0\0"
    file.write_bytes(bytes(content))


def test_everything_comes_back_by_a_backup_an_export_and_the_phones(
    season: Path, tmp_path: Path, capsys: Printed
) -> None:
    """What is damaged holds up nothing else, and is taken from where it still is."""
    monday, out, new = tmp_path / "monday.db", tmp_path / "out", tmp_path / "new.db"
    assert _run("archive", "backup", season, monday) == 0
    later = crossing("h1"), crossing("h2")
    with open_archive(season) as archive:
        keep(archive, *later)
        before = _entries(archive)
    with sqlite3.connect(season) as connection:
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)").close()
    connection.close()
    _damage(season, "h1")
    capsys.readouterr()

    assert _run("archive", "verify", season) == 1
    assert "entry h1-phone-" in capsys.readouterr().out
    assert _run("archive", "export", season, "-o", out) == 2
    said = capsys.readouterr().err
    assert said.count("\n") == 1 and "h1.json was left out: The archive is damaged" in said
    assert _run("archive", "init", new, "--from", monday) == 0
    assert _run("archive", "import", new, out) == 0
    assert _run("archive", "import", new, _file_of(tmp_path / "phone", later[0])) == 0
    assert _run("archive", "verify", new) == 0
    with open_archive(new) as archive:
        assert _entries(archive) == before


def _entries(archive: Archive) -> dict[str, str]:
    return {row["id"]: row["content"] for row in everything(archive)["entries"]}


def test_a_backup_that_was_cut_off_makes_no_archive(season: Path, tmp_path: Path) -> None:
    """Wherever it ends, the sentence names the backup, and nothing is left of the archive."""
    whole, monday = season.read_bytes(), tmp_path / "monday.db"
    place = tmp_path / "office" / "new.db"
    place.parent.mkdir()
    for part in (0.1, 0.5, 0.9):
        monday.write_bytes(whole[: int(len(whole) * part)])
        with pytest.raises(ArchiveTrouble, match=r"monday\.db"):
            archive_from_backup(monday, place)
        assert _names(place.parent) == []


@pytest.mark.parametrize("form", ["journal", "package"])
def test_a_file_that_was_cut_off_is_refused_whole(
    tmp_path: Path, form: str, capsys: Printed
) -> None:
    """Wherever it ends, one sentence says so and nothing of it is taken in."""
    place = tmp_path / "new.db"
    create_archive(place).close()
    file = _file_of(tmp_path / "phone", crossing("g1"))
    if form == "package":
        package = tmp_path / "g1.zip"
        assert _run("convert", file, "--output", package, "--to", "datapackage") == 0
        file = package
    whole = file.read_bytes()
    for size in (0, 1, len(whole) // 3, len(whole) // 2, len(whole) - 3):
        file.write_bytes(whole[:size])
        capsys.readouterr()
        assert _run("archive", "import", place, file) == 2, size
        assert "Traceback" not in "".join(capsys.readouterr())
    with open_archive(place) as archive:
        assert everything(archive)["entries"] == []


@contextmanager
def _clock(monkeypatch: pytest.MonkeyPatch, seconds: float) -> Iterator[None]:
    """Let the clock of the office's machine be wrong by so much."""

    class Wrong(datetime.datetime):
        @classmethod
        def now(cls, tz: datetime.tzinfo | None = None) -> Wrong:  # type: ignore[override]
            moment = datetime.datetime.now(tz) + datetime.timedelta(seconds=seconds)
            return cls.fromtimestamp(moment.timestamp(), tz)

    wrong = SimpleNamespace(
        datetime=Wrong, UTC=datetime.UTC, timedelta=datetime.timedelta, date=datetime.date
    )
    with monkeypatch.context() as patched:
        patched.setattr(clock, "datetime", wrong)
        yield


def test_what_was_given_while_the_clock_was_ahead_is_void_once_it_is_right(
    archive: Archive, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Twelve hours are no year: neither a token nor a code outlives them by a wrong clock."""
    with archive.writing() as connection:
        account = add_account(connection, "Ada Brook", "lead", "a long walk upstream")
        with _clock(monkeypatch, _YEAR_S):
            token, _ = open_session(connection, account)
            code = make_code(connection, "Ada Brook").code
            assert signed_in(connection, token) is not None
        assert signed_in(connection, token) is None
        assert pair(connection, code, "dev-1", "phone") is None


def test_a_device_stays_paired_whatever_the_clock_says(
    archive: Archive, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A person signs in anew; the readings of a crew wait for nobody who sets a clock."""
    with archive.writing() as connection:
        account = add_account(connection, "Ada Brook", "lead", "a long walk upstream")
        token, _ = open_session(connection, account)
        with _clock(monkeypatch, -_YEAR_S):
            assert signed_in(connection, token) is None
        assert signed_in(connection, token) is not None
        with _clock(monkeypatch, _YEAR_S):
            assert signed_in(connection, token) is None
            fresh, _ = open_session(connection, account)
            assert signed_in(connection, fresh) is not None


def test_no_figure_or_finding_goes_by_a_clock(
    archive: Archive, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Worked out a year late, or said by a device whose clock jumps, a gauging is the same."""
    device = crossing("g1", meter__serial="K-7", meter__calibration_due="2026-12-31")
    device.correct()
    keep(archive, device)
    before = everything(archive)["gaugings"]
    with _clock(monkeypatch, _YEAR_S):
        rework(archive)
    after = everything(archive)["gaugings"]
    assert _without_numbers(after) == _without_numbers(before)

    jumping = Device("g2")
    for number, entry in enumerate(device.entries):
        at = f"{2025 + number % 3}-07-14T10:00:00-07:00"
        jumping.say(entry.what, entry.value, at=at)
    keep(archive, jumping)
    with archive.reading() as connection:
        one, other = gauging_rows(connection, ["g1", "g2"])
    for name in ("discharge_m3s", "day", "calibration_due", "open_stop", "open_fix", "verticals"):
        assert one[name] == other[name], name


def _without_numbers(rows: list[dict[str, object]]) -> list[dict[str, object]]:
    return [{name: value for name, value in row.items() if name != "number"} for row in rows]


def test_a_damaged_entry_is_told_by_its_id(season: Path) -> None:
    """Neither a device nor an office is told that what it asked was wrong."""
    _damage(season, "g2")
    with (
        open_archive(season) as archive,
        archive.reading() as connection,
        pytest.raises(ArchiveDamaged, match=r"its entry g2-phone-\d+ cannot be read any more"),
    ):
        journal_of(connection, "g2")


def test_a_backup_is_not_made_of_a_damaged_page(season: Path, tmp_path: Path) -> None:
    """It would be damaged as well: the sentence says which one to go on with."""
    content = bytearray(season.read_bytes())
    middle = len(content) // 2 // 4096 * 4096
    content[middle : middle + 4096] = bytes(reversed(content[middle : middle + 4096]))
    season.write_bytes(bytes(content))
    with (
        open_archive(season) as archive,
        pytest.raises(ArchiveDamaged, match="the one to go on with"),
    ):
        backup(archive, tmp_path / "monday.db")
    assert not (tmp_path / "monday.db").exists()


def test_a_full_disk_of_postgresql_is_told_as_such() -> None:
    """Whoever pushes learns nothing of the files of the server's database."""
    said = psycopg.errors.DiskFull('could not extend file "base/5/16409": No space left on device')
    with (
        pytest.raises(ArchiveTrouble, match=r"^office: there is no room left on the disk; nothing"),
        told("office"),
    ):
        raise DBAPIError("insert", {}, said)
