"""The rules of an invented crew."""

from bankside.gauging.rule_sets.load import rule_set_from_toml
from bankside.gauging.rule_sets.rule_set import RuleSet


def own_rules(**values: tuple[float, str]) -> RuleSet:
    """The rules of an invented crew: threshold → value and unit."""
    return rule_set_from_toml(
        'format = "bankside.rules/1"\nname = "quill"\ntitle = "Quill Brook crew"\n[values]\n'
        + "".join(
            f'{name} = {{ value = {value}, unit = "{unit}", source = "the crew", '
            'confidence = "practice" }\n'
            for name, (value, unit) in values.items()
        )
    )
