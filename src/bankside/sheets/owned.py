"""Which gauging the rows without readings belong to: the one whose rows stand above them."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence

import attrs

from bankside.gauging.faults import Fault
from bankside.sheets.group import Group
from bankside.sheets.preface import Preface, join_prefaces, read_preface
from bankside.sheets.rows import TableRows
from bankside.sheets.sheet_row import FiledTotal, RowFate
from bankside.sheets.table import Table

__all__ = ["Owned", "owned_by_groups", "preface_of"]

_OF_ONE_GAUGING = frozenset(
    {
        "total",
        "total_unit",
        "stage",
        "stage_unit",
        "started",
        "ended",
        "whole_flow",
        "cleared",
        "moved",
        "quality",
        "id",
        "latitude",
        "longitude",
        "accuracy",
        "label",
    }
)
"""What a line above a table of several gaugings cannot tell of each of them."""


@attrs.define
class Owned:
    """What belongs to one gauging beside its rows of readings.

    fates: of its rows without readings; totals: those filed on total rows; notes: what
    its lines tell; faults: those found on its rows.
    """

    fates: list[RowFate] = attrs.field(factory=list)
    totals: list[FiledTotal] = attrs.field(factory=list)
    notes: list[Preface] = attrs.field(factory=list)
    faults: list[Fault] = attrs.field(factory=list)


def owned_by_groups(
    read: Sequence[tuple[Table, TableRows]], groups: Sequence[Group]
) -> tuple[list[Owned], list[RowFate]]:
    """Return what each group owns, and the fates of rows around tables of several gaugings."""
    owners = {
        (row.table.grid.sheet, row.number): number
        for number, group in enumerate(groups)
        for row in group.rows
    }
    owned = [Owned() for _ in groups]
    loose: list[RowFate] = []
    for table, rows in read:
        numbers = [row.number for row in rows.rows]
        of_rows = [owners[table.grid.sheet, number] for number in numbers]
        several = len(set(of_rows)) > 1
        for fate in rows.fates:
            _at(owned, numbers, of_rows, fate.row).fates.append(fate)
        for total in rows.totals:
            _at(owned, numbers, of_rows, total.row).totals.append(total)
        for index in rows.notes:
            at = table.grid.row_numbers[index]
            _at(owned, numbers, of_rows, at).notes.append(read_preface(table.grid, [index]))
        for fault in rows.faults:
            _at(owned, numbers, of_rows, (fault.row or 0) + 1).faults.append(fault)
        if several or not of_rows:
            loose.extend(_around(table))
        else:
            owned[of_rows[0]].fates.extend(_around(table))
    return owned, loose


def preface_of(group: Group, owned: Owned, several: bool) -> Preface:
    """Return all that lines tell of one gauging.

    several: whether the lines above its table stand over other gaugings too; what can be true of
    one only is then a remark.
    """
    above = group.preface
    if several:
        kept = tuple(pair for pair in above.pairs if pair[0] not in _OF_ONE_GAUGING)
        others = [pair for pair in above.pairs if pair[0] in _OF_ONE_GAUGING]
        texts = tuple((f"{key}: {value}", row) for key, value, row in others if value is not None)
        above = Preface(kept, (*above.texts, *texts))
    return join_prefaces([above, *owned.notes])


def _at(owned: list[Owned], numbers: list[int], of_rows: list[int], number: int) -> Owned:
    """Return what the gauging owns whose rows stand above a row, or the first one."""
    if not of_rows:
        return Owned()
    return owned[of_rows[max(bisect_left(numbers, number) - 1, 0)]]


def _around(table: Table) -> Iterator[RowFate]:
    """Yield the fates of the rows above a table and of its heads."""
    for index in table.above:
        blank = all(value is None for value in table.grid.rows[index])
        reason = "blank row" if blank else "line above the table"
        yield RowFate(table.grid.sheet, table.grid.row_numbers[index], "remark", reason)
    for index in table.heads:
        yield RowFate(table.grid.sheet, table.grid.row_numbers[index], "remark", "heads")
