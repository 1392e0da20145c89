"""What lines around a table tell, key by key; what is not understood is kept as a remark and said.

Nothing that these lines tell enters the discharge, so a gauging is refused only for a figure that
cannot be.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping
from typing import TypeVar

import attrs

from bankside.gauging.faults import Fault
from bankside.sheets.dates import DateStyle, as_clock, as_date, as_moment
from bankside.sheets.files.grid import CellValue
from bankside.sheets.group import Group
from bankside.sheets.keys import KEYS
from bankside.sheets.values import ValueFault, as_label, figure_of, is_empty
from bankside.sheets.words import parse_unit

__all__ = ["Figure", "Told", "figure_in"]

T = TypeVar("T")

_WANTED_MOMENT = "a moment such as 2026-07-14T10:05-06:00"


@attrs.frozen
class Figure:
    """A figure on a line, with the unit and the moment behind it, and what else stands there."""

    value: float
    unit: str | None
    at: datetime.datetime | None
    rest: str


def figure_in(text: str) -> Figure | None:
    """Return the figure with which a text begins ("0.52 m at 2026-07-14T10:05+02:00"), or None."""
    value = figure_of(text)
    if value is None:
        return None
    words = text.split()[1:]
    unit = parse_unit(words[0]) if words else None
    words = words if unit is None else words[1:]
    at = as_moment(words[-1]) if words else None
    if at is not None:
        words = [word for word in words[:-1] if word not in ("at", "@")]
    return Figure(value, None if unit is None else unit.name, at, " ".join(words))


@attrs.define
class Told:
    """The lines around the table of one gauging, with the remarks, notes and faults they give."""

    group: Group
    remarks: list[str] = attrs.field(factory=list)
    notes: list[str] = attrs.field(factory=list)
    faults: list[Fault] = attrs.field(factory=list)

    def values(self, key: str) -> Iterator[tuple[CellValue, int]]:
        """Yield the values given for a key, with the numbers of their rows."""
        for name, value, row in self.group.preface.pairs:
            if name == key and not is_empty(value):
                yield value, row

    def one(self, key: str) -> tuple[CellValue, int] | None:
        """Return the first value given for a key with its row; any other one is a remark."""
        values = list(self.values(key))
        self.remarks.extend(
            f"{_name(key)}: {as_label(value)}" for value, _ in values[1:] if value != values[0][0]
        )
        return values[0] if values else None

    def text(self, key: str) -> str | None:
        """Return the text given for a key."""
        told = self.one(key)
        return None if told is None else as_label(told[0])

    def word(self, key: str, words: Mapping[str, T], wanted: str) -> T | None:
        """Return what one of some words means; any other text is kept as a remark."""
        told = self.one(key)
        if told is None:
            return None
        meaning = words.get((as_label(told[0]) or "").casefold())
        if meaning is None:
            self.keep(key, *told, wanted)
        return meaning

    def day(self, key: str, style: DateStyle) -> datetime.date | None:
        """Return the day given for a key; what is none, or could be two, is kept as a remark."""
        told = self.one(key)
        if told is None:
            return None
        try:
            return as_date(told[0], style)
        except ValueFault as problem:
            self.keep(key, *told, "", because=str(problem))
            return None

    def moment(self, key: str) -> datetime.datetime | None:
        """Return the moment given for a key; one without its offset from UTC is a remark."""
        told = self.one(key)
        if told is None:
            return None
        value, row = told
        moment = as_moment(value)
        if moment is None and not _is_time(value):
            self.keep(key, value, row, _WANTED_MOMENT)
        elif moment is None:
            text = as_label(value)
            self.remarks.append(f"{_name(key)} {text} (no time zone on the sheet)")
            self.notes.append(
                f'The {_name(key)} "{text}" on row {row} has no time zone and is kept as a remark; '
                f"{_WANTED_MOMENT} would be right."
            )
        return moment

    def figures(
        self, key: str, unit: str, wanted: str, least: float | None = None
    ) -> list[tuple[float, datetime.datetime | None]]:
        """Return the figures given for a key, in `unit`, with their moments.

        What is no figure, or one in another unit, is kept as a remark; one below `least` is a
        fault.
        """
        beside = as_label(self.group.preface.first(f"{key}_unit"))
        found = []
        for value, row in self.values(key):
            figure = figure_in(as_label(value) or "")
            if figure is None or figure.rest or (figure.unit or beside or unit) != unit:
                self.keep(key, value, row, wanted)
            elif least is not None and figure.value < least:
                message = (
                    f"found the {_name(key)} {figure.value:g}; {wanted}, {least:g} or more, would "
                    "be right"
                )
                grid = self.group.tables[0].grid
                self.faults.append(Fault(message, grid.file, grid.sheet, row))
            else:
                found.append((figure.value, figure.at))
        return found

    def keep(
        self, key: str, value: CellValue, row: int, wanted: str, because: str | None = None
    ) -> None:
        """Keep a value as a remark, and say why."""
        text = as_label(value)
        self.remarks.append(f"{_name(key)}: {text}")
        why = because or f"{wanted} would be right"
        self.notes.append(
            f'The {_name(key)} "{text}" on row {row} is kept as a remark, as it was not '
            f"understood: {why}."
        )


def _is_time(value: CellValue) -> bool:
    """Return whether a value is a time of day, with a date or without."""
    try:
        return as_clock(value) is not None
    except ValueFault:
        pass
    try:
        return bool(datetime.datetime.fromisoformat(str(value).strip()))
    except ValueError:
        return False


def _name(key: str) -> str:
    """Return what people call a key."""
    return KEYS[key][0]
