"""What an entry may say: any JSON value that every reader of JSON reads alike."""

import attrs

from bankside.gauging.fields import Unreadable

__all__ = ["JsonValue", "comparable"]

# Beyond this, programs that keep every number as a float do not tell whole numbers apart.
_MOST = 2**53 - 1
# What can be said is nested three deep; a value far beyond is no reading.
_MOST_LEVELS = 8


@attrs.frozen
class JsonValue:
    """Any JSON value: null, true, false, a finite number, a text, a list or an object."""

    wants: str = (
        "a JSON value of finite numbers below 2 to the power of 53, no key twice, "
        f"at most {_MOST_LEVELS} levels deep"
    )

    def holds(self, value: object) -> bool:
        """Return whether a value is of the kind."""
        return _holds(value, 0)


def _holds(value: object, level: int) -> bool:
    if level > _MOST_LEVELS or isinstance(value, Unreadable):
        return False
    if isinstance(value, dict):
        # A document's objects carry the keys that were written more than once.
        once = not getattr(value, "repeated", None)
        return once and all(isinstance(k, str) and _holds(v, level + 1) for k, v in value.items())
    if isinstance(value, list):
        return all(_holds(item, level + 1) for item in value)
    if isinstance(value, int | float):
        return abs(value) <= _MOST  # which no infinity is, nor what is no number
    return value is None or isinstance(value, str)


def comparable(value: object) -> object:
    """Return what is equal, and hashes equally, exactly for JSON values that say the same.

    Texts say the same only to the character ("1.0" is not "1"); a number is its size (1 is 1.0);
    the order of an object's keys says nothing. Python alone would hold true for 1.
    """
    if isinstance(value, dict):
        return ("object", frozenset((key, comparable(item)) for key, item in value.items()))
    if isinstance(value, list | tuple):
        return ("list", tuple(comparable(item) for item in value))
    if isinstance(value, bool):
        return ("true or false", value)
    return value
