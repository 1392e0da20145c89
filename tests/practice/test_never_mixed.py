"""Practice never stands among gaugings of real water: every way in and every way on refuses it."""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import attrs
import pytest
from sqlalchemy import select

import bankside
from bankside.archive.archive import Archive, create_archive, open_archive
from bankside.archive.entries import take_entries
from bankside.archive.practice.records import records_kept
from bankside.archive.practice.sessions import keep_session
from bankside.archive.register import put_survey
from bankside.archive.tables import entries, file_contents, refused, sources
from bankside.archive.taking import take_file
from bankside.cli import main
from bankside.exchange.data import SurveyData, survey_data
from bankside.exchange.data_package import data_package, read_data_package
from bankside.exchange.members import write_zip
from bankside.gauging.compute import compute
from bankside.gauging.faults import InputRefused
from bankside.gauging.journal.document import Journal, journal_to_json
from bankside.gauging.journal.entry import Entry, to_members
from bankside.gauging.journal.fold import fold
from bankside.gauging.journal.from_record import entries_of
from bankside.gauging.journal.record import recorded
from bankside.gauging.records import Gauging
from bankside.gauging.rule_sets.load import load_rule_set
from bankside.gauging.structure import unstructured
from bankside.gauging.wire import from_json, several_to_json, to_json
from bankside.intake.read import read_gaugings
from bankside.note.compose import note_content
from bankside.note.material import NoteMaterial
from bankside.practice.crew import CAREFUL
from bankside.practice.making import make_stream
from bankside.practice.simulated_gauging import simulate_gauging
from bankside.report.workbook import gauging_workbook
from bankside.server.api.routes import ROUTES
from bankside.sheets.answers import Answers
from bankside.sheets.write import to_csv
from bankside.survey.visits import visit_of, visits_of

from ..archive.building import crossing, keep
from ..archive.looking import everything
from ..archive.practised import keep_practice, session_file
from ..server.asking import Served
from ..survey.building import SURVEY
from ..survey.building import gauging as real_gauging

REFUSED = "found practice on a simulated stream"
RULES = load_rule_set("common-practice")
AT = "2026-08-01T09:00:00-07:00"
PRACTICE = simulate_gauging(make_stream("run", 3), CAREFUL, 1, 12).gauging
REAL = real_gauging(1.0, id_="real", crew=("Ann",))


def said(gauging: Gauging, id_: str) -> tuple[Entry, ...]:
    """A gauging as the entries of a device."""
    return entries_of(gauging, gauging_id=id_, device="phone", at=AT)


ENTRIES = said(PRACTICE, PRACTICE.id or "")


def written(path: Path, text: str) -> Path:
    """A file with a text."""
    path.write_text(text, encoding="utf-8")
    return path


def record_file(folder: Path) -> Path:
    """The record of a practice gauging."""
    return written(folder / "practice.json", to_json(PRACTICE))


def journal_file(folder: Path) -> Path:
    """The journal of a practice gauging."""
    return written(folder / "journal.json", journal_to_json(Journal(PRACTICE.id or "", ENTRIES)))


def package_file(folder: Path) -> Path:
    """A Data Package whose one gauging somebody marked as practice afterwards."""
    members = dict(data_package(SurveyData(None, (REAL,))))
    marked = members["gaugings.csv"].replace(b",real,", b",practice-1,")
    members["gaugings.csv"] = marked.replace(b",false\n", b",true\n")
    for name in members:
        if name.endswith(".csv"):
            members[name] = members[name].replace(b"real,", b"practice-1,")
    path = folder / "package.zip"
    write_zip(members, path)
    return path


FILES: Sequence[Callable[[Path], Path]] = (record_file, journal_file, package_file)


def test_the_mark_stands_twice() -> None:
    """A record whose id says practice and whose field does not, or the other way, is no record."""
    with pytest.raises(InputRefused, match=r"must begin with practice- .got .real"):
        attrs.evolve(REAL, practice=True)
    with pytest.raises(InputRefused, match=r"must begin with practice- .got nothing"):
        attrs.evolve(REAL, practice=True, id=None)
    with pytest.raises(InputRefused, match="practice must be true where the id begins with"):
        attrs.evolve(PRACTICE, practice=False)


