"""Verifying: nothing differs while nothing is wrong, and every damage is found and named."""

from __future__ import annotations

import hashlib
from typing import Any

import attrs
import pytest
from sqlalchemy import delete, text, update

from bankside.archive.archive import Archive
from bankside.archive.difference import Difference
from bankside.archive.entries import take_entries
from bankside.archive.files import keep_file
from bankside.archive.refresh import refresh, rework, seek_sites
from bankside.archive.register import put_survey
from bankside.archive.tables import (
    counters,
    gauging_files,
    gaugings,
    stale,
    survey_states,
    surveys,
    vocabulary,
    words,
)
from bankside.archive.verify import verify
from bankside.gauging.compute import METHOD_VERSION

from ..survey.building import SURVEY, UPPER
from .building import CROSSING_M3S, FASTER_M3S, Device, crossing, keep, remark
from .looking import everything, filed, row_of, rows
from .newer import VERSION, use_newer_method

PHOTO = b"\x89PNG, the section from the left bank"


@pytest.fixture
def office(archive: Archive) -> Archive:
    """An archive with a survey, a photo, gaugings in every state, and one that makes no record."""
    with archive.writing() as connection:
        put_survey(connection, SURVEY)
        sha256 = keep_file(connection, "image/png", PHOTO, "a test")
    device = crossing("g1")
    photo = {"purpose": "section", "sha256": sha256, "bytes": len(PHOTO), "type": "image/png"}
    device.say("photos/p1", photo)
    keep(archive, device, crossing("g2", place="nowhere"), crossing("g3", closed=False))
    device.review()
    keep(archive, device)
    device.correct()
    empty = Device("g4")
    empty.say("remarks", "Nothing read.")
    keep(archive, device, empty)
    return archive


def _found(archive: Archive) -> list[Difference]:
    return list(verify(archive))


def _told(archive: Archive) -> list[tuple[str, str]]:
    return [(one.kind, one.what) for one in _found(archive)]


def _damage(archive: Archive, *statements: str, **values: Any) -> None:
    """Change what only grows, by the hands of somebody who has the database."""
    with archive.engine.begin() as connection:
        if connection.dialect.name == "postgresql":
            connection.execute(text("SET session_replication_role = replica"))
        else:
            triggers = connection.execute(
                text("SELECT name FROM sqlite_master WHERE type = 'trigger'")
            )
            for (name,) in triggers.all():
                connection.execute(text(f"DROP TRIGGER {name}"))
        for statement in statements:
            connection.execute(text(statement), values)
        if connection.dialect.name == "postgresql":
            connection.execute(text("SET session_replication_role = DEFAULT"))


def test_nothing_differs_where_nothing_is_wrong(office: Archive) -> None:
    """After everything that an office does, and after working out anew; nothing is changed."""
    before = everything(office)
    told: list[tuple[int, int]] = []
    assert list(verify(office, lambda done, all_: told.append((done, all_)))) == []
    assert everything(office) == before
    assert told == [(n, 4) for n in range(1, 5)]

    rework(office)
    with office.writing() as connection:
        put_survey(connection, attrs.evolve(SURVEY, sites=(UPPER,)))
        seek_sites(connection)
    refresh(office)
    assert _found(office) == []


def test_a_byte_of_a_file(office: Archive) -> None:
    """One byte of a photo that is another is found by the checksum."""
    damaged = PHOTO.replace(b"left", b"Left")
    _damage(office, "UPDATE files SET content = :content", content=damaged)
    (found,) = _found(office)

    assert found.kind == "damaged"
    assert found.what.startswith("file ")
    assert "checksum differs" in found.words


def test_a_photo_that_never_came(office: Archive) -> None:
    """A photo that is named and not there is missing, not damaged."""
    device = crossing("g2", place="nowhere")
    photo = {"purpose": "section", "sha256": "ef" * 32, "bytes": 1, "type": "image/png"}
    device.say("photos/p1", photo)
    keep(office, device)

    assert _told(office) == [("missing", "gauging g2")]


