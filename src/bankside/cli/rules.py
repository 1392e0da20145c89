"""`bankside rules`: which thresholds there are, where each comes from, and how to set one's own."""

from __future__ import annotations

import json
import os
from pathlib import Path
from typing import Annotated, Any

from cyclopts import App, Parameter

from bankside.cli.examples import examples
from bankside.cli.output import suffix_faults, write_file, write_utf8
from bankside.cli.render import PlainConsole
from bankside.cli.rules_output import (
    comparison_as_document,
    list_as_document,
    render_comparison,
    render_list,
    render_rule_set,
    rule_set_as_document,
)
from bankside.cli.rules_starter import starter
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.rule_sets.load import load_rule_set, shipped_names

__all__ = ["rules_app"]

AsJson = Annotated[bool, Parameter(name="--json", show_default=False)]

rules_app = App(
    name="rules",
    help="The thresholds that checks go by: list the rule sets that are shipped, show one, compare "
    "several, or start your own.",
    help_epilogue=examples("rules"),
)


@rules_app.command(name="list", help_epilogue=examples("rules list"))
def list_command(*, as_json: AsJson = False) -> None:
    """List the rule sets that come with Bankside, and how far their values can be trusted.

    Parameters
    ----------
    as_json
        Print the list as JSON.
    """
    rule_sets = [load_rule_set(name) for name in shipped_names()]
    if as_json:
        _print_json(list_as_document(rule_sets))
    else:
        render_list(PlainConsole(), rule_sets)


@rules_app.command(name="show", help_epilogue=examples("rules show"))
def show_command(
    rules: str,
    /,
    *,
    own: Annotated[bool, Parameter(show_default=False)] = False,
    as_json: AsJson = False,
) -> None:
    """Show the thresholds of a rule set, each with its source and who has checked it.

    Parameters
    ----------
    rules
        The name of a shipped rule set, or the path of a TOML file.
    own
        Only what this rule set says itself, not what it takes from the one it is based on.
    as_json
        Print the rule set as JSON.
    """
    rule_set = load_rule_set(rules)
    if as_json:
        _print_json(rule_set_as_document(rule_set, own))
    else:
        render_rule_set(PlainConsole(), rule_set, own)


@rules_app.command(name="compare", help_epilogue=examples("rules compare"))
def compare_command(first: str, second: str, /, *more: str, as_json: AsJson = False) -> None:
    """Set side by side the thresholds in which rule sets differ.

    Parameters
    ----------
    first
        The name of a shipped rule set, or the path of a TOML file; its units are the ones shown.
    second
        The rule set to compare with it.
    more
        Further ones.
    as_json
        Print the comparison as JSON.
    """
    asked = (first, second, *more)
    rule_sets = [load_rule_set(name) for name in asked]
    if as_json:
        _print_json(comparison_as_document(rule_sets))
    else:
        names = [rule_set.name for rule_set in rule_sets]
        render_comparison(
            PlainConsole(), names if len(set(names)) == len(names) else asked, rule_sets
        )


@rules_app.command(name="start", help_epilogue=examples("rules start"))
def start_command(
    rules: str,
    /,
    *,
    output: Annotated[Path | None, Parameter(name=("--output", "-o"))] = None,
    replace: Annotated[bool, Parameter(show_default=False)] = False,
) -> None:
    """Write a rule set to edit: based on another, with all its values as comments.

    Parameters
    ----------
    rules
        The rule set to stand on: the name of a shipped one, or the path of a TOML file.
    output
        The file to write, ending in .toml; standard output if nothing is said.
    replace
        Write over a file that is there already.
    """
    below = load_rule_set(rules)
    if rules in shipped_names():
        based_on = rules
    else:
        folder = Path() if output is None else output.parent
        based_on = Path(os.path.relpath(rules, folder)).as_posix()
        if not based_on.isprintable():
            raise InputRefused(
                [Fault("a path of letters that can be printed would be right", rules)]
            )
    if output is None:
        write_utf8(starter(below, based_on, "our-rules"))
        return
    faults = suffix_faults(output, ".toml")
    if faults:
        raise InputRefused(faults)
    text = starter(below, based_on, output.stem)
    write_file(output, replace, lambda path: path.write_bytes(text.encode("utf-8")))


def _print_json(document: dict[str, Any]) -> None:
    write_utf8(json.dumps(document, ensure_ascii=False, indent=2, allow_nan=False) + "\n")