def test_the_mark_comes_back_from_text_and_from_a_journal() -> None:
    """In JSON by its field; in a journal by the id that every entry bears."""
    assert from_json(to_json(PRACTICE)) == PRACTICE
    assert recorded(fold(ENTRIES)).gauging == PRACTICE
    (one,) = (e for e in ENTRIES if e.what == "units/length")
    (other,) = (e for e in ENTRIES if e.what == "units/velocity")
    alone = recorded(fold((one, other))).gauging
    assert alone is not None
    assert alone.practice


def test_no_journal_loses_the_mark() -> None:
    """A practice record has no entries under another id, and a real one none under such an id."""
    for gauging, id_ in ((PRACTICE, "real-1"), (REAL, "practice-1")):
        with pytest.raises(InputRefused, match=r"must begin with practice- where its record is"):
            said(gauging, id_)


def test_a_journal_of_both_is_none() -> None:
    """Entries of two gaugings are never united into one."""
    with pytest.raises(InputRefused, match="must be of one gauging"):
        fold((*ENTRIES, *said(REAL, "real")))


@pytest.mark.parametrize("make", FILES)
def test_no_file_is_read_as_gaugings(make: Callable[[Path], Path], tmp_path: Path) -> None:
    """One sentence says what was found and what would be right."""
    read = read_gaugings(make(tmp_path), Answers())

    faults = [str(fault) for item in getattr(read, "items", ()) for fault in item.faults]
    assert all(item.gauging is None for item in getattr(read, "items", ()))
    assert len(faults) == 1
    assert REFUSED in faults[0]


def test_of_several_records_the_real_ones_are_read(tmp_path: Path) -> None:
    """The one that is practice is refused by name, the others are no worse for it."""
    read = read_gaugings(
        written(tmp_path / "both.json", several_to_json([REAL, PRACTICE])), Answers()
    )

    items = getattr(read, "items", ())
    assert [item.gauging for item in items] == [REAL, None]
    assert REFUSED in str(items[1].faults[0])


@pytest.mark.parametrize("make", FILES)
def test_no_import_brings_it_into_an_archive(
    make: Callable[[Path], Path], archive: Archive, tmp_path: Path
) -> None:
    """Nothing of it is kept: no entry, no file, no source, not even as refused."""
    taken = take_file(archive, make(tmp_path))

    assert any(REFUSED in str(fault) for fault in taken.faults)
    assert left_in(archive) == {"entries": 0, "files": 0, "sources": 0, "refused": 0}


def test_no_entry_is_taken_in_by_any_way(archive: Archive) -> None:
    """The last gate holds for whoever hands in entries, also for one among real ones."""
    with pytest.raises(InputRefused, match=REFUSED), archive.writing() as connection:
        take_entries(connection, (*said(REAL, "real"), ENTRIES[5]), "anybody")

    assert left_in(archive)["entries"] == 0


def test_a_push_takes_the_real_ones_alone(archive: Archive) -> None:
    """A device that sends both is told which were refused, and nothing of them is kept."""
    served = Served.to_others(archive)
    real = said(REAL, "real")
    mixed = [to_members(entry) for entry in (ENTRIES[0], *real, *ENTRIES[1:])]

    answer = served.device().post("entries", {"entries": mixed}).json

    assert answer["added"] == [entry.id for entry in real]
    assert len(answer["refused"]) == len(ENTRIES)
    assert all(REFUSED in one["said"].lower() for one in answer["refused"])
    found = left_in(archive)
    assert (found["entries"], found["refused"]) == (len(real), 0)


def left_in(archive: Archive) -> dict[str, int]:
    """How many rows an archive holds of what people handed in."""
    tables = {"entries": entries, "files": file_contents, "sources": sources, "refused": refused}
    with archive.reading() as connection:
        return {n: len(connection.execute(select(t)).all()) for n, t in tables.items()}


