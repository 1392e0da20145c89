"""A record that cannot be built while anything about it is wrong, and that says all of it."""

from collections.abc import Callable, Collection, Iterable, Iterator
from typing import Any, ClassVar

import attrs

from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.fields import kind_of, shown

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
        for field in attrs.fields(type(self)):
            fault = fault_of_field(field, getattr(self, field.name))
            if fault is not None:
                faults.append(fault)
                broken.add(field.name)
        faults.extend(faults_of_rules(self, broken))
        if faults:
            raise InputRefused(faults)


def fault_of_field(field: "attrs.Attribute[Any]", value: object) -> Fault | None:
    """Return what is wrong with the value of one field by itself, if anything is."""
    if value is None and field.default is None:
        return None
    kind = kind_of(field)
    if kind.holds(value):
        return None
    return Fault(f"{field.name} must be {kind.wants} (got {shown(value)})", path=field.name)


def faults_of_rules(record: Checked, broken: Collection[str]) -> Iterator[Fault]:
    """Yield what is wrong between the fields of a record, as far as they are not `broken`."""
    for rule in record.rules:
        if not any(name in broken for name in rule.reads):
            yield from rule.find(record)
