"""A rule set for a leader to edit: everything that can be set, as comments."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, get_args

import tomli_w

from bankside.gauging.rule_sets.load import FORMAT, load_rule_set, shipped_names
from bankside.gauging.rule_sets.rule_set import Confidence, RuleSet, Steps, Threshold
from bankside.gauging.rule_sets.thresholds import THRESHOLDS, UNITS

__all__ = ["starter"]

_INTRODUCTION: Final = f"""\
# A rule set of your own. It holds what it is based on, and what you set below goes before that.
#
# To set a value, take away the "# " before its line, change it, and say where yours comes from:
#   unit        one of those named above the line
#   source      the publication with its page, the permit, or the person who decides
#   confidence  {", ".join(get_args(Confidence))}
#   checked_by, checked_on   who has held the value against its source, and when, such as
#               checked_by = "the crew leader", checked_on = 2026-07-14; leave both out until then
# `bankside rules show THIS_FILE` says whether all is well.
#
# Wading can kill. Set the limits for wading lower for light people, cold water or a soft bed.

"""


def starter(below: RuleSet, based_on: str, name: str) -> str:
    """Return the text of a rule set that says nothing itself yet.

    Args:
        below: The rule set that it is based on.
        based_on: How it names that one: a shipped name, or a path beside the file to be.
        name: Its name; "our-" goes before a name that another rule set has already.
    """
    taken = {*shipped_names(), below.name, *(t.rule_set for t in below.values.values())}
    name = "".join(sign if sign.isprintable() else "-" for sign in name)
    while name in taken or not name.strip():
        name = f"our-{name}"
    head = {
        "format": FORMAT,
        "name": name,
        "title": f"Our values, based on {below.name}",
        "about": "",
        "based_on": based_on,
    }
    values = "\n".join(line for kind in THRESHOLDS for line in _lines(kind, below))
    return f"{_INTRODUCTION}{tomli_w.dumps(head)}\n[values]\n{values}\n"


def _lines(kind: str, below: RuleSet) -> Iterator[str]:
    meaning, units = THRESHOLDS[kind].meaning, UNITS[THRESHOLDS[kind].dimension]
    threshold = below.get(kind)
    not_set = "" if threshold is not None else "not set so far; "
    if threshold is None:
        threshold = next(
            found for name in shipped_names() if (found := load_rule_set(name).get(kind))
        )
    yield ""
    yield f"# {meaning}; unit: {', '.join(units)}"
    yield f"# {not_set}said by {_on_one_line(threshold.rule_set)}:"
    yield f"# {kind} = {_inline(threshold)}"


def _inline(threshold: Threshold) -> str:
    """Return a threshold as a TOML table on one line."""
    value = threshold.value
    parts = [
        f"value = {_steps(value) if isinstance(value, tuple) else _number(value)}",
        _text("unit", threshold.unit),
        _text("confidence", threshold.confidence),
        _text("source", threshold.source),
    ]
    if threshold.checked_by is not None and threshold.checked_on is not None:
        parts.append(_text("checked_by", threshold.checked_by))
        parts.append(f"checked_on = {threshold.checked_on.isoformat()}")
    return f"{{ {', '.join(parts)} }}"


def _text(key: str, text: str) -> str:
    return tomli_w.dumps({key: text}).strip()


def _steps(steps: Steps) -> str:
    return f"[{', '.join(f'[{_number(width)}, {_number(number)}]' for width, number in steps)}]"


def _number(value: float) -> str:
    return repr(value).removesuffix(".0")


def _on_one_line(text: str) -> str:
    return "".join(sign if sign.isprintable() else " " for sign in text)
