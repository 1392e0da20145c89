"""Cells as values: numbers, dates and times, read strictly and explained when they are not.

A cell that does not hold what its column needs yields a sentence, never a near-enough value.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from datetime import date, datetime, time, timedelta

from bankside.sheets.files.grid import CellValue

__all__ = [
    "NOT_MEASURED",
    "ValueFault",
    "as_clock",
    "as_date",
    "as_label",
    "as_number",
    "date_orders",
    "decimal_marks",
    "is_empty",
    "looks_numeric",
    "show",
]

NOT_MEASURED = frozenset({"-", "--", "–", "—", "n/a", "na", "nm", "nr"})
"""Marks that people write for "not measured"; such a cell counts as empty."""

_POINT = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?", re.ASCII)
_COMMA = re.compile(r"[+-]?(\d+,?\d*|,\d+)([eE][+-]?\d+)?", re.ASCII)


class ValueFault(ValueError):
    """What stands in a cell is not what its column needs; the text is the sentence."""


def is_empty(value: CellValue) -> bool:
    """Return whether the cell holds nothing, or a documented mark for "not measured"."""
    return value is None or (isinstance(value, str) and value.strip().casefold() in NOT_MEASURED)


def show(value: CellValue) -> str:
    """Return a cell's value as it is quoted in sentences, shortened when it is very long."""
    if isinstance(value, datetime):
        text = value.strftime("%Y-%m-%d %H:%M").removesuffix(" 00:00")
        return f"the date {text}"
    if isinstance(value, date):
        return f"the date {value.isoformat()}"
    if isinstance(value, (time, timedelta)):
        return f"the time {value}"
    if isinstance(value, bool):
        return "TRUE" if value else "FALSE"
    if isinstance(value, float):
        return f"{value:.12g}"
    text = " ".join(str(value).split())
    return f'"{text if len(text) <= 40 else text[:37] + "…"}"'


def looks_numeric(value: CellValue) -> bool:
    """Return whether a cell holds a number, with a decimal point or a decimal comma."""
    if isinstance(value, bool):
        return False
    if isinstance(value, float):
        return True
    if not isinstance(value, str):
        return False
    text = value.strip()
    return _POINT.fullmatch(text) is not None or _COMMA.fullmatch(text) is not None


def as_number(value: CellValue, decimal: str, wanted: str) -> float | None:
    """Return the number in a cell, None when it is empty.

    decimal is "point" or "comma"; wanted says in words what would be right ("a depth in m").
    Raises ValueFault for anything else, among them NaN, infinities and numbers too large.
    """
    if is_empty(value):
        return None
    if isinstance(value, float) and not isinstance(value, bool):
        number = value
    elif isinstance(value, str):
        text = value.strip().replace("−", "-")
        pattern = _COMMA if decimal == "comma" else _POINT
        if pattern.fullmatch(text) is None:
            raise ValueFault(f"found {show(value)}{_hint(text, decimal)}; {wanted} would be right")
        number = float(text.replace(",", "."))
    else:
        turned = isinstance(value, (date, datetime, time, timedelta))
        hint = " (a spreadsheet turns a typed 1-2 or 1.2 into a date)" if turned else ""
        raise ValueFault(f"found {show(value)}{hint}; {wanted} would be right")
    if not math.isfinite(number) or abs(number) > 1e12:
        raise ValueFault(f"found {show(value)}, which is no usable number; {wanted} would be right")
    return number


def _hint(text: str, decimal: str) -> str:
    """Return a bracketed hint about a cell that is nearly a number, or nothing."""
    other = _POINT if decimal == "comma" else _COMMA
    if other.fullmatch(text) is not None:
        mark = "point" if decimal == "comma" else "comma"
        return f" (a decimal {mark}, though the file's other numbers use a {decimal})"
    letter_for_digit = text.translate(str.maketrans("OolI", "0011"))
    if letter_for_digit != text and _POINT.fullmatch(letter_for_digit):
        return " (a letter in place of a figure)"
    return ""


def decimal_marks(values: Iterable[CellValue]) -> set[str]:
    """Return the decimal marks ("point", "comma") that text cells among `values` use."""
    marks: set[str] = set()
    for value in values:
        if isinstance(value, str) and looks_numeric(value):
            if "," in value:
                marks.add("comma")
            elif "." in value:
                marks.add("point")
    return marks


def as_label(value: CellValue) -> str | None:
    """Return a cell as the text of a label (site, channel), whole numbers without ".0"."""
    if is_empty(value):
        return None
    if isinstance(value, float) and value == int(value):
        return str(int(value))
    return " ".join(str(value).split())


_DATE_TEXT = re.compile(r"(\d{1,4})[./\-](\d{1,2})[./\-](\d{1,4})", re.ASCII)


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


def as_date(value: CellValue, order: str | None) -> date | None:
    """Return the date in a cell, None when it is empty.

    order is "day-first", "month-first" or None (not known). Raises ValueFault when the cell is
    no date, or one that can be read in two ways.
    """
    if is_empty(value):
        return None
    if isinstance(value, datetime):
        return value.date()
    if isinstance(value, date):
        return value
    text = str(value).strip() if isinstance(value, str) else ""
    found = _DATE_TEXT.fullmatch(text.split("T")[0].split(" ")[0]) if text else None
    wanted = "a date such as 2026-07-14 would be right"
    if found is None:
        raise ValueFault(f"found {show(value)}; {wanted}")
    first, second, third = int(found[1]), int(found[2]), int(found[3])
    try:
        if len(found[1]) == 4:
            return date(first, second, third)
        if len(found[3]) != 4:
            raise ValueFault(f"found {show(value)}, a date without four figures of year; {wanted}")
        if order is None and first != second:
            raise ValueFault(
                f"found {show(value)}, which can be read in two ways; "
                "say --date-order day-first or month-first"
            )
        day, month = (second, first) if order == "month-first" else (first, second)
        return date(third, month, day)
    except ValueFault:
        raise
    except ValueError as error:
        raise ValueFault(
            f"found {show(value)}, which is no day of the calendar; {wanted}"
        ) from error


def as_clock(value: CellValue) -> time | None:
    """Return the time of day in a cell, None when it is empty; raises ValueFault otherwise."""
    if is_empty(value):
        return None
    if isinstance(value, datetime):
        return value.time()
    if isinstance(value, time):
        return value
    if isinstance(value, float) and 0 <= value < 1:
        return (datetime.min + timedelta(days=value)).time().replace(microsecond=0)
    text = str(value).strip()
    found = re.fullmatch(r"(\d{1,2}):?(\d{2})(?::(\d{2}))?", text, re.ASCII)
    if found is not None and int(found[1]) < 24 and int(found[2]) < 60:
        return time(int(found[1]), int(found[2]), min(int(found[3] or 0), 59))
    raise ValueFault(f"found {show(value)}; a time of day such as 10:05 would be right")
