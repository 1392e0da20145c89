"""By which rule set the gaugings of a survey are held against each other."""

from __future__ import annotations

from bankside.gauging.rule_sets.load import load_rule_set, shipped_names
from bankside.gauging.rule_sets.rule_set import RuleSet
from bankside.survey.records import Survey

__all__ = ["rules_of_survey"]


def rules_of_survey(survey: Survey) -> RuleSet | None:
    """Return the shipped rule set that a survey names, None where it names none that is known."""
    named = survey.rule_set
    return load_rule_set(named) if named is not None and named in shipped_names() else None
