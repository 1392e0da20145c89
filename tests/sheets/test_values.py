"""Cells as values: read strictly, and explained when they are not what their column needs."""

from datetime import UTC, date, datetime, time, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bankside.sheets.dates import DateStyle, as_clock, as_date, date_orders
from bankside.sheets.values import (
    NOT_MEASURED,
    ValueFault,
    as_label,
    as_number,
    decimal_marks,
    is_empty,
    looks_numeric,
    show,
)


def _fault(value: object, decimal: str = "point") -> str:
    with pytest.raises(ValueFault) as caught:
        as_number(value, decimal, "a depth such as 0.35")  # type: ignore[arg-type]
    return str(caught.value)


@given(st.floats(-1e9, 1e9))
def test_a_number_is_read_to_its_last_digit(number: float) -> None:
    """A number written with all its digits is the same number again."""
    assert as_number(repr(number), "point", "") == number
    assert as_number(number, "point", "") == number


@pytest.mark.parametrize(
    ("text", "decimal", "number"),
    [
        ("0.35", "point", 0.35),
        ("0,35", "comma", 0.35),
        (",35", "comma", 0.35),
        (".35", "point", 0.35),
        ("35", "comma", 35.0),
        (" 12. ", "point", 12.0),
        ("−0.2", "point", -0.2),
        ("+1e-3", "point", 0.001),
    ],
)
def test_numbers_as_they_are_typed(text: str, decimal: str, number: float) -> None:
    """The usual ways of typing a number all are numbers."""
    assert as_number(text, decimal, "") == number


@pytest.mark.parametrize("mark", [*sorted(NOT_MEASURED), " NM ", "N/A"])
def test_marks_for_not_measured(mark: str) -> None:
    """A mark for "not measured" is an empty cell."""
    assert is_empty(mark)
    assert as_number(mark, "point", "") is None
    assert as_label(mark) is None


@pytest.mark.parametrize(
    "value",
    ["abc", "1.2.3", "0.3 m", "1 2", "1'6\"", "nan", "inf", "1e400", "0x10", "1_000", "<0.05"],
)
def test_what_is_no_number(value: str) -> None:
    """What is nearly a number is quoted, with what would be right."""
    told = _fault(value)
    assert "found" in told and "a depth such as 0.35 would be right" in told


@pytest.mark.parametrize("value", [float("nan"), float("inf"), -float("inf"), 1e13, True, False])
def test_cells_that_hold_no_usable_number(value: object) -> None:
    """NaN, infinities, absurd sizes and truth values are no readings."""
    _fault(value)


def test_near_misses_get_a_hint() -> None:
    """The usual slips are named: the other decimal mark, a letter for a figure, a date."""
    assert "a decimal comma" in _fault("0,35")
    assert "a decimal point" in _fault("0.35", decimal="comma")
    assert "a letter in place of a figure" in _fault("O.35")
    assert "a letter in place of a figure" in _fault("l.5")
    assert "into a date" in _fault(datetime(2026, 2, 1))


def test_decimal_marks_of_numbers_only() -> None:
    """Words and whole numbers say nothing about the decimal mark."""
    assert decimal_marks(["0.3", "4", "dry, sand", 0.5, None]) == {"point"}
    assert decimal_marks(["0,3", "4"]) == {"comma"}
    assert decimal_marks(["0,3", "0.4"]) == {"comma", "point"}


