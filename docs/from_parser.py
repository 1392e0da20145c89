"""The commands and options, from the parser of the command line itself."""

import inspect
import types
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from cyclopts import App, ArgumentCollection
from cyclopts.argument import Argument

from bankside.cli import app
from bankside.cli.examples import EXAMPLES

VALUES = {Path: "path", str: "text", int: "whole number", float: "number", date: "day"}
"""What a value is called, where its type is no list of choices."""


def command_blocks() -> dict[str, str]:
    """Return the generated part on the commands, and on the options that several share."""
    shared: dict[str, ArgumentCollection] = {}
    commands = "\n\n".join(_section(words, shared) for words in leaves(app))
    groups = "\n\n".join(f"### {name}\n\n{_table(arguments)}" for name, arguments in shared.items())
    return {"commands": commands, "shared options": groups}


def leaves(of: App, above: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    """Give the words of every command that does something, in the order of the help."""
    for name in of:
        if name.startswith("-"):
            continue
        words = (*above, name)
        below = list(leaves(of[name], words))
        yield from below or [words]


def arguments_of(words: tuple[str, ...]) -> ArgumentCollection:
    """Return what a command takes, as its parser sees it."""
    found = _command(words).assemble_argument_collection(
        default_parameter=app.default_parameter, parse_docstring=True
    )
    return found.filter_by(show=True)


def _command(words: tuple[str, ...]) -> App:
    command = app
    for word in words:
        command = command[word]
    return command


def _section(words: tuple[str, ...], shared: dict[str, ArgumentCollection]) -> str:
    """Return a command's part; options of a named group go to `shared`, and are linked."""
    arguments = [one for one in arguments_of(words) if one.names != ("*",)]
    own = [one for one in arguments if _group(one) in ("Arguments", "Parameters")]
    named = list(dict.fromkeys(_group(one) for one in arguments if one not in own))
    for name in named:
        shared[name] = ArgumentCollection(one for one in arguments if _group(one) == name)
    links = " and ".join(f"[{name}](#{name.lower().replace(' ', '-')})" for name in named)
    lines = "\n".join(f"bankside {line}" for _, line in EXAMPLES[" ".join(words)])
    parts = [
        f"### bankside {' '.join(words)}",
        _about(_command(words)),
        f"```\n{lines}\n```",
        _table(own) if own else "",
        f"Also takes the options of: {links}." if named else "",
    ]
    return "\n\n".join(part for part in parts if part)


def _about(command: App) -> str:
    """Return what a command says of itself, without its parameters."""
    text = inspect.getdoc(command.default_command) or ""
    paragraphs = text.partition("\nParameters\n---")[0].split("\n\n")
    return "\n\n".join(" ".join(one.split()) for one in paragraphs if one.strip())


def _group(argument: Argument) -> str:
    return str(argument.parameter.group[0].name)


def _table(arguments: "list[Argument] | ArgumentCollection") -> str:
    rows = "\n".join(_row(one) for one in arguments)
    return f"| argument or option | value | what it says |\n|---|---|---|\n{rows}"


def _row(argument: Argument) -> str:
    names = ", ".join(f"`{name}`" for name in argument.names)
    says = " ".join((argument.parameter.help or "").replace("|", "\\|").split())
    if argument.required:
        says += " Needed."
    elif _shows_default(argument):
        default = argument.field_info.default
        shown = f"{default:g}" if isinstance(default, float) else str(default)
        says += f" `{shown}` if nothing is said."
    return f"| {names} | {_value(argument)} | {says} |"


def _shows_default(argument: Argument) -> bool:
    default = argument.field_info.default
    optional = argument.names[0].startswith("-")
    return optional and isinstance(default, (str, int, float)) and not isinstance(default, bool)


def _value(argument: Argument) -> str:
    choices = argument.get_choices()
    if choices:
        return ", ".join(f"`{choice}`" for choice in choices)
    return _word(argument.hint)


def _word(hint: Any) -> str:
    """Return what values of a type are called."""
    if hint is bool:
        return ""
    origin, inner = get_origin(hint), get_args(hint)
    if origin in (Union, types.UnionType):
        return _word(next(one for one in inner if one is not type(None)))
    if origin is Annotated:
        return _word(inner[0])
    if origin is Literal:
        return ", ".join(f"`{one}`" for one in inner)
    if origin in (list, tuple):
        return f"{_word(inner[0])}, repeatable"
    return VALUES[hint]