@pytest.mark.parametrize(
    "way",
    [
        lambda: visit_of(PRACTICE, RULES),
        lambda: visits_of([REAL, PRACTICE], (), RULES),
        lambda: survey_data(None, [REAL, PRACTICE]),
        lambda: SurveyData(None, (PRACTICE,)),
        lambda: to_csv([REAL, PRACTICE]),
        lambda: gauging_workbook(PRACTICE, compute(PRACTICE)),
    ],
    ids=["a visit", "visits", "an exchange", "its data", "a table", "a workbook"],
)
def test_no_way_on_is_open(way: Callable[[], Any]) -> None:
    """Surveys, open formats, tables and workbooks of real gaugings never hold practice."""
    with pytest.raises(InputRefused, match=REFUSED):
        way()


def test_a_package_is_not_read_back(tmp_path: Path) -> None:
    """The reader of an open format refuses what is marked, whoever put the mark there."""
    with pytest.raises(InputRefused, match=REFUSED):
        read_data_package(package_file(tmp_path), "package.zip")


@pytest.mark.parametrize(
    "command", [("compute",), ("check",), ("report",), ("convert", "--to", "csv")]
)
def test_no_command_for_real_water_takes_it(
    command: tuple[str, ...], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Each says the same sentence, and writes nothing."""
    record_file(tmp_path)
    assert main([*command, str(tmp_path / "practice.json")]) == 2

    out = capsys.readouterr()
    assert REFUSED in " ".join((out.out + out.err).split())
    assert sorted(path.name for path in tmp_path.iterdir()) == ["practice.json"]


def test_a_survey_report_names_it_and_leaves_it_out(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Even where everything else goes on."""
    survey = {"format": "bankside.survey/1", "id": "s", "name": "S", "streams": [], "sites": []}
    path = written(tmp_path / "survey.json", json.dumps(survey))
    written(tmp_path / "both.json", several_to_json([REAL, PRACTICE]))
    given = ["survey", "report", str(tmp_path / "both.json"), "--survey", str(path)]

    assert main([*given, "-o", str(tmp_path / "out.pdf")]) == 2
    assert REFUSED in " ".join(capsys.readouterr().err.split())


@pytest.fixture
def office(archive: Archive) -> Archive:
    """An archive with a survey and a gauging of real water, reviewed and with a figure filed."""
    with archive.writing() as connection:
        put_survey(connection, SURVEY)
    device = crossing()
    device.review()
    keep(archive, device)
    return archive


def test_practice_in_an_archive_touches_no_other_table(office: Archive) -> None:
    """Sessions and records are rows of their own two tables, and nothing else is another."""
    before = everything(office)
    with office.writing() as connection:
        keep_practice(connection)
    after = everything(office)

    changed = {name for name in after if after[name] != before[name]}
    assert changed == {"practice_sessions", "practice_records"}


def test_no_route_of_an_office_shows_practice(office: Archive) -> None:
    """Every route answers byte for byte as it did before practice was kept: desk, field, sync."""
    served = Served.here(office)
    before = _answers(served)
    with office.writing() as connection:
        keep_practice(connection)
    after = _answers(served)

    assert sum(1 for status, _ in before.values() if status == 200) >= 12
    assert after == before


def _answers(served: Served) -> dict[str, tuple[int, bytes]]:
    """What every route that is read answers about the gauging, its survey and its files."""
    found = {}
    sha256 = hashlib.sha256(session_file("Ann Ash")).hexdigest()
    for route in ROUTES:
        if route.method != "GET" or route.draws:
            continue
        for id_ in ("g1", SURVEY.id, "practice-easy-run-3-1", sha256):
            path = re.sub(r"\{\w+\}", id_, route.path)
            answered = served.client().get(f"{path}?after=0&search=ash")
            plain = served.client().get(path)
            found[f"{path}?"] = (answered.status, answered.body)
            found[path] = (plain.status, plain.body)
    return found


COMMANDS = (
    ("archive", "list", "{}"),
    ("archive", "list", "{}", "--search", "ash", "--json"),
    ("archive", "list", "{}", "--survey", "none", "--json"),
    *(
        ("archive", "export", "{}", "-o", f"{{out}}/{what}", "--what", what)
        for what in ("journals", "records", "sheets", "surveys", "refused")
    ),
    ("survey", "report", "--archive", "{}", "--survey", SURVEY.id, "--html", "-o", "{out}/s.html"),
    ("bulk", "gather", "--archive", "{}", "-o", "{out}/all.parquet"),
)


def test_no_command_for_real_water_shows_what_is_kept(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """What is printed and written is the same, byte for byte, with practice in the archive."""
    place = tmp_path / "season.db"
    with create_archive(place) as archive:
        with archive.writing() as connection:
            put_survey(connection, SURVEY)
        keep(archive, crossing())
    before = _given(place, tmp_path / "before", capsys)
    with open_archive(place) as archive, archive.writing() as connection:
        keep_practice(connection)
    after = _given(place, tmp_path / "after", capsys)

    assert len(before[0]) == 5 and "all.parquet: 1 gauging." in before[1]
    assert after == before


def _given(
    place: Path, out: Path, capsys: pytest.CaptureFixture[str]
) -> tuple[dict[str, bytes], str]:
    """The files that all commands write, and all that they print."""
    out.mkdir()
    for command in COMMANDS:
        assert main([part.format(place, out=out) for part in command]) == 0
    files = {str(one.relative_to(out)): one.read_bytes() for one in out.rglob("*") if one.is_file()}
    printed = capsys.readouterr()
    return files, (printed.out + printed.err).replace(str(out), "")


def test_no_import_takes_a_session_or_a_record(archive: Archive, tmp_path: Path) -> None:
    """Neither is a gauging, nor a survey: each is refused, and nothing of it is kept."""
    with archive.writing() as connection:
        keep_practice(connection)
        (record,) = records_kept(connection)
    for name, text in (("a.json", session_file("Ann Ash").decode()), ("r.json", record.content)):
        taken = take_file(archive, written(tmp_path / name, text))
        assert taken.faults and not taken.gaugings
    assert left_in(archive) == {"entries": 0, "files": 0, "sources": 0, "refused": 0}


def _real_in_a_session() -> str:
    document = json.loads(session_file("Ann Ash"))
    document["record"] = {**unstructured(REAL)}
    return json.dumps(document)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (to_json(REAL), "format must be"),
        (to_csv([REAL]), "must be JSON"),
        (journal_to_json(Journal("real", said(REAL, "real"))), "format must be"),
        (to_json(PRACTICE), "format must be"),
        (_real_in_a_session(), "found a gauging of real water in a practice session"),
    ],
    ids=["record", "sheet", "journal", "a record of practice alone", "within a session"],
)
def test_no_way_into_practice_takes_real_water(text: str, said: str, archive: Archive) -> None:
    """The place of practice in an archive takes sessions alone."""
    with pytest.raises(InputRefused, match=said), archive.writing() as connection:
        keep_session(connection, text.encode(), "real.json")
    assert everything(archive)["practice_sessions"] == []


