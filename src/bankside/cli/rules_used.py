"""Which rule set a gauging is looked at by."""

from __future__ import annotations

from bankside.gauging.records import Gauging
from bankside.gauging.rule_sets.load import BASE, load_rule_set, shipped_names
from bankside.gauging.rule_sets.rule_set import RuleSet

__all__ = ["rules_for"]


def rules_for(gauging: Gauging, asked: str | None) -> tuple[RuleSet, str | None]:
    """Return the rule set asked for, else the one the record names, else common practice.

    Beside it stands a sentence where the record names one that is not known here. InputRefused
    where the one asked for cannot be loaded.
    """
    if asked is not None:
        return load_rule_set(asked), None
    if gauging.rule_set is None:
        return load_rule_set(BASE), None
    if gauging.rule_set in shipped_names():
        return load_rule_set(gauging.rule_set), None
    return load_rule_set(BASE), (
        f'The record names the rule set "{gauging.rule_set}", which is not known here: '
        f'"{BASE}" is used; --rules says another.'
    )
