"""Backups: whole or not at all, while others write, and back into either database."""

from __future__ import annotations

import os
import resource
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import event

from bankside.archive.archive import Archive, create_archive, open_archive
from bankside.archive.backup import archive_from_backup, backup, restore
from bankside.archive.entries import arrivals_after, keep_refused, take_entries
from bankside.archive.files import keep_file
from bankside.archive.practice.sessions import keep_session
from bankside.archive.refresh import refresh, seek_sites
from bankside.archive.register import put_survey
from bankside.archive.tables import (
    entries,
    filings,
    practice_sessions,
    source_gaugings,
    sources,
)
from bankside.archive.trouble import ArchiveTrouble
from bankside.archive.verify import verify

from ..survey.building import SURVEY
from .building import Device, crossing, keep, remark, store
from .looking import everything, rows
from .practised import keep_practice, session_file

PHOTO = bytes(range(256)) * 40


@pytest.fixture
def office(archive: Archive) -> Archive:
    """An archive with a row in every table of readings and of what is worked out from them."""
    with archive.writing() as connection:
        sha256 = keep_file(connection, "image/png", PHOTO, "a test")
        keep_refused(connection, "{", "It is no JSON.", "a test")
        keep_practice(connection)
        taken = {"taken_at": "2026-07-14", "answers": "{}", "report": "{}"}
        for number in (1, 2, 3):
            connection.execute(
                sources.insert().values(sha256=sha256, name=f"{number}.png", **taken)
            )
        connection.execute(
            source_gaugings.insert().values(source=3, place=0, gauging="g1", label="a")
        )
        put_survey(connection, SURVEY)
    device = crossing("g1")
    photo = {"purpose": "section", "sha256": sha256, "bytes": len(PHOTO), "type": "image/png"}
    device.say("photos/p1", photo)
    device.review()
    keep(archive, device, crossing("g2", place="nowhere"), crossing("g3", closed=False))
    odd = Device("g4")
    odd.say("remarks", "half \ud800 and NUL \0")
    keep(archive, odd)
    store(archive, crossing("g5"))
    return archive


def _content(archive: Archive) -> dict[str, Any]:
    """Everything but which line of its history the archive is on."""
    found = everything(archive)
    del found["settings"]
    return found


def test_a_backup_is_an_archive_with_the_same_in_it(office: Archive, tmp_path: Path) -> None:
    """Every row is in it, it is in order, and there is one file and nothing beside it."""
    folder = tmp_path / "backups"
    folder.mkdir()
    file = folder / "monday.db"
    before = everything(office)
    backup(office, file)

    assert everything(office) == before
    assert [one.name for one in folder.iterdir()] == ["monday.db"]
    with open_archive(file, to_write=False) as copy:
        assert _content(copy) == _content(office)
        assert [one.kind for one in verify(copy)] == ["behind"]  # g5, which was so before
    assert [one.name for one in folder.iterdir()] == ["monday.db"]


def test_a_backup_goes_back_into_either_database(
    office: Archive, make_place: Callable[[], str], tmp_path: Path
) -> None:
    """What was restored is the same, in order, and goes on where the other was."""
    file = tmp_path / "monday.db"
    backup(office, file)
    content = file.read_bytes()
    for place in (make_place(), str(tmp_path / "again.db")):
        with archive_from_backup(file, place) as again:
            assert _content(again) == _content(office)
            refresh(again)
            assert list(verify(again)) == []
            _goes_on(office, again)
    assert file.read_bytes() == content


def _goes_on(office: Archive, again: Archive) -> None:
    """What comes next gets the numbers after those that were given."""
    last = rows(office, entries)[-1]["number"]
    numbered = (filings, sources, practice_sessions)
    numbers = {table: rows(again, table)[-1]["number"] for table in numbered}
    device = crossing("g2", place="nowhere")
    device.correct()
    keep(again, device)
    with again.writing() as connection:
        sha256 = keep_file(connection, "text/csv", b"tape", "a test")
        taken = {"taken_at": "2026-07-14", "answers": "{}", "report": "{}"}
        connection.execute(sources.insert().values(sha256=sha256, name="4.csv", **taken))
        keep_refused(connection, "}", "It is no JSON.", "a test")
        assert keep_session(connection, session_file("Cy Fir"), "cy.json")
    with again.reading() as connection:
        assert [one.entry.id for one in arrivals_after(connection, last, 10)] == [
            device.entries[-1].id
        ]
    assert {table: rows(again, table)[-1]["number"] for table in numbers} == {
        table: number + 1 for table, number in numbers.items()
    }


def test_a_backup_is_made_while_others_write(archive: Archive, tmp_path: Path) -> None:
    """What was written in one transaction is in the backup wholly or not at all."""
    stop = threading.Event()
    begun = threading.Event()

    def write() -> None:
        number = 0
        while not stop.is_set():
            with archive.writing() as connection:
                for _ in range(5):
                    number += 1
                    take_entries(connection, [remark(number)], "a test")
            begun.set()

    thread = threading.Thread(target=write)
    thread.start()
    try:
        assert begun.wait(20)
        for n in range(3):
            backup(archive, tmp_path / f"{n}.db")
    finally:
        stop.set()
        thread.join(20)
    counts = []
    for n in range(3):
        with open_archive(tmp_path / f"{n}.db", to_write=False) as copy:
            found = [row["number"] for row in rows(copy, entries)]
            assert found == list(range(1, len(found) + 1))
            counts.append(len(found))
            assert rows(copy, entries) == rows(archive, entries)[: len(found)]
    assert all(count % 5 == 0 for count in counts)
    assert 0 < counts[0] <= counts[1] <= counts[2]


