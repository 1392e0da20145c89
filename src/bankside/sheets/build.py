"""From a group of rows to the record of a gauging, with every row's fate and every question."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import get_args

import attrs

from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.records import (
    Channel,
    Filed,
    FiledPanel,
    Gauging,
    PointReading,
    Units,
    Vertical,
)
from bankside.gauging.units import DischargeUnit
from bankside.sheets.answers import Answers
from bankside.sheets.called_units import units_of
from bankside.sheets.group import Group, RowsOfChannel
from bankside.sheets.header import first_of, header_of, site_of
from bankside.sheets.row import RowFate, SheetRow
from bankside.sheets.values import as_label, looks_numeric

__all__ = ["Built", "build_gauging"]


@attrs.frozen
class Built:
    """A gauging made of a group of rows: the record, the rows' fates, notes and faults."""

    gauging: Gauging | None
    fates: tuple[RowFate, ...]
    notes: tuple[str, ...]
    faults: tuple[Fault, ...]


def build_gauging(
    group: Group,
    channels: Sequence[RowsOfChannel],
    totals: Sequence[float],
    answers: Answers,
) -> Built:
    """Return the record of one gauging; totals are the filed totals found on its total rows."""
    units, faults = units_of(group, answers)
    built: list[Channel] = []
    panels: list[FiledPanel] = []
    fates: list[RowFate] = []
    notes: list[str] = []
    for index, channel in enumerate(channels):
        verticals: list[Vertical] = []
        for position, rows in enumerate(channel.verticals):
            at_end = position in (0, len(channel.verticals) - 1)
            vertical, found = _vertical(rows, at_end, answers)
            faults.extend(found)
            if vertical is None:
                fates.extend(r.fate("remark", "no depth and no velocity") for r in rows)
                continue
            panel = _filed_panel(rows, index, len(verticals))
            panels.extend([panel] if panel is not None else [])
            verticals.append(vertical)
            fates.extend(r.fate("used", f"vertical at tape {vertical.tape:g}") for r in rows)
        built.append(Channel(tuple(verticals), channel.name) if not faults else Channel(()))
    filed, note = _filed(group, panels, totals, units)
    notes.extend([note] if note else [])
    head, left_over = header_of(group.preface, answers)
    faults.extend(head.pop("faults"))
    if faults:
        refused = tuple(r.fate("refused", "its gauging could not be read") for r in group.rows)
        return Built(None, refused, tuple(notes), tuple(faults))
    assert units is not None
    try:
        gauging = Gauging(
            units=units,
            channels=tuple(built),
            site=site_of(group),
            date=group.date,
            filed=filed,
            remarks="; ".join(left_over) or None,
            **head,
        )
    except InputRefused as refusal:
        first = group.rows[0]
        placed = tuple(
            attrs.evolve(
                f,
                file=first.table.grid.file,
                sheet=first.table.grid.sheet,
                row=f.row or _row_at(f, channels) or first.number,
            )
            for f in refusal.faults
        )
        refused = tuple(r.fate("refused", "its gauging could not be read") for r in group.rows)
        return Built(None, refused, tuple(notes), placed)
    return Built(gauging, tuple(fates), tuple(notes), ())


def _row_at(fault: Fault, channels: Sequence[RowsOfChannel]) -> int | None:
    """Return the row of the vertical to which a record's fault points, if it points to one."""
    found = re.match(r"channels\[(\d+)\]\.verticals\[(\d+)\]", fault.path or "")
    if found is None:
        return None
    return channels[int(found[1])].verticals[int(found[2])][0].number