ENTRIES: dict[str, tuple[str, ...]] = {
    "a reading changed": (
        "UPDATE entries SET content = replace(content, '0.30', '0.31') WHERE gauging = 'g2'",
    ),
    "an entry removed": ("DELETE FROM entries WHERE id = 'g2-phone-20'",),
    "all entries removed": ("DELETE FROM entries WHERE gauging = 'g2'",),
    "no JSON": ("UPDATE entries SET content = substr(content, 2) WHERE id = 'g2-phone-20'",),
    "no entry": ("UPDATE entries SET content = '{}' WHERE id = 'g2-phone-20'",),
    "under another id": ("UPDATE entries SET id = 'other' WHERE id = 'g2-phone-20'",),
    "under another gauging": (
        "UPDATE entries SET gauging = 'g2' WHERE id = 'g4-phone-1'",
        "DELETE FROM gaugings WHERE id = 'g4'",
        "DELETE FROM words WHERE gauging = 'g4'",
    ),
}


@pytest.mark.parametrize("damage", ENTRIES)
def test_an_entry_that_is_not_what_came(office: Archive, damage: str) -> None:
    """Whatever became of an entry, its gauging is named."""
    _damage(office, *ENTRIES[damage])

    assert ("damaged", "gauging g2") in _told(office)


FILINGS: dict[str, tuple[str, str]] = {
    "a figure changed": (
        "UPDATE filings SET figures = replace(figures, '4.0', '4.1') WHERE gauging = 'g2'",
        "checksum differs",
    ),
    "no JSON": ("UPDATE filings SET figures = '{' WHERE gauging = 'g2'", "cannot be read"),
    "no figures": ("UPDATE filings SET figures = '{}' WHERE gauging = 'g2'", "cannot be read"),
    "a checksum changed": (
        "UPDATE filings SET sha256 = replace(sha256, substr(sha256, 1, 1), 'x') "
        "WHERE gauging = 'g2'",
        "checksum differs",
    ),
    "other entries": (
        "UPDATE filings SET state = 'x' WHERE gauging = 'g2'",
        "rests on entries that are not there",
    ),
}


@pytest.mark.parametrize("damage", FILINGS)
def test_a_figure_that_is_not_the_one_that_was_filed(office: Archive, damage: str) -> None:
    """Whatever became of a filed figure, its gauging is named."""
    statement, words_said = FILINGS[damage]
    _damage(office, statement)
    found = [one for one in _found(office) if one.what == "gauging g2" and one.kind == "damaged"]

    assert [words_said in one.words for one in found] == [True]


def test_a_figure_filed_with_its_checksum(office: Archive) -> None:
    """A figure that was changed together with its checksum does not come out of its entries."""
    with office.reading() as connection:
        told = connection.execute(text("SELECT figures FROM filings WHERE gauging = 'g2'"))
        figures = told.scalar_one().replace("4.0", "4.1")
    sha256 = hashlib.sha256(figures.encode()).hexdigest()
    _damage(
        office,
        "UPDATE filings SET figures = :figures, sha256 = :sha256 WHERE gauging = 'g2'",
        figures=figures,
        sha256=sha256,
    )
    found = [one.words for one in _found(office) if one.kind == "damaged"]

    assert len(found) == 1
    assert "and differs in another figure" in found[0]


def test_an_approved_figure_is_held_against_what_was_approved(office: Archive) -> None:
    """That readings changed since does not keep the approved figure from being worked out anew."""
    assert row_of(office)["state"] == "changed since approval"
    _damage(
        office,
        "UPDATE filings SET state = (SELECT digest FROM gaugings WHERE id = 'g1') "
        "WHERE gauging = 'g1' AND reason = 'approved'",
    )
    (found,) = _found(office)

    assert (found.kind, found.what) == ("damaged", "gauging g1")
    assert f"{CROSSING_M3S:.6g} m³/s was filed" in found.words
    assert f"gives {FASTER_M3S:.6g} m³/s" in found.words