def test_a_backup_writes_over_nothing(office: Archive, tmp_path: Path) -> None:
    """A file, a folder and a place that is not there are told, and nothing is left behind."""
    there = tmp_path / "there.db"
    there.write_bytes(b"another backup")
    before = sorted(tmp_path.iterdir())
    for file, said in (
        (there, "is there already"),
        (tmp_path, "is there already"),
        (tmp_path / "nowhere" / "a.db", "cannot be written"),
        (there / "a.db", "cannot be written"),
    ):
        with pytest.raises(ArchiveTrouble, match=said):
            backup(office, file)
    assert there.read_bytes() == b"another backup"
    assert sorted(tmp_path.iterdir()) == before


def test_a_name_that_was_taken_meanwhile_is_not_written_over(
    office: Archive, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whoever else made a file of that name while the backup was under way keeps it."""
    file = tmp_path / "monday.db"
    monkeypatch.setattr(
        "bankside.archive.backup._into_one_file", lambda *_: file.write_bytes(b"another")
    )
    with pytest.raises(ArchiveTrouble, match="is there already"):
        backup(office, file)

    assert file.read_bytes() == b"another"


@pytest.mark.parametrize("step", ["_copy", "_into_one_file", "_kept"])
def test_half_a_backup_never_has_its_name(
    office: Archive, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, step: str
) -> None:
    """Wherever a backup breaks off, there is either all of it or nothing."""
    folder = tmp_path / "backups"
    folder.mkdir()

    def fail(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(f"bankside.archive.backup.{step}", fail)
    with pytest.raises(KeyboardInterrupt):
        backup(office, folder / "monday.db")

    left = [one.name for one in folder.iterdir()]
    assert left == (["monday.db"] if step == "_kept" else [])


@contextmanager
def _room(size: int) -> Iterator[None]:
    """Let no file grow beyond a size, as on a disk that is full."""
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (size, hard))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))


def test_a_disk_without_room_is_told(office: Archive, tmp_path: Path) -> None:
    """One sentence, no file of that name, and the archive goes on."""
    folder = tmp_path / "backups"
    folder.mkdir()
    with _room(64 * 1024), pytest.raises(ArchiveTrouble) as trouble:
        backup(office, folder / "monday.db")

    assert str(trouble.value).startswith(f"The backup {folder / 'monday.db'} of ")
    assert "\n" not in str(trouble.value)
    assert list(folder.iterdir()) == []
    keep(office, crossing("g9"))


def test_readings_for_which_there_is_no_room_are_refused_whole(tmp_path: Path) -> None:
    """Where the disk is full nothing of a transaction is kept, and that is told."""
    with create_archive(tmp_path / "season.db") as archive:
        keep(archive, crossing("g1"))
        before = everything(archive)
        with archive.engine.connect() as connection:
            pages = connection.exec_driver_sql("PRAGMA page_count").scalar_one()

        @event.listens_for(archive.engine, "begin")
        def limit(connection: Any) -> None:
            connection.exec_driver_sql(f"PRAGMA max_page_count={pages + 2}")

        with pytest.raises(ArchiveTrouble, match="no room left on the disk; nothing of this"):
            store(archive, *(crossing(f"h{n}") for n in range(40)))
        assert everything(archive) == before


def test_only_an_empty_archive_is_filled(office: Archive, tmp_path: Path) -> None:
    """An archive in which there is anything at all is not mixed with another."""
    file = tmp_path / "monday.db"
    backup(office, file)
    with create_archive(tmp_path / "other.db") as other:
        with other.writing() as connection:
            keep_file(connection, "image/png", PHOTO, "a test")
        before = everything(other)
        with pytest.raises(ArchiveTrouble, match="is not empty; a new archive is right"):
            restore(file, other)
        assert everything(other) == before


@pytest.mark.parametrize("content", [b"", b"tape,depth\n", None])
def test_nothing_is_made_from_what_is_no_backup(
    make_place: Callable[[], str], tmp_path: Path, content: bytes | None
) -> None:
    """A file that is no archive, or is not there, leaves no empty archive behind."""
    file = tmp_path / "monday.db"
    if content is not None:
        file.write_bytes(content)
    place = make_place()
    with pytest.raises(ArchiveTrouble, match=r"monday\.db"):
        archive_from_backup(file, place)

    create_archive(place).close()


def test_a_restore_that_breaks_off_leaves_no_archive(
    office: Archive, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The next attempt finds the place free again."""
    file, place = tmp_path / "monday.db", tmp_path / "again.db"
    backup(office, file)

    def fail(*_: object) -> None:
        raise KeyboardInterrupt

    with monkeypatch.context() as patched:
        patched.setattr("bankside.archive.backup._number_on", fail)
        with pytest.raises(KeyboardInterrupt):
            archive_from_backup(file, place)
    assert not os.path.exists(place)
    archive_from_backup(file, place).close()


def test_a_backup_of_an_older_version_is_read_and_left_as_it_is(
    office: Archive, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Its tables are brought up to date in a copy."""
    file = tmp_path / "monday.db"
    backup(office, file)
    content = file.read_bytes()
    monkeypatch.setattr("bankside.archive.archive.HEAD", "a later one")
    with pytest.raises(ArchiveTrouble, match="written by an older version of Bankside"):
        open_archive(file, to_write=False)
    with archive_from_backup(file, tmp_path / "again.db") as again:
        assert _content(again) == _content(office)

    assert file.read_bytes() == content


def test_sites_are_found_in_what_was_restored(office: Archive, tmp_path: Path) -> None:
    """A restored archive is worked with like any other."""
    backup(office, tmp_path / "monday.db")
    with (
        archive_from_backup(tmp_path / "monday.db", tmp_path / "again.db") as again,
        again.writing() as connection,
    ):
        assert not put_survey(connection, SURVEY)
        assert seek_sites(connection) == 0
