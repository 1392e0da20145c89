"""Which rule set a gauging is looked at by, where `--rules` may name another than its record."""

from __future__ import annotations

from bankside.gauging.records import Gauging
from bankside.gauging.rule_sets.choice import laxer_for_wading, rules_of
from bankside.gauging.rule_sets.load import load_rule_set
from bankside.gauging.rule_sets.rule_set import RuleSet

__all__ = ["rules_for"]


def rules_for(gauging: Gauging, asked: str | None) -> tuple[RuleSet, tuple[str, ...]]:
    """Return the rule set asked for, else the one the record names, else common practice.

    Beside it stand sentences where the record names one that is not known here, and where a limit
    for wading is laxer than the base's. InputRefused where the one asked for cannot be loaded.
    """
    if asked is None:
        rules, remarks = rules_of(gauging)
        unknown = gauging.rule_set not in (None, rules.name)
        return rules, (*remarks, "--rules names another rule set.") if unknown else remarks
    rules = load_rule_set(asked)
    return rules, laxer_for_wading(rules)
