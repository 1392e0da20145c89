"""The text of one rule set: TOML, and everything that can be wrong with it by itself."""

from __future__ import annotations

import difflib
import tomllib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Any, Final, TypeGuard, get_args

from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.fields import Day, Index, Number, Text, shown
from bankside.gauging.rule_sets.rule_set import Confidence, Threshold
from bankside.gauging.rule_sets.thresholds import MOST, THRESHOLDS, UNITS, ThresholdKind

__all__ = ["FORMAT", "did_you_mean", "document_faults", "document_from_toml", "found", "thresholds"]

FORMAT: Final = "bankside.rules/1"

_HEAD: Final = ("format", "name", "title", "about", "based_on", "values")
_VALUE: Final = ("value", "unit", "source", "confidence", "checked_by", "checked_on")


def document_from_toml(text: str) -> dict[str, Any]:
    """Return a TOML text as tables; InputRefused, with line and column, if it is none."""
    try:
        return tomllib.loads(text)
    # ValueError: a whole number of more digits than Python takes; TOMLDecodeError is one as well.
    except (ValueError, RecursionError) as error:
        reason = "it is nested too deeply" if isinstance(error, RecursionError) else error
        message = f"the text must be TOML, but it is not: {reason}"
        raise InputRefused([Fault(message)]) from None


def document_faults(document: Mapping[str, Any]) -> Iterator[Fault]:
    """Yield what is wrong with a rule set by itself, whatever it is based on."""
    yield from _key_faults(document, _HEAD)
    if document.get("format") != FORMAT:
        yield Fault(
            f'format must be "{FORMAT}" (got {found(document.get("format"))})', path="format"
        )
    for key in ("name", "title"):
        yield from _text_faults(document, key)
    for key in ("about", "based_on"):
        if not isinstance(document.get(key, ""), str):
            yield Fault(f"{key} must be a text (got {found(document[key])})", path=key)
    values = document.get("values", {})
    if not isinstance(values, dict):
        yield Fault(f"values must be a table (got {found(values)})", path="values")
        return
    for name, value in values.items():
        if name not in THRESHOLDS:
            yield Fault(
                f"no check goes by a threshold of the name {found(name)}"
                f"{did_you_mean(name, THRESHOLDS)}",
                path="values",
            )
            continue
        for fault in _value_faults(name, value):
            yield fault.inside(name).inside("values")


def thresholds(document: Mapping[str, Any]) -> dict[str, Threshold]:
    """Return the thresholds that a rule set without faults says itself."""
    return {
        name: Threshold(
            name=name,
            value=tuple((float(width), float(number)) for width, number in value["value"])
            if isinstance(value["value"], list)
            else float(value["value"]),
            unit=value["unit"],
            source=value["source"],
            confidence=value["confidence"],
            rule_set=document["name"],
            checked_by=value.get("checked_by"),
            checked_on=value.get("checked_on"),
        )
        for name, value in document.get("values", {}).items()
    }


def found(value: object) -> str:
    """Return a value as a message of one line shows it."""
    return "".join(sign if sign.isprintable() else " " for sign in shown(value))


def did_you_mean(name: str, known: Iterable[str]) -> str:
    """Return a question that proposes the known name nearest to one, nothing if none is near."""
    near = difflib.get_close_matches(name, known, n=1)
    return f'; did you mean "{near[0]}"?' if near else ""


def _value_faults(name: str, value: object) -> Iterator[Fault]:
    if not isinstance(value, dict):
        yield Fault(
            'a threshold must be a table such as { value = 10, unit = "%", source = "…", '
            f'confidence = "read" }} (got {found(value)})'
        )
        return
    yield from _key_faults(value, _VALUE)
    units = UNITS[THRESHOLDS[name].dimension]
    yield from _word_faults(value, "unit", tuple(units))
    unit = value.get("unit")
    per_unit = units[unit] if isinstance(unit, str) and unit in units else 1.0
    yield from _number_faults(THRESHOLDS[name], value.get("value"), per_unit)
    yield from _text_faults(value, "source")
    yield from _word_faults(value, "confidence", get_args(Confidence))
    yield from _checked_faults(value)


def _number_faults(kind: ThresholdKind, value: object, per_unit: float) -> Iterator[Fault]:
    numbers: Sequence[float] = ()
    if kind.dimension == "steps":
        wanted = (
            "pairs of a width and a whole number, widths rising from 0, such as [[0, 5], [0.5, 6]]"
        )
        if isinstance(value, list) and _are_steps(value):
            numbers = [number for pair in value for number in pair]
    elif kind.dimension == "count":
        wanted = f"a whole number of {kind.least:g} or more"
        numbers = [value] if _is_count(value) and value >= kind.least else ()
    else:
        wanted = f"a number of {kind.least:g} or more"
        numbers = [value] if _is_number(value) and value * per_unit >= kind.least else ()
    most = MOST[kind.dimension]
    if not numbers:
        yield Fault(f"value must be {wanted} (got {found(value)})", path="value")
    elif any(number * per_unit > most for number in numbers):
        yield Fault(
            f"value must be at most {most / per_unit:g} in this unit (got {found(value)})",
            path="value",
        )


def _checked_faults(value: Mapping[str, Any]) -> Iterator[Fault]:
    by, on = value.get("checked_by"), value.get("checked_on")
    if (by is None) != (on is None):
        yield Fault("checked_by and checked_on must be given together, or neither")
    if by is not None:
        yield from _text_faults(value, "checked_by")
    if on is not None and not Day().holds(on):
        yield Fault(f"checked_on must be {Day().wants} (got {found(on)})", path="checked_on")


def _key_faults(table: Mapping[str, Any], known: tuple[str, ...]) -> Iterator[Fault]:
    for key in table:
        if key not in known:
            yield Fault(
                f"a key must be one of {', '.join(known)} (got {found(key)})"
                f"{did_you_mean(key, known)}"
            )


def _text_faults(table: Mapping[str, Any], key: str) -> Iterator[Fault]:
    if not Text().holds(table.get(key)):
        yield Fault(f"{key} must be a text (got {found(table.get(key))})", path=key)


def _word_faults(table: Mapping[str, Any], key: str, words: Sequence[str]) -> Iterator[Fault]:
    if table.get(key) not in words:
        listed = " or ".join(f'"{word}"' for word in words)
        yield Fault(f"{key} must be {listed} (got {found(table.get(key))})", path=key)


def _are_steps(value: list[Any]) -> bool:
    if not value:
        return False
    for pair in value:
        if not isinstance(pair, list) or len(pair) != 2:
            return False
        if not _is_number(pair[0]) or not _is_count(pair[1]):
            return False
    widths = [pair[0] for pair in value]
    return widths[0] == 0 and all(a < b for a, b in pairwise(widths))


def _is_number(value: object) -> TypeGuard[int | float]:
    return Number(least=0.0).holds(value)


def _is_count(value: object) -> TypeGuard[int | float]:
    """Return whether a value is a whole number; 20.0 counts as 20."""
    return Index().holds(int(value) if _is_number(value) and value == int(value) else value)
