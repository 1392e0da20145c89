"""Rows that are sound one by one and make no section together; dates, times and places."""

from pathlib import Path

import pytest

from .cases import HEADS, SOUND, Case, check, parametrized, table

SOUND_TEXT = "\n".join(SOUND) + "\n"
TAPE = 'column A "tape (m)"'

SECTIONS = [
    Case(
        "one vertical",
        table("1;0.30;0.20"),
        ("row 2", "vertical", "two"),
        computing=True,
    ),
    Case(
        "one tape position twice",
        table("0;0;", "1;0.30;0.20", "1;0.30;0.25", "2;0.50;0.40", "3;0;"),
        ("row 4", TAPE, "found tape 1, as row 3", "a position of its own", "--same-tape repeated"),
    ),
    Case(
        "one tape position with two depths",
        table("0;0;", "1;0.30;0.20", "1;0.35;0.25", "2;0.50;0.40", "3;0;"),
        ("row 4", TAPE, "as row 3", "with depth 0.35 instead of 0.3", "would be right"),
    ),
    Case(
        "one tape position twice, not on neighbouring rows",
        table("0;0;", "1;0.30;0.20", "2;0.50;0.40", "1;0.30;0.25", "3;0;"),
        ("row 5", "tape must differ", "got 1, as at row 3"),
        options=("--tape-restart", "sort"),
    ),
    Case(
        "two rows swapped",
        table("0;0;", "2;0.50;0.40", "1;0.30;0.20", "3;0.40;0.30", "4;0;"),
        ("row 4", TAPE, "found tape 1 after 2", "--tape-restart channels", "--tape-restart sort"),
    ),
    Case(
        "two tables stacked, the tape starting again",
        table("0;0.1;0.1", "1;0.30;0.20", "2;0.1;0.1", "0;0.2;0.1", "1;0.50;0.40", "2;0.2;0.1"),
        ("row 5", TAPE, "found tape 0 after 2", "channels", "gaugings", "sort"),
    ),
    Case(
        "two tables stacked, each under its heads",
        table("0;0.1;0.1", "1;0.30;0.20", "2;0.1;0.1")
        + table("0;0.2;0.1", "1;0.50;0.40", "2;0.2;0.1"),
        ("row 6", TAPE, "found tape 0 after 2", "channels", "gaugings", "sort"),
    ),
    Case(
        "the tape turning more than once",
        table("0;0;", "1;0.3;0.2", "0.5;0.3;0.2", "2;0.5;0.4", "1.5;0.3;0.2", "3;0;"),
        ("row 4", TAPE, "found tape 0.5 after 1", "--tape-restart"),
        also=(("row 6", TAPE, "found tape 1.5 after 2", "--tape-restart"),),
    ),
    Case(
        "two left edges",
        table("0;0;;LEW", "1;0.30;0.20;", "2;0.50;0.40;", "3;0;;LEW", heads=HEADS + ";edge"),
        ("row", "left"),
    ),
    Case(
        "a wall factor above 1",
        table(
            "0;0.3;;left steep;1.4",
            "1;0.30;0.20;;",
            "2;0.50;0.40;;",
            "3;0;;right;",
            heads=HEADS + ";edge;wall factor",
        ),
        ("row 2", 'column E "wall factor"', "1.4", "from 0 to 1"),
    ),
    Case(
        "a wall factor at no edge",
        table("0;0.3;;0.6", "1;0.30;0.20;", "2;0.50;0.40;", "3;0;;", heads=HEADS + ";wall factor"),
        ("row 2", "wall", "bank"),
    ),
]

LABELS = [
    Case(
        "a date that can be read in two ways",
        "# date: 03/04/2026\n" + SOUND_TEXT,
        ("row 1", 'found "03/04/2026"', "two ways", "--date-order day-first or month-first"),
    ),
    Case(
        "a day that is not in the calendar",
        "# date: 31.02.2026\n" + SOUND_TEXT,
        ("row 1", 'found "31.02.2026"', "no day of the calendar", "2026-07-14 would be right"),
    ),
    Case(
        "a year of two figures",
        "# date: 14.07.26\n" + SOUND_TEXT,
        ("row 1", 'found "14.07.26"', "a year of two figures", "--century", "would be right"),
    ),
    Case(
        "a date in words",
        "# date: midsummer\n" + SOUND_TEXT,
        ("row 1", 'found "midsummer"', "2026-07-14 would be right"),
    ),
    Case(
        "a date column that can be read in two ways",
        table(
            "03/04/2026;0;0;",
            "03/04/2026;1;0.3;0.2",
            "03/04/2026;2;0;",
            heads="date;" + HEADS,
        ),
        ("row 2", 'column A "date"', "two ways", "--date-order", "the same on rows 2 to 4"),
    ),
    Case(
        "a date against the order that was said",
        "# date: 14/07/2026\n" + SOUND_TEXT,
        ("row 1", 'found "14/07/2026"', "no day of the calendar"),
        options=("--date-order", "month-first"),
    ),
    Case(
        "a time that is none",
        table("0;0;;10:05", "1;0.3;0.2;10:75", "2;0;;10:15", heads=HEADS + ";time"),
        ("row 3", 'column D "time"', 'found "10:75"', "such as 10:05 would be right"),
    ),
    Case(
        "a latitude that is nowhere",
        "# latitude: 95.2\n# longitude: -1.2\n" + SOUND_TEXT,
        ("row 1", "latitude", "95.2", "from -90 to 90"),
    ),
    Case(
        "a longitude that is nowhere",
        "# latitude: 45.2\n# longitude: 181\n" + SOUND_TEXT,
        ("row 2", "longitude", "181", "from -180 to 180"),
    ),
    Case(
        "a latitude column with a place that is nowhere",
        table(
            "0;0;;45.2;500",
            "1;0.3;0.2;;",
            "2;0;;;",
            heads=HEADS + ";latitude;longitude",
        ),
        ("row 2", 'column E "longitude"', "500", "from -180 to 180"),
    ),
    Case(
        "an end before its start",
        "# started: 2026-07-14T10:05:00+02:00\n# ended: 2026-07-14T09:05:00+02:00\n" + SOUND_TEXT,
        ("row", "ended", "started"),
    ),
    Case(
        "a start on another day",
        "# date: 2026-07-14\n# started: 2026-07-15T10:05:00+02:00\n" + SOUND_TEXT,
        ("row", "2026-07-14", "started"),
    ),
]


@parametrized(SECTIONS)
def test_rows_that_make_no_section_are_refused(
    case: Case, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The sentence names the row at which the section stops making sense."""
    check(case, tmp_path, capsys)


@parametrized(LABELS)
def test_labels_that_cannot_be_understood_are_refused(
    case: Case, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Dates, times and places are held to what they can be, on the row where they stand."""
    check(case, tmp_path, capsys)
