"""JSON Schemas of what is answered, put together from a few words."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from bankside.gauging.journal.kinds import KEY
from bankside.server.api.kinds import SHA256

__all__ = [
    "ANY",
    "COUNT",
    "FLAG",
    "ID",
    "NUMBER",
    "SHA256_TEXT",
    "TEXT",
    "list_of",
    "map_of",
    "members",
    "named",
    "or_null",
]

Shape = Mapping[str, Any]

ANY: Shape = {}
TEXT: Shape = {"type": "string"}
NUMBER: Shape = {"type": "number"}
COUNT: Shape = {"type": "integer", "minimum": 0}
FLAG: Shape = {"type": "boolean"}
ID: Shape = {"type": "string", "pattern": f"^{KEY}$"}
SHA256_TEXT: Shape = {"type": "string", "pattern": f"^{SHA256}$"}


def members(**shapes: Shape) -> dict[str, Any]:
    """Return the shape of an object that has all of these members and no others."""
    # A member that Python has a word for is written with a line behind it: `with_`.
    properties = {name.rstrip("_"): dict(shape) for name, shape in shapes.items()}
    return {
        "type": "object",
        "additionalProperties": False,
        "required": list(properties),
        "properties": properties,
    }


def list_of(shape: Shape) -> dict[str, Any]:
    """Return the shape of a list."""
    return {"type": "array", "items": dict(shape)}


def map_of(shape: Shape) -> dict[str, Any]:
    """Return the shape of an object whose members have any names and this shape."""
    return {"type": "object", "additionalProperties": dict(shape)}


def or_null(shape: Shape) -> dict[str, Any]:
    """Return a shape that may be absent, as null."""
    return {"anyOf": [dict(shape), {"type": "null"}]}


def named(name: str) -> dict[str, Any]:
    """Return the shape that stands under a name in the document of all routes."""
    return {"$ref": f"#/components/schemas/{name}"}
