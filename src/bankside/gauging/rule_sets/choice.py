"""Which rule set a gauging is looked at by, and what has to be said about that choice."""

from __future__ import annotations

from bankside.gauging.records import Gauging
from bankside.gauging.rule_sets.load import BASE, load_rule_set, shipped_names
from bankside.gauging.rule_sets.rule_set import RuleSet, Threshold
from bankside.gauging.rule_sets.thresholds import THRESHOLDS

__all__ = ["laxer_for_wading", "rules_of", "strictest"]


def rules_of(gauging: Gauging) -> tuple[RuleSet, tuple[str, ...]]:
    """Return the shipped rule set that the record names, else common practice.

    Beside it stand sentences where the record names one that is not known here, and where a limit
    for wading is laxer than the base's.
    """
    named = gauging.rule_set or BASE
    if named in shipped_names():
        rules = load_rule_set(named)
        return rules, laxer_for_wading(rules)
    return load_rule_set(BASE), (
        f'The record names the rule set "{named}", which is not known here: "{BASE}" is used.',
    )


def laxer_for_wading(rule_set: RuleSet) -> tuple[str, ...]:
    """Say which limits for wading are above those of the base: a life may hang on them."""
    base = load_rule_set(BASE)
    return tuple(
        f"Caution: {name} is {rule_set[name].words()} here, more than the "
        f"{base[name].words()} of {BASE}."
        for name in THRESHOLDS
        if name.startswith("wade_") and rule_set.si(name) > base.si(name) * (1 + 1e-9)
    )


def strictest(rules: RuleSet, name: str) -> Threshold:
    """Return an upper limit of a rule set, or that of common practice where it is lower."""
    base, own = load_rule_set(BASE)[name], rules.get(name)
    return base if own is None or own.si > base.si else own