COLUMNS: dict[str, object] = {
    "discharge_m3s": 9.0,
    "standard_percent": 1.0,
    "expanded_percent": 1.0,
    "in_doubt": 1,
    "state": "approved",
    "day": "2026-07-13",
    "stream": "Another",
    "entries": 1,
    "record": "{}",
    "trouble": "none",
}


@pytest.mark.parametrize("column", COLUMNS)
def test_a_row_that_is_not_what_is_worked_out(office: Archive, column: str) -> None:
    """Every column of a row is held against the entries, figures against those filed."""
    with office.writing() as connection:
        connection.execute(
            update(gaugings).where(gaugings.c.id == "g2").values({column: COLUMNS[column]})
        )
    found = [one for one in _found(office) if one.what == "gauging g2"]

    assert [one.kind for one in found] == ["behind"]
    assert column in found[0].words
    rework(office)
    assert _found(office) == []


@pytest.mark.parametrize("table", [gaugings, words, gauging_files, survey_states, vocabulary])
def test_rows_that_are_gone(office: Archive, table: Any) -> None:
    """What is worked out and no longer there is told, and working out anew puts it back."""
    with office.writing() as connection:
        connection.execute(delete(table))

    assert {kind for kind, _ in _told(office)} == {"behind"}
    rework(office)
    assert _found(office) == []


@pytest.mark.parametrize("table", [survey_states, vocabulary])
def test_counts_that_are_not_those_of_the_rows(office: Archive, table: Any) -> None:
    """A count that is off by one is told."""
    with office.writing() as connection:
        connection.execute(update(table).values(gaugings=table.c.gaugings + 1))

    assert _told(office) == [("behind", "the archive")]


def test_a_row_of_no_entries(office: Archive) -> None:
    """A gauging of which there is no entry was not made by any journal."""
    with office.writing() as connection:
        connection.execute(update(gaugings).where(gaugings.c.id == "g4").values(id="g5"))
        connection.execute(update(words).where(words.c.gauging == "g4").values(gauging="g5"))

    assert _told(office) == [("behind", "gauging g4"), ("damaged", "gauging g5")]


def test_what_has_still_to_be_worked_out(office: Archive) -> None:
    """What waits is told once, and is no damage."""
    with office.writing() as connection:
        take_entries(connection, [remark(gauging="g7"), remark(gauging="g8")], "a test")
    assert _told(office) == [("behind", "the archive")]
    assert len(rows(office, stale)) == 2

    refresh(office)
    assert _found(office) == []


def test_a_survey_that_is_not_as_it_was_put_down(office: Archive) -> None:
    """A survey is held against the register; one that cannot be read is told, and no traceback."""
    right = rows(office, surveys)[0]["record"]
    for record, what in (
        (right.replace("Low flow 2026", "High flow 2026"), f"survey {SURVEY.id}"),
        ("{", "a survey that cannot be read"),
    ):
        with office.writing() as connection:
            connection.execute(update(surveys).values(record=record))
        assert ("damaged", what) in _told(office)


def test_numbers_that_would_be_given_twice(office: Archive) -> None:
    """A counter below the last number is told before anything is taken in under it."""
    with office.writing() as connection:
        connection.execute(update(counters).values(arrivals=5))

    assert _told(office) == [("damaged", "the archive")]


@pytest.mark.parametrize("more", [1.0, 1.1])
def test_another_version_of_the_method(
    office: Archive, monkeypatch: pytest.MonkeyPatch, more: float
) -> None:
    """What a newer version gives otherwise is told with both figures; nothing is changed."""
    use_newer_method(monkeypatch, more)
    before = everything(office)
    found = [one for one in _found(office) if one.kind != "behind"]

    if more == 1.0:
        assert found == []
        return
    assert [(one.kind, one.what) for one in found] == [
        ("method", "gauging g1"),
        ("method", "gauging g2"),
    ]
    assert f"0.31 m³/s was filed by version {METHOD_VERSION}" in found[1].words
    assert f"version {VERSION} gives 0.341 m³/s, +10 %" in found[1].words
    assert everything(office) == before
    assert len(filed(office, "g2")) == 1
