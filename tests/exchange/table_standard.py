"""Table Schema and Data Package by their published rules, read without any of our own readers.

Source: datapackage.org, Data Package 2.0 (package, resource, field types, constraints, keys).
"""

import csv
import datetime
import hashlib
import io
import json
import re
from typing import Any

__all__ = ["faults_of_package"]

_NAME = re.compile(r"[a-z0-9._-]+")
_CASTS: dict[str, Any] = {
    "string": str,
    "number": float,
    "integer": int,
    "boolean": lambda cell: {"true": True, "false": False}[cell],
    "date": datetime.date.fromisoformat,
    "datetime": datetime.datetime.fromisoformat,
    "array": json.loads,
}


def faults_of_package(files: dict[str, bytes]) -> list[str]:
    """What a package breaks of the standard's rules, a sentence each."""
    package = json.loads(files["datapackage.json"])
    faults = [] if _NAME.fullmatch(package["name"]) else [f"name {package['name']}"]
    tables = {r["name"]: (r, _rows(files[r["path"]])) for r in package["resources"]}
    if len(tables) != len(package["resources"]):
        faults.append("resources share a name")
    for name, (resource, rows) in tables.items():
        content = files[resource["path"]]
        if resource["bytes"] != len(content):
            faults.append(f"{name}: bytes")
        if resource["hash"] != f"sha256:{hashlib.sha256(content).hexdigest()}":
            faults.append(f"{name}: hash")
        faults += [f"{name}: {fault}" for fault in _faults(resource["schema"], rows, tables)]
    return faults


def _rows(content: bytes) -> list[list[str]]:
    return list(csv.reader(io.StringIO(content.decode(), newline=""), strict=True))


def _faults(schema: dict[str, Any], rows: list[list[str]], tables: dict[str, Any]) -> list[str]:
    heads, *body = rows
    fields = schema["fields"]
    if heads != [field["name"] for field in fields]:
        return [f"heads {heads}"]
    faults = []
    for row in body:
        for field, cell in zip(fields, row, strict=True):
            faults += _cell_faults(field, cell)
    keys = _columns(heads, body, schema["primaryKey"])
    if len(keys) != len(body) or any("" in key for key in keys):
        faults.append("primary key")
    for reference in schema.get("foreignKeys", []):
        of = reference["reference"]
        there_heads, *there = tables[of["resource"]][1]
        known = _columns(there_heads, there, of["fields"])
        own = _columns(heads, body, reference["fields"])
        faults += [f"{key} is not in {of['resource']}" for key in own - known if any(key)]
    return faults


def _columns(heads: list[str], body: list[list[str]], names: list[str]) -> set[tuple[str, ...]]:
    places = [heads.index(name) for name in names]
    return {tuple(row[place] for place in places) for row in body}


def _cell_faults(field: dict[str, Any], cell: str) -> list[str]:
    rules = field.get("constraints", {})
    if cell == "":
        return [f"{field['name']} is required"] if rules.get("required") else []
    try:
        value = _CASTS[field["type"]](cell)
    except (KeyError, ValueError):
        return [f"{field['name']}: {cell} is no {field['type']}"]
    broken = {
        "minimum": lambda bound: value < bound,
        "maximum": lambda bound: value > bound,
        "exclusiveMinimum": lambda bound: value <= bound,
        "enum": lambda words: value not in words,
        "required": lambda _: False,
    }
    return [f"{field['name']}: {rule}" for rule, bound in rules.items() if broken[rule](bound)]
