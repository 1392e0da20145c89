"""Rule sets from TOML: those shipped with Bankside, and a crew's own."""

from __future__ import annotations

import os
from collections.abc import Iterable
from functools import cache
from importlib import resources
from pathlib import Path
from typing import Any, Final

import attrs

from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.rule_sets.document import (
    FORMAT,
    did_you_mean,
    document_faults,
    document_from_toml,
    found,
    thresholds,
)
from bankside.gauging.rule_sets.order import order_faults
from bankside.gauging.rule_sets.rule_set import RuleSet

__all__ = ["BASE", "FORMAT", "load_rule_set", "rule_set_from_toml", "shipped_names"]

BASE: Final = "common-practice"
"""The rule set that sets every threshold, on which the others stand."""

_SHIPPED = resources.files(__package__) / "shipped"
_SUFFIX: Final = ".toml"
# Far more than rule sets need; what is larger is some other file.
_MOST_BYTES: Final = 1024 * 1024
_MOST_FILES: Final = 20


@cache
def shipped_names() -> tuple[str, ...]:
    """Return the names of the rule sets that come with Bankside, the base first."""
    names = sorted(
        entry.name.removesuffix(_SUFFIX)
        for entry in _SHIPPED.iterdir()
        if entry.name.endswith(_SUFFIX)
    )
    return (BASE, *(name for name in names if name != BASE))


def load_rule_set(name: str) -> RuleSet:
    """Return a shipped rule set by its name, or a rule set of one's own by the path of its file.

    InputRefused if there is neither, or with everything that is wrong with the file and with the
    files that it is based on.
    """
    if name in shipped_names():
        return _shipped(name)
    if not name.lower().endswith(_SUFFIX):
        raise InputRefused([Fault(f"a rule set must be {_wanted(name)}")])
    try:
        text = _text_of(Path(name))
    except InputRefused as refused:
        raise InputRefused(_placed(refused.faults, name)) from refused
    return _own(text, name, (os.path.realpath(name),))


def rule_set_from_toml(text: str, file: str | None = None) -> RuleSet:
    """Return the rule set that a TOML text holds; InputRefused with everything wrong with it.

    `file` only names the text in faults. A text stands by itself, so it may be based on a shipped
    rule set and not on a file.
    """
    return _own(text, file, ())


@cache
def _shipped(name: str) -> RuleSet:
    file = f"{name}{_SUFFIX}"
    document = document_from_toml((_SHIPPED / file).read_text(encoding="utf-8"))
    faults = tuple(document_faults(document))
    if faults:
        raise InputRefused(_placed(faults, file))
    below = None if name == BASE else _shipped(document.get("based_on", BASE))
    return _stacked(document, below, file)


def _own(text: str, file: str | None, way: tuple[str, ...]) -> RuleSet:
    """Return the rule set of a text.

    `way` are the real paths of the files from the one asked for to this one, each based on the
    next; empty for a text that is in no file.
    """
    try:
        document = document_from_toml(text)
    except InputRefused as refused:
        raise InputRefused(_placed(refused.faults, file)) from refused
    faults = list(_placed(document_faults(document), file))
    base = document.get("based_on", BASE)
    below = None
    if isinstance(base, str):
        try:
            below = _below(base, file, way)
        except InputRefused as refused:
            faults += refused.faults
    name = document.get("name")
    if name in shipped_names() or (below is not None and name in _names(below)):
        message = f"name must not be that of a shipped rule set or of one below (got {found(name)})"
        faults.append(Fault(message, file=file, path="name"))
    if faults:
        raise InputRefused(faults)
    return _stacked(document, below, file)


def _below(base: str, file: str | None, way: tuple[str, ...]) -> RuleSet:
    """Return the rule set that the last one of the way is based on."""
    if base in shipped_names():
        return _shipped(base)
    if not (way and base.lower().endswith(_SUFFIX)):
        wanted = _wanted(base) if way else f"the name of a shipped rule set (got {found(base)})"
        raise InputRefused([Fault(f"based_on must be {wanted}", file=file, path="based_on")])
    beside = Path(file or "").parent / base
    try:
        text = _text_of(beside)
    except InputRefused as refused:
        faults = (
            attrs.evolve(fault, message=f"{found(base)}: {fault.message}", path="based_on")
            for fault in refused.faults
        )
        raise InputRefused(_placed(faults, file)) from refused
    real = os.path.realpath(beside)
    if real in way:
        round_about = " → ".join(Path(step).name for step in (*way[way.index(real) :], real))
        message = f"based_on must not lead back to where it began ({round_about})"
        raise InputRefused([Fault(message, file=file, path="based_on")])
    if len(way) == _MOST_FILES:
        message = f"based_on must not lead through more than {_MOST_FILES} files"
        raise InputRefused([Fault(message, file=file, path="based_on")])
    return _own(text, str(beside), (*way, real))


def _stacked(document: dict[str, Any], below: RuleSet | None, file: str | None) -> RuleSet:
    """Return the rule set of a document without faults, on top of the one that it is based on."""
    values = {**({} if below is None else below.values), **thresholds(document)}
    faults = tuple(_placed(order_faults(values), file))
    if faults:
        raise InputRefused(faults)
    return RuleSet(
        name=document["name"],
        title=document["title"],
        about=document.get("about", ""),
        based_on=None if below is None else below.name,
        values=values,
    )


def _text_of(path: Path) -> str:
    """Return the text of a file; InputRefused, without a place, if it cannot be read."""
    try:
        if not path.is_file():
            what = "a folder or a device" if path.exists() else "no such file"
            raise InputRefused([Fault(f"found {what}; a TOML file of thresholds would be right")])
        if path.stat().st_size > _MOST_BYTES:
            message = f"found more than {_MOST_BYTES:,} bytes; a TOML file of thresholds is smaller"
            raise InputRefused([Fault(message)])
        return path.read_bytes().decode("utf-8-sig")
    except OSError as error:
        message = f"could not be opened ({error.strerror or error}); a file to read would be right"
        raise InputRefused([Fault(message)]) from error
    except UnicodeDecodeError as error:
        message = f"found a byte (number {error.start + 1}) that is no UTF-8; UTF-8 would be right"
        raise InputRefused([Fault(message)]) from error


def _names(rule_set: RuleSet) -> set[str]:
    """Return the names of a rule set and of those below that say a value of it."""
    return {rule_set.name, *(value.rule_set for value in rule_set.values.values())}


def _placed(faults: Iterable[Fault], file: str | None) -> Iterable[Fault]:
    return (attrs.evolve(fault, file=file) for fault in faults)


def _wanted(name: str) -> str:
    """Return what would be the name of a rule set, to follow "must be"."""
    listed = ", ".join(f'"{known}"' for known in shipped_names())
    return (
        f"one of {listed} or the path of a {_SUFFIX} file (got {found(name)})"
        f"{did_you_mean(name, shipped_names())}"
    )
