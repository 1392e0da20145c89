"""What a desk is shown and may do: surveys, sites, gaugings, their review, sheets, people."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import attrs
import pytest

from bankside.archive.refresh import seek_sites
from bankside.archive.register import put_survey
from bankside.archive.taking import take_file
from bankside.gauging.records import Position
from bankside.survey.records import Stream, Survey, SurveySite

from ..archive.building import CROSSING_M3S, FASTER_M3S, crossing, keep
from .asking import PASSWORD, Answered, Client, Served

ROOT = Path(__file__).parents[2]
SHEET = ROOT / "demo" / "sheets" / "alder_fork.csv"

SURVEY = Survey(
    id="s26",
    name="Season 2026",
    streams=(
        Stream("Alder River", line=(Position(-120.0, 50.0), Position(-120.1, 50.1))),
        Stream("Tansy Run", joins="Alder River", joins_at_km=3.0),
    ),
    sites=(
        SurveySite(
            id="ar1",
            stream="Alder River",
            name="Upper meadow",
            position=Position(-120.05, 50.05),
            along_km=5.0,
            drainage_area_km2=31.0,
            visits_planned=2,
        ),
        SurveySite(id="tr1", stream="Tansy Run", name="Old ford"),
    ),
)


@pytest.fixture
def desk(served: Served) -> Served:
    """An office with a survey, two gaugings at one site on one day, and one at no site."""
    with served.archive.writing() as connection:
        put_survey(connection, SURVEY, by="I. Marrow")
    faster = crossing("g2", name="tablet")
    faster.correct()
    lost = crossing("g3", stream="Nobody's Brook", place="somewhere", day="2026-07-15")
    keep(served.archive, crossing("g1"), faster, lost)
    return served


def sent_form(client: Client, path: str, file: Path, answers: dict[str, Any]) -> Answered:
    """Send a file with answers beside it, as a browser does."""
    parts = (
        '--line\r\nContent-Disposition: form-data; name="answers"\r\n\r\n'
        f"{json.dumps(answers)}\r\n"
        f'--line\r\nContent-Disposition: form-data; name="file"; filename="{file.name}"\r\n'
        "Content-Type: text/csv\r\n\r\n"
    )
    content = parts.encode() + file.read_bytes() + b"\r\n--line--\r\n"
    return client.ask("POST", path, content, content_type="multipart/form-data; boundary=line")


def test_surveys_are_listed_with_how_far_they_have_come(desk: Served) -> None:
    """A desk begins with the surveys, and with what belongs to none."""
    answer = desk.device().get("surveys").json

    (survey,) = answer["surveys"]
    assert (survey["id"], survey["sites"], survey["gaugings"]) == ("s26", 2, 2)
    assert survey["by_state"] == {"to review": 2}
    assert answer["without_site"] == 1


def test_a_survey_is_shown_with_what_its_visits_say_beside_one_another(desk: Served) -> None:
    """Two gaugings of one site on one day are a duplicate, and their spread is told."""
    answer = desk.device().get("surveys/s26").json

    assert answer["survey"]["format"] == "bankside.survey/1"
    assert {row["id"] for row in answer["rows"]} == {"g1", "g2"}
    assert {row["site_name"] for row in answer["rows"]} == {"Upper meadow"}
    sites = {site["id"]: site for site in answer["sites"]}
    assert sites["ar1"]["visited"] == 2 and sites["tr1"]["visited"] == 0
    assert [site["id"] for site in answer["sites"]] == ["ar1", "tr1"]
    (group,) = answer["duplicates"]["groups"]
    spread = 100 * (FASTER_M3S - CROSSING_M3S) / ((FASTER_M3S + CROSSING_M3S) / 2)
    assert group["spread_percent"] == pytest.approx(spread) and group["words"]
    assert answer["counts"]["by_state"] == {"to review": 2}
    assert answer["findings"] and answer["findings"][0]["severity"]
    assert desk.device("d2").get("surveys/nothing").status == 404
    assert desk.device("d3").get("surveys/s26?days=x").status == 422


def test_a_balance_tells_in_figures_what_the_land_in_between_gives(desk: Served) -> None:
    """By hand: 50 - 31 - 10 km² at the median of what the two sites above yield for each."""
    below = SurveySite(
        id="ar2", stream="Alder River", name="Ford", along_km=2.0, drainage_area_km2=50.0
    )
    upper, brook = SURVEY.sites
    brook = attrs.evolve(brook, along_km=0.5, drainage_area_km2=10.0)
    with desk.archive.writing() as connection:
        put_survey(connection, attrs.evolve(SURVEY, sites=(upper, brook, below)), by="I. Marrow")
        seek_sites(connection)
    keep(
        desk.archive,
        crossing("g4", stream="Tansy Run", place="Old ford", day="2026-07-16"),
        crossing("g5", place="Ford", day="2026-07-16"),
        crossing("g6", day="2026-07-16"),
    )

    (balance,) = desk.device().get("surveys/s26").json["balances"]

    assert (balance["above"], balance["below"]) == (["ar1", "tr1"], "ar2")
    assert balance["land_km2"] == pytest.approx(9.0)
    assert balance["land_gives_m3s"] == pytest.approx(9 * (0.31 / 31 + 0.31 / 10) / 2)
    assert balance["as_land_yields"] is False


def test_the_map_shows_each_site_with_its_last_discharge(desk: Served) -> None:
    """By the measured discharge and the area that drains to the site."""
    answer = desk.device().get("surveys/s26/map").json

    by_kind: dict[str, list[Any]] = {}
    for feature in answer["features"]:
        by_kind.setdefault(feature["properties"]["kind"], []).append(feature)
    assert by_kind["stream"][0]["geometry"]["coordinates"][0] == [-120.0, 50.0]
    sites = {one["properties"]["id"]: one for one in by_kind["site"]}
    upper = sites["ar1"]["properties"]
    assert sites["ar1"]["geometry"]["coordinates"] == [-120.05, 50.05]
    assert upper["discharge_m3s"] == pytest.approx(FASTER_M3S) and upper["gauging"] == "g2"
    assert upper["unit_discharge_l_s_km2"] == pytest.approx(1000 * upper["discharge_m3s"] / 31.0)
    assert sites["tr1"]["geometry"] is None and sites["tr1"]["properties"]["gauging"] is None


def test_a_lead_puts_a_survey_down_and_gaugings_find_their_sites(desk: Served) -> None:
    """A site that is named later is found by the gaugings that were made there before."""
    lead = desk.person("lead")
    record = lead.get("surveys/s26").json["survey"]
    brook = {"id": "nb1", "stream": "Nobody's Brook", "name": "somewhere"}
    record["sites"].append(brook)
    record["streams"].append({"name": "Nobody's Brook"})

    wrong = lead.send("PUT", "surveys/s26", {"survey": {**record, "name": " "}})
    other = lead.send("PUT", "surveys/s27", {"survey": record})
    right = lead.send("PUT", "surveys/s26", {"survey": record, "reason": "a site was forgotten"})

    assert wrong.status == 422 and wrong.json["error"]["faults"][0]["path"] == "survey.name"
    assert other.status == 422
    assert right.status == 200 and right.json["survey"] == record
    keep(desk.archive)
    assert {row["id"] for row in lead.get("surveys/s26").json["rows"]} == {"g1", "g2", "g3"}
    assert lead.get("without-site").json["rows"] == []


def test_a_site_is_shown_through_time(desk: Served) -> None:
    """Its visits with their records, sections in metres, and each visit beside the one before."""
    keep(desk.archive, crossing("g4", day="2026-08-14", zero_bank="left"))
    answer = desk.device().get("sites/ar1").json

    assert answer["visits"][0]["id"] == "g4"
    assert answer["visits"][0]["record"]["format"] == "bankside.gauging/1"
    assert answer["surveys"] == [{"id": "s26", "name": "Season 2026"}]
    sections = {one["gauging"]: one for one in answer["sections"]}
    assert sections["g4"]["zero_bank"] == "left" and sections["g1"]["zero_bank"] is None
    points = [[1.0, 0.0], [2.0, 0.4], [3.0, 0.5], [4.0, 0.4], [5.0, 0.0]]
    assert sections["g4"]["channels"][0]["points"] == points
    assert any(one["gauging"] == "g4" and one["words"] for one in answer["comparisons"])
    assert desk.device("d2").get("sites/nothing").status == 404


def test_visits_are_held_together_in_the_units_that_are_asked_for(desk: Served) -> None:
    """A page of one system asks for it; what is no system is told."""
    device = desk.device()
    feet, metres = (
        " ".join(
            words
            for one in device.get(f"sites/ar1?units={units}").json["comparisons"]
            for words in one["words"]
        )
        for units in ("ft", "m")
    )

    assert " ft³/s then" in feet and " m³/s" not in feet
    assert " m³/s then" in metres and " ft" not in metres
    wrong = device.get("sites/ar1?units=cubits")
    assert wrong.status == 422 and '"ft" or "m"' in wrong.said


def test_a_gauging_is_shown_with_all_that_was_said_and_filed(desk: Served) -> None:
    """Everything that a reviewer has to look at stands in one answer."""
    device = desk.device()
    odd = {"id": "g1-phone-3", "gauging": "g1", "device": "phone", "sequence": 3}
    odd |= {"at": "2026-07-14T10:00:00Z", "what": "site/stream", "value": "Other Water"}
    device.post("entries", {"entries": [odd]})

    answer = device.get("gaugings/g1").json

    assert answer["row"]["discharge_m3s"] == pytest.approx(CROSSING_M3S)
    assert [entry["id"] for entry in answer["entries"]] == [e.id for e in crossing("g1").entries]
    (filing,) = answer["filings"]
    assert filing["reason"] == "first worked out" and filing["state"] == answer["state"]
    (conflict,) = answer["conflicts"]
    assert conflict["entry"] == odd and conflict["received_from"] == "phone dev-1"
    assert answer["source"] is None
    assert device.get("gaugings/nothing").status == 404


def test_a_gauging_from_a_sheet_says_what_became_of_every_row(desk: Served) -> None:
    """The sheet, its rows by fate, and who took it in stand beside the figure."""
    taken = take_file(desk.archive, SHEET, by="I. Marrow")
    keep(desk.archive)

    source = desk.device().get(f"gaugings/{taken.gaugings[0]}").json["source"]

    assert (source["name"], source["sha256"]) == ("alder_fork.csv", taken.sha256)
    assert source["taken_by"] == "I. Marrow" and source["rows"]["used"] > 0
    assert len(source["fates"]) == sum(source["rows"].values())


def test_a_review_holds_for_what_was_looked_at_and_for_nothing_else(desk: Served) -> None:
    """Approved as shown; refused where more was said since; sent back with a reason only."""
    reviewer, device = desk.person("reviewer", "Ada Brook"), desk.device()
    state = reviewer.get("gaugings/g1").json["state"]

    bare = reviewer.post("gaugings/g1/review", {"verdict": "sent back", "state": state})
    assert bare.status == 422 and "reason must be given" in bare.said
    over = reviewer.post("gaugings/g1/review", {"verdict": "approved", "state": state})
    assert over.status == 422 and "findings to stop or fix" in over.said
    why = "the leader was there"
    said = {"verdict": "approved", "state": state, "by": "Somebody Else", "reason": why}
    wrong = reviewer.post("gaugings/g1/review", {**said, "discharge_m3s": 17.0})
    assert wrong.status == 409 and "not the one that was shown" in wrong.said
    answer = reviewer.post("gaugings/g1/review", said)
    assert answer.json["row"]["state"] == "approved" and answer.json["state"] == state
    entry = reviewer.get("gaugings/g1").json["entries"][-1]
    assert entry["what"] == "review" and entry["value"]["by"] == "Ada Brook"
    assert float(entry["value"]["discharge_m3s"]) == pytest.approx(CROSSING_M3S)

    changed = crossing("g1")
    later = changed.correct("0.35")
    members = {"value": later.value, "what": later.what, "replaces": list(later.replaces)}
    more = {**_header(later), **members}
    assert device.post("entries", {"entries": [more]}).json["added"] == [later.id]
    keep(desk.archive)
    assert reviewer.get("gaugings/g1").json["row"]["state"] == "changed since approval"
    late = reviewer.post("gaugings/g1/review", said)
    assert late.status == 409 and "looked at again" in late.said
    assert reviewer.post("gaugings/nothing/review", said).status == 404


def _header(entry: Any) -> dict[str, Any]:
    return {name: getattr(entry, name) for name in ("id", "gauging", "device", "sequence", "at")}


def test_where_nobody_signs_in_a_reviewer_says_who_it_is(here: Served) -> None:
    """On a laptop that nobody else reaches, the name is given with the verdict."""
    keep(here.archive, crossing("g1"))
    client = here.client()
    state = client.get("gaugings/g1").json["state"]

    said = {"verdict": "sent back", "state": state, "by": "I. Marrow", "reason": "no stage"}
    assert client.post("gaugings/g1/review", said).json["row"]["state"] == "sent back"
    entry = client.get("gaugings/g1").json["entries"][-1]
    assert (entry["by"], entry["reason"]) == ("I. Marrow", "no stage")


def test_the_search_finds_by_words_and_days(desk: Served) -> None:
    """By the names that people know, or by the day."""
    client = desk.device()

    assert {row["id"] for row in client.get("search?text=alder").json["rows"]} == {"g1", "g2"}
    assert {row["id"] for row in client.get("search?text=2026-07-15").json["rows"]} == {"g3"}
    assert client.get("search?text=").json["rows"] == []
    assert client.get("search").json["rows"] == []


def test_documents_are_set_from_what_the_archive_holds(desk: Served) -> None:
    """A report of the survey, its tables and the note of a gauging come as files of their kind."""
    client = desk.device()

    note = client.get("gaugings/g1/note.pdf")
    assert note.status == 200 and note.body.startswith(b"%PDF-")
    assert note.headers["content-type"] == "application/pdf"
    report = client.get("surveys/s26/report.pdf")
    assert report.status == 200 and report.body.startswith(b"%PDF-")
    page = client.get("surveys/s26/report.html")
    assert (
        b"Season 2026" in page.body and "script-src" not in page.headers["content-security-policy"]
    )
    assert client.get("surveys/s26/tables.xlsx").body.startswith(b"PK")
    for path in ("gaugings/nothing/note.pdf", "surveys/nothing/report.pdf"):
        assert client.get(path).status == 404


def test_a_sheet_is_looked_at_and_nothing_is_kept(desk: Served) -> None:
    """How each column is understood, what it comes to, and what there is to ask."""
    reviewer = desk.person("reviewer")

    answer = sent_form(reviewer, "sheets/look", SHEET, {}).json

    assert (answer["file"], answer["kind"]) == ("alder_fork.csv", "sheet")
    means = {column["means"] for column in answer["columns"]}
    assert {"tape", "depth", "velocity"} <= means
    (gauging,) = answer["gaugings"]
    assert gauging["discharge_m3s"] > 0 and gauging["filed"] is not None
    assert answer["rows"]["used"] == gauging["rows"]["used"] > 0
    assert reviewer.get("search?text=alder+fork").json["rows"] == []


def test_a_question_of_a_sheet_is_settled_by_one_of_its_options(
    desk: Served, tmp_path: Path
) -> None:
    """What the command line asks for by an option, a desk answers by a choice."""
    file = tmp_path / "old.csv"
    lines = ["tape (ft),D,velocity (ft/s)", "1,0,0", "2,1.1,0.5", "3,1.2,0.6", "4,0,0"]
    file.write_text("\n".join(lines), encoding="utf-8")
    reviewer = desk.person("reviewer")

    asked = sent_form(reviewer, "sheets/look", file, {}).json
    question = next(one for one in asked["questions"] if "unit for the depth" in one["said"])
    assert question["row"] == 1 and "B" in question["column"]
    option = next(one for one in question["options"] if one["words"].endswith(" ft"))
    settled = sent_form(reviewer, "sheets/look", file, option["answers"]).json

    assert settled["questions"] == [] and settled["gaugings"][0]["discharge_m3s"] > 0
    wrong = sent_form(reviewer, "sheets/look", file, {"units": {"depth": "mile"}})
    assert wrong.status == 422 and "mile" in wrong.said


def test_a_sheet_that_is_taken_in_is_there_once(desk: Served) -> None:
    """What became of its rows and of the total that it carries is told; again, it adds nothing."""
    reviewer = desk.person("reviewer", "Ada Brook")

    first = sent_form(reviewer, "sheets", SHEET, {}).json
    again = sent_form(reviewer, "sheets", SHEET, {}).json

    assert first["added"] == first["gaugings"] and first["entries"] > 0
    assert first["filed"][0]["gauging"] == first["gaugings"][0] and first["filed"][0]["words"]
    assert again["gaugings"] == first["gaugings"] and again["added"] == [] == again["faults"]
    source = reviewer.get(f"gaugings/{first['gaugings'][0]}").json["source"]
    assert source["taken_by"] == "Ada Brook"


@pytest.mark.parametrize(
    ("content", "status"),
    [
        (b"", 422),
        (b"--line--\r\n", 422),
        (b'--line\r\nContent-Disposition: form-data; name="file"\r\n\r\nx\r\n--line--\r\n', 422),
        (b"--line\r\nno header\r\n\r\n", 400),
    ],
)
def test_a_form_that_is_none_is_told_in_a_sentence(
    desk: Served, content: bytes, status: int
) -> None:
    """What is sent wrongly says so, and nothing is kept of it."""
    reviewer = desk.person("reviewer")
    type_ = "multipart/form-data; boundary=line"

    answer = reviewer.ask("POST", "sheets", content, content_type=type_)

    assert answer.status == status and answer.said
    assert reviewer.ask("POST", "sheets", content, content_type="text/csv").status == 415
    without = reviewer.ask("POST", "sheets", content, content_type="multipart/form-data")
    assert without.status == 400


def test_a_name_of_a_file_leads_nowhere_else(desk: Served) -> None:
    """Whatever a file is called, it lies in the folder of its own request."""
    reviewer = desk.person("reviewer")
    for name, kept in (
        ("../../etc/passwd", "passwd"),
        ("C:\\\\sheets\\\\old.csv", "old.csv"),
        ("..", "sheet"),
        ("", "sheet"),
        ("ä" * 300 + ".csv", "ä" * 55 + ".csv"),
    ):
        part = f'--line\r\nContent-Disposition: form-data; name="file"; filename="{name}"\r\n\r\n'
        content = part.encode() + SHEET.read_bytes() + b"\r\n--line--\r\n"
        type_ = "multipart/form-data; boundary=line"
        answer = reviewer.ask("POST", "sheets/look", content, content_type=type_)
        assert answer.status == 200, answer.said
        assert answer.json["file"] == kept


def test_a_lead_says_who_may(desk: Served) -> None:
    """Accounts are made and removed at the desk; a name stands for one person."""
    lead = desk.person("lead", "Ada Brook")
    ben = {"name": "Ben Ford", "role": "reviewer", "password": PASSWORD}

    assert lead.post("people", ben).json == {"name": "Ben Ford", "role": "reviewer"}
    assert lead.post("people", ben).status == 409
    short = lead.post("people", {**ben, "name": "Cleo", "password": "short"})
    assert short.status == 409 and "10 characters" in short.said
    names = [one["name"] for one in lead.get("people").json["people"]]
    assert names == ["Ada Brook", "Ben Ford"]
    assert lead.ask("DELETE", "people/Ben Ford").status == 200
    assert lead.ask("DELETE", "people/Ben Ford").status == 409
    for spelt in ("Ada Brook", " Ada  Brook"):
        last = lead.ask("DELETE", f"people/{spelt}")
        assert last.status == 409 and "the last lead" in last.said


def test_a_lead_pairs_a_device_and_lets_it_in_no_longer(desk: Served) -> None:
    """The code stands in the link and in its picture; a revoked device is on the list no more."""
    lead = desk.person("lead")

    code = lead.post("devices/code", {"name": "Truck tablet"}).json
    assert code["url"] == f"https://bank.example.org/#/pair/{code['code']}"
    assert ElementTree.fromstring(code["qr"]).tag.endswith("svg")
    said = {"code": code["code"], "device": "dev-1", "name": "a phone"}
    token = desk.client().post("pair", said).json["token"]
    (device,) = lead.get("devices").json["devices"]
    assert (device["name"], device["device"], device["role"]) == ("Truck tablet", "dev-1", "crew")
    assert desk.client(token).get("surveys").status == 200
    assert lead.ask("DELETE", f"devices/{device['id']}").status == 200
    assert lead.get("devices").json["devices"] == []
    assert desk.client(token).get("surveys").status == 401
    assert lead.ask("DELETE", "devices/nothing").status == 409
