"""Rule sets from TOML: those shipped with Bankside, and a crew's own."""

from __future__ import annotations

import datetime
import difflib
import math
import tomllib
from collections.abc import Iterator, Mapping
from functools import cache
from importlib import resources
from itertools import pairwise
from pathlib import Path
from typing import Any, Final, TypeGuard, get_args

from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.fields import shown
from bankside.gauging.rule_sets.rule_set import Confidence, RuleSet, Steps, Threshold
from bankside.gauging.rule_sets.thresholds import THRESHOLDS, UNITS

__all__ = ["BASE", "FORMAT", "load_rule_set", "rule_set_from_toml", "shipped_names"]

FORMAT: Final = "bankside.rules/1"
BASE: Final = "common-practice"
"""The rule set that sets every threshold, on which the others stand."""

_HEAD: Final = ("format", "name", "title", "about", "based_on", "values")
_VALUE: Final = ("value", "unit", "source", "confidence", "checked_by", "checked_on")
_SHIPPED = resources.files(__package__) / "shipped"


def shipped_names() -> tuple[str, ...]:
    """Return the names of the rule sets that come with Bankside, the base first."""
    names = sorted(
        entry.name.removesuffix(".toml")
        for entry in _SHIPPED.iterdir()
        if entry.name.endswith(".toml")
    )
    return (BASE, *(name for name in names if name != BASE))


def load_rule_set(name: str) -> RuleSet:
    """Return a shipped rule set by its name, or a rule set of one's own by the path of its file.

    InputRefused if there is neither, or with everything that is wrong with the file.
    """
    if name in shipped_names():
        return _shipped(name)
    if not name.endswith(".toml"):
        raise InputRefused(
            [Fault(f"a rule set must be {_known()} or a .toml file (got {shown(name)})")]
        )
    try:
        text = Path(name).read_text(encoding="utf-8")
    except OSError as error:
        message = f"could not be opened ({error.strerror or error})"
        raise InputRefused([Fault(message, file=name)]) from error
    except UnicodeDecodeError as error:
        message = f"found a byte (number {error.start + 1}) that is no UTF-8; UTF-8 would be right"
        raise InputRefused([Fault(message, file=name)]) from error
    return rule_set_from_toml(text, file=name)


@cache
def _shipped(name: str) -> RuleSet:
    return rule_set_from_toml(
        (_SHIPPED / f"{name}.toml").read_text(encoding="utf-8"), f"{name}.toml"
    )


def rule_set_from_toml(text: str, file: str | None = None) -> RuleSet:
    """Return the rule set that a TOML text holds; InputRefused with everything wrong with it."""
    try:
        document = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise InputRefused(
            [Fault(f"the text must be TOML, but it is not: {error}", file=file)]
        ) from None
    faults = [*_head_faults(document)]
    values = document.get("values", {})
    if isinstance(values, dict):
        faults += [
            fault.inside(name).inside("values")
            for name, value in values.items()
            for fault in _value_faults(name, value)
        ]
    if faults:
        raise InputRefused(Fault(fault.message, file=file, path=fault.path) for fault in faults)
    base = document.get("based_on", BASE)
    below = {} if document["name"] == base else _shipped(base).values
    own = {name: _threshold(name, document["name"], value) for name, value in values.items()}
    return RuleSet(
        name=document["name"],
        title=document["title"],
        about=document.get("about", ""),
        based_on=None if document["name"] == base else base,
        values={**below, **own},
    )


def _head_faults(document: Mapping[str, Any]) -> Iterator[Fault]:
    yield from _key_faults(document, _HEAD)
    if document.get("format") != FORMAT:
        yield Fault(
            f'format must be "{FORMAT}" (got {shown(document.get("format"))})', path="format"
        )
    for key in ("name", "title"):
        if not _is_text(document.get(key)):
            yield Fault(f"{key} must be a text (got {shown(document.get(key))})", path=key)
    if not isinstance(document.get("about", ""), str):
        yield Fault(f"about must be a text (got {shown(document['about'])})", path="about")
    base = document.get("based_on", BASE)
    if base not in shipped_names():
        yield Fault(f"based_on must be {_known()} (got {shown(base)})", path="based_on")
    if not isinstance(document.get("values", {}), dict):
        yield Fault(f"values must be a table (got {shown(document['values'])})", path="values")


