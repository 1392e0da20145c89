"""The JSON Schema (2020-12) of a journal, built from the entries and from what can be said in them.

`python -m bankside.gauging.journal.schema` prints it. It says what a single entry may be; what must
hold between entries, such as one content for one id, only reading a journal tells.
"""

import re
from collections.abc import Mapping
from typing import Any

import attrs

from bankside.gauging.checked import Checked
from bankside.gauging.fields import Number, Text, kind_of, meaning_of
from bankside.gauging.journal.document import FORMAT, Shown
from bankside.gauging.journal.entry import Entry
from bankside.gauging.journal.kinds import KEY, Counted, Ids, Key, Moment, What, Words
from bankside.gauging.journal.readers import MOMENT
from bankside.gauging.journal.sayable import SAYABLE, Sayable
from bankside.gauging.journal.values import JsonValue
from bankside.gauging.json_text import written

__all__ = ["schema", "schema_text"]

_KEY: Mapping[str, Any] = {"type": "string", "pattern": f"^{KEY}$"}

_PLAIN: Mapping[type, Mapping[str, Any]] = {
    Key: _KEY,
    Ids: {"type": "array", "uniqueItems": True, "items": _KEY},
    Counted: {"type": "integer", "minimum": 1},
    Moment: MOMENT.schema,
    What: {"type": "string"},
    Words: {"type": "string", "pattern": r"\S"},
    JsonValue: {},
    Number: {"type": "number"},
    Text: {"type": "string", "pattern": r"\S"},
}


def schema() -> dict[str, Any]:
    """Return the schema of a journal, an entry under `$defs`."""
    entry = _record(Entry)
    entry["properties"]["what"]["anyOf"] = [{"pattern": _pattern(p)} for p in SAYABLE]
    entry["allOf"] = [_value(thing) for thing in SAYABLE.values()]
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": FORMAT,
        "description": "The journal of a gauging.",
        "type": "object",
        "additionalProperties": False,
        "required": ["format", "gauging", "entries"],
        "properties": {
            "format": {"const": FORMAT},
            "gauging": {"description": "the id of the gauging, that of every entry", **_KEY},
            "entries": {
                "description": "everything that was said, each entry once or more",
                "type": "array",
                "minItems": 1,
                "items": {"$ref": "#/$defs/Entry"},
            },
            "files": {
                "description": "files such as photos, by the SHA-256 of their content",
                "type": "object",
                "propertyNames": {"pattern": "^[0-9a-f]{64}$"},
                "additionalProperties": {"$ref": "#/$defs/StoredFile"},
            },
            "record": {
                "description": "the gauging as the entries gave it when the journal was written, "
                "by gauging-1.schema.json; what holds are the entries",
                "type": "object",
            },
            "shown": {"$ref": "#/$defs/Shown"},
        },
        "$defs": {"Entry": entry, "Shown": _record(Shown), "StoredFile": _STORED},
    }


_STORED: Mapping[str, Any] = {
    "description": "A file that belongs to a gauging.",
    "type": "object",
    "additionalProperties": False,
    "required": ["type", "base64"],
    "properties": {
        "type": {"description": "its media type", "type": "string", "pattern": r"\S"},
        "base64": {
            "description": "its content",
            "type": "string",
            "contentEncoding": "base64",
        },
    },
}


def schema_text() -> str:
    """Return the schema as the text of the published file."""
    return written(schema())


def _record(record: type[Checked]) -> dict[str, Any]:
    fields = attrs.fields(record)
    return {
        "description": (record.__doc__ or "").split("\n\n")[0].split(";")[0].strip(" .") + ".",
        "type": "object",
        "additionalProperties": False,
        "required": [field.name for field in fields if field.default is attrs.NOTHING],
        "properties": {
            field.name: {"description": meaning_of(field), **_PLAIN[type(kind_of(field))]}
            for field in fields
        },
    }


def _value(thing: Sayable) -> dict[str, Any]:
    """Return that what is said of a thing is of its shape, or null."""
    return {
        "if": {"properties": {"what": {"pattern": _pattern(thing.pattern)}}},
        "then": {
            "properties": {
                "value": {
                    "description": thing.words,
                    "anyOf": [{"type": "null"}, thing.reader.schema],
                }
            }
        },
    }


def _pattern(pattern: str) -> str:
    return "^" + re.sub("<.>", KEY, pattern) + "$"


if __name__ == "__main__":
    print(schema_text(), end="")