def test_only_what_is_about_practice_knows_its_tables() -> None:
    """No list, search, export, sync or report of real gaugings even imports them."""
    package = Path(bankside.__file__).parent
    knows = {
        str(path.relative_to(package))
        for path in package.rglob("*.py")
        if re.search(r"practice_(sessions|records)\b|archive\.practice\b", path.read_text("utf-8"))
    }
    own = {one for one in knows if one.startswith(("archive/practice/", "archive/migrations/"))}
    assert knows - own == {
        *("archive/tables.py", "archive/backup.py", "archive/verify.py"),
        *("cli/practice_archive.py", "cli/practice_readiness.py"),
    }


def test_a_note_of_practice_says_so_before_its_figure() -> None:
    """In its head, over its figure, and at the foot of every page."""
    content = note_content(NoteMaterial(gauging=PRACTICE, result=compute(PRACTICE)))

    assert content.kind == "Practice measurement by wading"
    assert content.title.startswith("Practice measurement: ")
    assert content.headline.warnings[0].startswith("Practice on a simulated stream")
    assert content.running.startswith("PRACTICE · ")
    real = note_content(NoteMaterial(gauging=REAL, result=compute(REAL)))
    assert "ractice" not in real.kind + real.title + real.running + " ".join(real.headline.warnings)
