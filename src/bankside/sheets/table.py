"""Finding the tables of verticals in a grid, and what each of their columns holds.

A table starts with a row of heads in which at least two readings (tape, depth, velocity or
counts) are recognised, or named by an answer. It may have a second row of units or of fractions
of the depth. Where a column cannot be decided, the candidates are listed and asked about.
"""

from __future__ import annotations

from collections.abc import Mapping

import attrs

from bankside.gauging.faults import Fault
from bankside.sheets.answers import Answers
from bankside.sheets.column import Column
from bankside.sheets.columns import decide_columns
from bankside.sheets.files.grid import Grid
from bankside.sheets.heads import full_head, head_rows, next_introduction

__all__ = ["Table", "find_tables"]


@attrs.frozen
class Table:
    """A table of verticals: its columns and the indexes of the rows around and below its heads.

    above: rows between the previous table (or the top) and the heads; heads: the head rows;
    body: everything below, up to the next table's `above`.
    """

    grid: Grid
    columns: tuple[Column, ...]
    above: tuple[int, ...]
    heads: tuple[int, ...]
    body: tuple[int, ...]
    _first: Mapping[str, Column] = attrs.field(init=False, eq=False, repr=False)

    def __attrs_post_init__(self) -> None:
        first = {column.role: column for column in reversed(self.columns)}
        object.__setattr__(self, "_first", first)

    def column(self, role: str) -> Column | None:
        """Return the first column with the given role, or None."""
        return self._first.get(role)

    def with_role(self, role: str) -> tuple[Column, ...]:
        """Return all columns with the given role in the order in which they stand."""
        return tuple(c for c in self.columns if c.role == role)

    def velocities(self) -> tuple[Column, ...]:
        """Return the velocity columns in the order in which they stand."""
        return self.with_role("velocity")


def find_tables(grid: Grid, answers: Answers) -> tuple[tuple[Table, ...], tuple[Fault, ...]]:
    """Return the tables of a grid, and the questions that keep a table from being read.

    A grid without any table yields neither: the caller decides whether that is a fault.
    """
    starts = head_rows(grid, answers)
    tables: list[Table] = []
    faults: list[Fault] = []
    above_from = 0
    for position, start in enumerate(starts):
        end = starts[position + 1] if position + 1 < len(starts) else len(grid.rows)
        heads = full_head(grid, start)
        last = heads[-1] if heads else start - 1
        body = tuple(range(last + 1, end))
        next_above = next_introduction(grid, body) if end < len(grid.rows) else end
        body = tuple(i for i in body if i < next_above)
        columns, asked = decide_columns(grid, heads, body, answers)
        faults.extend(asked)
        above = tuple(range(above_from, start))
        tables.append(Table(grid, columns, above, heads, body))
        above_from = next_above
    return tuple(tables), tuple(faults)
