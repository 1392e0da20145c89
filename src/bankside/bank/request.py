"""The members of a request, each read strictly; everything wrong with them is said at once."""

from __future__ import annotations

import datetime
import re
from collections.abc import Callable, Sequence
from decimal import Decimal
from typing import Any, Final

from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.fields import shown
from bankside.gauging.journal.kinds import moment_of
from bankside.gauging.rule_sets.load import BASE, load_rule_set, shipped_names
from bankside.gauging.rule_sets.rule_set import RuleSet
from bankside.gauging.structure import JsonObject

__all__ = ["Request"]

_FIGURE: Final = re.compile(r"[+-]?(\d+(\.\d*)?|\.\d+)", re.ASCII)
# Far more digits than anybody types; what is longer is no reading.
_LONGEST_FIGURE: Final = 40


class Request:
    """A request being read: its methods note what is wrong, and `done` refuses it for that."""

    def __init__(self, members: JsonObject) -> None:
        self._members = members
        self._faults: list[Fault] = []
        self._asked = {"ask"}

    def figure(self, name: str) -> Decimal | None:
        """Return a figure, a text such as "4.0" exactly as typed; None where it is not given."""
        found = self._read(name, 'a figure as typed, such as "4.0"', _is_figure)
        return None if found is None else Decimal(found)

    def percent(self, name: str) -> float | None:
        """Return a percentage above 0 and up to 100; None where it is not given."""
        wants = 'a percentage above 0 and up to 100 as typed, such as "8"'
        found = self._read(name, wants, _is_percentage)
        return None if found is None else float(found)

    def count(self, name: str) -> int | None:
        """Return a whole number; None where it is not given."""
        found: int | None = self._read(name, "a whole number", _is_count)
        return found

    def word(self, name: str, words: Sequence[str]) -> Any:
        """Return one of a few words; None where it is not given."""
        wants = "one of " + ", ".join(f'"{word}"' for word in words)
        return self._read(name, wants, lambda found: isinstance(found, str) and found in words)

    def flag(self, name: str) -> bool | None:
        """Return true or false; None where it is not given."""
        found: bool | None = self._read(name, "true or false", lambda it: isinstance(it, bool))
        return found

    def moment(self, name: str) -> datetime.datetime | None:
        """Return a date and time with its offset from UTC; None where it is not given."""
        wants = "a date and time with its offset from UTC such as 2026-07-14T10:05:00-07:00"
        return moment_of(self._read(name, wants, lambda it: moment_of(it) is not None))

    def entries(self, name: str) -> list[object] | None:
        """Return the entries of a journal, unread; None where they are not given."""
        found: list[object] | None = self._read(
            name, "a list of entries", lambda it: isinstance(it, list)
        )
        return found

    def document(self, name: str) -> JsonObject | None:
        """Return a JSON object, unread; None where it is not given."""
        found: JsonObject | None = self._read(
            name, "a JSON object", lambda it: isinstance(it, JsonObject)
        )
        return found

    def figures(self, name: str, members: Sequence[str]) -> list[tuple[Decimal, ...]] | None:
        """Return a list of objects whose members are figures; None where it is not given."""
        each = " and ".join(members)
        found = self._read(
            name,
            f"a list of objects with {each}, figures as typed",
            lambda it: isinstance(it, list) and all(_has_figures(one, members) for one in it),
        )
        if found is None:
            return None
        return [tuple(Decimal(one[member]) for member in members) for one in found]

    def text(self, name: str) -> str | None:
        """Return a text; None where it is not given."""
        found: str | None = self._read(name, "a text", lambda it: isinstance(it, str))
        return found

    def rules(self) -> tuple[RuleSet, tuple[str, ...]]:
        """Return the shipped rule set that is named, common practice where none is.

        Beside it stands a sentence where the one that is named is not known here, as where a
        journal came from a crew with rules of its own: common practice is used then.
        """
        named = self._read("rule_set", "the name of a rule set", lambda it: isinstance(it, str))
        if named is None or named in shipped_names():
            return load_rule_set(named or BASE), ()
        unknown = f'The rule set {shown(named)} is not known here: "{BASE}" is used.'
        return load_rule_set(BASE), (unknown,)

    def done(self, *needed: str) -> None:
        """Refuse the request with all that is wrong with it, once everything in it was read.

        needed: the members that it cannot do without.
        """
        absent = [name for name in needed if self._members.get(name) is None]
        self._faults += [Fault(f"{name} must be given", path=name) for name in absent]
        known = ", ".join(sorted(self._asked - {"ask"})) or "nothing"
        unknown = [key for key in self._members if key not in self._asked]
        self._faults += [
            Fault(f"beside ask there must be {known} (got {shown(key)})") for key in unknown
        ]
        repeated = sorted(self._members.repeated)
        self._faults += [Fault(f"{shown(key)} must be written once") for key in repeated]
        if self._faults:
            raise InputRefused(self._faults)

    def _read(self, name: str, wants: str, holds: Callable[[object], bool]) -> Any:
        """Return a member, None where it is not given; what does not hold is noted as wrong."""
        self._asked.add(name)
        found = self._members.get(name)
        if found is None or holds(found):
            return found
        self._faults.append(Fault(f"{name} must be {wants} (got {shown(found)})", path=name))
        return None


def _is_figure(found: object) -> bool:
    return (
        isinstance(found, str)
        and len(found) <= _LONGEST_FIGURE
        and _FIGURE.fullmatch(found) is not None
    )


def _is_percentage(found: object) -> bool:
    return _is_figure(found) and 0 < Decimal(str(found)) <= 100


def _has_figures(found: object, members: Sequence[str]) -> bool:
    return (
        isinstance(found, JsonObject)
        and set(found) == set(members)
        and all(map(_is_figure, found.values()))
    )


def _is_count(found: object) -> bool:
    return isinstance(found, int) and not isinstance(found, bool)
