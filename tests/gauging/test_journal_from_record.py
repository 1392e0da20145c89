"""A record as a journal: the entries of a sheet give the very record that was read from it."""

import json
import struct
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import attrs
import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from bankside.gauging.compute import compute
from bankside.gauging.faults import InputRefused
from bankside.gauging.journal.document import Journal, journal_from_json, journal_to_json
from bankside.gauging.journal.entry import Entry
from bankside.gauging.journal.fold import fold
from bankside.gauging.journal.from_record import entries_of, figure_of
from bankside.gauging.journal.record import Recorded, recorded
from bankside.gauging.journal.schema import schema
from bankside.gauging.journal.so_far import so_far
from bankside.gauging.records import (
    Answer,
    Channel,
    Filed,
    FiledPanel,
    Gauging,
    Meter,
    PointReading,
    Site,
    Units,
    Vertical,
)
from bankside.sheets.read import read_sheets

from .journals import GAUGING, Device, V
from .strategies import complete_gaugings, gaugings

ROOT = Path(__file__).parents[2]
DEMO = sorted((ROOT / "demo" / "sheets").iterdir())
TRANSECTS = ROOT / "../shared/data/stream_survey_flow_2015/flow_transects.xlsx"
AT = "2026-08-01T09:00:00-07:00"
VALIDATOR = Draft202012Validator(schema())
METRIC = Units("m", "m/s")


def _entries(gauging: Gauging) -> tuple[Entry, ...]:
    return entries_of(gauging, gauging_id=GAUGING, device="sheet", at=AT, by="I. Marrow")


def _back(gauging: Gauging) -> Recorded:
    return recorded(fold(_entries(gauging)))


def _copied(gauging: Gauging) -> Device:
    """The office, which knows the journal of a sheet and says more."""
    return Device("office", _entries(gauging))


def _from_sheets(path: Path) -> list[Gauging]:
    return [item.gauging for item in read_sheets(path).gaugings if item.gauging is not None]


def _assert_comes_back(gauging: Gauging) -> None:
    made = _back(gauging)

    assert made.faults == ()
    assert made.gauging == attrs.evolve(gauging, id=GAUGING)
    assert (made.notes, made.review, made.closed) == ((), None, False)


def _outcome(gauging: Gauging) -> bytes | tuple[str, ...]:
    """The bits of the discharge, or why there is none."""
    try:
        return struct.pack(">d", compute(gauging).discharge_m3s)
    except InputRefused as refused:
        return tuple(fault.message for fault in refused.faults)


@given(gaugings())
@example(Gauging(METRIC, (Channel(()), Channel((), "side arm")), meter=Meter(), filed=Filed()))
@example(
    Gauging(
        METRIC,
        (Channel((Vertical(0.0), Vertical(1.0))), Channel((Vertical(0.0), Vertical(1.0)))),
        filed=Filed(panels=(FiledPanel(1, 1, 0.5), FiledPanel(0, 1), FiledPanel(1, 1, 0.4))),
    )
)
@example(Gauging(METRIC, (), started=datetime(2026, 7, 14, 10, 5, tzinfo=UTC)))
@example(
    Gauging(
        METRIC,
        (
            Channel(
                (
                    Vertical(3.0, 0.5),
                    Vertical(5.0, 0.0, edge="right"),
                    Vertical(-0.0, edge="left"),
                    Vertical(1.0, 1e-300, (PointReading(1e300), PointReading(-2e-5, 1.0))),
                )
            ),
        ),
    )
)
def test_every_record_comes_back_from_its_entries(gauging: Gauging) -> None:
    """All that a record holds can be said in a journal, in whatever order its verticals stand."""
    _assert_comes_back(gauging)


@given(gaugings())
def test_entries_are_the_same_each_time_and_go_through_a_file(gauging: Gauging) -> None:
    """A sheet that is taken in twice adds nothing; its file is of the published form."""
    entries = _entries(gauging)
    text = journal_to_json(Journal(GAUGING, entries))

    assert _entries(gauging) == entries
    assert fold((*entries, *_entries(gauging))).entries == entries
    assert [entry.sequence for entry in entries] == list(range(1, len(entries) + 1))
    assert len({entry.what for entry in entries}) == len(entries)
    assert journal_from_json(text).entries == entries
    assert list(VALIDATOR.iter_errors(json.loads(text))) == []


