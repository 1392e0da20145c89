"""Answers as they leave: JSON, or bytes of a type, never kept on their way."""

from __future__ import annotations

import gzip
import json
from collections.abc import Mapping
from typing import Any

import attrs
from starlette.responses import Response

from bankside.server.api.refusals import Refusal
from bankside.server.headers import protective_headers

__all__ = ["JSON", "Answer", "answer_refusal", "json_text", "response_of"]

JSON = "application/json"
_LEAST_TO_PACK = 2000
_PACKING = 5


@attrs.frozen
class Answer:
    """What a route answers, where it is more than members of a JSON object."""

    content: bytes
    type: str = JSON
    status: int = 200
    headers: Mapping[str, str] = attrs.field(factory=dict)


def json_text(members: object) -> bytes:
    """Return a JSON value in ASCII: every character that an entry can hold can be told."""
    return json.dumps(members, allow_nan=False, separators=(",", ":")).encode("ascii")


def response_of(answer: Answer | Mapping[str, Any], accepted: str = "") -> Response:
    """Return what is sent; accepted: how whoever asked takes it packed."""
    if not isinstance(answer, Answer):
        answer = Answer(json_text(answer))
    content, headers = answer.content, {"Cache-Control": "no-store", **protective_headers()}
    headers |= answer.headers
    if answer.type.startswith(JSON) and len(content) >= _LEAST_TO_PACK and "gzip" in accepted:
        content = gzip.compress(content, _PACKING)
        headers |= {"Content-Encoding": "gzip", "Vary": "Accept-Encoding"}
    return Response(content, answer.status, headers, answer.type)


def answer_refusal(refusal: Refusal) -> Response:
    """Return what is sent where nothing can be answered."""
    return response_of(
        Answer(json_text(refusal.members), status=refusal.status, headers=refusal.headers)
    )
