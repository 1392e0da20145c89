"""From a survey and its gaugings to tables, with nothing lost on the way."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from typing import Any

from bankside.exchange.data import SurveyData, gauging_keys
from bankside.exchange.forms import Column, Table, Value
from bankside.exchange.layouts import FORMS, GAUGINGS, SURVEYS, Layout
from bankside.exchange.result_tables import result_tables
from bankside.gauging.checked import Checked

__all__ = ["to_tables"]

_Rows = dict[str, list[dict[str, Value]]]


def to_tables(data: SurveyData) -> tuple[Table, ...]:
    """Return the tables that hold a survey and its gaugings, and those of what is worked out.

    Equal records give equal tables. A table without rows is left out, but for that of the gaugings.
    """
    rows: _Rows = {name: [] for name in FORMS}
    keys = gauging_keys(data.gaugings)
    if data.survey is not None:
        _enter(rows, SURVEYS, data.survey, {}, {})
    for number, (key, gauging) in enumerate(zip(keys, data.gaugings, strict=True)):
        _enter(rows, GAUGINGS, gauging, {}, {"gauging": key, "number": number})
    tables = [Table(form, tuple(rows[name])) for name, form in FORMS.items()]
    return tuple(
        table
        for table in (*tables, *result_tables(data.visits, keys))
        if table.rows or table.form.name == GAUGINGS.table
    )


def _enter(
    rows: _Rows, layout: Layout, record: Checked, owners: Mapping[str, Value], own: dict[str, Value]
) -> None:
    """Put a record and all that it holds into the rows of their tables."""
    keys = {**owners, **own}
    row = {
        column.name: _value(column, record) if column.path else keys[column.name]
        for column in FORMS[layout.table].columns
    }
    rows[layout.table].append(row)
    below = {**owners, layout.key_below: row[layout.own_key]} if layout.index else owners
    for held in layout.holds:
        for number, inner in enumerate(_at(record, held.at) or ()):
            _enter(rows, held, inner, below, {held.index: number})


def _value(column: Column, record: Checked) -> Value:
    found = _at(record, column.path)
    if column.presence:
        return found is not None
    if column.kind == "number" and found is not None:
        return float(found)
    if column.kind == "utc" and found is not None:
        return _in_utc(found)
    if isinstance(found, datetime.date):
        return found.isoformat()
    value: Value = found
    return value


def _at(record: Any, path: tuple[str, ...]) -> Any:
    """Return what stands at the end of a path, None where the way there ends."""
    for name in path:
        record = None if record is None else getattr(record, name)
    return record


def _in_utc(moment: datetime.datetime) -> str:
    return moment.astimezone(datetime.UTC).isoformat().replace("+00:00", "Z")
