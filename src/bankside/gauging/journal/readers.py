"""From what was typed to what a record holds: strictly, and never by a guess.

A reader takes the name of a thing, a JSON value and a list of sentences. It returns what the value
means; where it means nothing it returns None, and the sentences say why. `shape` says in words
what the reader takes, and `schema` says it as JSON Schema.
"""

import datetime
import math
import re
from collections.abc import Collection, Mapping
from typing import Any, Protocol

import attrs

from bankside.gauging.fields import shown
from bankside.gauging.journal.kinds import DATE_TIME, moment_of

__all__ = [
    "DAY",
    "FIGURE",
    "FLAG",
    "MOMENT",
    "NUMBER",
    "NUMBER_OR_FIGURE",
    "TEXT",
    "ListOf",
    "Members",
    "ObjectOf",
    "OneOf",
    "Reader",
]

_FIGURE = r"[+-]?([0-9]+\.?[0-9]*|\.[0-9]+)"
_DAY = r"[0-9]{4}-[0-9]{2}-[0-9]{2}"


class Reader(Protocol):
    """What one value may be."""

    @property
    def shape(self) -> str:
        """What is taken, in words."""

    @property
    def schema(self) -> dict[str, Any]:
        """What is taken, as JSON Schema."""

    def read(self, name: str, value: object, wrong: list[str]) -> object:
        """Return what a value means, None where it means nothing."""


@attrs.frozen
class Members:
    """What the members of an object mean, and the names of those that mean nothing."""

    values: Mapping[str, object]
    unsound: frozenset[str] = frozenset()


@attrs.frozen
class _Text:
    """A text, as it is."""

    shape: str = "text"

    @property
    def schema(self) -> dict[str, Any]:
        return {"type": "string"}

    def read(self, name: str, value: object, wrong: list[str]) -> object:
        if isinstance(value, str):
            return value
        wrong.append(f"{name} must be a text (got {shown(value)})")
        return None


@attrs.frozen
class _Figure:
    """A figure as it was called: a text with a decimal point, such as "1.05"."""

    shape: str = "figure"

    @property
    def schema(self) -> dict[str, Any]:
        return {"type": "string", "pattern": f"^{_FIGURE}$"}

    def read(self, name: str, value: object, wrong: list[str]) -> object:
        spelled = isinstance(value, str) and re.fullmatch(_FIGURE, value)
        if isinstance(value, str) and spelled and math.isfinite(float(value)):
            return float(value)
        wrong.append(
            f"{name} must be a figure as called, typed with a decimal point, "
            f'such as "1.05" (got {shown(value)})'
        )
        return None


@attrs.frozen
class _Number:
    """A number that no one called, such as a fraction of the depth."""

    shape: str = "number"

    @property
    def schema(self) -> dict[str, Any]:
        return {"type": "number"}

    def read(self, name: str, value: object, wrong: list[str]) -> object:
        if isinstance(value, int | float) and not isinstance(value, bool):
            return float(value)
        wrong.append(f"{name} must be a number (got {shown(value)})")
        return None


@attrs.frozen
class _NumberOrFigure:
    """A number that a receiver gave, or a figure that was typed in its place."""

    shape: str = "number or figure"

    @property
    def schema(self) -> dict[str, Any]:
        return {"anyOf": [NUMBER.schema, FIGURE.schema]}

    def read(self, name: str, value: object, wrong: list[str]) -> object:
        reader: Reader = FIGURE if isinstance(value, str) else NUMBER
        return reader.read(name, value, wrong)


@attrs.frozen
class _Flag:
    """True or false."""

    shape: str = "true or false"

    @property
    def schema(self) -> dict[str, Any]:
        return {"type": "boolean"}

    def read(self, name: str, value: object, wrong: list[str]) -> object:
        if isinstance(value, bool):
            return value
        wrong.append(f"{name} must be true or false (got {shown(value)})")
        return None


