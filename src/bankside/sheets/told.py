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
from bankside.sheets.dates import DateStyle, as_clock, as_date
from bankside.sheets.files.grid import CellValue
from bankside.sheets.group import Group
from bankside.sheets.head_meaning import parse_unit
from bankside.sheets.keys import KEYS
from bankside.sheets.moments import Clock, next_day
from bankside.sheets.values import ValueFault, as_label, figure_of, is_empty

__all__ = ["Figure", "Told", "figure_in"]

T = TypeVar("T")


@attrs.frozen
class Figure:
    """A figure on a line, with the unit and the time behind it, and what else stands there."""

    value: float
    unit: str | None
    at: datetime.time | datetime.datetime | None
    rest: str


def figure_in(text: str) -> Figure | None:
    """Return the figure with which a text begins ("0.52 m at 2026-07-14T10:05+02:00"), or None."""
    value = figure_of(text)
    if value is None:
        return None
    words = text.split()[1:]
    unit = parse_unit(words[0].rstrip(",;")) if words else None
    words = words if unit is None else words[1:]
    name = None if unit is None else unit.name
    for i, word in enumerate(words):
        if word in ("at", "@") or ":" in word:
            behind = words[i:] if ":" in word else words[i + 1 :]
            try:
                return Figure(value, name, as_clock(" ".join(behind)), " ".join(words[:i]))
            except ValueFault:
                break
    return Figure(value, name, None, " ".join(words))


@attrs.define
class Told:
    """The lines around the table of one gauging, with the remarks, notes and faults they give.

    clock: what its times of day belong to; overnight: the start, where the end is before it on one
    day, so that an earlier time may belong to the day after.
    """

    group: Group
    clock: Clock = attrs.field(factory=Clock)
    overnight: datetime.datetime | None = None
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
        for value, row in values[1:]:
            if value != values[0][0]:
                self.keep(key, value, row, "", because=f"row {values[0][1]} gives another")
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

    def moment(self, key: str, start: datetime.datetime | None = None) -> datetime.datetime | None:
        """Return the moment given for a key; a time without its day or offset is a remark.

        start: a time of day before it may belong to the day after, and is a remark as well.
        """
        told = self.one(key)
        if told is None:
            return None
        value, row = told
        try:
            clock = as_clock(value)
        except ValueFault:
            self.keep(key, value, row, "a time such as 10:05, or 2026-07-14T10:05-07:00,")
            return None
        assert clock is not None
        moment = self.clock.moment(clock)
        if moment is None:
            self.remarks.append(f"{_name(key)}: {as_label(value)}")
            said = f"{_name(key)}: {as_label(value)} {self.clock.wanting(clock)} (row {row})."
            self.notes.append(f"{said[0].upper()}{said[1:]}")
        elif start is not None and moment < start and isinstance(clock, datetime.time):
            self.overnight = start
            self._say_overnight(key, value, row, moment)
            return None
        return moment

    def moment_of(
        self, key: str, figure: Figure, value: CellValue, row: int
    ) -> datetime.datetime | None:
        """Return the moment at which a figure was read; a time that is none is a remark."""
        if figure.at is None:
            return None
        moment = self.clock.moment(figure.at)
        if moment is None:
            text = as_label(value)
            self.remarks.append(f"{_name(key)}: {text}")
            self.notes.append(
                f'The time in the {_name(key)} "{text}" {self.clock.wanting(figure.at)} '
                f"(row {row})."
            )
        elif (
            self.overnight is not None
            and moment < self.overnight
            and isinstance(figure.at, datetime.time)
        ):
            self._say_overnight(key, value, row, moment)
            return None
        return moment

    def _say_overnight(
        self, key: str, value: CellValue, row: int, moment: datetime.datetime
    ) -> None:
        """Keep a time before the start as a remark, and ask for its day."""
        text = as_label(value)
        self.remarks.append(
            f"{_name(key)}: {text} is before the start on that day; if it was after midnight, "
            f"{next_day(moment)} would be right"
        )
        self._note_remark(row)

    def _note_remark(self, row: int) -> None:
        """Say the last remark as a note, with its row."""
        text = self.remarks[-1]
        self.notes.append(f"{text[0].upper()}{text[1:]} (row {row}).")

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
                found.append((figure.value, self.moment_of(key, figure, value, row)))
        return found

    def keep(
        self,
        key: str,
        value: CellValue,
        row: int,
        wanted: str,
        because: str | None = None,
        in_remark: bool = False,
    ) -> None:
        """Keep a value as a remark, and say why in a note, if asked in the remark as well."""
        text = as_label(value)
        why = because or f"{wanted} would be right"
        self.remarks.append(f"{_name(key)}: {text}{f' ({why})' if in_remark else ''}")
        self.notes.append(
            f'The {_name(key)} "{text}" on row {row} is kept as a remark, as it was not '
            f"understood: {why}."
        )


def _name(key: str) -> str:
    """Return what people call a key."""
    return KEYS[key][0]
