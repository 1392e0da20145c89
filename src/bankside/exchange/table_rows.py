"""Rows of tables put under the rows that own them, with all that does not fit together."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import attrs

from bankside.exchange.forms import Value
from bankside.exchange.layouts import FORMS, GAUGINGS, SURVEYS, Layout, layouts_in
from bankside.gauging.faults import Fault
from bankside.gauging.fields import shown

__all__ = ["Row", "RowTree", "row_tree"]

_Keys = tuple[Value, ...]


@attrs.frozen
class Row:
    """A row of a table as its file has it: its number there, and its values by column."""

    number: int
    values: Mapping[str, Value]


@attrs.frozen
class RowTree:
    """The rows of all tables by the keys of their owners, each list in its order.

    `faults` says, with the table of each, what does not fit together; where there are any, nothing
    can be made of the rows.
    """

    faults: tuple[tuple[str, Fault], ...]
    _rows: Mapping[str, Mapping[_Keys, Sequence[Row]]]

    def rows_of(self, layout: Layout, owners: _Keys) -> Sequence[Row]:
        """Return the rows of a table that belong to the owner with these keys."""
        return self._rows[layout.table].get(owners, ())


def row_tree(rows: Mapping[str, Sequence[Row]]) -> RowTree:
    """Return the rows of tables, by the names of the tables, under their owners."""
    faults: list[tuple[str, Fault]] = []
    tree: dict[str, dict[_Keys, list[Row]]] = {}
    for root in (SURVEYS, GAUGINGS):
        for layout, owners in layouts_in(root):
            found = list(rows.get(layout.table, ()))
            faults += [(layout.table, fault) for fault in _without_keys(layout, found)]
            grouped = _grouped(found, owners)
            tree[layout.table] = grouped
            if not faults:
                faults += [(layout.table, f) for f in _misplaced(layout, owners, grouped, tree)]
    if not tree[SURVEYS.table] and not faults:
        faults += _without_survey(tree)
    if not faults:
        faults += _denied(tree)
    return RowTree(tuple(faults), tree)


def _grouped(rows: Sequence[Row], owners: Sequence[Layout]) -> dict[_Keys, list[Row]]:
    grouped: dict[_Keys, list[Row]] = {}
    for row in rows:
        keys = tuple(row.values.get(owner.key_below) for owner in owners)
        grouped.setdefault(keys, []).append(row)
    return grouped


def _without_keys(layout: Layout, rows: Sequence[Row]) -> Iterator[Fault]:
    """Yield the rows that do not say whose they are, or which."""
    keys = [c for c in FORMS[layout.table].columns if not c.path or c.name == layout.own_key]
    for row in rows:
        for column in keys:
            if row.values.get(column.name) is None:
                message = f"found nothing; {column.meaning} would be right"
                yield Fault(message, row=row.number, column=column.name)


def _misplaced(
    layout: Layout,
    owners: Sequence[Layout],
    grouped: Mapping[_Keys, list[Row]],
    tree: Mapping[str, Mapping[_Keys, Sequence[Row]]],
) -> Iterator[Fault]:
    known = _identities(owners, tree) if owners else {()}
    for keys, rows in grouped.items():
        if keys not in known:
            names = ", ".join(shown(key) for key in keys)
            message = f"found {names}, which is in no row of the table {owners[-1].table}"
            column = owners[-1].key_below
            yield Fault(f"{message}; a row there would be right", row=rows[0].number, column=column)
        yield from _out_of_order(layout, rows)


def _identities(
    owners: Sequence[Layout], tree: Mapping[str, Mapping[_Keys, Sequence[Row]]]
) -> set[_Keys]:
    """Return the keys under which rows may belong to the innermost of these owners."""
    owner = owners[-1]
    return {
        (*keys, row.values.get(owner.own_key))
        for keys, rows in tree[owner.table].items()
        for row in rows
    }


def _out_of_order(layout: Layout, rows: list[Row]) -> Iterator[Fault]:
    """Bring the rows of one owner in their order; yield places that are taken twice or missing."""
    if not layout.index:
        for row in rows[1:]:
            yield Fault(
                f"found a second row; one {layout.table} row would be right", row=row.number
            )
        return
    seen: dict[Value, Row] = {}
    for row in rows:
        key = row.values.get(layout.own_key)
        if seen.setdefault(key, row) is not row:
            message = f"found {shown(key)} again, as in row {seen[key].number}; each once is right"
            yield Fault(message, row=row.number, column=layout.own_key)
    rows.sort(key=lambda row: _place(row, layout))
    if layout.counted and len(seen) == len(rows):
        for place, row in enumerate(rows):
            if _place(row, layout) != place:
                message = f"found {_place(row, layout)} and no row with {place}: one is missing"
                yield Fault(message, row=row.number, column=layout.index)
                return


def _place(row: Row, layout: Layout) -> int:
    place = row.values[layout.index]
    assert isinstance(place, int)
    return place


def _without_survey(
    tree: Mapping[str, Mapping[_Keys, Sequence[Row]]],
) -> Iterator[tuple[str, Fault]]:
    for layout in SURVEYS.holds:
        for rows in tree[layout.table].values():
            message = f"found rows, but none in the table {SURVEYS.table} to which they belong"
            yield layout.table, Fault(message, row=rows[0].number)


def _denied(tree: Mapping[str, Mapping[_Keys, Sequence[Row]]]) -> Iterator[tuple[str, Fault]]:
    """Yield the rows that say that there is no such record, and then what it holds."""
    flags = [column for column in FORMS[GAUGINGS.table].columns if column.presence]
    for row in tree[GAUGINGS.table].get((), ()):
        for flag in flags:
            told = [
                column.name
                for column in FORMS[GAUGINGS.table].columns
                if column.path[:-1] == flag.path and row.values.get(column.name) is not None
            ]
            told += [
                f"the table {held.table}"
                for held in GAUGINGS.holds
                if held.at[:-1] == flag.path and (row.values["gauging"],) in tree[held.table]
            ]
            if row.values.get(flag.name) is False and told:
                message = f"found false, but a value in {told[0]}; true would be right"
                yield GAUGINGS.table, Fault(message, row=row.number, column=flag.name)
