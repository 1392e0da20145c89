"""Times of day on a sheet: moments by its day and its offset from UTC, remarks without them."""

from datetime import date, datetime, timedelta, timezone
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from bankside.gauging.faults import InputRefused
from bankside.gauging.records import Gauging, StageReading
from bankside.sheets.answers import Answers, load_answers, save_answers
from bankside.sheets.offsets import parse_offset
from bankside.sheets.read import SheetGauging, read_sheets
from bankside.sheets.write import to_csv

from .building import SECTION, gauging_of, lines_of, metric, read, read_one, text_sheet

SEVEN_WEST = timezone(timedelta(hours=-7))
DAY = "Date: 2026-07-14\n"
ZONE = "Time zone: -07:00\n"


def _item(folder: Path, above: str, **answers: Any) -> SheetGauging:
    return read_one(text_sheet(folder, metric(above=above)), **answers)


def _told(folder: Path, above: str, **answers: Any) -> Gauging:
    return gauging_of(_item(folder, above, **answers))


def _at(hour: int, minute: int, zone: timezone = SEVEN_WEST) -> datetime:
    return datetime(2026, 7, 14, hour, minute, tzinfo=zone)


@pytest.mark.parametrize(
    ("text", "minutes"),
    [
        ("-07:00", -420),
        ("−07:00", -420),
        ("-7", -420),
        ("UTC-7", -420),
        ("UTC-07:00", -420),
        ("utc - 7", -420),
        ("GMT+1", 60),
        ("+0100", 60),
        ("+05:30", 330),
        ("MST (UTC-7)", -420),
        ("-07:00 (MST)", -420),
        ("PDT -07:00", -420),
        ("Z", 0),
        ("UTC", 0),
        ("GMT", 0),
    ],
)
def test_offsets_from_utc(text: str, minutes: int) -> None:
    """An offset is read however it is written; a name beside it adds nothing."""
    offset = parse_offset(text)
    assert offset is not None
    assert offset.utcoffset(None) == timedelta(minutes=minutes)


@pytest.mark.parametrize(
    "text", ["MST", "PDT", "CET", "7", "", "local", "-15", "+07:75", "UTC-7/UTC-6", "-07-14"]
)
def test_what_is_no_offset(text: str) -> None:
    """A name of a time zone, a figure without its sign, and two offsets are none."""
    assert parse_offset(text) is None


@pytest.mark.parametrize("clock", ["10:05", "10:05 AM", "1005", "10:05-07:00", "2026-07-14 10:05"])
def test_start_and_end_of_a_crew_sheet(tmp_path: Path, clock: str) -> None:
    """A time of day, the day and the offset of the sheet make a moment, wherever they stand."""
    above = f"Start time,{clock}\nEnd time,11:00\n{DAY}Time zone,UTC-7\n"
    item = _item(tmp_path, above)
    gauging = gauging_of(item)
    assert (gauging.started, gauging.ended) == (_at(10, 5), _at(11, 0))
    assert (gauging.remarks, item.notes) == (None, ())


def test_a_time_with_its_own_offset_needs_no_line(tmp_path: Path) -> None:
    """The offset behind a time is that time's own, and outweighs the sheet's."""
    assert _told(tmp_path, f"{DAY}Start: 10:05-07:00\n").started == _at(10, 5)
    east = timezone(timedelta(hours=1))
    assert _told(tmp_path, f"{DAY}{ZONE}Start: 10:05+01:00\n").started == _at(10, 5, east)


def test_a_time_without_an_offset_says_what_would_be_right(tmp_path: Path) -> None:
    """Without an offset a start is a remark as it stands; the note says which line is missing."""
    item = _item(tmp_path, f"{DAY}Start: 10:05\n")
    sentence = (
        "start: 10:05 stands on the sheet without an offset from UTC; a line "
        '"Time zone: -07:00" or --time-zone -07:00 would be right'
    )
    assert gauging_of(item).started is None
    assert gauging_of(item).remarks == "start: 10:05"
    assert item.notes == (f"S{sentence[1:]} (row 2).",)


def test_a_time_without_a_day_says_what_would_be_right(tmp_path: Path) -> None:
    """An offset alone makes no moment; the day is asked for, and both where both are missing."""
    item = _item(tmp_path, f"{ZONE}Start: 10:05\n")
    assert gauging_of(item).started is None
    assert 'without its day; a line "Date: 2026-07-14" would be right' in item.notes[0]
    both = _item(tmp_path, "Start: 10:05\n")
    assert '"Date: 2026-07-14" and "Time zone: -07:00"' in both.notes[0]


