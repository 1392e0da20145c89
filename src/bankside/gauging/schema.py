"""The JSON Schema (2020-12) of a form on the wire, built from the records themselves.

`python -m bankside.gauging.schema` prints that of a gauging. A schema says what a single value may
be; what must hold between values, such as the depth at a sloping edge, only reading tells.
"""

import json
from collections.abc import Mapping
from typing import Any, Protocol, runtime_checkable

import attrs

from bankside.gauging.checked import Checked
from bankside.gauging.fields import (
    Choice,
    Day,
    Flag,
    Index,
    Instant,
    Kind,
    Many,
    Number,
    One,
    Text,
    Texts,
    kind_of,
    meaning_of,
)
from bankside.gauging.journal.kinds import KEY, Key
from bankside.gauging.records import Gauging
from bankside.gauging.wire import FORMAT

__all__ = ["record_schema", "schema", "schema_of", "schema_text"]

_BOUNDS = (("least", "minimum"), ("above", "exclusiveMinimum"), ("most", "maximum"))

_TEXT: Mapping[str, object] = {"type": "string", "pattern": r"\S"}

_PLAIN: Mapping[type, Mapping[str, object]] = {
    Index: {"type": "integer", "minimum": 0},
    Key: {"type": "string", "pattern": f"^{KEY}$"},
    Text: _TEXT,
    Texts: {"type": "array", "uniqueItems": True, "items": _TEXT},
    Flag: {"type": "boolean"},
    Day: {"type": "string", "format": "date"},
    Instant: {"type": "string", "format": "date-time"},
}


@runtime_checkable
class _SaysItsSchema(Protocol):
    """A kind of value that is none of a gauging's, and knows its schema."""

    @property
    def schema(self) -> Mapping[str, Any]:
        """The JSON Schema of the kind."""


def schema_of(record: type[Checked], form: str) -> dict[str, Any]:
    """Return the schema of a record on the wire, the records in it by their names under `$defs`.

    form: what its "format" says, such as "bankside.gauging/1".
    """
    records: dict[str, Any] = {}
    whole = record_schema(record, records)
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": form,
        **whole,
        "required": ["format", *whole["required"]],
        "properties": {"format": {"const": form}, **whole["properties"]},
        "$defs": dict(sorted(records.items())),
    }


def schema_text(schema: Mapping[str, Any]) -> str:
    """Return a schema as the text of the published file."""
    return json.dumps(schema, ensure_ascii=False, indent=2) + "\n"


def schema() -> dict[str, Any]:
    """Return the schema of a gauging on the wire."""
    return schema_of(Gauging, FORMAT)


def record_schema(record: type[Checked], records: dict[str, Any]) -> dict[str, Any]:
    """Return the schema of a record; those that it holds are put under their names in `records`."""
    fields = attrs.fields(record)
    return {
        "description": (record.__doc__ or "").strip(),
        "type": "object",
        "additionalProperties": False,
        "required": [field.name for field in fields if field.default is attrs.NOTHING],
        "properties": {
            field.name: {"description": meaning_of(field), **_value(kind_of(field), records)}
            for field in fields
        },
    }


def _value(kind: Kind, records: dict[str, Any]) -> dict[str, Any]:
    if isinstance(kind, Number):
        bounds = {key: getattr(kind, name) for name, key in _BOUNDS}
        return {"type": "number", **{k: bound for k, bound in bounds.items() if bound is not None}}
    if isinstance(kind, Choice):
        return {"enum": list(kind.words)}
    if isinstance(kind, One):
        return _reference(kind.record, records)
    if isinstance(kind, Many):
        limit = {} if kind.most is None else {"maxItems": kind.most}
        return {"type": "array", "items": _reference(kind.record, records), **limit}
    if isinstance(kind, _SaysItsSchema):
        return dict(kind.schema)
    return dict(_PLAIN[type(kind)])


def _reference(record: type[Checked], records: dict[str, Any]) -> dict[str, Any]:
    if record.__name__ not in records:
        records[record.__name__] = record_schema(record, records)
    return {"$ref": f"#/$defs/{record.__name__}"}


if __name__ == "__main__":
    print(schema_text(schema()), end="")