@given(complete_gaugings() | gaugings())
def test_the_discharge_is_the_same_to_the_bit(gauging: Gauging) -> None:
    """The way through a journal moves no figure, and says no other reason for none."""
    made = _back(gauging).gauging
    assert made is not None

    assert _outcome(made) == _outcome(gauging)


@pytest.mark.parametrize("path", DEMO, ids=lambda path: path.name)
def test_the_sheets_of_the_demonstration_come_back(path: Path) -> None:
    """Every gauging of every sheet becomes a journal and a record again."""
    read = _from_sheets(path)
    assert read
    for gauging in read:
        _assert_comes_back(gauging)
        found = so_far(_back(gauging)).gauging
        assert found is not None
        assert _outcome(found) == _outcome(gauging)


@pytest.mark.skipif(
    not TRANSECTS.exists(), reason="the survey's flow transects are not beside this repository"
)
def test_a_published_survey_comes_back() -> None:
    """Every gauging of a published survey comes back, with the same discharge to the bit."""
    read = _from_sheets(TRANSECTS)
    assert len(read) == 95
    for gauging in read:
        _assert_comes_back(gauging)
        made = _back(gauging).gauging
        assert made is not None
        assert _outcome(made) == _outcome(gauging)


@given(st.floats(allow_nan=False, allow_infinity=False))
@example(5e-324)
@example(1.7976931348623157e308)
@example(-0.0)
def test_a_figure_reads_back_to_the_same_bits(number: float) -> None:
    """A figure is written without an exponent, and loses no bit."""
    figure = figure_of(number)

    assert struct.pack(">d", float(figure)) == struct.pack(">d", number)
    assert not set(figure) - set("-.0123456789")


@pytest.mark.parametrize(
    ("number", "figure"),
    [
        (12, "12"),
        (12.0, "12"),
        (0.3, "0.3"),
        (-1.05, "-1.05"),
        (1e22, "10000000000000000000000"),
        (1.5e-7, "0.00000015"),
        (2**60 + 1, "1152921504606846977"),
    ],
)
def test_a_figure_is_written_as_people_write_it(number: float, figure: str) -> None:
    """A whole number has no point, and no digit is one that the number has not."""
    assert figure_of(number) == figure


SHEET = Gauging(
    METRIC,
    (
        Channel(
            (
                Vertical(0.0, 0.0, edge="left"),
                Vertical(1.0, 0.3, (PointReading(0.2, 0.6),)),
                Vertical(3.0, 0.3, (PointReading(0.2, 0.6),)),
                Vertical(4.0, 0.0, edge="right"),
            )
        ),
    ),
    id="sheet 12",
    site=Site("above the weir", "Alder Fork"),
    date=date(2026, 7, 14),
    filed=Filed(0.18, "m3/s", (FiledPanel(0, 1, area=0.6), FiledPanel(0, 2, area=0.6))),
    answers=(Answer("Header gaps", "Not written down: the meter.", "note", "it was lent"),),
)


def _said(device: Device, what: str) -> Any:
    return fold(device.entries)[what].value


def _record(device: Device) -> Gauging:
    made = recorded(fold(device.entries))
    assert made.faults == ()
    assert made.gauging is not None
    return made.gauging


def test_the_id_that_the_record_had_is_not_lost() -> None:
    """The gauging has the id of its journal; what the sheet called it is said beside it."""
    assert _said(_copied(SHEET), "copied/sheet") == {"id": "sheet 12"}
    assert _said(_copied(attrs.evolve(SHEET, id=GAUGING)), "copied/sheet") == {}


def test_what_is_said_after_the_copy_has_its_own_time() -> None:
    """The clock of the copying says nothing of the stream; that of the office is the office's."""
    office = _copied(SHEET)
    answer = {"check": "Edges", "finding": "No left edge.", "severity": "note", "reason": "seen"}
    office.say("answers/o1", answer, at=AT, by="R. Tallis")
    copied, added = _record(office).answers

    assert (copied.by, copied.at) == (None, None)
    assert (added.by, added.at) == ("R. Tallis", datetime.fromisoformat(AT))
    assert [v.at for v in _record(office).channels[0].verticals] == [None] * 4


