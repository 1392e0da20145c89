"""The document of all routes, by OpenAPI 3.1: made of the table that the answers are made of."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from importlib.metadata import version
from typing import Any

from bankside.archive.roles import ROLES
from bankside.gauging.journal.kinds import KEY
from bankside.gauging.journal.schema import schema as journal_schema
from bankside.gauging.schema import record_schema
from bankside.gauging.schema import schema as gauging_schema
from bankside.server.api.answers import JSON
from bankside.server.api.kinds import SHA256
from bankside.server.api.route import Route
from bankside.server.api.shapes import (
    COUNT,
    ID,
    TEXT,
    list_of,
    members,
    or_null,
)
from bankside.survey.schema import schema as survey_schema

__all__ = ["openapi"]

_PARTS: Mapping[str, Mapping[str, Any]] = {
    "id": {"type": "string", "pattern": f"^{KEY}$"},
    "sha256": {"type": "string", "pattern": f"^{SHA256}$"},
    "name": {"type": "string", "minLength": 1, "maxLength": 100},
}
_SAID: Mapping[int, str] = {
    400: "What was sent is cut off, or no form.",
    401: "No token was shown, or one that is void.",
    403: "The role may not do this, or a page of another site asked.",
    404: "It is not there.",
    408: "What was sent did not come in time.",
    409: "It does not fit what is there now.",
    413: "What was sent is too large.",
    415: "What was sent is of another type.",
    421: "The request names another host.",
    422: "What was sent cannot be taken as it is; every fault is said.",
    429: "It failed too often.",
    503: "The archive cannot be used just now.",
}


def openapi(routes: Sequence[Route]) -> dict[str, Any]:
    """Return the document."""
    schemas: dict[str, Any] = dict(_schemas())
    paths: dict[str, dict[str, Any]] = {}
    for route in routes:
        paths.setdefault(f"/{route.path}", {})[route.method.lower()] = _operation(route, schemas)
    return _pointing(
        {
            "openapi": "3.1.0",
            "info": {
                "title": "Bankside",
                "version": version("bankside"),
                "description": "What the server of an office answers under `api/1/`.",
            },
            "servers": [{"url": "."}],
            "paths": paths,
            "components": {
                "schemas": schemas,
                "securitySchemes": {"token": {"type": "http", "scheme": "bearer"}},
            },
        }
    )


def _operation(route: Route, schemas: dict[str, Any]) -> dict[str, Any]:
    said: dict[str, Any] = {
        "summary": route.about,
        "operationId": _name(route),
        "responses": {"200": _answer(route), **_failures(route)},
    }
    if route.who is not None:
        said["security"] = [{"token": []}]
        said["x-least-role"] = route.who
    parameters = [
        {"name": part, "in": "path", "required": True, "schema": dict(_PARTS[part])}
        for part in re.findall(r"{(\w+)}", route.path)
    ] + [
        {"name": name, "in": "query", "description": meaning, "schema": {"type": "string"}}
        for name, meaning in route.query.items()
    ]
    if parameters:
        said["parameters"] = parameters
    if route.takes is not None:
        said["requestBody"] = {"required": True, "content": _content(route, schemas)}
    return said


def _name(route: Route) -> str:
    words = re.sub(r"[{}]", "", route.path).replace("/", "_").replace("-", "_").replace(".", "_")
    return f"{route.method.lower()}_{words}"


def _answer(route: Route) -> dict[str, Any]:
    if isinstance(route.gives, tuple):
        return {"description": route.about, "content": {type_: {} for type_ in route.gives}}
    return {"description": route.about, "content": {JSON: {"schema": dict(route.gives)}}}


def _failures(route: Route) -> dict[str, Any]:
    statuses = {503, 421, *route.fails}
    if "{" in route.path:
        statuses |= {404}
    if route.who is not None:
        statuses |= {401}
    if route.who not in (None, "crew") or route.method != "GET":
        statuses |= {403}
    if route.takes is not None:
        statuses |= {400, 408, 413, 415, 422} if route.takes != "bytes" else {400, 408, 413, 422}
    said = {
        str(status): {
            "description": _SAID[status],
            "content": {JSON: {"schema": {"$ref": "#/components/schemas/Error"}}},
        }
        for status in sorted(statuses)
    }
    return {**said, **{str(status): {"description": text} for status, text in route.also.items()}}


def _content(route: Route, schemas: dict[str, Any]) -> dict[str, Any]:
    if route.takes == "bytes":
        return {"*/*": {"schema": {"type": "string", "format": "binary"}}}
    if route.takes == "form":
        parts = {"file": {"type": "string", "format": "binary"}, "answers": {"type": "string"}}
        form = {"type": "object", "required": ["file"], "properties": parts}
        return {"multipart/form-data": {"schema": form}}
    assert route.takes is not None and not isinstance(route.takes, str)  # told apart above
    name = route.takes.__name__
    schemas[name] = record_schema(route.takes, schemas)
    return {JSON: {"schema": {"$ref": f"#/components/schemas/{name}"}}}


def _schemas() -> dict[str, Any]:
    """Return the schemas that routes name: those of the records themselves, and of answers."""
    schemas: dict[str, Any] = {}
    records = {
        "Journal": journal_schema(),
        "Gauging": gauging_schema(),
        "Survey": survey_schema(),
    }
    for name, document in records.items():
        schemas |= document.pop("$defs")
        schemas[name] = {key: part for key, part in document.items() if key != "$schema"}
    # What may be said of each thing is in the schema of a journal, and judged entry by entry.
    del schemas["Entry"]["allOf"], schemas["Entry"]["properties"]["what"]["anyOf"]
    schemas["You"] = members(name=TEXT, role={"enum": list(ROLES)}, device=or_null(ID))
    fault = {
        "type": "object",
        "required": ["message"],
        "properties": {
            **{name: TEXT for name in ("message", "file", "sheet", "column", "path")},
            "row": COUNT,
        },
    }
    schemas["Error"] = members(error=members(status=COUNT, said=TEXT, faults=list_of(fault)))
    return schemas


def _pointing(document: dict[str, Any]) -> dict[str, Any]:
    """Return a document whose records point to where they stand in it."""
    return {
        key: value.replace("#/$defs/", "#/components/schemas/") if key == "$ref" else _parts(value)
        for key, value in document.items()
    }


def _parts(value: Any) -> Any:
    if isinstance(value, list):
        return [_parts(one) for one in value]
    return _pointing(value) if isinstance(value, dict) else value
