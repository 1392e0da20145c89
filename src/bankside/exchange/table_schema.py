"""What a Data Package says about its tables: one resource a table, each with a Table Schema.

Source: Data Package 2.0 and Table Schema 2.0, datapackage.org. `unit` and `unitColumn` are ours, as
the standard lets descriptors have members of their own: a code of UCUM, and the column that says
the unit gauging by gauging.
"""

from __future__ import annotations

import hashlib
from collections.abc import Collection, Mapping, Sequence
from typing import Any

from bankside.exchange.data import SurveyData
from bankside.exchange.field_units import UNIT_COLUMNS, common_unit
from bankside.exchange.forms import FORMAT, Column, ColumnKind, Table, TableForm
from bankside.gauging.records import Gauging

__all__ = ["package_descriptor"]

_PROFILES = "https://datapackage.org/profiles/2.0"

_TYPES: Mapping[ColumnKind, str] = {
    "text": "string",
    "number": "number",
    "integer": "integer",
    "boolean": "boolean",
    "date": "date",
    "moment": "datetime",
    "utc": "datetime",
    "texts": "array",
}
_BOUNDS = (("least", "minimum"), ("above", "exclusiveMinimum"), ("most", "maximum"))

_ABOUT = (
    "Gaugings of streams by wading: the readings as called, in the units of each gauging. "
    "What is missing is an empty cell. A text that a spreadsheet would take for a formula, or that "
    "begins with an apostrophe, has an apostrophe before it. Places in an order count from 0. "
    "Tables marked workedOut, and columns in UTC beside moments, can be made anew from the others."
)


def package_descriptor(
    data: SurveyData, tables: Sequence[Table], files: Mapping[str, bytes]
) -> dict[str, Any]:
    """Return the descriptor of a package that holds these tables in `files`, by file name."""
    survey = data.survey
    names = {table.form.name for table in tables}
    return {
        "$schema": f"{_PROFILES}/datapackage.json",
        "name": "gaugings" if survey is None else _name(survey.id),
        "title": "Gaugings" if survey is None else survey.name,
        "description": _ABOUT,
        "format": FORMAT,
        "resources": [
            _resource(table, files[f"{table.form.name}.csv"], data.gaugings, names)
            for table in tables
        ],
    }


def _name(id_: str) -> str:
    """Return an id as the standard has the name of a package: small letters, figures and marks."""
    return "".join(c if c.isascii() and c.isalnum() else "-" for c in id_.lower())


def _resource(
    table: Table, content: bytes, gaugings: Sequence[Gauging], names: Collection[str]
) -> dict[str, Any]:
    form = table.form
    return {
        "$schema": f"{_PROFILES}/dataresource.json",
        "name": form.name,
        "type": "table",
        "path": f"{form.name}.csv",
        "description": form.meaning,
        **({"workedOut": True} if form.worked_out else {}),
        "format": "csv",
        "mediatype": "text/csv",
        "encoding": "utf-8",
        "bytes": len(content),
        "hash": f"sha256:{hashlib.sha256(content).hexdigest()}",
        "schema": _schema(form, gaugings, names),
    }


def _schema(form: TableForm, gaugings: Sequence[Gauging], names: Collection[str]) -> dict[str, Any]:
    references = [
        {
            "fields": list(reference.columns),
            "reference": {"resource": reference.table, "fields": list(reference.to)},
        }
        for reference in form.references
        if reference.table in names
    ]
    return {
        "$schema": f"{_PROFILES}/tableschema.json",
        "fields": [_field(column, gaugings) for column in form.columns],
        "missingValues": [""],
        "primaryKey": list(form.key),
        **({"foreignKeys": references} if references else {}),
    }


def _field(column: Column, gaugings: Sequence[Gauging]) -> dict[str, Any]:
    constraints: dict[str, Any] = {"required": True} if column.required else {}
    if column.kind == "integer":
        constraints["minimum"] = 0
    if column.bounds is not None:
        bounds = {key: getattr(column.bounds, name) for name, key in _BOUNDS}
        constraints |= {key: bound for key, bound in bounds.items() if bound is not None}
    if column.words:
        constraints["enum"] = list(column.words)
    unit, told_by = column.unit, None
    if column.quantity is not None:
        unit, told_by = common_unit(column.quantity, gaugings), UNIT_COLUMNS[column.quantity]
    return {
        "name": column.name,
        "type": _TYPES[column.kind],
        "description": column.meaning,
        **({} if unit is None else {"unit": unit}),
        **({} if told_by is None else {"unitColumn": told_by}),
        **({"constraints": constraints} if constraints else {}),
    }
