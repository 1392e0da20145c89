"""What is worked out from entries: always in the end, and the same however it came about."""

from __future__ import annotations

import threading
from collections.abc import Callable, Sequence
from importlib import import_module
from typing import Any

import pytest
from sqlalchemy import Table, delete

from bankside.archive import refresh as refreshing
from bankside.archive.archive import Archive
from bankside.archive.refresh import refresh, rework
from bankside.archive.register import put_survey
from bankside.archive.tables import (
    entries,
    gauging_files,
    gaugings,
    stale,
    survey_states,
    vocabulary,
    words,
)
from bankside.archive.verify import verify
from bankside.archive.work_out import Worked
from bankside.gauging.journal.entry import Entry
from bankside.gauging.journal.from_record import entries_of

from ..survey.building import SURVEY, gauging
from .building import CROSSING_M3S, FASTER_M3S, Device, V, crossing, keep, store
from .looking import filed, row_of, rows

WORKED_OUT = (gaugings, gauging_files, words, vocabulary, survey_states)
SHA256 = "ab" * 32


def _worked_out(archive: Archive) -> dict[str, list[dict[str, Any]]]:
    """All that is worked out, without the arrivals that it was worked out after."""
    found = {table.name: rows(archive, table) for table in WORKED_OUT}
    for row in found["gaugings"]:
        del row["number"]
    for name in ("vocabulary", "survey_states"):
        found[name] = [row for row in found[name] if row["gaugings"]]
    return found


def test_a_row_says_what_the_journal_says(archive: Archive) -> None:
    """Header, figures and counts of a closed gauging stand in its row."""
    device = crossing(
        crew__k1={"name": "I. Marrow"},
        meter__serial="P-17",
        meter__kind="propeller",
        quality="good",
    )
    device.say("photos/p1", _photo())
    keep(archive, device)
    row = row_of(archive)

    assert (row["stream"], row["place"], row["day"]) == (
        "Alder River",
        "Upper meadow",
        "2026-07-14",
    )
    assert (row["crew"], row["meter"], row["quality"]) == ("I. Marrow", "P-17", "good")
    assert (row["verticals"], row["photos"], row["conflicts"]) == (3, 1, 0)
    assert row["entries"] == len(device.entries)
    assert row["discharge_m3s"] == pytest.approx(CROSSING_M3S)
    assert row["open_stop"] + row["open_fix"] + row["open_explain"] > 0
    assert rows(archive, gauging_files) == [
        {"gauging": "g1", "key": "p1", "sha256": SHA256, "purpose": "section", "type": "image/jpeg"}
    ]


def _photo(**other: object) -> dict[str, object]:
    return {"purpose": "section", "sha256": SHA256, "bytes": 3, "type": "image/jpeg", **other}


def test_two_devices_that_disagree_are_counted(archive: Archive) -> None:
    """A conflict is seen in the row until somebody says which holds."""
    device = crossing()
    other = Device("g1", "tablet", device.entries)
    device.correct("0.40")
    other.correct("0.50")
    keep(archive, device, other)
    assert row_of(archive)["conflicts"] == 1

    other.entries = [*other.entries, device.entries[-1]]
    other.correct("0.40")
    keep(archive, other)
    assert row_of(archive)["conflicts"] == 0
    assert row_of(archive)["discharge_m3s"] == pytest.approx(FASTER_M3S)


@pytest.mark.parametrize(
    "said",
    [
        [("remarks", "Nothing read yet.")],
        [("units/length", "m")],
        [("units/length", "furlong"), ("units/velocity", "m/s")],
        [("nonsense/of/a/newer/app", {"deep": [1]})],
        [("units/length", "m"), ("units/velocity", "m/s"), (f"{V}/v1/tape", "\ud800 \0")],
    ],
)
def test_a_journal_that_makes_no_record_is_kept_and_told(
    archive: Archive, said: Sequence[tuple[str, object]]
) -> None:
    """Every gauging has its row, which says what is missing, and nothing is filed."""
    device = Device()
    for what, value in said:
        device.say(what, value)
    keep(archive, device, crossing("g2"))

    row = row_of(archive)
    assert (row["state"], row["discharge_m3s"], row["day"]) == ("under way", None, "")
    assert row["trouble"]
    assert filed(archive) == ()
    assert row_of(archive, "g2")["discharge_m3s"] == pytest.approx(CROSSING_M3S)


