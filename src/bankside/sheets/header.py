"""The header of a gauging: site, meter, crew, stage, times, and all else as remarks."""

from __future__ import annotations

from datetime import timezone
from typing import Any, get_args

import attrs

from bankside.gauging.faults import Fault
from bankside.gauging.records import (
    CrewMember,
    Quality,
    StageReading,
    Units,
)
from bankside.sheets.answers import Answers
from bankside.sheets.group import Group
from bankside.sheets.meter import meter_of
from bankside.sheets.moments import Clock
from bankside.sheets.names import names_in
from bankside.sheets.near_keys import unknown_keys
from bankside.sheets.offsets import WANTED_OFFSET, parse_offset
from bankside.sheets.preface import Preface
from bankside.sheets.told import Told, figure_in
from bankside.sheets.values import as_label, figure_of

__all__ = ["Header", "header_of"]


_CREW_ROLES = {"crew": None, "operator": "rod", "recorder": "recorder", "leader": "leader"}
_QUALITIES: dict[str, Quality] = {word: word for word in get_args(Quality)}
_YES_NO = {"yes": True, "y": True, "true": True, "no": False, "n": False, "false": False}
_NO_GAUGE = ("none", "no gauge", "no gage", "no staff gauge", "no staff gage", "no staff")


@attrs.frozen
class Header:
    """What is told around a gauging: fields of its record, remarks for all else, and faults.

    clock: the day and the offset from UTC of its times; notes: what was not understood, in
    sentences.
    """

    fields: dict[str, Any]
    clock: Clock
    remarks: tuple[str, ...]
    notes: tuple[str, ...]
    faults: tuple[Fault, ...]


def header_of(group: Group, units: Units | None, answers: Answers) -> Header:
    """Return the header of a gauging; what is not understood is a remark, word for word."""
    preface = group.preface
    told = Told(group)
    told.clock = Clock(group.date, _offset(told, answers))
    started = told.moment("started")
    ended = told.moment("ended", started)
    told.notes.extend(unknown_keys(preface))
    told.remarks.extend(text for text, _ in preface.texts)
    told.remarks.extend(filter(None, (as_label(value) for value in preface.values("remarks"))))
    ratings = [as_label(value) or "" for value in preface.values("rating")]
    # People write how good the measurement is under "Rating" as well.
    rated = [text for text in ratings if text.casefold() in _QUALITIES]
    quality = told.word("quality", _QUALITIES, "excellent, good, fair or poor")
    if rated and quality is None:
        quality = _QUALITIES[rated.pop(0).casefold()]
    told.remarks.extend(f"rating: {text}" for text in rated if text.casefold() != quality)
    for value, row in told.values("total"):
        if figure_of(as_label(value) or "") is None:
            told.keep("total", value, row, "a figure such as 0.264")
    stage, no_gauge = _stage(told, units)
    fields = {
        "crew": _crew(preface),
        "meter": meter_of(
            told, [t for t in ratings if t.casefold() not in _QUALITIES], units, answers
        ),
        "stage": stage,
        "no_gauge": no_gauge,
        "quality": quality,
        "whole_flow": told.word("whole_flow", _YES_NO, "yes or no"),
        "moved": told.text("moved"),
        "id": told.text("id"),
        "rule_set": as_label(preface.first("rule_set")),
        "started": started,
        "ended": ended,
        "cleared": told.moment("cleared"),
    }
    return Header(fields, told.clock, tuple(told.remarks), tuple(told.notes), tuple(told.faults))


def _offset(told: Told, answers: Answers) -> timezone | None:
    """Return the offset from UTC of the sheet's times, else the one given as an answer.

    A name of a time zone, and one of two offsets that differ, are remarks.
    """
    found: set[timezone] = set()
    stated = list(told.values("time_zone"))
    for value, row in stated:
        offset = parse_offset(as_label(value) or "")
        if offset is None:
            told.keep("time_zone", value, row, "", because=WANTED_OFFSET, in_remark=True)
        else:
            found.add(offset)
    if len(found) > 1:
        for value, row in stated:
            told.keep("time_zone", value, row, "", because="another line gives another")
        return None
    given = None if answers.time_zone is None else parse_offset(answers.time_zone)
    return found.pop() if found else given


def _crew(preface: Preface) -> tuple[CrewMember, ...]:
    return tuple(
        CrewMember(name, role)
        for key, role in _CREW_ROLES.items()
        for value in preface.values(key)
        for name in names_in(as_label(value) or "")
    )


def _stage(told: Told, units: Units | None) -> tuple[tuple[StageReading, ...], bool]:
    """Return the levels read on the staff, and whether the site has none.

    What stands there instead is a remark. So is a level in another unit than the tape's: the
    record has one unit of length.
    """
    beside = as_label(told.group.preface.first("stage_unit"))
    readings = []
    no_gauge = False
    for value, row in told.values("stage"):
        text = as_label(value) or ""
        figure = figure_in(text)
        unit = beside if figure is None or figure.unit is None else figure.unit
        length = unit if units is None else units.length
        if text.casefold() in _NO_GAUGE:
            no_gauge = True
        elif figure is None:
            told.keep("stage", value, row, "a level such as 0.52")
        elif unit is not None and unit != length:
            told.remarks.append(f"stage ({unit}): {text}")
            told.notes.append(
                f'The stage "{text}" on row {row} is in {unit} beside a tape in {length}: it '
                "is kept as a remark."
            )
        else:
            at = told.moment_of("stage", figure, value, row)
            readings.append(StageReading(figure.value, at))
            told.remarks.extend([f"stage: {text}"] if figure.rest else [])
    if no_gauge and readings:
        told.faults.append(
            told.group.fault_on(
                "stage",
                f"found a stage of {readings[0].value:g} and that there is no gauge; one of the "
                "two would be right",
            )
        )
    return tuple(readings), no_gauge
