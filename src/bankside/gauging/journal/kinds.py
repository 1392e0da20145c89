"""What the fields of an entry may hold, and the moments that texts spell."""

import datetime
import re

import attrs

from bankside.gauging.fields import Instant

__all__ = ["DATE_TIME", "KEY", "Counted", "Ids", "Key", "Moment", "What", "Words", "moment_of"]

KEY = "[A-Za-z0-9_-]{1,64}"
"""What spells a key, as a regular expression."""

_WHAT = f"{KEY}(/{KEY}){{0,7}}"
DATE_TIME = (
    "[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}([.][0-9]{1,6})?(Z|[+-][0-9]{2}:[0-9]{2})"
)
"""What spells a moment with its offset from UTC, as a regular expression."""

# Whole numbers beyond this are not told apart by programs that keep every number as a float.
_MOST_COUNTED = 2**53 - 1


def moment_of(text: object) -> datetime.datetime | None:
    """Return the moment that a text spells with its offset from UTC, None where it spells none."""
    if not isinstance(text, str) or not re.fullmatch(DATE_TIME, text):
        return None
    try:
        moment = datetime.datetime.fromisoformat(text)
    except ValueError:
        return None
    return moment if Instant().holds(moment) else None


@attrs.frozen
class Key:
    """A name that devices make: letters, figures, "_" and "-", which sort alike everywhere."""

    wants: str = 'a text of 1 to 64 letters from A to Z, figures, "_" or "-"'

    def holds(self, value: object) -> bool:
        """Return whether a value is of the kind."""
        return isinstance(value, str) and re.fullmatch(KEY, value) is not None


@attrs.frozen
class Ids:
    """The ids of other entries, each once."""

    wants: str = "a tuple (a list, in JSON) of ids of entries, each once"

    def holds(self, value: object) -> bool:
        """Return whether a value is of the kind."""
        if not isinstance(value, tuple) or not all(Key().holds(item) for item in value):
            return False
        return len(set(value)) == len(value)


@attrs.frozen
class Counted:
    """A whole number that counts from 1."""

    wants: str = "a whole number of at least 1"

    def holds(self, value: object) -> bool:
        """Return whether a value is of the kind."""
        return (
            isinstance(value, int) and not isinstance(value, bool) and 1 <= value <= _MOST_COUNTED
        )


@attrs.frozen
class Moment:
    """A text that spells a date and time with its offset from UTC."""

    wants: str = Instant().wants

    def holds(self, value: object) -> bool:
        """Return whether a value is of the kind."""
        return moment_of(value) is not None


@attrs.frozen
class What:
    """What an entry is about: keys joined by "/", as in channels/1/verticals/v3/depth."""

    wants: str = (
        'names of letters from A to Z, figures, "_" or "-", joined by "/", '
        "such as channels/1/verticals/v3/depth"
    )

    def holds(self, value: object) -> bool:
        """Return whether a value is of the kind."""
        return isinstance(value, str) and re.fullmatch(_WHAT, value) is not None


@attrs.frozen
class Words:
    """A text that is not blank."""

    wants: str = "a text that is not blank"

    def holds(self, value: object) -> bool:
        """Return whether a value is of the kind."""
        return isinstance(value, str) and bool(value.strip())
