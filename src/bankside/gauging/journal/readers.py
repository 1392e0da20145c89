"""From what was typed to what a record holds: strictly, and never by a guess."""

import datetime
import math
import re
from collections.abc import Callable, Collection, Mapping

import attrs

from bankside.gauging.fields import shown
from bankside.gauging.journal.kinds import moment_of

__all__ = [
    "Members",
    "Reader",
    "any_number",
    "day",
    "figure",
    "flag",
    "list_of",
    "member_of",
    "moment",
    "object_of",
    "one_of",
    "plain_number",
    "text",
]

Reader = Callable[[str, object, list[str]], object]
"""Takes a name, a JSON value and a list of sentences; returns what the value means.

What is wrong is added to the sentences, and None is returned where nothing can be made out.
"""

_FIGURE = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)", re.ASCII)
_DAY = re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII)


@attrs.frozen
class Members:
    """What the members of an object mean, and the names of those that mean nothing."""

    values: Mapping[str, object]
    unsound: frozenset[str] = frozenset()


def text(name: str, value: object, wrong: list[str]) -> object:
    """Read a text as it is."""
    if isinstance(value, str):
        return value
    wrong.append(f"{name} must be a text (got {shown(value)})")
    return None


def figure(name: str, value: object, wrong: list[str]) -> object:
    """Read a figure as it was called: a text with a decimal point, such as "1.05"."""
    if isinstance(value, str) and _FIGURE.fullmatch(value) and math.isfinite(float(value)):
        return float(value)
    wrong.append(
        f"{name} must be a figure as called, typed with a decimal point, "
        f'such as "1.05" (got {shown(value)})'
    )
    return None


def plain_number(name: str, value: object, wrong: list[str]) -> object:
    """Read a number that no one called, such as a fraction of the depth."""
    if isinstance(value, int | float) and not isinstance(value, bool):
        return float(value)
    wrong.append(f"{name} must be a number (got {shown(value)})")
    return None


def any_number(name: str, value: object, wrong: list[str]) -> object:
    """Read a number that a receiver gave, or a figure that was typed in its place."""
    reader = figure if isinstance(value, str) else plain_number
    return reader(name, value, wrong)


def flag(name: str, value: object, wrong: list[str]) -> object:
    """Read true or false."""
    if isinstance(value, bool):
        return value
    wrong.append(f"{name} must be true or false (got {shown(value)})")
    return None


def moment(name: str, value: object, wrong: list[str]) -> datetime.datetime | None:
    """Read a date and time with its offset from UTC."""
    found = moment_of(value)
    if found is None:
        wrong.append(
            f"{name} must be a date and time with its offset from UTC such as "
            f"2026-07-14T10:05:00-07:00 (got {shown(value)})"
        )
    return found


def day(name: str, value: object, wrong: list[str]) -> object:
    """Read a date."""
    try:
        if isinstance(value, str) and _DAY.fullmatch(value):
            return datetime.date.fromisoformat(value)
    except ValueError:
        pass
    wrong.append(f"{name} must be a date such as 2026-07-14 (got {shown(value)})")
    return None


def one_of(*words: str) -> Reader:
    """Return a reader of one of a few words."""
    listed = ", ".join(f'"{word}"' for word in words)

    def read(name: str, value: object, wrong: list[str]) -> object:
        if isinstance(value, str) and value in words:
            return value
        wrong.append(f"{name} must be one of {listed} (got {shown(value)})")
        return None

    return read


def list_of(item: Reader) -> Reader:
    """Return a reader of a list; it means nothing as a whole where an item means nothing."""

    def read(name: str, value: object, wrong: list[str]) -> object:
        if not isinstance(value, list):
            wrong.append(f"{name} must be a list (got {shown(value)})")
            return None
        before = len(wrong)
        items = tuple(item(f"{name}[{n}]", found, wrong) for n, found in enumerate(value))
        return items if len(wrong) == before else None

    return read


def object_of(members: Mapping[str, Reader], needed: Collection[str] = ()) -> Reader:
    """Return a reader of an object with these members and no others, some of them `needed`."""

    def read(name: str, value: object, wrong: list[str]) -> object:
        if not isinstance(value, dict):
            wrong.append(f"{name} must be an object (got {shown(value)})")
            return None
        values: dict[str, object] = {}
        for key, found in value.items():
            if key not in members:
                listed = ", ".join(members)
                wrong.append(f"{name} must have no member but {listed} (got {shown(key)})")
                continue
            meant = members[key](member_of(name, key), found, wrong)
            if meant is not None:
                values[key] = meant
        missing = [key for key in needed if key not in value]
        wrong.extend(f"{member_of(name, key)} must be given" for key in missing)
        return Members(values, frozenset(k for k in members if k in value and k not in values))

    return read


def member_of(name: str, key: str) -> str:
    """Return how a member of an object is called in a sentence."""
    return f"{key} of the {name}"
