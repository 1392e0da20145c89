"""Rule sets as people read them, and as other programs read them."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Any, Final

from rich.console import Console
from rich.padding import Padding
from rich.table import Table

from bankside.cli.render import plain_table, render_lines, render_table, safe_text
from bankside.gauging.rule_sets.choice import laxer_for_wading
from bankside.gauging.rule_sets.load import BASE
from bankside.gauging.rule_sets.rule_set import RuleSet, Threshold
from bankside.gauging.rule_sets.thresholds import THRESHOLDS, UNITS

__all__ = [
    "comparison_as_document",
    "list_as_document",
    "render_comparison",
    "render_list",
    "render_rule_set",
    "rule_set_as_document",
]

_VERIFY: Final = (
    "Hold a value against its publication before calling it the rule of that publication. The "
    "rules under which you work go before all of them."
)
_BRACKETS: Final = "In brackets: as written, where that is another unit."
_KNOWN_BY: Final = (("read",), ("memory high", "memory medium", "memory low"))


def render_list(console: Console, rule_sets: Sequence[RuleSet]) -> None:
    """Print the rule sets with how many values each says itself, and how far they are known."""
    for rule_set in rule_sets:
        counts = _counts(rule_set)
        own = "1 value" if counts["values"] == 1 else f"{counts['values']} values"
        known = f"{counts['read']} read, {counts['from_memory']} from memory"
        render_lines(console, [rule_set.name])
        for line in (rule_set.title, f"{own} of its own: {known}; {counts['checked']} checked"):
            console.print(Padding(safe_text(line), (0, 0, 0, 2)))
        console.print()
    based = f"What a rule set does not say itself comes from {BASE}."
    render_lines(console, [based, _VERIFY])


def render_rule_set(console: Console, rule_set: RuleSet, own_only: bool) -> None:
    """Print a rule set: what it says itself, then what it takes from those below it."""
    render_lines(console, [f"{rule_set.name}: {rule_set.title}"])
    if rule_set.about.strip():
        render_lines(console, [" ".join(rule_set.about.split())])
    for name, thresholds in _by_rule_set(rule_set):
        if own_only and name != rule_set.name:
            continue
        title = "Its own values" if name == rule_set.name else f"From {name}"
        checked = any(threshold.checked_by is not None for threshold in thresholds)
        render_lines(console, ["", title if checked else f"{title}, checked by nobody", ""])
        render_table(console, _threshold_table(thresholds, checked))
    if not rule_set.own:
        below = "" if rule_set.based_on is None else f"; everything comes from {rule_set.based_on}"
        render_lines(console, ["", f"It says no values itself{below}."])
    render_lines(console, ["", *laxer_for_wading(rule_set), _VERIFY])


def render_comparison(console: Console, heads: Sequence[str], rule_sets: Sequence[RuleSet]) -> None:
    """Print side by side the thresholds that differ, in the unit of the first that sets them."""
    differing = list(_differing(rule_sets))
    if not differing:
        render_lines(console, ["No threshold differs."])
        return
    table = plain_table()
    table.add_column("threshold", no_wrap=True)
    table.add_column("unit", no_wrap=True)
    for head in heads:
        table.add_column(safe_text(head), overflow="fold")
    converted = False
    for name, values in differing:
        unit = _unit(values)
        cells = ("not set" if value is None else _in_unit(value, unit) for value in values)
        converted = converted or any(v is not None and v.unit != unit for v in values)
        table.add_row(name, "" if unit == "1" else unit, *cells)
    render_table(console, table)
    same = len({name for rule_set in rule_sets for name in rule_set.values}) - len(differing)
    others = f"{same} other thresholds are the same in all."
    render_lines(console, ["", *([_BRACKETS] if converted else []), others, _VERIFY])


def list_as_document(rule_sets: Sequence[RuleSet]) -> dict[str, Any]:
    """Return the list of rule sets as JSON takes it."""
    return {"rule_sets": [{**_head(rule_set), "own": _counts(rule_set)} for rule_set in rule_sets]}


def rule_set_as_document(rule_set: RuleSet, own_only: bool) -> dict[str, Any]:
    """Return a rule set as JSON takes it; what is not known is left out."""
    values = rule_set.own if own_only else rule_set.values
    return {
        **_head(rule_set),
        "about": rule_set.about,
        "values": {name: _value(values[name]) for name in THRESHOLDS if name in values},
    }


def comparison_as_document(rule_sets: Sequence[RuleSet]) -> dict[str, Any]:
    """Return the thresholds that differ, the values in the order of the rule sets."""
    return {
        "rule_sets": [_head(rule_set) for rule_set in rule_sets],
        "differences": {
            name: [None if value is None else _value(value) for value in values]
            for name, values in _differing(rule_sets)
        },
    }


def _threshold_table(thresholds: Sequence[Threshold], checked: bool) -> Table:
    table = plain_table()
    for head in ("threshold", "value", "confidence"):
        table.add_column(head, no_wrap=head != "value")
    if checked:
        table.add_column("checked")
    table.add_column("source")
    for threshold in thresholds:
        cells = [threshold.name, threshold.words(), threshold.confidence]
        if checked:
            cells.append(_checked(threshold))
        table.add_row(*map(safe_text, (*cells, threshold.source)))
    return table


def _checked(threshold: Threshold) -> str:
    if threshold.checked_by is None or threshold.checked_on is None:
        return "no"
    return f"{threshold.checked_on.isoformat()} {threshold.checked_by}"


def _by_rule_set(rule_set: RuleSet) -> Iterator[tuple[str, list[Threshold]]]:
    """Yield the thresholds by who says them, the rule set's own first, the base's last."""
    ordered = [rule_set.values[name] for name in THRESHOLDS if name in rule_set.values]
    names = {threshold.rule_set for threshold in ordered}
    for name in sorted(names, key=lambda name: (name != rule_set.name, name == BASE, name)):
        yield name, [threshold for threshold in ordered if threshold.rule_set == name]


def _counts(rule_set: RuleSet) -> dict[str, int]:
    own = list(rule_set.own.values())
    read, memory = (sum(value.confidence in words for value in own) for words in _KNOWN_BY)
    checked = sum(value.checked_by is not None for value in own)
    return {"values": len(own), "read": read, "from_memory": memory, "checked": checked}


def _head(rule_set: RuleSet) -> dict[str, Any]:
    head = {"name": rule_set.name, "title": rule_set.title}
    return head if rule_set.based_on is None else {**head, "based_on": rule_set.based_on}


def _value(threshold: Threshold) -> dict[str, Any]:
    steps = isinstance(threshold.value, tuple)
    known = {
        "value": threshold.value,
        "unit": threshold.unit,
        "si": None if steps else threshold.si,
        "meaning": threshold.meaning,
        "source": threshold.source,
        "confidence": threshold.confidence,
        "rule_set": threshold.rule_set,
        "checked_by": threshold.checked_by,
        "checked_on": None if threshold.checked_on is None else threshold.checked_on.isoformat(),
    }
    return {key: value for key, value in known.items() if value is not None}


def _differing(
    rule_sets: Sequence[RuleSet],
) -> Iterator[tuple[str, list[Threshold | None]]]:
    for name in THRESHOLDS:
        values = [rule_set.get(name) for rule_set in rule_sets]
        if any(not _same(values[0], value) for value in values[1:]):
            yield name, values


def _same(one: Threshold | None, other: Threshold | None) -> bool:
    if one is None or other is None:
        return one is other
    first, second = _flat(one), _flat(other)
    return len(first) == len(second) and all(
        math.isclose(a, b, rel_tol=1e-9) for a, b in zip(first, second, strict=True)
    )


def _flat(threshold: Threshold, unit: str | None = None) -> list[float]:
    """Return the numbers of a threshold, in SI or in a unit, for a table the widths in it."""
    units = UNITS[THRESHOLDS[threshold.name].dimension]
    factor = units[threshold.unit] / (1.0 if unit is None else units[unit])
    if isinstance(threshold.value, tuple):
        return [part for width, number in threshold.value for part in (width * factor, number)]
    return [threshold.value * factor]


def _unit(values: Sequence[Threshold | None]) -> str:
    return next(value.unit for value in values if value is not None)


def _in_unit(threshold: Threshold, unit: str) -> str:
    """Return a value in a unit, and in brackets as written where it was written in another."""
    same = threshold.unit == unit
    figures = [f"{figure:.15g}" if same else f"{figure:.4g}" for figure in _flat(threshold, unit)]
    if isinstance(threshold.value, tuple):
        pairs = zip(figures[::2], figures[1::2], strict=True)
        figures = [", ".join(f"{number} from {width}" for width, number in pairs)]
    return figures[0] if same else f"{figures[0]} ({threshold.words()})"