def _vertical(
    rows: Sequence[SheetRow], at_end: bool, answers: Answers
) -> tuple[Vertical | None, list[Fault]]:
    """Return the vertical that one or more rows describe, or None when they hold no reading."""
    first = rows[0]
    assert first.tape is not None
    depth = next((row.depth for row in rows if row.depth is not None), None)
    readings = tuple(
        PointReading(p.value, p.fraction, p.seconds, p.counts)
        if p.counts is not None
        else PointReading(p.value, p.fraction, p.seconds)
        for row in rows
        for p in row.points
        if p.counts is None or p.seconds is not None
    )
    faults = [
        row.fault(
            "found a number of revolutions without its time; seconds beside it would be right",
            "counts",
        )
        for row in rows
        for p in row.points
        if p.counts is not None and p.seconds is None
    ]
    edge = next((row.edge for row in rows if row.edge), None)
    if depth is None and not readings and not first.dry:
        if not at_end and edge is None:
            return None, faults
        if answers.empty_edge == "sloping":
            depth = 0.0
        else:
            faults.append(
                first.fault(
                    "found no depth at the end of the section; a depth (0 at a sloping edge of "
                    "water) would be right, or say --empty-edge sloping",
                    "depth",
                )
            )
    if depth is None and readings and not first.dry:
        faults.append(
            first.fault(
                "found a velocity without a depth; the depth of this vertical would be right",
                "depth",
            )
        )
    if depth and not readings and answers.empty_velocity == "zero":
        readings = (PointReading(0.0),)
    if faults:
        return None, faults
    side = edge if at_end and edge in ("left", "right") else None
    bank = first_of(rows, "bank")
    remark = "; ".join(
        part
        for row in rows
        for part in (
            row.remark,
            row.at and f"read at {row.at:%H:%M}",
            None if side or not row.edge else "edge of water",
        )
        if part
    )
    try:
        return Vertical(
            first.tape,
            depth,
            readings,
            dry=first.dry,
            edge=side,
            bank=(bank or ("sloping" if depth == 0 else None)) if side else None,
            wall_factor=first_of(rows, "wall_factor") if side else None,
            angle=first_of(rows, "angle"),
            angle_coefficient=first_of(rows, "angle_coefficient"),
            remark=remark or None,
        ), []
    except InputRefused as refusal:
        return None, [first.fault(f.message) for f in refusal.faults]


def _filed_panel(rows: Sequence[SheetRow], channel: int, vertical: int) -> FiledPanel | None:
    width, area = first_of(rows, "width"), first_of(rows, "area")
    discharge = first_of(rows, "discharge")
    if width is None and area is None and discharge is None:
        return None
    return FiledPanel(channel, vertical, width, area, discharge)


def _filed(
    group: Group, panels: list[FiledPanel], totals: Sequence[float], units: Units | None
) -> tuple[Filed | None, str | None]:
    """Return what the sheet itself carried, and a note where its totals contradict one another."""
    table = group.tables[0]
    column = table.column("total") or table.column("discharge")
    unit = column.unit.name if column is not None and column.unit is not None else None
    unit = as_label(group.preface.first("total_unit")) or unit
    if unit not in get_args(DischargeUnit):
        unit = None
    found = [row.total for row in group.rows if row.total is not None]
    found.extend(totals)
    products = [i for i, p in enumerate(panels) if p.discharge is not None]
    if not found and len(products) == 1 and len(panels) > 3:
        # One number in a column of discharges, on one row only, is the total and no product.
        only = panels[products[0]]
        found = [] if only.discharge is None else [only.discharge]
        panels[products[0]] = attrs.evolve(only, discharge=None)
    for value in group.preface.values("total"):
        text = (as_label(value) or "").split(" ")[0].replace(",", ".")
        if looks_numeric(text):
            found.append(float(text))
    distinct = list(dict.fromkeys(found))
    note = None
    if len(distinct) > 1:
        listed = ", ".join(f"{value:g}" for value in distinct)
        note = f"The sheet carries several totals ({listed}); none of them is taken as filed."
    total = distinct[0] if len(distinct) == 1 else None
    kept = tuple(
        p for p in panels if not (p.width is None and p.area is None and p.discharge is None)
    )
    if total is None and not kept:
        return None, note
    return Filed(total, unit, kept), note  # type: ignore[arg-type]
