"""Records from what was said: what cannot enter is left out and named, and the rest is made."""

import re
from collections.abc import Collection, Mapping, Sequence
from typing import Any, TypeVar

import attrs

from bankside.gauging.checked import Checked
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.journal.fold import Said

__all__ = ["EntryFault", "Part", "fault_of", "made"]

R = TypeVar("R", bound=Checked)

_HEAD = re.compile(r"(\w+)(?:\[(\d+)\])?")


@attrs.frozen
class EntryFault:
    """Why something that was said cannot enter the record.

    `path` is what was said, such as channels/1/verticals/v3/depth; `entries` are the ids of the
    entries that say so, none where something was not said at all.
    """

    message: str
    path: str
    entries: tuple[str, ...] = ()


@attrs.frozen
class Part:
    """A value on its way into a record, and what was said to give it."""

    value: Any
    said: Said


def fault_of(message: str, *said: Said) -> EntryFault:
    """Return a fault of what was said; its place is the first, its entries are those that stand."""
    return EntryFault(message, said[0].what, tuple(one.entry.id for one in said))


def made(
    record: type[R],
    parts: Mapping[str, Part | Sequence[Part]],
    faults: list[EntryFault],
    unsound: Collection[str] = (),
    whole: Said | None = None,
) -> tuple[R | None, dict[str, Any]]:
    """Return a record of these parts and the parts that are in it; None where none can be made.

    The parts that the record refuses are left out one by one, and `faults` says why. Of what
    concerns the fields in `unsound`, enough was said before. `whole` is what was said if all parts
    were said at once.
    """
    kept: dict[str, Any] = dict(parts)
    needed = {f.name for f in attrs.fields(record) if f.default is attrs.NOTHING}
    while needed <= kept.keys():
        try:
            return record(**{name: _value(part) for name, part in kept.items()}), kept
        except InputRefused as refused:
            problems = [_problem(fault) for fault in refused.faults]
        absent = [problem for problem in problems if problem.field not in kept]
        if absent:
            each = dict.fromkeys(said for part in kept.values() for said in _said(part))
            every = tuple(each) if whole is None else (whole,)
            told = [problem.message for problem in absent if problem.field not in unsound]
            faults += [fault_of(message, *every) for message in told]
            break
        for problem in sorted(problems, key=lambda problem: -problem.index):
            faults.append(fault_of(problem.message, *_left_out(kept, problem)))
    return None, {}


@attrs.frozen
class _Problem:
    """What a record refuses: a field, the place in it from 0 (-1: the whole), and why."""

    field: str
    index: int
    message: str


def _problem(fault: Fault) -> _Problem:
    head = _HEAD.match(fault.path or "")
    assert head is not None  # every fault of a record has its path
    return _Problem(head[1], -1 if head[2] is None else int(head[2]), fault.message)


def _left_out(kept: dict[str, Any], problem: _Problem) -> tuple[Said, ...]:
    """Leave out what a record refuses, and return what was said to give it."""
    part = kept[problem.field]
    if isinstance(part, Part) or problem.index < 0:
        del kept[problem.field]
        return _said(part)
    kept[problem.field] = [*part[: problem.index], *part[problem.index + 1 :]]
    return (part[problem.index].said,)


def _said(part: Part | Sequence[Part]) -> tuple[Said, ...]:
    return (part.said,) if isinstance(part, Part) else tuple(one.said for one in part)


def _value(part: Part | Sequence[Part]) -> Any:
    return part.value if isinstance(part, Part) else tuple(one.value for one in part)
