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
    "as_label",
    "as_number",
    "decimal_marks",
    "figure_of",
    "is_empty",
    "looks_numeric",
    "show",
]

NOT_MEASURED = frozenset({"-", "--", "–", "—", "n/a", "na", "nm", "nr"})
"""Marks that people write for "not measured"; such a cell counts as empty."""

_POINT = re.compile(r"[+-]?(\d+(\.\d*)?|\.\d+)([eE][+-]?\d+)?", re.ASCII)
_COMMA = re.compile(r"[+-]?(\d+(,\d*)?|,\d+)([eE][+-]?\d+)?", re.ASCII)


class ValueFault(ValueError):
    """What stands in a cell is not what its column needs; the text is the sentence."""


def is_empty(value: CellValue) -> bool:
    """Return whether the cell holds nothing, or a documented mark for "not measured"."""
    return value is None or (isinstance(value, str) and value.strip().casefold() in NOT_MEASURED)


def show(value: CellValue, most: int = 40) -> str:
    """Return a cell's value as it is quoted in sentences, a text of more signs than `most` cut."""
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
    return f'"{text if len(text) <= most else text[: most - 3] + "…"}"'


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
    if decimal == "comma":
        wanted = wanted.replace(".", ",")
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


_EDGE_LABELS = frozenset({"lew", "rew", "lwe", "rwe", "lb", "rb"})
_THOUSANDS = re.compile(r"[+-]?\d{1,3}(,\d{3})+\.\d+", re.ASCII)
_WHOLE_OR_THOUSANDS = re.compile(r"[+-]?[1-9]\d{0,2},\d{3}", re.ASCII)


def figure_of(text: str) -> float | None:
    """Return the number with which a text about one figure begins ("0.264 m3/s"), or None.

    For totals and levels beside a table, on which no computation hangs. A comma is a decimal
    comma, or parts thousands where a decimal point follows; "1,264" could be either and is None.
    """
    first = text.split()[0].rstrip(",;") if text.split() else ""
    if _THOUSANDS.fullmatch(first):
        return float(first.replace(",", ""))
    if _WHOLE_OR_THOUSANDS.fullmatch(first) or not looks_numeric(first):
        return None
    figure = float(first.replace(",", "."))
    return figure if math.isfinite(figure) else None


def _hint(text: str, decimal: str) -> str:
    """Return a bracketed hint about a cell that is nearly a number, or nothing."""
    other = _POINT if decimal == "comma" else _COMMA
    if other.fullmatch(text) is not None:
        mark = "point" if decimal == "comma" else "comma"
        return f" (a decimal {mark}, though the file's other numbers use a {decimal})"
    if re.fullmatch(r"\d+' ?\d+(\.\d+)?\"?", text, re.ASCII):
        feet, inches = re.findall(r"[\d.]+", text, re.ASCII)
        return f" (feet and inches: {int(feet) + float(inches) / 12.0:.4g} in feet)"
    if text.casefold() in _EDGE_LABELS:
        return " (the name of an edge belongs in a column of its own)"
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