@attrs.frozen
class _Moment:
    """A date and time with its offset from UTC."""

    shape: str = "moment"

    @property
    def schema(self) -> dict[str, Any]:
        return {"type": "string", "format": "date-time", "pattern": f"^{DATE_TIME}$"}

    def read(self, name: str, value: object, wrong: list[str]) -> object:
        found = moment_of(value)
        if found is None:
            wrong.append(
                f"{name} must be a date and time with its offset from UTC such as "
                f"2026-07-14T10:05:00-07:00 (got {shown(value)})"
            )
        return found


@attrs.frozen
class _Day:
    """A calendar day."""

    shape: str = "date"

    @property
    def schema(self) -> dict[str, Any]:
        return {"type": "string", "format": "date", "pattern": f"^{_DAY}$"}

    def read(self, name: str, value: object, wrong: list[str]) -> object:
        try:
            if isinstance(value, str) and re.fullmatch(_DAY, value):
                return datetime.date.fromisoformat(value)
        except ValueError:
            pass  # a day that is in no calendar is told like any other text
        wrong.append(f"{name} must be a date such as 2026-07-14 (got {shown(value)})")
        return None


TEXT, FIGURE, NUMBER, NUMBER_OR_FIGURE = _Text(), _Figure(), _Number(), _NumberOrFigure()
FLAG, MOMENT, DAY = _Flag(), _Moment(), _Day()


@attrs.frozen
class OneOf:
    """One of a few words."""

    words: tuple[str, ...]

    @property
    def shape(self) -> str:
        """What is taken, in words."""
        return " or ".join(f'"{word}"' for word in self.words)

    @property
    def schema(self) -> dict[str, Any]:
        """What is taken, as JSON Schema."""
        return {"enum": list(self.words)}

    def read(self, name: str, value: object, wrong: list[str]) -> object:
        """Return the word, None where it is another."""
        if isinstance(value, str) and value in self.words:
            return value
        listed = ", ".join(f'"{word}"' for word in self.words)
        wrong.append(f"{name} must be one of {listed} (got {shown(value)})")
        return None


@attrs.frozen
class ListOf:
    """A list; it means nothing as a whole where an item of it means nothing."""

    item: Reader

    @property
    def shape(self) -> str:
        """What is taken, in words."""
        return f"list of {self.item.shape}"

    @property
    def schema(self) -> dict[str, Any]:
        """What is taken, as JSON Schema."""
        return {"type": "array", "items": self.item.schema}

    def read(self, name: str, value: object, wrong: list[str]) -> object:
        """Return what the items mean."""
        if not isinstance(value, list):
            wrong.append(f"{name} must be a list (got {shown(value)})")
            return None
        before = len(wrong)
        items = tuple(
            self.item.read(f"{name}, item {number}", found, wrong)
            for number, found in enumerate(value, 1)
        )
        return items if len(wrong) == before else None


@attrs.frozen
class ObjectOf:
    """An object with these members and no others, some of them `needed`."""

    members: Mapping[str, Reader]
    needed: Collection[str] = ()

    @property
    def shape(self) -> str:
        """What is taken, in words."""
        listed = ", ".join(
            f"{name}{'' if name in self.needed else '?'}: {reader.shape}"
            for name, reader in self.members.items()
        )
        return f"{{{listed}}}"

    @property
    def schema(self) -> dict[str, Any]:
        """What is taken, as JSON Schema."""
        return {
            "type": "object",
            "additionalProperties": False,
            "required": list(self.needed),
            "properties": {name: reader.schema for name, reader in self.members.items()},
        }

    def read(self, name: str, value: object, wrong: list[str]) -> object:
        """Return what the members mean, as far as they mean something."""
        if not isinstance(value, dict):
            wrong.append(f"{name} must be an object (got {shown(value)})")
            return None
        values: dict[str, object] = {}
        for key, found in value.items():
            if key not in self.members:
                listed = ", ".join(self.members)
                wrong.append(f"{name} must have no member but {listed} (got {shown(key)})")
                continue
            meant = self.members[key].read(f"{key} of the {name}", found, wrong)
            if meant is not None:
                values[key] = meant
        missing = [key for key in self.needed if key not in value]
        wrong.extend(f"{key} of the {name} must be given" for key in missing)
        unsound = [key for key in self.members if key in value and key not in values]
        return Members(values, frozenset((*unsound, *missing)))
