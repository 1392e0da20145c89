"""From tables back to a survey and its gaugings, by the same rules as any other record.

The readers of the formats hand over values of the kinds of the columns; what must hold within and
between records is asked by the records themselves, and every fault comes back with its table, row
and column.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import TypeVar

import attrs

from bankside.exchange.data import SurveyData
from bankside.exchange.forms import Value
from bankside.exchange.layouts import FORMS, GAUGINGS, SURVEYS, Layout
from bankside.exchange.table_rows import Row, RowTree, row_tree
from bankside.gauging.checked import Checked
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.records import Gauging
from bankside.gauging.structure import JsonObject, structured
from bankside.survey.records import Survey

__all__ = ["Rows", "from_tables"]

R = TypeVar("R", bound=Checked)

Rows = Mapping[str, Sequence[Row]]


@attrs.frozen
class _Place:
    """Where in the tables a record of the document came from."""

    table: str
    row: Row


def from_tables(rows: Rows, named: Callable[[str, Fault], Fault]) -> SurveyData:
    """Return the survey and the gaugings in the rows of tables, by the names of the tables.

    named: how a fault in a table is placed in its file. InputRefused with every fault: what its
    table, row and column are, what was found, what would be right.
    """
    tree = row_tree(rows)
    faults = [named(table, fault) for table, fault in tree.faults]
    surveys: list[Survey] = []
    gaugings: list[Gauging] = []
    if not faults:
        surveys = list(_records(tree, SURVEYS, Survey, named, faults))
        gaugings = list(_records(tree, GAUGINGS, Gauging, named, faults))
    if faults:
        raise InputRefused(faults)
    return SurveyData(surveys[0] if surveys else None, tuple(gaugings))


def _records(
    tree: RowTree,
    layout: Layout,
    record: type[R],
    named: Callable[[str, Fault], Fault],
    faults: list[Fault],
) -> Iterator[R]:
    for row in tree.rows_of(layout, ()):
        places: dict[str, _Place] = {}
        members = _members(tree, layout, row, (), "", places)
        try:
            yield structured(members, record)
        except InputRefused as refused:
            faults.extend(_placed(fault, places, named) for fault in refused.faults)


def _members(
    tree: RowTree,
    layout: Layout,
    row: Row,
    owners: tuple[Value, ...],
    path: str,
    places: dict[str, _Place],
) -> JsonObject:
    """Return the JSON object of a row and of all that it holds, and note where each part stands."""
    places[path] = _Place(layout.table, row)
    members = JsonObject()
    for column in FORMS[layout.table].columns:
        value = row.values.get(column.name)
        if not column.path or column.kind == "utc" or value is None:
            continue
        if column.presence:
            if value:
                _object_at(members, column.path)
        else:
            inner = _object_at(members, column.path[:-1])
            inner[column.path[-1]] = value
    below = (*owners, row.values[layout.own_key]) if layout.index else ()
    for held in layout.holds:
        inside = [
            _members(
                tree, held, one, below, f"{path}{'.' * bool(path)}{'.'.join(held.at)}[{n}]", places
            )
            for n, one in enumerate(tree.rows_of(held, below))
        ]
        # A list that must be there may be empty; others are left out then, as in JSON.
        if inside or len(held.at) == 1:
            _object_at(members, held.at[:-1])[held.at[-1]] = inside
    return members


def _object_at(members: JsonObject, path: Sequence[str]) -> JsonObject:
    """Return the object at the end of a path, made where there is none yet."""
    for name in path:
        inner = members.setdefault(name, JsonObject())
        assert isinstance(inner, JsonObject)
        members = inner
    return members


def _placed(
    fault: Fault, places: Mapping[str, _Place], named: Callable[[str, Fault], Fault]
) -> Fault:
    """Return a fault of a record with the table, row and column that its part stands in."""
    path = fault.path or ""
    found = max((p for p in places if _within(path, p)), key=len)
    rest = path[len(found) :].lstrip(".")
    place = places[found]
    column = rest.replace(".", "_")
    columns = [column.name for column in FORMS[place.table].columns]
    known = column in columns
    shown = attrs.evolve(
        fault,
        row=place.row.number,
        column=column if known else None,
        path=None if known else rest or None,
    )
    return named(place.table, shown)


def _within(path: str, outer: str) -> bool:
    return path == outer or not outer or path.startswith((f"{outer}.", f"{outer}["))