ODD_TEXTS = ("A \ud800 half", "a NUL \0 in it", "x" * 500, " ", "\n", "'; DROP TABLE entries; --")


def test_whatever_is_said_can_be_worked_out(archive: Archive) -> None:
    """Texts that no column can hold keep neither their own gauging nor another from its row."""
    devices = []
    for number, text in enumerate(ODD_TEXTS):
        device = crossing(f"odd{number}", stream=text, place=text)
        for what, value in (
            ("site/id", text),
            ("repeats", text),
            ("crew/k1", {"name": text}),
            ("meter/serial", text),
            ("remarks", text),
            ("photos/p1", _photo(type=text, purpose=text, sha256=text)),
            ("photos/p2", _photo(type=text)),
            ("photos/p3", _photo(purpose=text)),
            ("photos/p4", text),
            ("site/position", {"label": text}),
        ):
            device.say(what, value)
        device.review(by=text)
        devices.append(device)
    keep(archive, crossing(), *devices)

    assert rows(archive, stale) == []
    assert len(rows(archive, gaugings)) == 1 + len(ODD_TEXTS)
    assert [found for found in verify(archive) if found.kind != "missing"] == []


@pytest.mark.parametrize("figure", ["1" + "0" * 300, "0." + "0" * 300 + "1", "-5"])
def test_whatever_is_read_can_be_worked_out(archive: Archive, figure: str) -> None:
    """Figures beyond every stream make a row with what is wrong, or a figure, and no failure."""
    device = crossing()
    for what in ("tape", "depth"):
        device.say(f"{V}/v2/{what}", figure)
    device.correct(figure)
    keep(archive, device, crossing("g2"))

    assert rows(archive, stale) == []
    assert row_of(archive)["trouble"] or row_of(archive)["discharge_m3s"] is not None
    assert row_of(archive, "g2")["discharge_m3s"] == pytest.approx(CROSSING_M3S)


