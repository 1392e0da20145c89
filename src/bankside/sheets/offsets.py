"""Offsets from UTC as people write them; a name of a time zone is none."""

from __future__ import annotations

import re
from datetime import UTC, timedelta, timezone

__all__ = ["WANTED_OFFSET", "parse_offset"]

WANTED_OFFSET = "the offset from UTC on that day, such as +05:30, would be right"

_OFFSET = re.compile(
    r"(?:[a-z][a-z ]{1,30}?[\s,:(]+)?"  # a name before it, which adds nothing: "MST (UTC-7)"
    r"(?:utc|gmt)?\s*(?P<sign>[+-])\s*(?P<hours>\d{1,2})(?::?(?P<minutes>\d{2}))?(?:\s*h)?\)?"
    r"(?:\s*\([a-z ]+\))?",
    re.ASCII,
)
_NO_OFFSET = frozenset({"z", "utc", "gmt"})
_WEST, _EAST = timedelta(hours=-12), timedelta(hours=14)
"""The clocks of the world lie between these (ISO 8601 sets no bound; from memory)."""


def parse_offset(text: str) -> timezone | None:
    """Return the offset from UTC that a text states ("-07:00", "UTC-7", "GMT+1", "+0100", "Z").

    None for a name alone, such as MST or CET, which can stand for several offsets.
    """
    plain = re.sub("[−–]", "-", text.strip().casefold())
    if plain in _NO_OFFSET:
        return UTC
    found = _OFFSET.fullmatch(plain)
    if found is None or int(found["minutes"] or 0) > 59:
        return None
    offset = timedelta(hours=int(found["hours"]), minutes=int(found["minutes"] or 0))
    offset = -offset if found["sign"] == "-" else offset
    return timezone(offset) if _WEST <= offset <= _EAST else None
