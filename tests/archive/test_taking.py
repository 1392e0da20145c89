"""Files that are handed to an archive: what of them is taken in, kept, and refused."""

from __future__ import annotations

import datetime
import hashlib
import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import attrs
import openpyxl
import pytest

from bankside.archive.archive import Archive
from bankside.archive.giving import journal_of, original_sheets
from bankside.archive.refresh import refresh
from bankside.archive.tables import (
    entries,
    file_contents,
    gaugings,
    refused,
    source_gaugings,
    sources,
    surveys,
)
from bankside.archive.taking import TakenFile, take_file
from bankside.archive.verify import verify
from bankside.gauging.faults import InputRefused
from bankside.gauging.journal.document import Journal, StoredFile, journal_to_json
from bankside.gauging.journal.fold import fold
from bankside.gauging.journal.record import recorded
from bankside.gauging.records import Gauging, Site
from bankside.gauging.wire import several_to_json, to_json
from bankside.sheets.answers import Answers
from bankside.survey.document import survey_to_json

from ..sheets.building import (
    SECTION_DISCHARGE,
    SIDE,
    lines_of,
    metric,
    numbers,
    text_sheet,
    workbook,
)
from ..survey.building import SURVEY, gauging
from .building import CROSSING_M3S, FASTER_M3S, Device, crossing, keep
from .looking import everything, filed, row_of, rows

HEADS = ["tape (m)", "depth (m)", "velocity (m/s)"]
PHOTO = b"\x89PNG of the section"


def _take(archive: Archive, path: Path, **given: Any) -> TakenFile:
    taken = take_file(archive, path, **given)
    refresh(archive)
    return taken


def _said(taken: TakenFile) -> list[str]:
    return [str(fault) for fault in taken.faults]


def _journal_file(folder: Path, device: Device, *photos: bytes, name: str = "g.json") -> Path:
    files = [StoredFile("image/png", content) for content in photos]
    journal = Journal(device.gauging, tuple(device.entries), {file.sha256: file for file in files})
    path = folder / name
    path.write_text(journal_to_json(journal), encoding="utf-8")
    return path


def _photographed(content: bytes = PHOTO) -> Device:
    device = crossing()
    sha256 = hashlib.sha256(content).hexdigest()
    said = {"purpose": "section", "sha256": sha256, "bytes": len(content), "type": "image/png"}
    device.say("photos/p1", said)
    return device


def _record_file(folder: Path, *records: Gauging, name: str = "record.json") -> Path:
    path = folder / name
    text = to_json(records[0]) if len(records) == 1 else several_to_json(records)
    path.write_text(text, encoding="utf-8")
    return path


def _survey_file(folder: Path) -> Path:
    path = folder / "survey.json"
    path.write_text(survey_to_json(SURVEY), encoding="utf-8")
    return path


def _workbook(folder: Path, name: str = "season.xlsx") -> Path:
    return workbook(
        folder,
        {
            "Alder": [HEADS, *numbers()],
            "Birch": [HEADS, *numbers(SIDE)],
            "Readme": [["Nothing was measured here."]],
        },
        name,
    )


def test_a_sheet_is_taken_in_as_a_journal(archive: Archive, tmp_path: Path) -> None:
    """Its discharge is filed, its rows are accounted for, and its bytes are kept."""
    path = text_sheet(tmp_path, metric(), "alder.csv")
    taken = _take(archive, path, by="I. Marrow")
    (id_,) = taken.gaugings

    assert taken.added == taken.gaugings
    assert (taken.faults, taken.rows) == ((), {"used": 6, "remark": 1, "refused": 0})
    row = row_of(archive, id_)
    assert row["discharge_m3s"] == pytest.approx(SECTION_DISCHARGE, rel=1e-3)
    assert row["state"] == "to review"
    assert [one.reason for one in filed(archive, id_)] == ["first worked out"]
    with archive.reading() as connection:
        (sheet,) = original_sheets(connection)
    assert (sheet.name, sheet.content, sheet.taken_by) == (
        "alder.csv",
        path.read_bytes(),
        "I. Marrow",
    )
    assert sheet.sha256 == taken.sha256 == hashlib.sha256(path.read_bytes()).hexdigest()
    assert sheet.report["counts"] == taken.rows
    assert [one.kind for one in verify(archive)] == []


