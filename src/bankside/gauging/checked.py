"""A record that cannot be built while anything about it is wrong, and that says all of it."""

from collections.abc import Callable, Collection, Iterable, Iterator
from functools import cache
from typing import Any, ClassVar

import attrs

from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.fields import Kind, kind_of, shown

__all__ = ["Checked", "Rule", "fault_of_field", "faults_of_rules"]


@attrs.frozen
class Rule:
    """What must hold between fields of a record.

    `find` yields the faults of a record, each with a path from that record. It is asked only when
    every field in `reads` is sound by itself; an element of a tuple may be None where it was not.
    """

    reads: tuple[str, ...]
    find: Callable[[Any], Iterable[Fault]]


@attrs.frozen
class Checked:
    """The base of every record: its constructor refuses the values together with every reason."""

    rules: ClassVar[tuple[Rule, ...]] = ()

    def __attrs_post_init__(self) -> None:
        faults: list[Fault] = []
        broken: set[str] = set()
        record: type = type(self)
        for name, field, kind, may_be_none in _fields_of(record):
            value = getattr(self, name)
            # The usual case is told here, as records are made by the hundred after every reading.
            if (value is None and may_be_none) or kind.holds(value):
                continue
            fault = fault_of_field(field, value)
            if fault is not None:
                faults.append(fault)
                broken.add(name)
        faults.extend(faults_of_rules(self, broken))
        if faults:
            raise InputRefused(faults)


@cache
def _fields_of(
    record: type,
) -> tuple[tuple[str, "attrs.Attribute[Any]", Kind, bool], ...]:
    """Return the fields of a record: name, field, what it may hold, and whether it may be None."""
    return tuple(
        (field.name, field, kind_of(field), field.default is None) for field in attrs.fields(record)
    )


def fault_of_field(field: "attrs.Attribute[Any]", value: object) -> Fault | None:
    """Return what is wrong with the value of one field by itself, if anything is."""
    if value is None and field.default is None:
        return None
    kind = kind_of(field)
    if kind.holds(value):
        return None
    found = "something else" if field.metadata.get("secret") else shown(value)
    return Fault(f"{field.name} must be {kind.wants} (got {found})", path=field.name)


def faults_of_rules(record: Checked, broken: Collection[str]) -> Iterator[Fault]:
    """Yield what is wrong between the fields of a record, as far as they are not `broken`."""
    for rule in record.rules:
        if not any(name in broken for name in rule.reads):
            yield from rule.find(record)