def test_a_fault_of_the_program_keeps_no_other_gauging_back(
    archive: Archive, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A gauging that cannot be worked out says so in its row; with the fault mended, it is."""
    right = refreshing.work_out.__globals__["visit_of"]

    def fails(said: Any, *given: Any, id_: str, **more: Any) -> Any:
        if id_ == "g1":
            raise ZeroDivisionError("by nothing")
        return right(said, *given, id_=id_, **more)

    with monkeypatch.context() as patched:
        patched.setattr("bankside.archive.work_out.visit_of", fails)
        keep(archive, crossing(), crossing("g2"))
    assert "a fault in Bankside" in row_of(archive)["trouble"]
    assert "ZeroDivisionError: by nothing" in row_of(archive)["trouble"]
    assert filed(archive) == ()
    assert row_of(archive, "g2")["discharge_m3s"] == pytest.approx(CROSSING_M3S)

    rework(archive)
    assert row_of(archive)["discharge_m3s"] == pytest.approx(CROSSING_M3S)


class _Untellable(Exception):
    """An exception that fails again where it is told."""

    def __str__(self) -> str:
        raise RuntimeError("not even that")


@pytest.mark.parametrize(
    "strange",
    [
        _Untellable(),
        ExceptionGroup("several", [ValueError("one"), KeyError("other")]),
        RecursionError("too deep"),
        StopIteration(),
        UnicodeEncodeError("utf-8", "\ud800", 0, 1, "surrogates"),
    ],
    ids=lambda error: type(error).__name__,
)
@pytest.mark.parametrize(
    "where",
    [
        "work_out.recorded",
        "work_out.state_of",
        "work_out.mean_stage",
        "refresh.entries_of_gauging",
        "refresh.filing_due",
        "refresh.file_figures",
        "refresh.keep_words",
    ],
)
def test_nothing_strange_about_one_gauging_keeps_the_others_back(
    archive: Archive, monkeypatch: pytest.MonkeyPatch, where: str, strange: Exception
) -> None:
    """Wherever it is raised, the others are worked out, and the row of this one says why."""
    module, name = where.split(".")
    place = f"bankside.archive.{where}"
    right = getattr(import_module(f"bankside.archive.{module}"), name)

    def fails(*said: Any, **more: Any) -> Any:
        # The row that says why has no day and no words but its id; it is let through.
        if "Nowhere Run" in repr(said) or (said[1:2] == ("odd",) and said[2:3] != ("",)):
            raise strange
        return right(*said, **more)

    store(archive, crossing("odd", stream="Nowhere Run"), crossing("g2"))
    with monkeypatch.context() as patched:
        patched.setattr(place, fails)
        refresh(archive)

    assert rows(archive, stale) == []
    assert row_of(archive, "g2")["discharge_m3s"] == pytest.approx(CROSSING_M3S)
    assert "a fault in Bankside, to be reported" in row_of(archive, "odd")["trouble"]
    assert type(strange).__name__ in row_of(archive, "odd")["trouble"]
    assert filed(archive, "odd") == ()
    rework(archive)
    assert row_of(archive, "odd")["trouble"] is None
    assert row_of(archive, "odd")["discharge_m3s"] == pytest.approx(CROSSING_M3S)


def test_what_was_stored_before_a_crash_is_worked_out_afterwards(archive: Archive) -> None:
    """Between storing and working out nothing is lost: it is noted that there is work to do."""
    keep(archive, crossing())
    device = crossing()
    device.correct()
    store(archive, device, crossing("g2"))
    # Here the process ends; the next one finds its work.
    assert row_of(archive)["discharge_m3s"] == pytest.approx(CROSSING_M3S)
    assert sorted(row["gauging"] for row in rows(archive, stale)) == ["g1", "g2"]

    assert refresh(archive) == 2
    assert row_of(archive)["discharge_m3s"] == pytest.approx(FASTER_M3S)
    assert row_of(archive, "g2")["discharge_m3s"] == pytest.approx(CROSSING_M3S)
    assert refresh(archive) == 0


def _meanwhile(monkeypatch: pytest.MonkeyPatch, act: Callable[[], object]) -> None:
    """Let something happen once, after a gauging was worked out and before that is kept."""
    right = refreshing.work_out
    happened = threading.Event()

    def then_act(*given: Any) -> Worked:
        worked = right(*given)
        if not happened.is_set():
            happened.set()
            thread = threading.Thread(target=act)
            thread.start()
            thread.join(20)
        return worked

    monkeypatch.setattr(refreshing, "work_out", then_act)


def test_what_arrives_while_it_is_worked_out_is_worked_out_too(
    archive: Archive, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The figure that was worked out before the correction is neither filed nor shown."""
    device = crossing()
    store(archive, device)
    device.correct()
    _meanwhile(monkeypatch, lambda: store(archive, device))

    assert refresh(archive) == 1
    assert row_of(archive)["discharge_m3s"] == pytest.approx(FASTER_M3S)
    assert [one.reason for one in filed(archive)] == ["first worked out"]
    assert rows(archive, stale) == []


def test_a_survey_put_down_meanwhile_is_gone_by(
    archive: Archive, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A gauging in work by the surveys as they were is worked out again by the new one."""

    def put() -> None:
        with archive.writing() as connection:
            put_survey(connection, SURVEY)
            refreshing.seek_sites(connection)

    store(archive, crossing())
    _meanwhile(monkeypatch, put)
    refresh(archive)

    assert (row_of(archive)["site"], row_of(archive)["survey"]) == ("upper", "low-flow-2026")


def test_two_that_work_out_at_once_file_once(
    archive: Archive, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What somebody else has worked out meanwhile is not filed a second time."""
    store(archive, crossing())
    _meanwhile(monkeypatch, lambda: refresh(archive))

    assert refresh(archive) == 0
    assert [one.reason for one in filed(archive)] == ["first worked out"]
    assert sum(row["gaugings"] for row in rows(archive, survey_states)) == 1


def _office(archive: Archive) -> None:
    """An archive in which gaugings have come in every way how far they can come."""
    with archive.writing() as connection:
        put_survey(connection, SURVEY)
    keep(archive, *(crossing(f"g{n}", place=("Lower ford", "nowhere")[n % 2]) for n in range(8)))
    for number, act in enumerate((Device.correct, Device.review)):
        device = crossing(f"g{number}", place=("Lower ford", "nowhere")[number % 2])
        act(device)
        keep(archive, device)
        device.say("remarks", "Cattle upstream.")
        device.say("photos/p1", _photo())
        keep(archive, device)
    keep(archive, crossing("open", closed=False), crossing("sent"))
    device = crossing("sent")
    device.review("sent back")
    keep(archive, device, Device("empty", knows=[_note("empty")]))


def _note(gauging: str) -> Entry:
    return Device(gauging).say("remarks", "Nothing read.")


def test_working_everything_out_anew_gives_the_same(archive: Archive) -> None:
    """Rows, photos, words and counts come to the same from the entries alone; nothing is filed."""
    _office(archive)
    before = _worked_out(archive)
    filings = {row["id"]: filed(archive, row["id"]) for row in before["gaugings"]}
    told: list[int] = []

    assert rework(archive, told.append) == len(before["gaugings"])
    assert _worked_out(archive) == before
    assert {id_: filed(archive, id_) for id_ in filings} == filings
    assert told[-1] == len(before["gaugings"])
    assert rows(archive, stale) == []


@pytest.mark.parametrize("table", WORKED_OUT, ids=lambda table: table.name)
def test_what_is_worked_out_can_be_lost_and_comes_back(archive: Archive, table: Table) -> None:
    """Whatever is missing of it, working out anew puts it there as it was."""
    _office(archive)
    before = _worked_out(archive)
    with archive.writing() as connection:
        connection.execute(delete(table))
    rework(archive)

    assert _worked_out(archive) == before


def test_gaugings_are_counted_by_survey_and_state(archive: Archive) -> None:
    """The counts that an overview shows are those of the rows, right after each change."""
    _office(archive)
    counts: dict[tuple[str, str], int] = {}
    for row in rows(archive, gaugings):
        key = (row["survey"] or "", row["state"])
        counts[key] = counts.get(key, 0) + 1

    assert counts == {
        (row["survey"], row["state"]): row["gaugings"]
        for row in rows(archive, survey_states)
        if row["gaugings"]
    }
    assert counts["", "changed since approval"] == 1
    assert counts["low-flow-2026", "to review"] == 4


def test_more_gaugings_than_are_worked_out_at_once(archive: Archive) -> None:
    """Every one is worked out, and told as it is done."""
    store(archive, *(crossing(f"g{n}") for n in range(120)))
    told: list[int] = []

    assert refresh(archive, told.append) == 120
    assert told == [50, 100, 120]
    assert len(rows(archive, entries)) == 120 * len(crossing().entries)


def test_a_record_with_more_than_a_section_comes_back_whole(archive: Archive) -> None:
    """What the survey's own tests make of a discharge is what the archive works out."""
    record = gauging(1.25, id_="g9", stage=0.42, serial="P-3", crew=("P. Quillon",))
    said = entries_of(record, gauging_id="g9", device="copy", at="2026-07-14T10:00:00Z")
    keep(archive, Device("g9", knows=said))
    row = row_of(archive, "g9")

    assert row["discharge_m3s"] == pytest.approx(1.25, rel=1e-9)
    assert (row["stage"], row["stage_unit"], row["state"]) == (0.42, "m", "to review")
