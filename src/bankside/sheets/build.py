"""From a group of rows to the record of a gauging, with every row's fate and every question."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

import attrs

from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.records import (
    Channel,
    FiledPanel,
    Gauging,
    RatingPart,
    Vertical,
)
from bankside.sheets.answers import Answers
from bankside.sheets.called_units import units_of
from bankside.sheets.channels import RowsOfChannel
from bankside.sheets.filed import filed_of, filed_panel, foreign_totals
from bankside.sheets.group import Group
from bankside.sheets.header import header_of
from bankside.sheets.moments import with_moments
from bankside.sheets.position import place_of
from bankside.sheets.sheet_row import FiledTotal, RowFate
from bankside.sheets.vertical import empty_ends, vertical_of

__all__ = ["Built", "Places", "build_gauging"]


Places = Mapping[tuple[int, int], tuple[str | None, int]]
"""Index of a channel and of a vertical in it → sheet and row on which the vertical begins."""


_OTHER = {"left": "right", "right": "left"}


@attrs.frozen
class Built:
    """A gauging made of a group of rows: the record, the rows' fates, notes and faults."""

    gauging: Gauging | None
    fates: tuple[RowFate, ...]
    places: Places
    notes: tuple[str, ...]
    faults: tuple[Fault, ...]


@attrs.define
class _Parts:
    """What comes together while the rows of a gauging are gone through."""

    channels: list[Channel] = attrs.field(factory=list)
    panels: list[FiledPanel] = attrs.field(factory=list)
    places: dict[tuple[int, int], tuple[str | None, int]] = attrs.field(factory=dict)
    fates: list[RowFate] = attrs.field(factory=list)
    notes: list[str] = attrs.field(factory=list)
    faults: list[Fault] = attrs.field(factory=list)


def build_gauging(
    group: Group,
    channels: Sequence[RowsOfChannel],
    totals: Sequence[FiledTotal],
    answers: Answers,
) -> Built:
    """Return the record of one gauging; totals are the filed totals found on its total rows."""
    units, unit_faults = units_of(group, answers)
    parts = _Parts(faults=list(unit_faults))
    header, place = header_of(group, units, answers), place_of(group)
    meter = header.fields["meter"]
    channels, unplaced = with_moments(channels, header.clock, header.fields["started"])
    for index, channel in enumerate(channels):
        _add_channel(group, parts, index, channel, meter.rating if meter else (), answers)
    parts.faults += [*header.faults, *place.faults]
    parts.notes.extend((*header.notes, *unplaced, *place.notes))
    if not header.faults and (meter is None or not meter.rating):
        parts.faults.extend(_unrated(group))
    if units is None or parts.faults:
        return _refused(group, parts, parts.faults)
    try:
        filed, note = filed_of(group, parts.panels, totals)
        parts.notes.extend([note] if note else [])
        foreign = foreign_totals(group, parts.panels, totals)
        parts.notes.extend(
            f"The filed {text} is in another unit than the products beside it: it is kept as a "
            "remark."
            for text in foreign
        )
        gauging = Gauging(
            units=units,
            channels=tuple(parts.channels),
            site=place.site,
            date=group.date,
            filed=filed,
            remarks="; ".join((*header.remarks, *place.remarks, *foreign)) or None,
            **header.fields,
        )
    except InputRefused as refusal:
        return _refused(group, parts, [_placed(f, parts.places, group) for f in refusal.faults])
    return Built(gauging, tuple(parts.fates), parts.places, tuple(parts.notes), ())


def _placed(fault: Fault, places: Places, group: Group) -> Fault:
    """Return a record's fault with the file, sheet and row from which its part was read."""
    found = re.match(r"(?:channels\[(\d+)\]\.)?verticals\[(\d+)\]", fault.path or "")
    first = group.rows[0]
    sheet, row = first.table.grid.sheet, first.number
    message = fault.message
    if found is not None:
        channel = int(found[1] or 0)
        sheet, row = places.get((channel, int(found[2])), (sheet, row))
        message = re.sub(
            r"verticals\[(\d+)\]",
            lambda other: f"row {places.get((channel, int(other[1])), (sheet, row))[1]}",
            message,
        )
    return Fault(message, first.table.grid.file, sheet, row)


def _refused(group: Group, parts: _Parts, faults: Sequence[Fault]) -> Built:
    fates = tuple(r.fate("refused", "its gauging could not be read") for r in group.rows)
    return Built(None, fates, parts.places, tuple(parts.notes), tuple(faults))


def _add_channel(
    group: Group,
    parts: _Parts,
    index: int,
    channel: RowsOfChannel,
    rating: tuple[RatingPart, ...],
    answers: Answers,
) -> None:
    """Read the verticals of one channel into the parts of its gauging."""
    beyond = empty_ends(channel.verticals)
    inside = [i for i in range(len(channel.verticals)) if i not in beyond]
    verticals: list[Vertical] = []
    for place, rows in enumerate(channel.verticals):
        if place in beyond:
            parts.fates.extend(r.fate("remark", "beyond the edge, nothing read") for r in rows)
            continue
        bank = {inside[0]: answers.first_bank, inside[-1]: _OTHER.get(answers.first_bank or "")}
        read = vertical_of(
            rows,
            place in bank,
            bank.get(place),  # type: ignore[arg-type]
            rating,
            answers,
        )
        parts.faults.extend(read.faults)
        parts.notes.extend(read.notes)
        if read.vertical is None:
            parts.fates.extend(r.fate("remark", "no depth and no velocity") for r in rows)
            if not read.faults:
                parts.notes.append(
                    f"Nothing was read at tape {rows[0].tape:g} (row {rows[0].number}): the panels "
                    "of its neighbours reach over it."
                )
            continue
        panel = filed_panel(rows, index, len(verticals))
        parts.panels.extend([panel] if panel is not None else [])
        parts.places[index, len(verticals)] = (rows[0].table.grid.sheet, rows[0].number)
        verticals.append(read.vertical)
        parts.fates.extend(r.fate("used", f"vertical at tape {rows[0].tape:g}") for r in rows)
    if parts.faults:
        return
    try:
        parts.channels.append(Channel(tuple(verticals), channel.name))
    except InputRefused as refusal:
        outer = [f.inside(index).inside("channels") for f in refusal.faults]
        parts.faults.extend(_placed(f, parts.places, group) for f in outer)


def _unrated(group: Group) -> Iterator[Fault]:
    """Yield a question for the first count that has neither a velocity nor a rating."""
    for row in group.rows:
        if any(p.counts is not None and p.value is None for p in row.points):
            yield row.fault(
                "found a number of revolutions, and no rating of the meter; a line such as "
                '"# meter rating (m/s): V = 0.51 N + 0.03" would be right, or --rating 0.51,0.03',
                "counts",
            )
            return