def _value_faults(name: str, value: object) -> Iterator[Fault]:
    if name not in THRESHOLDS:
        close = difflib.get_close_matches(name, THRESHOLDS, n=1)
        hint = f'; did you mean "{close[0]}"?' if close else ""
        yield Fault(f"no check goes by a threshold of this name{hint}")
        return
    if not isinstance(value, dict):
        yield Fault(
            'a threshold must be a table such as { value = 10, unit = "%", source = "…", '
            f'confidence = "read" }} (got {shown(value)})'
        )
        return
    yield from _key_faults(value, _VALUE)
    dimension = THRESHOLDS[name].dimension
    units = UNITS[dimension]
    if value.get("unit") not in units:
        listed = ", ".join(f'"{unit}"' for unit in units)
        yield Fault(f"unit must be {listed} (got {shown(value.get('unit'))})", path="unit")
    found = value.get("value")
    if dimension == "steps":
        if not _are_steps(found):
            yield Fault(
                "value must be pairs of a width and a number, widths rising from 0, such as "
                f"[[0, 5], [0.5, 6]] (got {shown(found)})",
                path="value",
            )
    elif not (_is_number(found) and found >= 0):
        yield Fault(f"value must be a number of 0 or more (got {shown(found)})", path="value")
    if not _is_text(value.get("source")):
        yield Fault(f"source must be a text (got {shown(value.get('source'))})", path="source")
    if value.get("confidence") not in get_args(Confidence):
        listed = ", ".join(f'"{word}"' for word in get_args(Confidence))
        yield Fault(
            f"confidence must be {listed} (got {shown(value.get('confidence'))})", path="confidence"
        )
    yield from _checked_faults(value)


def _checked_faults(value: Mapping[str, Any]) -> Iterator[Fault]:
    by, on = value.get("checked_by"), value.get("checked_on")
    if (by is None) != (on is None):
        yield Fault("checked_by and checked_on must be given together, or neither")
    if by is not None and not _is_text(by):
        yield Fault(f"checked_by must be a text (got {shown(by)})", path="checked_by")
    if on is not None and (isinstance(on, datetime.datetime) or not isinstance(on, datetime.date)):
        yield Fault(
            f"checked_on must be a date such as 2026-07-14 (got {shown(on)})", path="checked_on"
        )


def _key_faults(table: Mapping[str, Any], known: tuple[str, ...]) -> Iterator[Fault]:
    for key in table:
        if key not in known:
            close = difflib.get_close_matches(key, known, n=1)
            hint = f'; did you mean "{close[0]}"?' if close else ""
            yield Fault(f"a key must be one of {', '.join(known)} (got {shown(key)}){hint}")


def _threshold(name: str, rule_set: str, value: Mapping[str, Any]) -> Threshold:
    found = value["value"]
    steps: Steps | None = None
    if isinstance(found, list):
        steps = tuple((float(width), float(number)) for width, number in found)
    return Threshold(
        name=name,
        value=float(found) if steps is None else steps,
        unit=value["unit"],
        source=value["source"],
        confidence=value["confidence"],
        rule_set=rule_set,
        checked_by=value.get("checked_by"),
        checked_on=value.get("checked_on"),
    )


def _are_steps(value: object) -> bool:
    if not isinstance(value, list) or not value:
        return False
    pairs = [pair for pair in value if isinstance(pair, list) and len(pair) == 2]
    if len(pairs) < len(value) or not all(_is_number(number) for pair in pairs for number in pair):
        return False
    widths = [pair[0] for pair in pairs]
    return widths[0] == 0 and all(a < b for a, b in pairwise(widths))


def _is_number(value: object) -> TypeGuard[int | float]:
    return isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value)


def _is_text(value: object) -> TypeGuard[str]:
    return isinstance(value, str) and bool(value.strip())


def _known() -> str:
    return " or ".join(f'"{name}"' for name in shipped_names())
