"""Writing gaugings as one tidy table: a row a reading, units in the heads, nothing worked out.

The table is one that `read_sheets` reads back to the same readings. Values are written as called,
with every digit they have.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

import xlsxwriter
from xlsxwriter.worksheet import Worksheet

from bankside.gauging.csv_row import csv_row
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.practice_mark import refuse_practice
from bankside.gauging.records import Gauging, PointReading, Vertical
from bankside.gauging.text_guard import guarded
from bankside.sheets.files.text_lines import is_number
from bankside.sheets.write_lines import CREW_KEYS, comment_line, figure_text, header_lines

__all__ = ["left_out", "tidy_table", "to_csv", "write_xlsx"]

Cell = str | float | None

_LABELS = ("site", "stream", "date", "channel")
_ONCE_A_GAUGING = (*_LABELS, "discharge unit")
_NONE = "-"


class _Exact(float):
    """A number that a workbook gets with all its digits, not with the 16 of XlsxWriter."""

    def __format__(self, spec: str) -> str:
        return repr(float(self))


def tidy_table(gaugings: Sequence[Gauging]) -> tuple[list[str], list[list[Cell]]]:
    """Return the heads and the rows of all gaugings; columns that would be empty are left out.

    InputRefused for practice: a table has no place for its mark.
    """
    for gauging in gaugings:
        refuse_practice(gauging)
    kinds = list(dict.fromkeys(_units(gauging) for gauging in gaugings))
    length, depth, velocity, discharge = kinds[0] if len(kinds) == 1 else ("", "", "", None)
    heads = [
        *_LABELS,
        _head("tape", length),
        _head("depth", depth),
        "fraction",
        _head("velocity", velocity),
        "seconds",
        "revolutions",
        _head("rod setting", depth),
        "time",
        "angle (deg)",
        "angle coefficient",
        "edge",
        "wall factor",
        "filed width",
        "filed area",
        _head("filed discharge", discharge or ""),
        _head("filed total", discharge or ""),
        "remark",
        "length unit",
        "depth unit",
        "velocity unit",
        "discharge unit",
    ]
    unit_cells: list[Cell] = [None] * 4
    rows = [
        row + (unit_cells if len(kinds) == 1 else list(_units(gauging)))
        for number, gauging in enumerate(gaugings)
        for row in _rows(gauging, _name(gaugings, number))
    ]
    kept = [
        i
        for i, head in enumerate(heads)
        if (head.startswith(("tape", "depth", "velocity")) and not head.endswith("unit"))
        or any(row[i] is not None for row in rows)
    ]
    # A blank label would be taken to go on from the row above; the mark says that there is none.
    blank = [_NONE if len(gaugings) > 1 and heads[i] in _ONCE_A_GAUGING else None for i in kept]
    return [heads[i] for i in kept], [
        [row[i] if row[i] is not None else mark for i, mark in zip(kept, blank, strict=True)]
        for row in rows
    ]


def _units(gauging: Gauging) -> tuple[str, str, str, str | None]:
    """Return the units of tape, depth, velocity and what was filed."""
    units, filed = gauging.units, gauging.filed
    depth = units.depth or units.length
    return units.length, depth, units.velocity, filed.unit if filed is not None else None


def _head(name: str, unit: str) -> str:
    return f"{name} ({unit})" if unit else name


def to_csv(gaugings: Sequence[Gauging]) -> str:
    """Return gaugings as CSV text with a comma between fields and a decimal point."""
    heads, rows = tidy_table(gaugings)
    above = header_lines(gaugings[0]) if len(gaugings) == 1 else ()
    lines = [f"{comment_line(key, line)}\n" for key, line in above]
    lines += [csv_row(heads), *(csv_row(map(_csv_cell, row)) for row in rows)]
    return "".join(lines)


def _csv_cell(cell: str | float | None) -> str:
    """Return a cell such that no spreadsheet takes it for a formula; a figure is none."""
    if cell is None:
        return ""
    text = figure_text(cell)
    return text if is_number(text) else guarded(text)


def write_xlsx(gaugings: Sequence[Gauging], path: Path) -> None:
    """Write gaugings to one sheet of an XLSX workbook, numbers as numbers and text as text."""
    heads, rows = tidy_table(gaugings)
    with xlsxwriter.Workbook(path, {"in_memory": True}) as book:
        sheet = book.add_worksheet("readings")
        bold = book.add_format({"bold": True, "bottom": 1})
        first = 0
        if len(gaugings) == 1:
            for key, line in header_lines(gaugings[0]):
                sheet.write_string(first, 0, f"{key}:")
                _write_text(sheet, first, 1, line)
                first += 1
        for column, head in enumerate(heads):
            sheet.write_string(first, column, head, bold)
            sheet.set_column(column, column, max(10, len(head) + 2))
        for number, row in enumerate(rows, start=first + 1):
            for column, value in enumerate(row):
                if isinstance(value, str):
                    _write_text(sheet, number, column, value)
                elif value is not None:
                    sheet.write_number(number, column, _Exact(value))
        sheet.freeze_panes(first + 1, 0)


def _write_text(sheet: Worksheet, row: int, column: int, text: str) -> None:
    """Write a text whole; InputRefused where a cell of a workbook cannot hold it."""
    if sheet.write_string(row, column, text) != 0:
        raise InputRefused(
            [
                Fault(
                    f"a text of {len(text):,} characters ({text[:30]}…) does not fit into a cell, "
                    "which holds 32,767; --to csv or --to json holds it"
                )
            ]
        )


def left_out(gaugings: Sequence[Gauging]) -> tuple[str, ...]:
    """Return what of the records a table does not hold; JSON holds it all.

    A table of one gauging has lines above it, a table of several has none.
    """
    names = {
        "corrections": any(g.corrections for g in gaugings),
        "answers to findings": any(g.answers for g in gaugings),
        "site of the survey": any(g.site.id for g in gaugings),
        "gauging that is repeated": any(g.repeats for g in gaugings),
    }
    if len(gaugings) < 2:
        names["what the crew did"] = any(
            member.role is not None and member.role not in CREW_KEYS
            for g in gaugings
            for member in g.crew
        )
        names["names with a semicolon"] = any(";" in m.name for g in gaugings for m in g.crew)
        return tuple(name for name, there in names.items() if there)
    names = {
        "id": any(g.id for g in gaugings),
        "position": any(g.site.position for g in gaugings),
        "start and end": any(g.started or g.ended for g in gaugings),
        "meter": any(g.meter for g in gaugings),
        "crew": any(g.crew for g in gaugings),
        "stage": any(g.stage or g.no_gauge for g in gaugings),
        "whole flow": any(g.whole_flow is not None for g in gaugings),
        "what was cleared": any(g.cleared or g.moved for g in gaugings),
        "quality": any(g.quality for g in gaugings),
        "rule set": any(g.rule_set for g in gaugings),
        "remarks": any(g.remarks for g in gaugings),
        **names,
    }
    return tuple(name for name, there in names.items() if there)


def _name(gaugings: Sequence[Gauging], number: int) -> str | None:
    """Return the site as written; several without any name are numbered to stay apart."""
    gauging = gaugings[number]
    if gauging.site.name or gauging.site.stream or len(gaugings) == 1:
        return gauging.site.name
    return f"gauging {number + 1}"


def _rows(gauging: Gauging, site: str | None) -> Iterator[list[Cell]]:
    filed = gauging.filed
    panels = {(p.channel, p.vertical): p for p in filed.panels} if filed is not None else {}
    day = gauging.date.isoformat() if gauging.date is not None else None
    total = filed.discharge if filed is not None else None
    for c, channel in enumerate(gauging.channels):
        name = channel.name or (f"{c + 1}" if len(gauging.channels) > 1 else None)
        for v, vertical in enumerate(channel.verticals):
            panel = panels.get((c, v))
            products: list[Cell] = (
                [None, None, None] if panel is None else [panel.width, panel.area, panel.discharge]
            )
            labels: list[Cell] = [site, gauging.site.stream, day, name]
            readings = vertical.velocity or (None,)
            for position, reading in enumerate(readings):
                first = position == 0
                yield [
                    *labels,
                    vertical.tape,
                    _depth(vertical),
                    *_reading(reading),
                    *(
                        (
                            None if vertical.at is None else vertical.at.isoformat(),
                            vertical.angle,
                            vertical.angle_coefficient,
                            _edge(vertical),
                            vertical.wall_factor,
                            *products,
                            total,
                            vertical.remark,
                        )
                        if first
                        else (None,) * 10
                    ),
                ]
                total = None


def _depth(vertical: Vertical) -> Cell:
    return "dry" if vertical.dry and vertical.depth is None else vertical.depth


def _reading(reading: PointReading | None) -> list[Cell]:
    if reading is None:
        return [None] * 5
    return [
        reading.fraction,
        reading.value,
        reading.seconds,
        reading.counts,
        reading.rod_setting,
    ]


def _edge(vertical: Vertical) -> Cell:
    if vertical.edge is None:
        return None
    return vertical.edge if vertical.bank is None else f"{vertical.edge} {vertical.bank}"