@pytest.mark.parametrize("name", ["MST", "PDT", "CET"])
def test_a_name_of_a_time_zone_is_not_guessed_at(tmp_path: Path, name: str) -> None:
    """A name can stand for several offsets: it is kept, and an offset is asked for."""
    item = _item(tmp_path, f"{DAY}Time zone: {name}\nStart: 10:05\n")
    gauging = gauging_of(item)
    assert gauging.started is None and gauging.remarks is not None
    assert (
        f"time zone: {name} (the offset from UTC on that day, such as +05:30, would be right)"
        in gauging.remarks
    )
    assert any(name in note and "the offset from UTC on that day" in note for note in item.notes)


def test_two_offsets_are_none(tmp_path: Path) -> None:
    """Where two lines give different offsets neither is taken, and both are kept."""
    gauging = _told(tmp_path, f"{DAY}{ZONE}Time zone: -06:00\nStart: 10:05\n")
    assert gauging.started is None and gauging.remarks is not None
    assert "time zone: -07:00" in gauging.remarks and "time zone: -06:00" in gauging.remarks


def test_the_answer_fills_a_gap(tmp_path: Path) -> None:
    """The offset that a person gives holds where the sheet states none, or only a name."""
    assert _told(tmp_path, f"{DAY}Start: 10:05\n", time_zone="-07:00").started == _at(10, 5)
    named = _told(tmp_path, f"{DAY}Time zone: MST\nStart: 10:05\n", time_zone="UTC-7")
    assert named.started == _at(10, 5)


def test_the_answer_does_not_overrule_the_sheet(tmp_path: Path) -> None:
    """What the sheet states goes before the answer."""
    assert _told(tmp_path, f"{DAY}{ZONE}Start: 10:05\n", time_zone="+01:00").started == _at(10, 5)


def test_an_answer_that_is_no_offset_is_refused(tmp_path: Path) -> None:
    """An answer is checked, given at once or kept in a file."""
    sheet = text_sheet(tmp_path, metric())
    with pytest.raises(
        InputRefused, match='--time-zone: found "MST"; the offset from UTC on that day'
    ):
        read_sheets(sheet, Answers(time_zone="MST"))
    kept = tmp_path / "answers.toml"
    save_answers(Answers(time_zone="-07:00"), kept)
    assert load_answers(kept).time_zone == "-07:00"
    kept.write_text('time_zone = "MST"\n', encoding="utf-8")
    with pytest.raises(InputRefused, match="the offset from UTC on that day"):
        load_answers(kept)


def test_an_end_before_the_start_is_asked_about(tmp_path: Path) -> None:
    """A gauging that ends after midnight is not guessed at: the day of its end is asked for."""
    above = f"{DAY}{ZONE}Start: 23:40\nEnd: 00:15\nStage: 0.52 at 23:30\nStage: 0.53 at 00:10\n"
    item = _item(tmp_path, above)
    gauging = gauging_of(item)
    assert (gauging.started, gauging.ended) == (_at(23, 40), None)
    assert gauging.stage == (StageReading(0.52), StageReading(0.53))
    assert any("End: 00:15" in note and "2026-07-15T00:15:00-07:00" in note for note in item.notes)
    assert gauging.remarks is not None and "2026-07-15T00:10:00-07:00" in gauging.remarks


def test_an_end_with_its_day_after_midnight(tmp_path: Path) -> None:
    """With its day the end after midnight is taken."""
    above = f"{DAY}{ZONE}Start: 23:40\nEnd: 2026-07-15 00:15\n"
    assert _told(tmp_path, above).ended == datetime(2026, 7, 15, 0, 15, tzinfo=SEVEN_WEST)


@pytest.mark.parametrize(
    "stage", ["0.52 at 9:55 AM", "0.52 m @ 0955", "0.52,09:55", "0.52 9:55", "0.52,9:55 AM"]
)
def test_the_time_of_a_stage(tmp_path: Path, stage: str) -> None:
    """A level is read with the time of day behind it, also before the start."""
    gauging = _told(tmp_path, f"{DAY}{ZONE}Start: 10:05\nStage,{stage}\n")
    assert gauging.stage == (StageReading(0.52, _at(9, 55)),)
    assert gauging.remarks is None


def test_the_time_of_a_stage_without_an_offset(tmp_path: Path) -> None:
    """The level stays, its time is a remark, and a note says what would be right."""
    item = _item(tmp_path, f"{DAY}Stage: 0.52 at 9:55\n")
    assert gauging_of(item).stage == (StageReading(0.52),)
    assert gauging_of(item).remarks == "stage: 0.52 at 9:55"
    assert '"Time zone: -07:00"' in item.notes[0]


