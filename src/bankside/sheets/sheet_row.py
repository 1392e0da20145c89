"""What one row of readings holds, and what becomes of a row."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, time
from typing import Any, Literal

import attrs

from bankside.gauging.faults import Fault
from bankside.sheets.table import Table

__all__ = ["FiledTotal", "Form", "Point", "RowFate", "SheetRow", "Side", "first_of"]


Side = Literal["left", "right", "unnamed"]


Form = Literal["sloping", "steep", "undercut"]


@attrs.frozen
class RowFate:
    """What became of one row of the input: "used", kept as a "remark", or "refused", and why."""

    sheet: str | None
    row: int
    fate: Literal["used", "remark", "refused"]
    reason: str


@attrs.frozen
class FiledTotal:
    """A total as it stands on a row of totals, with the unit that stands beside it there."""

    value: float
    row: int
    unit: str | None = None


@attrs.frozen
class Point:
    """One velocity as it stands on a row, at a fraction of the depth when one is given."""

    value: float | None = None
    fraction: float | None = None
    seconds: float | None = None
    counts: float | None = None
    rod_setting: float | None = None


@attrs.frozen
class SheetRow:
    """The readings and labels of one row, as called, in the units of its table."""

    table: Table
    index: int
    tape: float | None = None
    depth: float | None = None
    dry: bool = False
    points: tuple[Point, ...] = ()
    mean: float | None = None
    angle: float | None = None
    angle_coefficient: float | None = None
    edge: Side | None = None
    remark: str | None = None
    at: time | datetime | None = None
    site: str | None = None
    stream: str | None = None
    date: date | None = None
    channel: str | None = None
    bank: Form | None = None
    wall_factor: float | None = None
    length_unit: str | None = None
    depth_unit: str | None = None
    velocity_unit: str | None = None
    discharge_unit: str | None = None
    latitude: float | None = None
    longitude: float | None = None
    width: float | None = None
    area: float | None = None
    discharge: float | None = None
    total: float | None = None
    unread: tuple[str, ...] = ()

    @property
    def number(self) -> int:
        """The row's number in the file, from 1."""
        return self.table.grid.row_numbers[self.index]

    def fault(self, message: str, role: str | None = None) -> Fault:
        """Return a fault placed at this row, in the column with the given role."""
        column = None if role is None else self.table.column(role)
        return Fault(
            message,
            file=self.table.grid.file,
            sheet=self.table.grid.sheet,
            row=self.number,
            column=None if column is None else column.name,
        )

    @property
    def continues(self) -> bool:
        """Whether the row, without tape and depth, is a further point of the vertical above."""
        named = any(point.fraction is not None for point in self.points)
        return self.tape is None and self.depth is None and named

    def fate(self, fate: Literal["used", "remark", "refused"], reason: str) -> RowFate:
        """Return this row's fate."""
        return RowFate(self.table.grid.sheet, self.number, fate, reason)


def first_of(rows: Sequence[SheetRow], name: str) -> Any:
    """Return the first value that any of the rows has in the named field, None without one."""
    return next((getattr(row, name) for row in rows if getattr(row, name) is not None), None)
