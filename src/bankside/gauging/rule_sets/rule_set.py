"""A rule set: thresholds with their sources, each standing on the one it is based on.

A rule set is a TOML file. It may be based on another and then says only what differs; whatever it
says goes before. Nothing here claims the authority of an agency: each value carries its source,
how far that can be trusted, and who has checked it against the publication, if anybody has.
"""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from typing import Literal

import attrs

from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.rule_sets.thresholds import THRESHOLDS, UNITS, Dimension

__all__ = ["Confidence", "RuleSet", "Steps", "Threshold"]

Confidence = Literal["read", "memory high", "memory medium", "memory low", "practice", "computed"]
"""How far a value's source can be trusted: read in it; recalled, and how surely; common practice
without a source; or worked out by us in a simulation."""

Steps = tuple[tuple[float, float], ...]
"""Pairs of a width and a number that holds from that width on, widths rising from 0."""


@attrs.frozen
class Threshold:
    """One value of a rule set as written, with its source; `rule_set` is the one that says it."""

    name: str
    value: float | Steps
    unit: str
    source: str
    confidence: Confidence
    rule_set: str
    checked_by: str | None = None
    checked_on: datetime.date | None = None

    @property
    def meaning(self) -> str:
        """What the threshold means, in a phrase."""
        return THRESHOLDS[self.name].meaning

    @property
    def si(self) -> float:
        """The value in SI: metres, m/s, m²/s, seconds; percent and plain numbers as they are."""
        if isinstance(self.value, tuple):
            raise TypeError(f"{self.name} is a table, not a number")
        return self.value * UNITS[THRESHOLDS[self.name].dimension][self.unit]

    def step_for(self, width_m: float) -> float:
        """Return the number that a table gives for a width in metres."""
        if not isinstance(self.value, tuple):
            raise TypeError(f"{self.name} is a number, not a table")
        metres = UNITS["steps"][self.unit]
        found = self.value[0][1]
        for width, number in self.value:
            if width_m >= width * metres:
                found = number
        return found

    def words(self) -> str:
        """Return the value with its unit as it stands in the rule set: "2.5 ft", "10 %", "20"."""
        if isinstance(self.value, tuple):
            return ", ".join(
                f"{_figure(number)} from {_figure(width)} {self.unit}"
                for width, number in self.value
            )
        figure = _figure(self.value)
        return figure if self.unit == "1" else f"{figure} {_SHOWN[self.unit]}"

    def words_in(self, system: Literal["ft", "m"], figures: int = 3) -> str:
        """Return the value in feet or in metres, as written in brackets where that differs.

        figures: to how many it is worked out where it was written in another unit.
        """
        own = _OWN_UNITS[system].get(THRESHOLDS[self.name].dimension)
        written = self.words()
        if own is None or written.endswith(f" {_SHOWN[own]}"):
            return written
        per_si = UNITS[THRESHOLDS[self.name].dimension][own]
        return f"{self.si / per_si:.{figures}g} {_SHOWN[own]} ({written})"


def _figure(value: float) -> str:
    """Return a number with every digit that it was written with."""
    return repr(value).removesuffix(".0")


_OWN_UNITS: Mapping[str, Mapping[Dimension, str]] = {
    "ft": {"length": "ft", "velocity": "ft/s", "depth × velocity": "ft2/s"},
    "m": {"length": "m", "velocity": "m/s", "depth × velocity": "m2/s"},
}
"""What people read lengths, velocities and their products in, by the unit of their tape."""

_SHOWN: Mapping[str, str] = {
    **{unit: unit for units in UNITS.values() for unit in units},
    "ft2/s": "ft²/s",
    "m2/s": "m²/s",
}


@attrs.frozen
class RuleSet:
    """Thresholds by name, its own and those of the rule set it is based on."""

    name: str
    title: str
    about: str
    based_on: str | None
    values: Mapping[str, Threshold]

    def __getitem__(self, name: str) -> Threshold:
        return self.values[name]

    def get(self, name: str) -> Threshold | None:
        """Return a threshold, None where neither this rule set nor the one below sets it."""
        return self.values.get(name)

    def needed(self, name: str) -> Threshold:
        """Return a threshold that the asker cannot do without; InputRefused where it is not set."""
        found = self.get(name)
        if found is None:
            raise InputRefused([Fault(f'the rule set "{self.name}" must set {name}')])
        return found

    def si(self, name: str) -> float:
        """Return the value of a threshold in SI."""
        return self.values[name].si

    @property
    def own(self) -> Mapping[str, Threshold]:
        """The thresholds that this rule set says itself."""
        return {name: value for name, value in self.values.items() if value.rule_set == self.name}
