"""Which rule set a gauging is looked at by."""

from __future__ import annotations

from bankside.gauging.records import Gauging
from bankside.gauging.rule_sets.load import BASE, load_rule_set, shipped_names
from bankside.gauging.rule_sets.rule_set import RuleSet
from bankside.gauging.rule_sets.thresholds import THRESHOLDS

__all__ = ["laxer_for_wading", "rules_for"]


def rules_for(gauging: Gauging, asked: str | None) -> tuple[RuleSet, tuple[str, ...]]:
    """Return the rule set asked for, else the one the record names, else common practice.

    Beside it stand sentences where the record names one that is not known here, and where a limit
    for wading is laxer than the base's. InputRefused where the one asked for cannot be loaded.
    """
    named = asked or gauging.rule_set or BASE
    if asked is not None or named in shipped_names():
        rules = load_rule_set(named)
        return rules, tuple(laxer_for_wading(rules))
    return load_rule_set(BASE), (
        f'The record names the rule set "{gauging.rule_set}", which is not known here: '
        f'"{BASE}" is used; --rules says another.',
    )


def laxer_for_wading(rule_set: RuleSet) -> list[str]:
    """Say which limits for wading are above those of the base: a life may hang on them."""
    base = load_rule_set(BASE)
    return [
        f"Caution: {name} is {rule_set[name].words()} here, more than the "
        f"{base[name].words()} of {BASE}."
        for name in THRESHOLDS
        if name.startswith("wade_") and rule_set.si(name) > base.si(name) * (1 + 1e-9)
    ]
