"""The header of a gauging: site, meter, crew, stage, times, and all else as remarks."""

from __future__ import annotations

import datetime
import re
from typing import Any

import attrs

from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.records import (
    CrewMember,
    Meter,
    RatingPart,
    StageReading,
    Units,
)
from bankside.sheets.answers import Answers
from bankside.sheets.group import Group
from bankside.sheets.preface import Preface
from bankside.sheets.values import as_label, figure_of

__all__ = ["Header", "header_of"]


_CREW_ROLES = {"crew": None, "operator": "rod", "recorder": "recorder", "leader": "leader"}


@attrs.frozen
class Header:
    """What is told around a gauging: fields of its record, remarks for all else, and faults."""

    fields: dict[str, Any]
    remarks: tuple[str, ...]
    faults: tuple[Fault, ...]


def header_of(group: Group, units: Units | None, answers: Answers) -> Header:
    """Return the header of a gauging; what is not understood is a remark, word for word."""
    preface = group.preface
    remarks = [text for text, _ in preface.texts]
    remarks.extend(filter(None, (as_label(value) for value in preface.values("remarks"))))
    meter, faults = _meter(group, answers)
    stage, no_levels = _stage(preface, units)
    times, no_times = _times(preface)
    remarks += [*no_levels, *no_times]
    remarks.extend(
        f"total: {as_label(value)}"
        for value in preface.values("total")
        if figure_of(as_label(value) or "") is None
    )
    fields = {
        "crew": _crew(preface),
        "meter": meter,
        "stage": stage,
        "rule_set": as_label(preface.first("rule_set")),
        **times,
    }
    return Header(fields, tuple(remarks), tuple(faults))


def _crew(preface: Preface) -> tuple[CrewMember, ...]:
    return tuple(
        CrewMember(name.strip(), role)
        for key, role in _CREW_ROLES.items()
        for value in preface.values(key)
        for name in re.split(r"[,;/&]", as_label(value) or "")
        if name.strip()
    )


def _stage(preface: Preface, units: Units | None) -> tuple[tuple[StageReading, ...], list[str]]:
    """Return the levels read on the staff, and what stands there instead as remarks.

    A level in another unit than the tape's is a remark: the record has one unit of length.
    """
    unit = as_label(preface.first("stage_unit"))
    foreign = unit is not None and units is not None and unit != units.length
    told = [as_label(value) or "" for value in preface.values("stage")]
    levels = [None if foreign else figure_of(text) for text in told]
    readings = tuple(StageReading(level) for level in levels if level is not None)
    named = f" ({unit})" if foreign else ""
    return readings, [
        f"stage{named}: {text}" for text, level in zip(told, levels, strict=True) if level is None
    ]


def _times(preface: Preface) -> tuple[dict[str, datetime.datetime], list[str]]:
    """Return start and end where they tell a moment, else as remarks."""
    times: dict[str, datetime.datetime] = {}
    remarks = []
    for key in ("started", "ended"):
        value = preface.first(key)
        moment = _moment(value)
        if moment is not None:
            times[key] = moment
        elif value is not None:
            remarks.append(f"{key} {as_label(value)} (no time zone on the sheet)")
    return times, remarks


def _moment(value: object) -> datetime.datetime | None:
    """Return a written moment that carries its offset from UTC; None for any other."""
    if not isinstance(value, str):
        return None
    try:
        moment = datetime.datetime.fromisoformat(value.strip())
    except ValueError:
        return None
    return moment if moment.tzinfo is not None else None


def _meter(group: Group, answers: Answers) -> tuple[Meter | None, list[Fault]]:
    """Return the meter told around the table, with its rating or the one given as an answer."""
    preface = group.preface
    kind, serial = as_label(preface.first("meter")), as_label(preface.first("serial"))
    lines = [as_label(value) or "" for value in preface.values("rating")]
    written = answers.rating or tuple(part for line in lines for part in line.split(";"))
    parts = [_rating_part(text) for text in written]
    faults = [
        _rating_fault(
            group,
            answers,
            f'found the rating "{text.strip()}"; "V = 0.51 N + 0.03" or "0.51,0.03" would be '
            "right, with a third number for the rev/s up to which it holds",
        )
        for text, part in zip(written, parts, strict=True)
        if part is None
    ]
    if faults or (kind is None and serial is None and not parts):
        return None, faults
    try:
        return Meter(kind, serial, tuple(part for part in parts if part is not None)), []
    except InputRefused as refusal:
        messages = (_RATING_ENDS if "up_to" in f.message else f.message for f in refusal.faults)
        return None, [_rating_fault(group, answers, message) for message in messages]


def _rating_fault(group: Group, answers: Answers, message: str) -> Fault:
    """Return a fault in a rating: in the option, or on the line that gives it."""
    if answers.rating:
        return Fault(f"--rating: {message}")
    return group.fault_on("rating", message)


_RATING_ENDS = (
    "of two parts of a rating the first must say up to which rev/s it holds, and the second reach "
    'further: "0.25,0.012,1.5" and "0.26,0.003" would be right'
)

_RATING = re.compile(
    r"(?:v\s*=\s*)?(?P<slope>[\d.]+)\s*\*?\s*[nr](?:ps)?\s*(?P<intercept>[+-]\s*[\d.]+)"
    r"(?:\s*\(?\s*(?:up to|to|[nr]?\s*(?:<=?|≤))\s*(?P<up_to>[\d.]+)\s*\)?)?",
    re.IGNORECASE,
)


def _rating_part(text: str) -> RatingPart | None:
    """Return the straight part of a rating that a text describes, or None."""
    equation = _RATING.fullmatch(text.strip())
    if equation is not None:
        numbers = [equation["slope"], equation["intercept"].replace(" ", ""), equation["up_to"]]
    else:
        numbers = re.split(r"[,\s]+", text.strip())
    try:
        values = [float(number) for number in numbers if number is not None]
        return RatingPart(*values) if 2 <= len(values) <= 3 else None
    except (ValueError, InputRefused):
        return None