def test_a_workbook_holds_several_gaugings(archive: Archive, tmp_path: Path) -> None:
    """Each sheet with readings is a gauging; one without is told."""
    taken = _take(archive, _workbook(tmp_path))

    assert len(taken.gaugings) == 2
    assert sorted(row["discharge_m3s"] for row in rows(archive, gaugings)) == pytest.approx(
        [0.0245, SECTION_DISCHARGE], rel=1e-3
    )
    assert sum(taken.rows.values()) == 7 + 5 + 1
    assert [row["label"] for row in rows(archive, source_gaugings)] == ["Alder", "Birch"]


def test_a_journal_is_taken_in_with_its_photos(archive: Archive, tmp_path: Path) -> None:
    """Entries come back as they were said, and photos byte for byte."""
    device = _photographed()
    path = _journal_file(tmp_path, device, PHOTO)
    taken = _take(archive, path)

    assert (taken.gaugings, taken.added) == (("g1",), ("g1",))
    assert (taken.entries, taken.photos, taken.faults) == (len(device.entries), 1, ())
    with archive.reading() as connection:
        journal = journal_of(connection, "g1")
        assert journal_of(connection, "g2") is None
    assert journal is not None
    assert journal.entries == tuple(device.entries)
    assert [file.content for file in journal.files.values()] == [PHOTO]
    assert [one.kind for one in verify(archive)] == []


def test_records_are_taken_in_under_their_ids(archive: Archive, tmp_path: Path) -> None:
    """Two records of one place and day are two gaugings, again and again."""
    site = Site("Upper meadow", "Alder River")
    records = [gauging(1.0 + n, id_=f"g{n}", site=site) for n in range(2)]
    path = _record_file(tmp_path, *records)
    taken = [_take(archive, path) for _ in range(2)]

    assert [one.gaugings for one in taken] == [("g0", "g1")] * 2
    assert [one.added for one in taken] == [("g0", "g1"), ()]
    assert [_said(one) for one in taken] == [[], []]
    assert [row_of(archive, id_)["discharge_m3s"] for id_ in ("g0", "g1")] == pytest.approx([1, 2])
    with archive.reading() as connection:
        found = [journal_of(connection, one.id or "") for one in records]
    made = [recorded(fold(journal.entries)).gauging for journal in found if journal]
    assert made == records


def test_a_survey_is_put_down_and_sought_by(archive: Archive, tmp_path: Path) -> None:
    """Gaugings that came before it are at its sites."""
    _take(archive, _journal_file(tmp_path, crossing()))
    taken = [_take(archive, _survey_file(tmp_path), by="I. Marrow") for _ in range(2)]

    assert [one.survey for one in taken] == [SURVEY.id] * 2
    assert row_of(archive)["site"] == "upper"
    assert len(rows(archive, surveys)) == 1
    assert [
        row["sha256"] for row in rows(archive, file_contents) if row["sha256"] == taken[0].sha256
    ]


BROKEN: tuple[tuple[str, bytes, str], ...] = (
    ("empty.csv", b"", "empty.csv"),
    ("no.xlsx", b"PK\x03\x04 and no more", "no.xlsx"),
    ("cut.json", b'{"format": "bankside.journal/1", "gauging": "g1", "entr', "cut off"),
    ("page.csv", b"<html><body>Sign in first</body></html>", "web page"),
    ("no-unit.csv", metric().replace(" (m)", "").encode(), "--unit"),
    ("words.csv", b"this,is\nno,sheet\n", "words.csv"),
)


@pytest.mark.parametrize(("name", "content", "said"), BROKEN, ids=[one[0] for one in BROKEN])
def test_a_file_that_cannot_be_read_leaves_nothing(
    archive: Archive, tmp_path: Path, name: str, content: bytes, said: str
) -> None:
    """It is named with what is wrong, and nothing of it is kept or counted as taken in."""
    path = tmp_path / name
    path.write_bytes(content)
    before = everything(archive)
    taken = _take(archive, path)

    assert any(said in fault for fault in _said(taken))
    assert (taken.gaugings, taken.added, taken.entries) == ((), (), 0)
    assert everything(archive) == before


def test_what_is_no_file(archive: Archive, tmp_path: Path) -> None:
    """A name that is not there, and a folder, are told."""
    before = everything(archive)
    for path in (tmp_path / "nowhere.csv", tmp_path, tmp_path / "\0.csv"):
        assert len(_said(_take(archive, path))) == 1
    assert everything(archive) == before


def test_a_file_without_gaugings(archive: Archive, tmp_path: Path) -> None:
    """A survey of dry sites: nothing was measured, which is no fault, and nothing is kept."""
    text = metric([("0", "0", "0"), ("1", "0", "0")])
    taken = _take(archive, text_sheet(tmp_path, text, "dry.csv"))

    assert taken.gaugings == ()
    assert sum(taken.rows.values()) == 3
    assert rows(archive, file_contents) == []


