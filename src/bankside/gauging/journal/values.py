"""What an entry may say: any JSON value that every reader of JSON reads alike."""

import json
import re

import attrs

from bankside.gauging.fields import Unreadable

__all__ = ["JsonValue", "canonical", "comparable"]

# Beyond this, programs that keep every number as a float do not tell whole numbers apart.
_MOST = 2**53 - 1
# What can be said is nested three deep; a value far beyond is no reading.
_MOST_LEVELS = 8
_HALF = re.compile("[\ud800-\udfff]")


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


def canonical(value: object) -> str:
    """Return the one JSON text for all JSON values that say the same, as by `comparable`.

    It is that of RFC 8785, JSON Canonicalization Scheme; half a character, which has no place
    there, is spelled by its number.
    """
    if isinstance(value, dict):
        keys = sorted(value, key=lambda key: key.encode("utf-16-be", "surrogatepass"))
        members = (f"{canonical(key)}:{canonical(value[key])}" for key in keys)
        return "{" + ",".join(members) + "}"
    if isinstance(value, list | tuple):
        return "[" + ",".join(map(canonical, value)) + "]"
    if isinstance(value, int | float) and not isinstance(value, bool):
        return _number(value)
    text = json.dumps(value, ensure_ascii=False)
    return _HALF.sub(lambda half: f"\\u{ord(half[0]):04x}", text)


def _number(value: float) -> str:
    """Return a number as ECMAScript spells it: the shortest digits that read back to it."""
    if value == int(value):
        return str(int(value))
    digits = repr(value)
    if 1e-6 <= abs(value) < 1e-4:
        mantissa, exponent = digits.split("e-")
        figures = mantissa.lstrip("-").replace(".", "")
        return f"{'-' if value < 0 else ''}0.{'0' * (int(exponent) - 1)}{figures}"
    return digits.replace("e-0", "e-")
