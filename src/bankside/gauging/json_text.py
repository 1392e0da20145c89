"""JSON text as it was written: repeated keys and numbers beyond every float stay visible."""

import json
import math

from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.fields import Unreadable
from bankside.gauging.structure import JsonObject

__all__ = ["MOST_VALUES", "parsed", "refused", "written"]


MOST_VALUES = 5_000_000
"""As many values as a text may hold, as many as a table has cells; each takes far more memory than
its letters."""


def parsed(text: str, most: int = MOST_VALUES) -> object:
    """Return what a JSON text spells; InputRefused with its place where it is no JSON.

    most: how many values it may hold, told by the signs that stand between values. Objects are
    `JsonObject`, which knows the keys that were written twice; a number that no float holds is
    `Unreadable`.
    """
    if sum(map(text.count, ",{[")) > most:
        raise refused(f"the JSON must not hold more than {most:,} values; split it")
    try:
        return json.loads(
            text,
            object_pairs_hook=JsonObject.of_pairs,
            parse_int=_number,
            parse_float=_number,
            parse_constant=Unreadable,
        )
    except json.JSONDecodeError as error:
        raise refused(
            f"the text must be JSON, but at line {error.lineno}, character {error.colno} it is not:"
            f" {error.msg}{_cut_off(text, error)}"
        ) from None
    except RecursionError:
        raise refused("the JSON must not be nested as deeply as it is") from None


def written(document: object) -> str:
    """Return a JSON value as text, for people as well as for programs."""
    return json.dumps(document, ensure_ascii=False, allow_nan=False, indent=2) + "\n"


def refused(message: str, path: str | None = None) -> InputRefused:
    """Return the error that says one thing about a document."""
    return InputRefused([Fault(message, path=path)])


def _cut_off(text: str, error: json.JSONDecodeError) -> str:
    """Return that a text seems to be cut off, where it ends within a value."""
    ends = not text[error.pos :].strip() or error.msg.startswith("Unterminated string")
    return "; the text ends before its JSON does, as if it were cut off" if ends else ""


def _number(digits: str) -> object:
    """Return a whole or a decimal number as JSON spells it, or its text if no float holds it."""
    value = float(digits)
    if not math.isfinite(value):
        return Unreadable(digits)
    return value if any(mark in digits for mark in ".eE") else int(digits)