@pytest.mark.parametrize(
    ("value", "label"),
    [(7.0, "7"), (7.5, "7.5"), ("  above   the weir ", "above the weir"), ("007", "007")],
)
def test_labels(value: object, label: str) -> None:
    """A label is text without needless blanks; a whole number has no decimals."""
    assert as_label(value) == label  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("value", "order", "day"),
    [
        ("2026-07-14", None, date(2026, 7, 14)),
        ("2026/7/4", None, date(2026, 7, 4)),
        ("14.07.2026", "day-first", date(2026, 7, 14)),
        ("07/04/2026", "month-first", date(2026, 7, 4)),
        ("07/04/2026", "day-first", date(2026, 4, 7)),
        ("05/05/2026", None, date(2026, 5, 5)),
        ("2026-07-14T10:05", None, date(2026, 7, 14)),
        ("2026-07-14 10:05", None, date(2026, 7, 14)),
        (datetime(2026, 7, 14, 10, 5), None, date(2026, 7, 14)),
        (date(2026, 7, 14), None, date(2026, 7, 14)),
    ],
)
def test_dates(value: object, order: str | None, day: date) -> None:
    """Dates are read when they have one reading, or when the order is known."""
    assert as_date(value, DateStyle(order)) == day


@pytest.mark.parametrize(
    ("value", "told"),
    [
        ("03/04/2026", "--date-order"),
        ("14/07/26", "can be read in two ways"),
        ("2026-02-30", "no day of the calendar"),
        ("July", "a date such as 2026-07-14"),
        (45.0, "a date such as 2026-07-14"),
    ],
)
def test_dates_that_are_refused(value: object, told: str) -> None:
    """A date with two readings, a short year or no such day is explained."""
    with pytest.raises(ValueFault, match=told):
        as_date(value, DateStyle())


def test_the_order_of_dates_is_told_by_the_whole_file() -> None:
    """One day above 12 settles the order of all dates of a file."""
    assert date_orders(["03/04/2026", "14/04/2026"]) == {"day-first"}
    assert date_orders(["03/04/2026", "04/14/2026"]) == {"month-first"}
    assert date_orders(["03/04/2026"]) == {"day-first", "month-first"}
    assert date_orders(["13/04/2026", "04/13/2026"]) == set()


@pytest.mark.parametrize(
    ("value", "clock"),
    [
        ("10:05", time(10, 5)),
        ("1005", time(10, 5)),
        ("9:30:15", time(9, 30, 15)),
        (0.5, time(12, 0)),
        (time(10, 5), time(10, 5)),
        (datetime(1900, 1, 1, 10, 5), time(10, 5)),
        (datetime(2026, 7, 14, 10, 5), datetime(2026, 7, 14, 10, 5)),
        (1005.0, time(10, 5)),
        ("10:05 AM", time(10, 5)),
        ("12:05 a.m.", time(0, 5)),
        ("1:05pm", time(13, 5)),
        ("12:05 PM", time(12, 5)),
        ("10:05-07:00", time(10, 5, tzinfo=timezone(timedelta(hours=-7)))),
        ("1005 UTC", time(10, 5, tzinfo=UTC)),
        ("2026-07-14 10:05", datetime(2026, 7, 14, 10, 5)),
        (None, None),
    ],
)
def test_clock_times(value: object, clock: time | None) -> None:
    """Times of day are read as clocks and spreadsheets write them."""
    assert as_clock(value) == clock  # type: ignore[arg-type]


@pytest.mark.parametrize("value", ["25:00", "10:75", "soon", 1.5])
def test_what_is_no_clock_time(value: object) -> None:
    """What no clock shows is explained."""
    with pytest.raises(ValueFault, match="10:05 would be right"):
        as_clock(value)  # type: ignore[arg-type]


def test_values_are_quoted_shortly() -> None:
    """A quoted value fits a sentence, whatever stands in the cell."""
    assert show("x" * 400).endswith('…"') and len(show("x" * 400)) < 45
    assert show(date(2026, 7, 14)) == "the date 2026-07-14"
    assert show(True) == "TRUE"
    assert show(0.1 + 0.2) == "0.3"
    assert show(timedelta(hours=1)).startswith("the time")


def test_what_looks_numeric() -> None:
    """Numbers and numbers as text look numeric; words, truth values and blanks do not."""
    assert all(map(looks_numeric, [0.5, "0.5", "0,5", "-3", "1e3"]))
    assert not any(map(looks_numeric, [True, None, "", "dry", "1-2", datetime(2026, 1, 1)]))
