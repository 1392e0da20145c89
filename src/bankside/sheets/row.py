"""Reading one row: every cell strictly, every fault of the row found at once."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from datetime import datetime, time
from typing import Any, TypeVar

import attrs

from bankside.gauging.faults import Fault
from bankside.sheets.dates import as_clock, as_date
from bankside.sheets.edge_words import edge_in
from bankside.sheets.files.grid import CellValue, cell, column_letter
from bankside.sheets.head_meaning import parse_unit
from bankside.sheets.points import points_on
from bankside.sheets.row_reader import RowReader
from bankside.sheets.sheet_row import Form, SheetRow, Side
from bankside.sheets.table import Table
from bankside.sheets.values import ValueFault, as_label, is_empty, looks_numeric, show
from bankside.sheets.written import Written

__all__ = ["READINGS", "read_row"]


T = TypeVar("T")


READINGS = (
    "tape",
    "depth",
    "velocity",
    "fraction",
    "counts",
    "seconds",
    "angle",
    "angle_coefficient",
    "wall_factor",
    "rod_setting",
)


_LABELS = (
    "stream",
    "site",
    "date",
    "channel",
    "length_unit",
    "depth_unit",
    "velocity_unit",
    "discharge_unit",
)


def read_row(
    table: Table, index: int, how: Written, carried: dict[str, Any]
) -> tuple[SheetRow, list[Fault]]:
    """Read one row of readings; `carried` holds the labels that blank cells take from above."""
    reader = RowReader(table, index, how)
    dry, depth = _depth(reader)
    tape = reader.number(table.column("tape"), "a tape position such as 4.5")
    if depth is not None and depth < 0:
        reader.fault(table.column("depth"), f"found {depth:g}; a depth of 0 or more would be right")
    points, aside = points_on(reader)
    edge, bank, remark = _edge_and_remark(reader)
    remark = (
        "; ".join(filter(None, (remark, aside, _beyond_heads(reader), *_unused(reader)))) or None
    )
    if tape is None and depth is None and not points:
        # A line that holds no reading must not name the site of the rows below it.
        carried = dict(carried)
    labels = {role: _carried(reader, role, carried) for role in _LABELS}
    # The type checker joins the two kinds of times to an object.
    at: time | datetime | None = reader.read(table.column("clock"), as_clock)  # type: ignore[assignment]
    row = SheetRow(
        table,
        index,
        tape,
        depth,
        dry,
        points,
        angle=reader.number(table.column("angle"), "an angle in degrees"),
        angle_coefficient=reader.number(
            table.column("angle_coefficient"), "a coefficient from 0 to 1"
        ),
        edge=edge,
        remark=remark,
        at=at,
        bank=bank,
        wall_factor=reader.number(table.column("wall_factor"), "a factor from 0 to 1"),
        latitude=reader.number(table.column("latitude"), "a latitude in degrees"),
        longitude=reader.number(table.column("longitude"), "a longitude in degrees"),
        mean=reader.number(table.column("mean_velocity"), "a velocity such as 0.42"),
        width=reader.filed("width"),
        area=reader.filed("area"),
        discharge=reader.filed("discharge"),
        total=reader.filed("total"),
        **labels,
    )
    row = attrs.evolve(row, unread=tuple(reader.unread)) if reader.unread else row
    return row, reader.faults


def _depth(reader: RowReader) -> tuple[bool, float | None]:
    """Return (dry, depth): the word "dry" in the depth column is a dry vertical."""
    column = reader.table.column("depth")
    if column is not None:
        value = cell(reader.table.grid, reader.index, column.index)
        if isinstance(value, str) and value.strip().casefold() == "dry":
            return True, None
    return False, reader.number(column, "a depth such as 0.35")


def _edge_and_remark(reader: RowReader) -> tuple[Side | None, Form | None, str | None]:
    """Return the edge that a row's words name, the form of its bank, and the row's remark."""
    edge: Side | None = None
    bank: Form | None = None
    remarks = []
    for column in reader.table.columns:
        if column.role not in ("edge", "remark"):
            continue
        text = as_label(cell(reader.table.grid, reader.index, column.index))
        if text is None:
            continue
        side, form, rest = edge_in(text, in_bank_column=column.role == "edge")
        if side is None and column.role == "edge":
            reader.fault(
                column,
                f"found {show(text)}; left or right, sloping, steep or undercut would be right, "
                "and nothing away from the edges",
            )
        edge, bank = edge or side, bank or form
        if side is None or rest:
            remarks.append(text)
    return edge, bank, "; ".join(remarks) or None


def _carried(reader: RowReader, role: str, carried: dict[str, Any]) -> Any:
    """Return a row's label; a blank cell takes the one above, as sheets write it once a block."""
    column = reader.table.column(role)
    if column is None:
        return carried.get(role)
    parse: Callable[[CellValue], Any] = as_label
    if role == "date":
        parse = lambda value: as_date(value, reader.how.dates)  # noqa: E731
    elif role.endswith("_unit"):
        parse = lambda value: _unit_name(value, role)  # noqa: E731
    written = cell(reader.table.grid, reader.index, column.index)
    if written is not None and is_empty(written):
        # A mark such as "-" says that there is none; only a blank cell takes the one above.
        carried.pop(role, None)
    value = reader.read(column, parse)
    if value is not None:
        if value != carried.get(role):
            # What was written for one site says nothing about the next.
            for finer in _LABELS[_LABELS.index(role) + 1 :] if role in _LABELS[:4] else ():
                carried.pop(finer, None)
        carried[role] = value
    return carried.get(role)


def _unit_name(value: CellValue, role: str) -> str | None:
    text = as_label(value)
    if text is None:
        return None
    unit = parse_unit(text)
    kind = {"velocity_unit": "velocity", "discharge_unit": "discharge"}.get(role, "length")
    if unit is None or unit.kind != kind:
        examples = {"length": "m or ft", "velocity": "m/s or ft/s"}.get(kind, "m3/s or ft3/s")
        raise ValueFault(f"found {show(text)}; a unit such as {examples} would be right")
    return unit.name


def _beyond_heads(reader: RowReader) -> str | None:
    """Return words in fields of a text row beyond its last head, as a remark.

    A number there is a fault: the columns may have slipped, as decimal commas make them.
    """
    grid, table = reader.table.grid, reader.table
    if grid.separator is None or not table.heads:
        return None
    heads = max(len(_trimmed(grid.rows[row])) for row in table.heads)
    row = _trimmed(grid.rows[reader.index])
    extra = [value for value in row[heads:] if value is not None]
    if any(looks_numeric(value) for value in extra):
        reader.fault(
            None,
            f"found {len(row)} fields where the heads have {heads} (column "
            f"{column_letter(heads)} on; decimal commas between commas?); as many "
            "fields as heads would be right",
        )
        return None
    return "; ".join(as_label(value) or "" for value in extra) or None


def _unused(reader: RowReader) -> Iterator[str]:
    """Yield what stands in columns that are not understood, for the remarks of the vertical."""
    for column in reader.table.with_role("unused"):
        value = as_label(cell(reader.table.grid, reader.index, column.index))
        if value is not None:
            yield f"{column.head}: {value}"


def _trimmed(row: Sequence[CellValue]) -> Sequence[CellValue]:
    end = len(row)
    while end and row[end - 1] is None:
        end -= 1
    return row[:end]