def test_when_the_bed_was_cleared(tmp_path: Path) -> None:
    """The bed is cleared before the start; its time of day is a moment as any other."""
    assert _told(tmp_path, f"{DAY}{ZONE}Start: 10:05\nCleared: 9:50\n").cleared == _at(9, 50)


def _timed(clocks: tuple[str, ...], above: str = DAY + ZONE) -> str:
    heads = "tape (m),depth (m),velocity (m/s),time\n"
    rows = [(*station, clock) for station, clock in zip(SECTION, clocks, strict=True)]
    return above + heads + lines_of(rows)


CLOCKS = ("10:05", "10:08", "10:12 AM", "1016", "10:20", "10:24")


def _moments(gauging: Gauging) -> list[datetime | None]:
    return [vertical.at for vertical in gauging.channels[0].verticals]


def test_the_times_of_verticals(tmp_path: Path) -> None:
    """A column of times of day gives every vertical its moment."""
    gauging = gauging_of(read_one(text_sheet(tmp_path, _timed(CLOCKS))))
    assert _moments(gauging) == [_at(10, minute) for minute in (5, 8, 12, 16, 20, 24)]


def test_times_of_verticals_without_their_colon(tmp_path: Path) -> None:
    """Figures from 0600 on that are all times of day are no seconds of exposure."""
    text = _timed(("0955", "0958", "1002", "1006", "1010", "1014"))
    gauging = gauging_of(read_one(text_sheet(tmp_path, text)))
    assert _moments(gauging)[:3] == [_at(9, 55), _at(9, 58), _at(10, 2)]


def test_times_of_verticals_without_an_offset_are_told_once(tmp_path: Path) -> None:
    """The times stay remarks of their verticals, and one note asks for the offset."""
    item = read_one(text_sheet(tmp_path, _timed(CLOCKS, DAY)))
    assert _moments(gauging_of(item)) == [None] * 6
    assert gauging_of(item).channels[0].verticals[1].remark == "read at 10:08"
    assert len(item.notes) == 1 and "--time-zone -07:00" in item.notes[0]


@pytest.mark.parametrize("start", ["Start: 23:40\n", ""])
def test_times_of_verticals_past_midnight(tmp_path: Path, start: str) -> None:
    """Times before the start, or far apart, may be of the day after and are not placed."""
    clocks = ("23:45", "23:50", "23:55", "00:02", "00:06", "00:10")
    item = read_one(text_sheet(tmp_path, _timed(clocks, DAY + ZONE + start)))
    assert _moments(gauging_of(item))[3:] == [None] * 3
    assert gauging_of(item).channels[0].verticals[3].remark == "read at 00:02"
    assert any("the day after" in note for note in item.notes)


def test_one_offset_above_two_gaugings(tmp_path: Path) -> None:
    """The offset above a table holds for all its gaugings, each with its own day."""
    heads = "date,tape (m),depth (m),velocity (m/s),time\n"
    rows = [
        (day, *station, clock)
        for day in ("2026-07-14", "2026-07-15")
        for station, clock in zip(SECTION, CLOCKS, strict=True)
    ]
    reading = read(text_sheet(tmp_path, ZONE + heads + lines_of(rows)))
    first = [_moments(gauging_of(item))[0] for item in reading.gaugings]
    assert first == [_at(10, 5), _at(10, 5) + timedelta(days=1)]


def test_times_in_the_cells_of_a_workbook(tmp_path: Path) -> None:
    """A workbook holds days and times as such, and an offset as a text."""
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.append(["Date", date(2026, 7, 14)])
    sheet.append(["Start time", datetime(2026, 7, 14, 10, 5).time()])
    sheet.append(["End time", 1100])
    sheet.append(["Time zone", "-07:00"])
    sheet.append(["tape (m)", "depth (m)", "velocity (m/s)"])
    for station in SECTION:
        sheet.append([float(value) for value in station])
    path = tmp_path / "sheet.xlsx"
    book.save(path)
    gauging = gauging_of(read_one(path))
    assert (gauging.started, gauging.ended) == (_at(10, 5), _at(11, 0))


def test_moments_are_written_so_that_they_come_back(tmp_path: Path) -> None:
    """What was combined once is written whole, and needs no offset any more."""
    above = f"{DAY}{ZONE}Start: 10:05\nEnd: 11:00\nCleared: 9:50\nStage: 0.52 at 9:55\n"
    gauging = gauging_of(read_one(text_sheet(tmp_path, _timed(CLOCKS, above))))
    again = gauging_of(read_one(text_sheet(tmp_path, to_csv([gauging]), "again.csv")))
    assert again == gauging