def test_whatever_is_handed_in_again_adds_nothing(archive: Archive, tmp_path: Path) -> None:
    """Sheets, workbooks, journals, records and surveys come twice, and every table stays."""
    paths = [
        text_sheet(tmp_path, metric(), "alder.csv"),
        _workbook(tmp_path),
        _journal_file(tmp_path, _photographed(), PHOTO),
        _record_file(tmp_path, gauging(1.0, id_="r1"), gauging(2.0)),
        _survey_file(tmp_path),
    ]
    first = [_take(archive, path) for path in paths]
    before = everything(archive)
    again = [_take(archive, path, by="somebody else") for path in paths]

    assert everything(archive) == before
    assert [one.gaugings for one in again] == [one.gaugings for one in first]
    assert [(one.added, one.entries, one.photos, one.faults) for one in again] == [
        ((), 0, 0, ())
    ] * len(paths)
    assert [one.kind for one in verify(archive)] == []


def test_a_sheet_under_another_name_adds_nothing(archive: Archive, tmp_path: Path) -> None:
    """The same bytes are the same sheet, whatever the file is called."""
    first = _take(archive, text_sheet(tmp_path, metric(), "alder.csv"))
    before = everything(archive)
    again = _take(archive, text_sheet(tmp_path, metric(), "Copy of alder (2).csv"))

    assert again.gaugings == first.gaugings
    assert (again.added, again.faults) == ((), ())
    assert everything(archive) == before


def test_the_same_readings_in_another_file_are_the_same_gauging(
    archive: Archive, tmp_path: Path
) -> None:
    """A sheet that was saved anew is kept too, adds no entry, and that is told."""
    first = _take(archive, text_sheet(tmp_path, metric(), "alder.csv"))
    before = rows(archive, entries)
    saved = text_sheet(tmp_path, metric().replace(",", ";"), "saved anew.csv")
    again = _take(archive, saved)

    assert again.gaugings == first.gaugings
    assert again.added == ()
    assert [note for note in again.notes if "the very same gauging" in note]
    assert rows(archive, entries) == before
    assert len(rows(archive, file_contents)) == len(rows(archive, sources)) == 2


def test_a_gauging_that_is_there_twice_in_one_file(archive: Archive, tmp_path: Path) -> None:
    """What was copied within a file is one gauging, and that is told."""
    path = _record_file(tmp_path, gauging(2.0), gauging(2.0))
    taken = [_take(archive, path) for _ in range(2)]

    assert len(rows(archive, gaugings)) == len(taken[0].gaugings) == 1
    assert taken[0].notes == (
        "gauging 2: gauging 1 on the same file is the very same gauging, which is kept once",
    )
    assert [one.faults for one in taken] == [(), ()]


def test_a_sheet_read_otherwise_than_before_is_refused(archive: Archive, tmp_path: Path) -> None:
    """Other answers to the same file would make a second gauging; what is right is said."""
    path = text_sheet(tmp_path, metric().replace(" (m)", "").replace(" (m/s)", ""), "old.csv")

    def answers(unit: str) -> Answers:
        return Answers(units={"tape": unit, "depth": unit, "velocity": "m/s"})

    first = _take(archive, path, answers=answers("m"))
    before = everything(archive)
    other = _take(archive, path, answers=answers("ft"))

    (said,) = _said(other)
    assert "old.csv" in said
    assert "this file was taken in before and read otherwise" in said
    assert first.gaugings[0] not in said
    assert "a correction of that gauging would be right" in said
    assert (other.gaugings, other.entries) == ((), 0)
    assert other.rows == {"used": 0, "remark": 1, "refused": 6}
    assert everything(archive) == before
    assert _take(archive, path, answers=answers("m")).faults == ()


def test_other_answers_may_settle_what_was_left_open(archive: Archive, tmp_path: Path) -> None:
    """What was refused for want of an answer comes in with it; the rest is there already."""
    open_rows = [["tape (m)", "depth", "velocity (m/s)"], *numbers(SIDE)]
    path = workbook(tmp_path, {"A": [HEADS, *numbers()], "B": open_rows})
    first = _take(archive, path)
    assert len(first.gaugings) == 1
    assert any("--unit" in said for said in _said(first))

    again = _take(archive, path, answers=Answers(units={"depth": "m"}))
    assert again.faults == ()
    assert len(again.gaugings) == 2
    assert len(again.added) == 1
    assert len(rows(archive, sources)) == 2
    assert len(rows(archive, file_contents)) == 1


