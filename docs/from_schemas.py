"""Every field of Bankside's own forms, from their JSON Schemas."""

import json
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

SCHEMAS = Path(__file__).parent / "schema"
FORMS = ("gauging", "survey", "journal")
KINDS = {
    "string": "text",
    "number": "number",
    "integer": "whole number",
    "boolean": "true or false",
    "object": "object",
}
FORMATS = {"date": "day", "date-time": "time with offset"}

Schema = Mapping[str, Any]


def field_blocks() -> dict[str, str]:
    """Return the generated parts on the forms, and on the values of a journal's entries."""
    blocks = {form: _form(_read(form)) for form in FORMS}
    rows = "\n".join(_said(_read("journal")))
    head = "| `what` | field of the value | value |\n|---|---|---|\n"
    return blocks | {"values": head + rows}


def _read(form: str) -> Schema:
    schema: Schema = json.loads((SCHEMAS / f"{form}-1.schema.json").read_text(encoding="utf-8"))
    return schema


def _form(schema: Schema) -> str:
    """Return the tables of a form: the form itself, then the objects in it."""
    title = schema["title"]
    objects = {title: schema, **schema["$defs"]}
    return "\n\n".join(
        f"### {name if name == title else f'{name} in {title}'}\n\n{one['description']}\n\n"
        f"| field | value | what it is |\n|---|---|---|\n{_rows(one, schema)}"
        for name, one in objects.items()
    )


def _rows(one: Schema, schema: Schema) -> str:
    """Return a row for each field of an object; one without words has those of what it holds."""
    rows = []
    for name, field in one["properties"].items():
        held = schema["$defs"].get(field.get("$ref", "").rpartition("/")[2], {})
        says = field.get("description") or held.get("description", "")
        if name in one.get("required", ()):
            says = f"{says}; needed" if says else "needed"
        rows.append(f"| `{name}` | {_value(field, schema['title'])} | {says} |")
    return "\n".join(rows)


def _value(field: Schema, title: str) -> str:
    """Return what may stand in a field, in words."""
    if "$ref" in field:
        name = field["$ref"].rpartition("/")[2]
        return f"[{name}](#{f'{name} in {title}'.lower().replace(' ', '-').translate(_OUT)})"
    if "const" in field:
        return f"`{field['const']}`"
    if "enum" in field:
        return ", ".join(f"`{one}`" for one in field["enum"])
    if "anyOf" in field:
        return " or ".join(dict.fromkeys(_value(one, title) for one in field["anyOf"]))
    if field.get("type") == "array":
        return f"list: {_value(field['items'], title)}"
    return FORMATS.get(field.get("format", ""), KINDS.get(field.get("type", ""), "anything"))


_OUT = str.maketrans("", "", "./")
"""What anchors leave out of a heading."""


def _said(journal: Schema) -> Iterator[str]:
    """Give a row for each field of the values that are objects, by what an entry speaks of."""
    for branch in journal["$defs"]["Entry"]["allOf"]:
        what = branch["if"]["properties"]["what"]["pattern"].strip("^$")
        shown = what.replace("[A-Za-z0-9_-]{1,64}", "ID")
        for name, field in _objects(branch["then"]["properties"]["value"]):
            yield f"| `{shown}` | `{name}` | {_value(field, journal['title'])} |"


def _objects(schema: Schema) -> Iterator[tuple[str, Schema]]:
    """Give every field of a value, or of what it is made of."""
    yield from schema.get("properties", {}).items()
    items = [schema["items"]] if "items" in schema else []
    for inner in (*schema.get("anyOf", ()), *items):
        yield from _objects(inner)
