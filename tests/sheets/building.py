"""Sheets of invented streams, written as crews file them, and what they must add up to."""

import io
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from fractions import Fraction
from itertools import pairwise
from pathlib import Path
from typing import Any

import openpyxl
import xlwt

from bankside.gauging.compute import compute
from bankside.gauging.reconcile import Reconciliation, reconcile
from bankside.gauging.reconcile_words import explain
from bankside.gauging.records import Gauging
from bankside.sheets.answers import Answers
from bankside.sheets.read import SheetGauging, SheetReading, read_sheets

FOOT = Fraction(3048, 10000)
CUBIC_FOOT = FOOT * FOOT * FOOT

Station = tuple[str, str, str]
Cells = Sequence[Sequence[Any]]

SECTION: tuple[Station, ...] = (
    ("0.4", "0", "0"),
    ("1.0", "0.32", "0.21"),
    ("1.6", "0.45", "0.38"),
    ("2.4", "0.40", "0.33"),
    ("3.0", "0.18", "0.12"),
    ("3.5", "0", "0"),
)
"""Tape, depth and velocity of a brook, with unequal spacing and both edges of water."""

EDGE_ROWS = tuple(
    (*station, edge, remark)
    for station, edge, remark in zip(
        SECTION, ("LEW", "", "", "", "", "REW"), ("", "", "weed", "", "", ""), strict=True
    )
)
"""The same with its edges named and a remark beside one vertical."""

SECTION_DISCHARGE = 0.2643
"""By hand, panel by panel: 0.6×0.0672 + 0.7×0.171 + 0.7×0.132 + 0.55×0.0216."""

SIDE: tuple[Station, ...] = (
    ("0", "0", "0"),
    ("0.5", "0.10", "0.20"),
    ("1.1", "0.12", "0.25"),
    ("1.4", "0", "0"),
)
"""A side channel of 0.0245 m³/s: by hand 0.55×0.020 + 0.45×0.030."""


def mid_section(stations: Iterable[Station]) -> Fraction:
    """Mid-section discharge exactly, gap by gap: half the sum of d·v at its ends times the gap."""
    exact = [(Fraction(x), Fraction(d) * Fraction(v)) for x, d, v in stations]
    exact.sort()
    total = Fraction(0)
    for (left, low), (right, high) in pairwise(exact):
        total += (right - left) * (low + high) / 2
    return total


def lines_of(stations: Iterable[Sequence[str]], separator: str = ",") -> str:
    """Rows of a text file, one a line."""
    return "".join(separator.join(row) + "\n" for row in stations)


def text_sheet(folder: Path, text: str, name: str = "sheet.csv", encoding: str = "utf-8") -> Path:
    """Write a text file and return its path."""
    path = folder / name
    path.write_bytes(text.encode(encoding))
    return path


def metric(stations: Iterable[Sequence[str]] = SECTION, above: str = "") -> str:
    """The plainest sheet there is: three heads with metric units, and the rows."""
    return f"{above}tape (m),depth (m),velocity (m/s)\n{lines_of(stations)}"


def workbook(
    folder: Path,
    sheets: Mapping[str, Cells],
    name: str = "sheet.xlsx",
    merged: Mapping[str, Sequence[str]] | None = None,
    hidden: Sequence[str] = (),
) -> Path:
    """Write an XLSX workbook of the given sheets and return its path."""
    book = openpyxl.Workbook()
    book.remove(book.active)
    for title, rows in sheets.items():
        sheet = book.create_sheet(title)
        for row in rows:
            sheet.append(list(row))
        for block in (merged or {}).get(title, ()):
            sheet.merge_cells(block)
        if title in hidden:
            sheet.sheet_state = "hidden"
    path = folder / name
    book.save(path)
    return path


def old_workbook(folder: Path, sheets: Mapping[str, Cells], name: str = "sheet.xls") -> Path:
    """Write an XLS workbook of the given sheets, dates as dates, and return its path."""
    book = xlwt.Workbook()
    day = xlwt.easyxf(num_format_str="YYYY-MM-DD")
    for title, rows in sheets.items():
        sheet = book.add_sheet(title)
        for r, row in enumerate(rows):
            for c, value in enumerate(row):
                if isinstance(value, date):
                    sheet.write(r, c, value, day)
                elif value is not None:
                    sheet.write(r, c, value)
    stream = io.BytesIO()
    book.save(stream)
    path = folder / name
    path.write_bytes(stream.getvalue())
    return path


def numbers(stations: Iterable[Station] = SECTION) -> list[list[float]]:
    """Stations as the numbers that a workbook holds."""
    return [[float(value) for value in station] for station in stations]


def read(path: Path, **answers: Any) -> SheetReading:
    """Read a file and check that each of its rows has one fate, and its gaugings' rows add up."""
    reading = read_sheets(path, Answers(**answers))
    places = [(fate.sheet, fate.row) for fate in reading.rows]
    assert len(set(places)) == len(places), "a row has two fates"
    for sheet, count in rows_in(path).items():
        if "sheet" not in answers or sheet == answers["sheet"]:
            mine = [row for where, row in places if where == sheet]
            assert mine == list(range(1, count + 1)), f"rows of {sheet} without a fate"
    assert sum(reading.counts.values()) == len(places)
    return reading


def rows_in(path: Path) -> dict[str | None, int]:
    """The number of rows in each sheet of a file, counted without our reader."""
    if path.suffix == ".xlsx":
        book = openpyxl.load_workbook(path)
        return {sheet.title: sheet.max_row for sheet in book}
    if path.suffix == ".xls":
        return {}
    data = path.read_bytes()
    encoding = "utf-16" if data[:2] in (b"\xff\xfe", b"\xfe\xff") else "latin-1"
    return {None: len(data.decode(encoding).splitlines())}


def read_one(path: Path, **answers: Any) -> SheetGauging:
    """Read a file of one gauging that is taken without a fault."""
    reading = read(path, **answers)
    assert len(reading.gaugings) == 1, [item.label for item in reading.gaugings]
    item = reading.gaugings[0]
    assert item.faults == (), [str(fault) for fault in item.faults]
    return item


def gauging_of(item: SheetGauging) -> Gauging:
    """The record of a gauging that was read."""
    assert item.gauging is not None, [str(fault) for fault in item.faults] or item.reason
    return item.gauging


def discharge(item: SheetGauging) -> float:
    """Our mid-section discharge of a gauging that was read, m³/s."""
    return compute(gauging_of(item)).discharge_m3s


def notes(item: SheetGauging) -> str:
    """All that is told about the reading and the computation of a gauging, as one text."""
    return "\n".join((*item.notes, *compute(gauging_of(item)).notes))


def explained(item: SheetGauging) -> Reconciliation:
    """What explains the filed total of a gauging that was read."""
    gauging = gauging_of(item)
    found = reconcile(gauging, compute(gauging))
    assert found is not None
    return found


def told(item: SheetGauging) -> tuple[str, ...]:
    """The sentences that explain the filed total of a gauging that was read."""
    return explain(explained(item), compute(gauging_of(item)))


def reasons(reading: SheetReading) -> dict[int, str]:
    """Row → why it was not used, for a file of one sheet."""
    return {fate.row: fate.reason for fate in reading.rows if fate.fate != "used"}


def refusals(reading: SheetReading) -> list[str]:
    """Every fault of every gauging in a file."""
    return [str(fault) for item in reading.gaugings for fault in item.faults]
