"""What the members of a request may hold, beside what the fields of records may."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

import attrs

from bankside.gauging.journal.kinds import KEY, Key
from bankside.gauging.structure import JsonObject

__all__ = ["SHA256", "Count", "Hashes", "Items", "Keys", "Line", "Object", "Password"]

SHA256 = "[0-9a-f]{64}"
"""What spells a SHA-256, as a regular expression."""

_MOST_COUNTED = 2**53 - 1


@attrs.frozen
class Items:
    """A list of so many things, each of which is judged by itself; `items` is their schema."""

    most: int
    items: Mapping[str, Any]

    @property
    def wants(self) -> str:
        """What must hold, to follow "must be"."""
        return f"a list of at most {self.most}"

    @property
    def schema(self) -> dict[str, Any]:
        """The JSON Schema of the kind."""
        return {"type": "array", "maxItems": self.most, "items": dict(self.items)}

    def holds(self, value: object) -> bool:
        """Return whether a value is of the kind."""
        return isinstance(value, list) and len(value) <= self.most


@attrs.frozen
class Object:
    """A JSON object that says itself what it is; `described` is its schema."""

    described: Mapping[str, Any]
    wants: str = "a JSON object"

    @property
    def schema(self) -> dict[str, Any]:
        """The JSON Schema of the kind."""
        return dict(self.described)

    def holds(self, value: object) -> bool:
        """Return whether a value is of the kind."""
        return isinstance(value, JsonObject)


@attrs.frozen
class _TextsOf:
    """A tuple of so many texts of one spelling (a list in JSON)."""

    most: int
    pattern: str
    thing: str

    @property
    def wants(self) -> str:
        """What must hold, to follow "must be"."""
        return f"a list of at most {self.most} {self.thing}"

    @property
    def schema(self) -> dict[str, Any]:
        """The JSON Schema of the kind."""
        items = {"type": "string", "pattern": f"^{self.pattern}$"}
        return {"type": "array", "maxItems": self.most, "items": items}

    def holds(self, value: object) -> bool:
        """Return whether a value is of the kind."""
        return (
            isinstance(value, tuple)
            and len(value) <= self.most
            and all(isinstance(v, str) and re.fullmatch(self.pattern, v) for v in value)
        )


def Keys(most: int) -> _TextsOf:
    """Return the kind of at most so many keys."""
    return _TextsOf(most, KEY, f"keys ({Key().wants})")


def Hashes(most: int) -> _TextsOf:
    """Return the kind of at most so many SHA-256."""
    return _TextsOf(most, SHA256, "SHA-256 in 64 hex digits")


@attrs.frozen
class Count:
    """A whole number between two others."""

    least: int = 0
    most: int = _MOST_COUNTED

    @property
    def wants(self) -> str:
        """What must hold, to follow "must be"."""
        upper = "" if self.most == _MOST_COUNTED else f" and at most {self.most}"
        return f"a whole number of at least {self.least}{upper}"

    @property
    def schema(self) -> dict[str, Any]:
        """The JSON Schema of the kind."""
        return {"type": "integer", "minimum": self.least, "maximum": self.most}

    def holds(self, value: object) -> bool:
        """Return whether a value is of the kind."""
        whole = isinstance(value, int) and not isinstance(value, bool)
        return whole and self.least <= value <= self.most  # type: ignore[operator]


@attrs.frozen
class Line:
    """A name or a code: one line of signs that can be seen."""

    most: int = 100

    @property
    def wants(self) -> str:
        """What must hold, to follow "must be"."""
        return f"a text of 1 to {self.most} signs that can be seen"

    @property
    def schema(self) -> dict[str, Any]:
        """The JSON Schema of the kind."""
        return {"type": "string", "minLength": 1, "maxLength": self.most, "pattern": r"\S"}

    def holds(self, value: object) -> bool:
        """Return whether a value is of the kind."""
        return (
            isinstance(value, str)
            and bool(value.strip())
            and len(value) <= self.most
            and value.isprintable()
        )


@attrs.frozen
class Password:
    """A password, whatever it consists of."""

    wants: str = "a text of 1 to 1000 characters"

    @property
    def schema(self) -> dict[str, Any]:
        """The JSON Schema of the kind."""
        return {"type": "string", "format": "password", "minLength": 1, "maxLength": 1000}

    def holds(self, value: object) -> bool:
        """Return whether a value is of the kind."""
        if not isinstance(value, str) or not 1 <= len(value) <= 1000:
            return False
        return not any("\ud800" <= sign <= "\udfff" for sign in value)
