"""What devices hand over and are handed: entries, files, and what they take along."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path
from typing import Any

import attrs
import pytest
from sqlalchemy import select

from bankside.archive.beside_copies import BESIDE_A_COPY
from bankside.archive.entries import entries_of_gauging
from bankside.archive.refresh import refresh
from bankside.archive.register import put_survey
from bankside.archive.tables import refused
from bankside.archive.taking import take_file
from bankside.gauging.journal.document import journal_from_json
from bankside.gauging.journal.entry import entries_from_json, to_members
from bankside.gauging.journal.fold import fold
from bankside.gauging.journal.record import recorded
from bankside.gauging.wire import to_json
from bankside.survey.records import Survey, SurveySite

from ..archive.building import Device
from ..archive.building import crossing as on_a_phone
from ..archive.looking import row_of
from ..gauging.journals import GAUGING, crossing
from .asking import Served

ROOT = Path(__file__).parents[2]
COPIED = "copied"
SHEET = ROOT / "demo" / "sheets" / "alder_fork.csv"


def members_of_crossing() -> list[dict[str, Any]]:
    """The entries of a gauging as they travel."""
    return [to_members(entry) for entry in crossing().entries]


def test_an_entry_that_is_answered_as_added_is_there_and_is_there_once(served: Served) -> None:
    """A device may push again after any failure; nothing is doubled."""
    device, said = served.device(), members_of_crossing()

    first = device.post("entries", {"entries": said[:20]})
    again = device.post("entries", {"entries": said[10:]})

    ids = [one["id"] for one in said]
    assert first.status == 200 and first.json["added"] == ids[:20]
    assert again.json["known"] == ids[10:20] and again.json["added"] == ids[20:]
    with served.archive.reading() as connection:
        assert [entry.id for entry in entries_of_gauging(connection, GAUGING)] == ids


def test_another_content_under_a_known_id_is_told_and_kept_beside(served: Served) -> None:
    """What two devices hold under one id is never replaced by the one that came last."""
    device, said = served.device(), members_of_crossing()
    device.post("entries", {"entries": said})
    other = {**said[4], "value": "1.1"}

    answer = device.post("entries", {"entries": [other, said[5]]}).json

    assert answer["differing"] == [other["id"]] and answer["known"] == [said[5]["id"]]
    with served.archive.reading() as connection:
        there = {entry.id: entry for entry in entries_of_gauging(connection, GAUGING)}
        kept = connection.execute(select(refused.c.content, refused.c.gauging)).all()
    assert there[other["id"]].value == said[4]["value"]
    assert [(json.loads(content), gauging) for content, gauging in kept] == [(other, GAUGING)]


def test_what_is_no_entry_is_refused_by_itself_and_kept_as_it_came(served: Served) -> None:
    """One bad entry keeps back no other one, and not a digit of it is lost."""
    device, said = served.device(), members_of_crossing()
    spelled = '{"id": "odd", "gauging": "g", "value": 1e999, "value": 2.50, "x": ["\\ud83d", true]}'
    text = f'{{"entries": [{json.dumps(said[0])}, {spelled}, 17]}}'

    answer = device.ask("POST", "entries", text.encode(), content_type="application/json").json

    assert answer["added"] == [said[0]["id"]]
    odd, number = answer["refused"]
    assert (odd["id"], odd["index"]) == ("odd", 1) and "device must be given" in odd["said"]
    assert (number["id"], number["index"]) == (None, 2) and "a JSON object" in number["said"]
    with served.archive.reading() as connection:
        kept = connection.execute(select(refused.c.content, refused.c.gauging)).all()
    assert [tuple(one) for one in kept] == [(spelled.replace(" ", ""), "g"), ("17", None)]


def test_a_crew_says_no_review_and_a_reviewer_does(served: Served) -> None:
    """Who measured does not approve; what was tried is kept."""
    review = {
        **members_of_crossing()[0],
        "id": "r1",
        "what": "review",
        "value": {"verdict": "approved", "by": "Ada", "state": "x"},
    }

    refusal = served.device().post("entries", {"entries": [review]}).json
    taken = served.device("dev-2", "reviewer").post("entries", {"entries": [review]}).json

    assert refusal["added"] == [] and "does not review" in refusal["refused"][0]["said"]
    assert taken["added"] == ["r1"]


def test_a_device_is_given_what_others_said_since(served: Served) -> None:
    """Numbers go up; whoever goes on from the last one is given everything once."""
    one, other, said = served.device("dev-1"), served.device("dev-2"), members_of_crossing()
    one.post("entries", {"entries": said})

    got: list[dict[str, Any]] = []
    after, more = 0, True
    while more:
        answer = other.post("pull", {"after": after, "held": [], "most": 7}).json
        got += answer["entries"]
        after, more = answer["after"], answer["more"]
    assert got == said
    one.post("entries", {"entries": [{**said[0], "id": "late"}]})
    answer = other.post("pull", {"after": after}).json
    assert [entry["id"] for entry in answer["entries"]] == ["late"] and not answer["more"]
    assert other.post("pull", {"after": answer["after"]}).json["entries"] == []


def test_sheets_travel_only_to_whoever_holds_their_gauging(served: Served) -> None:
    """An office takes in thousands of old sheets, and no phone is filled with them."""
    taken = take_file(served.archive, SHEET, by="Ada Brook")
    (gauging,) = taken.gaugings
    device, said = served.device(), members_of_crossing()
    device.post("entries", {"entries": said[:3]})

    others = device.post("pull", {"after": 0}).json
    held = device.post("pull", {"after": 0, "held": [gauging]}).json

    assert [entry["id"] for entry in others["entries"]] == [one["id"] for one in said[:3]]
    assert len(held["entries"]) == taken.entries + 3
    assert others["after"] == held["after"]


@pytest.fixture
def copied(served: Served, tmp_path: Path) -> Served:
    """An office that was handed the record of a gauging before its journal came."""
    record = recorded(fold(on_a_phone(COPIED).entries)).gauging
    assert record is not None
    file = tmp_path / "record.json"
    file.write_text(to_json(attrs.evolve(record, id=COPIED)), encoding="utf-8")
    assert take_file(served.archive, file).added == (COPIED,)
    refresh(served.archive)
    return served


@pytest.mark.parametrize("parts", [1, 2, 40])
def test_a_journal_that_comes_after_its_record_doubles_nothing(copied: Served, parts: int) -> None:
    """The record stands, the device is told in one sentence, and all that it said is kept aside."""
    device, phone = copied.device(), on_a_phone(COPIED)
    for _ in range(8):
        phone.correct()  # said after more things than the record has entries
    said = [to_members(entry) for entry in phone.entries]
    before = row_of(copied.archive, COPIED)
    step = -(-len(said) // parts)
    answers = [
        device.post("entries", {"entries": said[start : start + step]}).json
        for start in range(0, len(said), step)
    ]
    refresh(copied.archive)

    assert all(answer["added"] == [] for answer in answers)
    told = [one for answer in answers for one in answer["refused"]]
    assert [one["id"] for one in told] == [one["id"] for one in said]
    assert {one["said"] for one in told} == {BESIDE_A_COPY}
    row = row_of(copied.archive, COPIED)
    assert (row["discharge_m3s"], row["verticals"]) == (before["discharge_m3s"], 3)
    with copied.archive.reading() as connection:
        kept = connection.execute(select(refused.c.content).order_by(refused.c.number)).scalars()
        assert [json.loads(content) for content in kept] == said
    # Nor is it doubled on the device itself, which holds the gauging.
    assert device.post("pull", {"after": 0, "held": [COPIED]}).json["entries"] == []


def test_what_is_said_of_a_copy_by_whoever_knows_it_is_taken_in(copied: Served) -> None:
    """A tablet that holds the record corrects it, and adds a vertical that was left out."""
    tablet = copied.device("dev-2")
    pulled = tablet.post("pull", {"after": 0, "held": [COPIED]}).json["entries"]
    knows = Device(COPIED, "tablet", entries_from_json(pulled))
    known = len(knows.entries)
    knows.vertical("more", "4.5", "0.20", "0.10")
    said = [to_members(entry) for entry in knows.entries[known:]]
    answer = tablet.post("entries", {"entries": said}).json

    assert answer["added"] == [one["id"] for one in said] and answer["refused"] == []
    refresh(copied.archive)
    assert row_of(copied.archive, COPIED)["verticals"] == 4


def test_whoever_was_told_numbers_that_are_gone_begins_anew(served: Served) -> None:
    """After a backup was put back, a device does not wait for numbers that stand for others."""
    answer = served.device().post("pull", {"after": 4711})

    assert answer.status == 409 and "begins anew" in answer.said


def test_a_journal_comes_whole_and_reads_back(served: Served) -> None:
    """A device that holds a gauging from before it was paired asks for its journal once."""
    device = served.device()
    device.post("entries", {"entries": members_of_crossing()})

    journal = journal_from_json(device.get(f"gaugings/{GAUGING}/journal").body.decode())

    assert journal.entries == tuple(sorted(crossing().entries, key=lambda entry: entry.order))
    assert device.get("gaugings/nothing/journal").status == 404


def test_a_photo_comes_back_byte_for_byte(served: Served) -> None:
    """A file is asked for before it is sent, is held against its SHA-256, and is shown as it is."""
    device = served.device()
    photo = bytes(range(256)) * 300
    sha256 = hashlib.sha256(photo).hexdigest()

    assert device.post("files/missing", {"files": [sha256]}).json == {"missing": [sha256]}
    put = device.ask("PUT", f"files/{sha256}", photo, content_type="image/jpeg")
    assert put.json == {"sha256": sha256}
    assert device.ask("PUT", f"files/{sha256}", photo, content_type="image/jpeg").status == 200
    assert device.post("files/missing", {"files": [sha256]}).json == {"missing": []}
    got = device.get(f"files/{sha256}")
    assert got.body == photo and got.headers["content-type"] == "image/jpeg"
    assert "content-disposition" not in got.headers


def test_a_damaged_file_is_refused_and_none_is_run(served: Served) -> None:
    """Bytes that broke on their way are not kept, and a page that poses as a photo is saved."""
    device = served.device()
    page = b"<script>alert(1)</script>"
    sha256 = hashlib.sha256(page).hexdigest()

    broken = device.ask("PUT", f"files/{sha256}", page[:-1], content_type="image/jpeg")
    assert broken.status == 422 and "damaged" in broken.said
    assert device.get(f"files/{sha256}").status == 404
    device.ask("PUT", f"files/{sha256}", page, content_type="text/html; charset=utf-8")
    got = device.get(f"files/{sha256}")
    assert got.headers["content-disposition"].startswith("attachment")
    assert "sandbox" in got.headers["content-security-policy"]
    assert got.headers["x-content-type-options"] == "nosniff"


def test_a_device_takes_along_the_surveys_and_the_last_visit_to_each_site(served: Served) -> None:
    """The record of the last visit comes with its day and discharge, and only when it changed."""
    taken = take_file(served.archive, SHEET)
    with served.archive.writing() as connection:
        sites = (
            SurveySite(id="af", stream="Alder Fork", name="above the footbridge"),
            SurveySite(id="never", stream="Alder Fork", name="Nobody's Pool"),
        )
        put_survey(connection, Survey(id="s26", name="Season 2026", sites=sites))
    refresh(served.archive)
    device = served.device()

    answer = device.get("field")

    assert [survey["name"] for survey in answer.json["surveys"]] == ["Season 2026"]
    visits = {site["id"]: site["last_visit"] for site in answer.json["sites"]}
    assert visits["never"] is None
    assert visits["af"]["id"] == taken.gaugings[0] and visits["af"]["discharge_m3s"] > 0
    assert visits["af"]["record"]["format"] == "bankside.gauging/1"
    again = device.get("field", if_none_match=answer.headers["etag"])
    assert again.status == 304 and again.body == b""
