"""The header of a gauging: site, meter, crew, stage, times, and all else as remarks."""

from __future__ import annotations

import re
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

    notes: what was not understood, in sentences.
    """

    fields: dict[str, Any]
    remarks: tuple[str, ...]
    notes: tuple[str, ...]
    faults: tuple[Fault, ...]


def header_of(group: Group, units: Units | None, answers: Answers) -> Header:
    """Return the header of a gauging; what is not understood is a remark, word for word."""
    preface = group.preface
    told = Told(group)
    told.remarks.extend(text for text, _ in preface.texts)
    told.remarks.extend(filter(None, (as_label(value) for value in preface.values("remarks"))))
    ratings = [as_label(value) or "" for value in preface.values("rating")]
    # People write how good the measurement is under "Rating" as well.
    rated = [text for text in ratings if text.casefold() in _QUALITIES]
    quality = told.word("quality", _QUALITIES, "excellent, good, fair or poor")
    if rated and quality is None:
        quality = _QUALITIES[rated.pop(0).casefold()]
    told.remarks.extend(f"rating: {text}" for text in rated if text.casefold() != quality)
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
        **{key: told.moment(key) for key in ("started", "ended", "cleared")},
    }
    told.remarks.extend(
        f"total: {as_label(value)}"
        for value in preface.values("total")
        if figure_of(as_label(value) or "") is None
    )
    return Header(fields, tuple(told.remarks), tuple(told.notes), tuple(told.faults))


def _crew(preface: Preface) -> tuple[CrewMember, ...]:
    return tuple(
        CrewMember(name.strip(), role)
        for key, role in _CREW_ROLES.items()
        for value in preface.values(key)
        for name in re.split(r"[,;/&]", as_label(value) or "")
        if name.strip()
    )


def _stage(told: Told, units: Units | None) -> tuple[tuple[StageReading, ...], bool]:
    """Return the levels read on the staff, and whether the site has none.

    What stands there instead is a remark. So is a level in another unit than the tape's: the
    record has one unit of length.
    """
    beside = as_label(told.group.preface.first("stage_unit"))
    readings = []
    no_gauge = False
    for value, _ in told.values("stage"):
        text = as_label(value) or ""
        figure = figure_in(text)
        unit = beside if figure is None or figure.unit is None else figure.unit
        foreign = unit is not None and units is not None and unit != units.length
        if text.casefold() in _NO_GAUGE:
            no_gauge = True
        elif figure is None or foreign:
            told.remarks.append(f"stage{f' ({unit})' if foreign else ''}: {text}")
        else:
            readings.append(StageReading(figure.value, figure.at))
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