def test_a_sheet_whose_gauging_was_corrected_may_come_again(
    archive: Archive, tmp_path: Path
) -> None:
    """What the office said since stands, and the sheet adds nothing."""
    path = text_sheet(tmp_path, metric(), "alder.csv")
    (id_,) = _take(archive, path).gaugings
    with archive.reading() as connection:
        journal = journal_of(connection, id_)
    assert journal is not None
    office = Device(id_, "office", journal.entries)
    office.say("remarks", "The second sheet of that day.")
    keep(archive, office)
    before = everything(archive)

    assert _take(archive, path).faults == ()
    assert everything(archive) == before


def test_a_record_of_other_readings_under_a_known_id_is_refused(
    archive: Archive, tmp_path: Path
) -> None:
    """The archive's journal stands, and the record says nothing in it."""
    keep(archive, crossing())
    before = everything(archive)
    faster = crossing()
    faster.correct()
    record = recorded(fold(faster.entries)).gauging
    assert record is not None
    taken = _take(archive, _record_file(tmp_path, attrs.evolve(record, corrections=())))

    (said,) = _said(taken)
    assert "the archive has other readings of this gauging" in said
    assert "its journal would be right" in said
    assert rows(archive, entries) == before["entries"]
    assert row_of(archive)["discharge_m3s"] == pytest.approx(CROSSING_M3S)


def test_two_records_of_other_readings_under_one_id(archive: Archive, tmp_path: Path) -> None:
    """The first that came stands; the second is refused, and not united with it."""
    first = _take(archive, _record_file(tmp_path, gauging(1.0, id_="r1"), name="a.json"))
    second = _take(archive, _record_file(tmp_path, gauging(2.0, id_="r1"), name="b.json"))

    assert (first.faults, len(second.faults)) == ((), 1)
    assert row_of(archive, "r1")["discharge_m3s"] == pytest.approx(1.0)
    assert row_of(archive, "r1")["conflicts"] == 0


def test_the_record_of_a_journal_that_is_there_adds_nothing(
    archive: Archive, tmp_path: Path
) -> None:
    """What was converted from the app's journal says the same, and its readings stay single."""
    device = crossing()
    keep(archive, device)
    record = recorded(fold(device.entries)).gauging
    assert record is not None
    taken = _take(archive, _record_file(tmp_path, record))

    assert (taken.gaugings, taken.added, taken.faults) == (("g1",), (), ())
    assert [note for note in taken.notes if "the very same gauging" in note]
    assert len(rows(archive, entries)) == len(device.entries)
    assert row_of(archive)["verticals"] == 3


def test_a_journal_after_its_record_is_refused(archive: Archive, tmp_path: Path) -> None:
    """Its readings would be there twice; the file is kept and the archive's record stands."""
    device = crossing()
    record = recorded(fold(device.entries)).gauging
    assert record is not None
    _take(archive, _record_file(tmp_path, record))
    taken = _take(archive, _journal_file(tmp_path, device))

    (said,) = _said(taken)
    assert "g.json" in said
    assert "its readings would be there twice" in said
    assert row_of(archive)["verticals"] == 3
    assert taken.sha256 in {row["sha256"] for row in rows(archive, file_contents)}


def test_a_journal_that_the_archive_gave_out_comes_back(archive: Archive, tmp_path: Path) -> None:
    """An exported journal of a sheet, corrected elsewhere, adds the correction."""
    (id_,) = _take(archive, text_sheet(tmp_path, metric(), "alder.csv")).gaugings
    with archive.reading() as connection:
        journal = journal_of(connection, id_)
    assert journal is not None
    office = Device(id_, "office", journal.entries)
    office.say("remarks", "The second sheet of that day.")
    taken = _take(archive, _journal_file(tmp_path, office))

    assert (taken.entries, taken.faults) == (1, ())


def test_entries_that_differ_are_told(archive: Archive, tmp_path: Path) -> None:
    """A journal that says otherwise under a known id: the archive's stands, both are kept."""
    keep(archive, crossing())
    other = crossing()
    other.entries[3] = attrs.evolve(other.entries[3], value="Another ford")
    other.correct()
    taken = _take(archive, _journal_file(tmp_path, other))

    (said,) = _said(taken)
    assert 'under the id "g1-phone-4"' in said
    assert "both are kept, the archive's stands" in said
    assert taken.entries == 1
    assert len(rows(archive, refused)) == 1
    assert row_of(archive)["place"] == "Upper meadow"
    assert row_of(archive)["discharge_m3s"] == pytest.approx(FASTER_M3S)


