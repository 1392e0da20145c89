"""Rows put together into gaugings, by site, stream and date."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

import attrs

from bankside.gauging.faults import Fault
from bankside.sheets.preface import Preface
from bankside.sheets.sheet_row import SheetRow
from bankside.sheets.table import Table

__all__ = ["Group", "group_rows", "nothing_measured"]


@attrs.frozen
class Group:
    """The rows of one gauging, in file order, with what its sheet tells around them."""

    site: str | None
    stream: str | None
    date: date | None
    rows: tuple[SheetRow, ...]
    preface: Preface
    tables: tuple[Table, ...]

    @property
    def label(self) -> str:
        """The gauging's name in sentences: stream, site and date as far as they are known."""
        parts = [self.stream, self.site, None if self.date is None else self.date.isoformat()]
        return ", ".join(part for part in parts if part) or "the gauging"

    def fault_on(self, key: str, message: str) -> Fault:
        """Return a fault placed at the line around the table that tells `key`."""
        grid = self.tables[0].grid
        row = self.preface.row_of(key)
        return Fault(message, grid.file, grid.sheet, self.rows[0].number if row is None else row)


def group_rows(
    read: Iterable[tuple[Table, Sequence[SheetRow], Preface, date | None]],
) -> tuple[Group, ...]:
    """Return the gaugings in a file: rows of one site, stream and date belong together.

    read: each table with its rows, what stands around it, and the date that tells.
    """
    order: dict[tuple[str | None, str | None, date | None], list[SheetRow]] = {}
    around: dict[tuple[str | None, str | None, date | None], list[tuple[Table, Preface]]] = {}
    for table, rows, preface, day in read:
        site, stream = _text(preface, "site"), _text(preface, "stream")
        channel = _text(preface, "channel")
        for read_row in rows:
            named = read_row.channel is not None or channel is None
            row = read_row if named else attrs.evolve(read_row, channel=channel)
            key = (row.site or site, row.stream or stream, row.date or day)
            order.setdefault(key, []).append(row)
            tables = around.setdefault(key, [])
            if all(known is not table for known, _ in tables):
                tables.append((table, preface))
    return tuple(
        Group(
            site,
            stream,
            day,
            tuple(rows),
            Preface(
                tuple(pair for _, p in around[site, stream, day] for pair in p.pairs),
                tuple(text for _, p in around[site, stream, day] for text in p.texts),
            ),
            tuple(table for table, _ in around[site, stream, day]),
        )
        for (site, stream, day), rows in order.items()
    )


def _text(preface: Preface, key: str) -> str | None:
    told = dict.fromkeys(" ".join(str(value).split()) for value in preface.values(key))
    # Two names, as over two tables side by side, are the name of neither.
    return next(iter(told)) if len(told) == 1 else None


def nothing_measured(rows: Iterable[SheetRow]) -> bool:
    """Return whether no row holds any water: no depth above 0 and no velocity other than 0."""
    return not any(
        (row.depth or 0) > 0 or row.mean or any((p.value or p.counts or 0) != 0 for p in row.points)
        for row in rows
    )
