"""What one field of a record may hold, each kind able to say in a sentence what must hold.

A kind is kept in the metadata of an attrs field, so that the constructor, the wire form and the
published schema all go by the same bounds.
"""

import math
import unicodedata
from collections.abc import Mapping
from datetime import date, datetime, timedelta
from typing import Any, Protocol

import attrs

__all__ = [
    "Choice",
    "Day",
    "Flag",
    "Index",
    "Instant",
    "Kind",
    "Many",
    "Number",
    "One",
    "Text",
    "Texts",
    "Unreadable",
    "about",
    "kind_of",
    "meaning_of",
    "shown",
]


class Kind(Protocol):
    """A kind of value: `wants` says what must hold, `holds` whether a value is of the kind."""

    @property
    def wants(self) -> str:
        """What must hold, to follow "must be"."""

    def holds(self, value: object) -> bool:
        """Return whether a value is of the kind."""


@attrs.frozen
class Number:
    """A finite number, perhaps bounded; `above` and `least` are a lower bound without and with."""

    least: float | None = None
    above: float | None = None
    most: float | None = None

    @property
    def wants(self) -> str:
        """What must hold, to follow "must be"."""
        if self.least is not None and self.most is not None:
            return f"a number from {self.least:g} to {self.most:g}"
        if self.least is not None:
            return f"a number of at least {self.least:g}"
        if self.above is not None:
            return f"a number above {self.above:g}"
        return "a finite number"

    def holds(self, value: object) -> bool:
        """Return whether a value is of the kind."""
        if isinstance(value, bool) or not isinstance(value, int | float):
            return False
        try:
            number = float(value)
        except OverflowError:
            return False
        return (
            math.isfinite(number)
            and (self.least is None or number >= self.least)
            and (self.above is None or number > self.above)
            and (self.most is None or number <= self.most)
        )


@attrs.frozen
class Index:
    """A whole number that counts from 0."""

    wants: str = "a whole number of at least 0"

    def holds(self, value: object) -> bool:
        """Return whether a value is of the kind."""
        return isinstance(value, int) and not isinstance(value, bool) and value >= 0


@attrs.frozen
class Text:
    """A text that says something, and that any file can hold."""

    wants: str = "a text that can be seen and that UTF-8 can hold"

    def holds(self, value: object) -> bool:
        """Return whether a value is of the kind."""
        if not isinstance(value, str) or not any(map(_is_visible, value)):
            return False
        # Half of a surrogate pair can stand in a Python text but not in a UTF-8 file.
        return not any("\ud800" <= character <= "\udfff" for character in value)


@attrs.frozen
class Texts:
    """A tuple of texts that say something (a list on the wire), each once."""

    wants: str = "a tuple (a list, in JSON) of texts that can be seen, each once"

    def holds(self, value: object) -> bool:
        """Return whether a value is of the kind."""
        return (
            isinstance(value, tuple)
            and all(Text().holds(item) for item in value)
            and len(set(value)) == len(value)
        )


def _is_visible(character: str) -> bool:
    """Return whether a character shows: no space, no control, no mark that only joins or turns."""
    return unicodedata.category(character) not in ("Cc", "Cf", "Zl", "Zp", "Zs")


@attrs.frozen
class Choice:
    """One of a few words."""

    words: tuple[str, ...]

    @property
    def wants(self) -> str:
        """What must hold, to follow "must be"."""
        return "one of " + ", ".join(f'"{word}"' for word in self.words)

    def holds(self, value: object) -> bool:
        """Return whether a value is of the kind."""
        return isinstance(value, str) and value in self.words


@attrs.frozen
class Flag:
    """True or false."""

    wants: str = "true or false"

    def holds(self, value: object) -> bool:
        """Return whether a value is of the kind."""
        return isinstance(value, bool)


@attrs.frozen
class Day:
    """A calendar day."""

    wants: str = "a date such as 2026-07-14"

    def holds(self, value: object) -> bool:
        """Return whether a value is of the kind."""
        return isinstance(value, date) and not isinstance(value, datetime)


@attrs.frozen
class Instant:
    """A date and time that says how far its clock is from UTC, in whole minutes."""

    wants: str = "a date and time with its offset from UTC such as 2026-07-14T10:05:00-07:00"

    def holds(self, value: object) -> bool:
        """Return whether a value is of the kind."""
        if not isinstance(value, datetime):
            return False
        offset = value.utcoffset()
        # On the first and the last day of the calendar a moment cannot be told by every clock.
        inside = date.min < value.date() < date.max
        return offset is not None and offset % timedelta(minutes=1) == timedelta(0) and inside


@attrs.frozen
class One:
    """One record of a class."""

    record: type

    @property
    def wants(self) -> str:
        """What must hold, to follow "must be"."""
        return f"one {self.record.__name__} record"

    def holds(self, value: object) -> bool:
        """Return whether a value is of the kind."""
        return isinstance(value, self.record)


@attrs.frozen
class Many:
    """A tuple of records of a class (a list on the wire), at most so many if a limit is given."""

    record: type
    most: int | None = None

    @property
    def wants(self) -> str:
        """What must hold, to follow "must be"."""
        limit = "" if self.most is None else f"at most {self.most} "
        return f"a tuple (a list, in JSON) of {limit}{self.record.__name__} records"

    def holds(self, value: object) -> bool:
        """Return whether a value is of the kind."""
        return (
            isinstance(value, tuple)
            and all(isinstance(item, self.record) for item in value)
            and (self.most is None or len(value) <= self.most)
        )


@attrs.frozen
class Unreadable:
    """A number that a text can spell and no finite float can hold; of no kind, only to be shown."""

    text: str


def about(kind: Kind, meaning: str, *, secret: bool = False) -> Mapping[str, object]:
    """Return the metadata of a field: what it may hold, and what it means in one sentence.

    secret: whether no message may show what stood there.
    """
    return {"kind": kind, "meaning": meaning, "secret": secret}


def kind_of(field: "attrs.Attribute[Any]") -> Kind:
    """Return what a field of a record may hold."""
    kind: Kind = field.metadata["kind"]
    return kind


def meaning_of(field: "attrs.Attribute[Any]") -> str:
    """Return what a field means, as the glossary and the published schema say it."""
    return str(field.metadata["meaning"])


def shown(value: object) -> str:
    """Return a value as a message shows it: short, and containers only by their size."""
    if value is None:
        return "nothing"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, list | tuple):
        kind = "list" if isinstance(value, list) else "tuple"
        return f"a {kind} of {len(value)}"
    if isinstance(value, dict):
        return "an object"
    if isinstance(value, Unreadable):
        return value.text if len(value.text) <= 40 else f"{value.text[:40]}…"
    if isinstance(value, str):
        text = value.encode("utf-8", "backslashreplace").decode("utf-8")
        return f'"{text[:40]}…"' if len(text) > 40 else f'"{text}"'
    if isinstance(value, int) and abs(value) >= 10**40:
        return "a whole number of more than 40 digits"
    if isinstance(value, int | float):
        return repr(value)
    if isinstance(value, date):
        return value.isoformat()
    return f"a {type(value).__name__}"