def test_what_is_kept_is_what_was_read(
    archive: Archive, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A program that writes to the sheet meanwhile changes neither readings nor what is kept."""
    path = text_sheet(tmp_path, metric(), "alder.csv")
    content = path.read_bytes()
    taking = take_file.__globals__
    right = taking["read_file"]

    def read_then_write(*given: Any) -> Any:
        path.write_bytes(metric(SIDE).encode())
        found = right(*given)
        path.write_bytes(b"saved by another program")
        return found

    monkeypatch.setitem(taking, "read_file", read_then_write)
    taken = _take(archive, path)

    assert row_of(archive, taken.gaugings[0])["discharge_m3s"] == pytest.approx(
        SECTION_DISCHARGE, rel=1e-3
    )
    assert taken.file == "alder.csv"
    assert [bytes(row["content"]) for row in rows(archive, file_contents)] == [content]


@pytest.mark.parametrize("by", ["", "  ", "x" * 201, "\0", "half \ud800"])
def test_a_name_that_cannot_be_kept(archive: Archive, tmp_path: Path, by: str) -> None:
    """Who hands a file in is a name that any column can hold, in every database alike."""
    path = text_sheet(tmp_path, metric(), "alder.csv")
    with pytest.raises(InputRefused, match="name of"):
        take_file(archive, path, by=by)
    assert rows(archive, entries) == []


def test_odd_names_and_labels(archive: Archive, tmp_path: Path) -> None:
    """Names of files and sheets with signs that few expect are taken in and come again."""
    paths = [
        workbook(tmp_path, {"Zähler №1 'x'": [HEADS, *numbers()]}, "Ümläute & (1).xlsx"),
        text_sheet(tmp_path, metric(SIDE), "a" * 240 + ".csv"),
    ]
    record = gauging(1.0, site=Site("a \0 b", "Alder \0"))
    paths.append(_record_file(tmp_path, record))
    first = [_take(archive, path) for path in paths]
    before = everything(archive)
    again = [_take(archive, path) for path in paths]

    assert [one.faults for one in (*first, *again)] == [()] * 6
    assert everything(archive) == before


def test_a_photo_of_an_odd_kind(archive: Archive, tmp_path: Path) -> None:
    """A media type longer than any keeps neither the photo nor the journal away."""
    device = _photographed()
    file = StoredFile("image/" + "x" * 300, PHOTO)
    path = tmp_path / "g.json"
    path.write_text(
        journal_to_json(Journal("g1", tuple(device.entries), {file.sha256: file})), "utf-8"
    )

    assert _take(archive, path).faults == ()
    with archive.reading() as connection:
        journal = journal_of(connection, "g1")
    assert journal is not None and [one.content for one in journal.files.values()] == [PHOTO]


def _years(folder: Path) -> Sequence[Path]:
    """Workbooks of two years whose sheets carry the same names."""
    paths = []
    for year, stations in ((2024, numbers()), (2025, numbers(SIDE))):
        book = openpyxl.Workbook()
        book.active.title = "Alder"
        for row in (["date", datetime.date(year, 7, 14)], HEADS, *stations):
            book.active.append(row)
        paths.append(folder / f"{year}.xlsx")
        book.save(paths[-1])
    return paths


def test_labels_are_those_of_one_file(archive: Archive, tmp_path: Path) -> None:
    """A sheet of the same name in another workbook is another gauging."""
    taken = [_take(archive, path) for path in _years(tmp_path)]

    assert [one.faults for one in taken] == [(), ()]
    assert len(rows(archive, gaugings)) == 2


def test_the_report_of_a_sheet_says_what_became_of_each_row(
    archive: Archive, tmp_path: Path
) -> None:
    """Ten years on, every row of the sheet has its fate and its reason."""
    text = f"Crew: I. Marrow\n{','.join(HEADS)}\n{lines_of(SIDE)}\nseen by nobody\n"
    taken = _take(archive, text_sheet(tmp_path, text, "birch.csv"))
    (source,) = rows(archive, sources)
    report = json.loads(source["report"])

    told = [row for one in report["gaugings"] for row in one["rows"]]
    assert len(told) == sum(taken.rows.values())
    assert report["counts"] == taken.rows
    assert all(fate in ("used", "remark", "refused") for _, _, fate, _ in told)
