"""Cells as dates and times of day; a date that can be read in two ways is asked about."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date, datetime, time, timedelta

import attrs

from bankside.sheets.files.grid import CellValue
from bankside.sheets.offsets import parse_offset
from bankside.sheets.values import ValueFault, as_label, is_empty, show

__all__ = [
    "DateStyle",
    "as_clock",
    "as_date",
    "as_moment",
    "date_orders",
    "day_and_words",
    "is_written_date",
]

_DATE_TEXT = re.compile(r"(\d{1,4})[./\-](\d{1,2})[./\-](\d{1,4})", re.ASCII)
_MONTHS = "jan feb mar apr may jun jul aug sep oct nov dec".split()
_NAMED_MONTH = re.compile(
    r"(?:(?P<day>\d{1,2})(?:st|nd|rd|th)?[.\s\-]+(?P<month>[a-z]{3,9})|"
    r"(?P<month2>[a-z]{3,9})[.\s]+(?P<day2>\d{1,2})(?:st|nd|rd|th)?)[.,\s\-]+(?P<year>\d{2,4})",
    re.ASCII | re.IGNORECASE,
)
_WANTED_DATE = "a date such as 2026-07-14 would be right"


@attrs.frozen
class DateStyle:
    """How a file writes dates: order "day-first" or "month-first", century "1900" or "2000".

    None where it is not known; a date that hangs on it is then asked about.
    """

    order: str | None = None
    century: str | None = None


def date_orders(values: Iterable[CellValue]) -> set[str]:
    """Return the orders ("day-first", "month-first") that all written dates allow."""
    orders = {"day-first", "month-first"}
    for value in values:
        found = _DATE_TEXT.fullmatch(value.strip()) if isinstance(value, str) else None
        if found is None or len(found[1]) == 4:
            continue
        if int(found[1]) > 12:
            orders.discard("month-first")
        if int(found[2]) > 12:
            orders.discard("day-first")
    return orders


def is_written_date(text: str) -> bool:
    """Return whether a text is a date and nothing else, however it is written."""
    plain = text.strip()
    return bool(_NAMED_MONTH.fullmatch(plain) or _DATE_TEXT.fullmatch(plain))


def day_and_words(text: str) -> tuple[str, str]:
    """Return a date in figures, and the words behind it ("3.9.2026 start 10:15"), "" for none.

    A time of day is no word: spreadsheet programs write one behind a day.
    """
    day, _, rest = text.strip().partition(" ")
    rest = rest.strip()
    behind = _DATE_TEXT.fullmatch(day) and rest and not rest[0].isdigit()
    return (day, rest) if behind else (text, "")


def as_date(value: CellValue, style: DateStyle) -> date | None:
    """Return the date in a cell, None when it is empty.

    Raises ValueFault when the cell is no date, or one that can be read in two ways.
    """
    if is_empty(value):
        return None
    if isinstance(value, datetime):
        return value.date()
    if isinstance(value, date):
        return value
    text = value.strip() if isinstance(value, str) else ""
    named = _NAMED_MONTH.fullmatch(text)
    figures = _DATE_TEXT.fullmatch(re.split(r"[T ]", text)[0])
    try:
        if named is not None:
            return _date_with_name(value, named, style)
        if figures is not None:
            return _date_in_figures(value, figures, style)
    except ValueFault:
        raise
    except ValueError as error:
        raise ValueFault(
            f"found {show(value)}, which is no day of the calendar; {_WANTED_DATE}"
        ) from error
    raise ValueFault(f"found {show(value)}; {_WANTED_DATE}")


def _date_with_name(value: CellValue, found: re.Match[str], style: DateStyle) -> date:
    """Return a date whose month is a name, such as 14 July 2026."""
    name = (found["month"] or found["month2"]).casefold()[:3]
    if name not in _MONTHS:
        raise ValueFault(f"found {show(value)}; {_WANTED_DATE}")
    day = int(found["day"] or found["day2"])
    return date(_year(value, found["year"], style), _MONTHS.index(name) + 1, day)


def _date_in_figures(value: CellValue, found: re.Match[str], style: DateStyle) -> date:
    """Return a date of three numbers, the year first or last."""
    first, second, third = found[1], found[2], found[3]
    if len(first) == 4:
        return date(int(first), int(second), int(third))
    if style.order is None and first != second:
        raise ValueFault(
            f"found {show(value)}, which can be read in two ways; "
            "say --date-order day-first or month-first"
        )
    day, month = (second, first) if style.order == "month-first" else (first, second)
    return date(_year(value, third, style), int(month), int(day))


def _year(value: CellValue, written: str, style: DateStyle) -> int:
    if len(written) == 4:
        return int(written)
    if len(written) != 2:
        raise ValueFault(f"found {show(value)}; {_WANTED_DATE}")
    if style.century is None:
        raise ValueFault(
            f"found {show(value)}, a year of two figures; {_WANTED_DATE}, "
            "or say --century 1900 or 2000"
        )
    return int(style.century) + int(written)


def as_moment(value: object) -> datetime | None:
    """Return a written moment that carries its offset from UTC; None for any other."""
    if not isinstance(value, str):
        return None
    try:
        moment = datetime.fromisoformat(value.strip())
    except ValueError:
        return None
    return moment if moment.tzinfo is not None else None


def as_clock(value: CellValue) -> time | datetime | None:
    """Return the time of day in a cell, or the day and time, with its offset if it has one.

    None when the cell is empty; raises ValueFault when it holds anything else.
    """
    if is_empty(value):
        return None
    if isinstance(value, datetime):
        # A spreadsheet writes a time alone as one on the first day that it knows.
        return value if value.year > 1900 else value.time()
    if isinstance(value, time):
        return value
    if isinstance(value, float) and 0 <= value < 1:
        return (datetime.min + timedelta(days=value)).time().replace(microsecond=0)
    text = (as_label(value) or "").strip()
    clock = _clock_in(text)
    if clock is not None:
        return clock
    try:
        moment = datetime.fromisoformat(text)
    except ValueError:
        moment = None
    # A day alone is read as midnight, which nobody wrote.
    if moment is not None and ":" in text:
        return moment
    raise ValueFault(f"found {show(value)}; a time of day such as 10:05 would be right")


_CLOCK = re.compile(
    r"(?P<hour>\d{1,2}):?(?P<minute>\d{2})(?::(?P<second>\d{2}))?"
    r"\s*(?:(?P<half>[ap])\.?\s?m\b\.?)?\s*(?P<offset>.*)",
    re.ASCII | re.IGNORECASE,
)


def _clock_in(text: str) -> time | None:
    """Return a written time of day ("10:05", "1005", "10:05 AM", "10:05-07:00"), or None."""
    found = _CLOCK.fullmatch(text)
    if found is None:
        return None
    hour, minute = int(found["hour"]), int(found["minute"])
    offset = parse_offset(found["offset"]) if found["offset"] else None
    if found["half"] is not None:
        if not 1 <= hour <= 12:
            return None
        hour = hour % 12 + (12 if found["half"].casefold() == "p" else 0)
    if hour > 23 or minute > 59 or (found["offset"] and offset is None):
        return None
    return time(hour, minute, min(int(found["second"] or 0), 59), tzinfo=offset)
