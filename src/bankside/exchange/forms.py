"""What a table of an exchange is: its name, its columns and keys, and its rows."""

from __future__ import annotations

import difflib
from typing import Literal

import attrs

from bankside.exchange.field_units import Quantity
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.fields import Number
from bankside.gauging.json_form import JsonForm

__all__ = [
    "FORMAT",
    "Column",
    "ColumnKind",
    "Reference",
    "Table",
    "TableForm",
    "Value",
    "hint_for",
    "require_format",
]

_FORM = JsonForm("bankside.tables")

FORMAT = _FORM.format
"""What every file that holds the tables says of itself, so that a later one is known."""

ColumnKind = Literal["text", "number", "integer", "boolean", "date", "moment", "utc", "texts"]
Value = str | float | bool | tuple[str, ...] | None


@attrs.frozen
class Column:
    """One column of a table.

    `path` leads from the record of a row to the value; it is empty for a key, for a place in an
    order and for what is worked out. Dates are ISO 8601. A `moment` has the offset of its clock;
    the `utc` column beside it has the same moment as programs sort it, and is never read.
    `required`: a row without it is no row. `unit` is a code of UCUM, `quantity` one whose unit the
    gauging names. `presence` says whether there is a record at all at `path`.
    """

    name: str
    kind: ColumnKind
    meaning: str
    path: tuple[str, ...] = ()
    required: bool = False
    unit: str | None = None
    quantity: Quantity | None = None
    bounds: Number | None = None
    words: tuple[str, ...] = ()
    presence: bool = False


@attrs.frozen
class Reference:
    """Columns of a table that name a row of another one, by columns there."""

    columns: tuple[str, ...]
    table: str
    to: tuple[str, ...]


@attrs.frozen
class TableForm:
    """A table without its rows; `worked_out` marks one that is never read back."""

    name: str
    meaning: str
    columns: tuple[Column, ...]
    key: tuple[str, ...]
    references: tuple[Reference, ...] = ()
    worked_out: bool = False


@attrs.frozen
class Table:
    """A table with its rows, each from column to value; None is what is missing."""

    form: TableForm
    rows: tuple[dict[str, Value], ...]


def require_format(found: object) -> None:
    """Refuse tables of a later version; a file that says none is told by its tables alone."""
    newer = _FORM.newer(found)
    if newer is not None:
        raise InputRefused([Fault(newer)])


def hint_for(name: str, form: TableForm) -> str:
    """Return which column was probably meant, to follow a sentence; empty if none is close."""
    close = difflib.get_close_matches(name, [column.name for column in form.columns], n=1)
    return f'; did you mean "{close[0]}"?' if close else ""