def test_a_correction_of_a_copied_figure_is_one_like_any_other() -> None:
    """What the sheet said stands beside what is said now, with reason and author."""
    office = _copied(SHEET)
    office.say(f"{V}/v2/depth", "0.36", reason="misread", by="R. Tallis")
    gauging = _record(office)
    (correction,) = gauging.corrections

    assert gauging.channels[0].verticals[1].depth == 0.36
    assert (correction.what, correction.was, correction.now, correction.by) == (
        "depth at tape 1",
        "0.3",
        "0.36",
        "R. Tallis",
    )


def test_a_vertical_that_the_copy_forgot_goes_where_the_tape_runs_through_it() -> None:
    """Between the edges, be it a slip of the tape; an edge that was missing ends the section."""
    office = _copied(SHEET)
    office.say(f"{V}/o1/tape", "2.0")
    office.say(f"{V}/o1/depth", "0.4")
    office.say("start_bank", "right")
    assert [v.tape for v in _record(office).channels[0].verticals] == [0, 1, 2, 3, 4]

    office.say(f"{V}/o2/tape", "9.5")
    assert [v.tape for v in _record(office).channels[0].verticals] == [0, 1, 2, 3, 9.5, 4]

    unfinished = Channel(SHEET.channels[0].verticals[:-1])
    office = _copied(attrs.evolve(SHEET, channels=(unfinished,)))
    office.say(f"{V}/o1/tape", "4.2")
    office.say(f"{V}/o1/edge", "right")
    assert [v.tape for v in _record(office).channels[0].verticals] == [0, 1, 3, 4.2]


def test_an_order_that_lists_what_was_never_said_is_told() -> None:
    """A key without a vertical is no place in the record."""
    office = _copied(SHEET)
    listed = office.say("channels/1/order", ["v1", "v9", "v3", "v2", "v4"])
    made = recorded(fold(office.entries))
    assert made.gauging is not None

    assert [(fault.message, fault.entries) for fault in made.faults] == [
        ('order must list verticals of the channel (got "v9")', (listed.id,))
    ]
    assert [v.tape for v in made.gauging.channels[0].verticals] == [0, 3, 1, 4]


def test_a_filed_panel_goes_with_its_vertical() -> None:
    """A panel follows its vertical to another place, and leaves the record with it, told."""
    office = _copied(SHEET)
    office.say("channels/1/order", ["v1", "v3", "v2", "v4"])
    filed = _record(office).filed
    assert filed is not None and [panel.vertical for panel in filed.panels] == [2, 1]

    office.say(f"{V}/v2/tape", None, reason="written twice")
    made = recorded(fold(office.entries))
    assert made.gauging is not None and made.gauging.filed is not None
    assert made.gauging.filed.panels == (FiledPanel(0, 1, area=0.6),)
    assert made.faults == ()
    assert made.notes == (
        "What the sheet carried for the panel at tape 1 is left out of the record, as its "
        "vertical is.",
    )


def test_a_filed_panel_of_no_vertical_is_told() -> None:
    """A panel of a vertical of which nobody said anything cannot enter the record."""
    office = _copied(SHEET)
    office.say("filed/panels/o1", {"channel": "1", "vertical": "v9", "area": "0.1"})
    (fault,) = recorded(fold(office.entries)).faults

    assert fault.message == (
        'the panel as filed must be of a vertical of the journal (got vertical "v9" of channel "1")'
    )


def test_a_date_beside_another_start_is_told() -> None:
    """A corrected start on another day asks for the date to be corrected as well."""
    office = _copied(SHEET)
    office.say("started", "2026-07-15T10:05:00-07:00")
    (fault,) = recorded(fold(office.entries)).faults

    assert fault.path == "date"
    assert "date must be the day of started, 2026-07-15 (got 2026-07-14)" in fault.message
    office.say("date", "2026-07-15", reason="past midnight by the sheet")
    assert _record(office).date == date(2026, 7, 15)


def test_a_gauging_does_not_repeat_itself() -> None:
    """The duplicate names the other gauging; its own id is refused and named."""
    office = _copied(SHEET)
    office.say("repeats", "g-other")
    assert _record(office).repeats == "g-other"

    office.say("repeats", GAUGING)
    (fault,) = recorded(fold(office.entries)).faults
    assert fault.path == "repeats"
    assert "must be the id of another gauging" in fault.message
