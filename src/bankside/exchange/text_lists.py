"""Lists of texts in one cell of a table: as JSON, which loses no comma and no order."""

from __future__ import annotations

import json
from collections.abc import Sequence

__all__ = ["list_of", "text_of"]


def text_of(texts: Sequence[str]) -> str:
    """Return texts as one JSON text."""
    return json.dumps(list(texts), ensure_ascii=False)


def list_of(text: str) -> tuple[str, ...] | None:
    """Return the texts of a JSON list, None where it is no list of texts."""
    try:
        found: object = json.loads(text)
    except (ValueError, RecursionError):
        return None
    if not isinstance(found, list) or not all(isinstance(one, str) for one in found):
        return None
    return tuple(found)
