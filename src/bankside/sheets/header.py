"""The header of a gauging: site, meter, crew, stage, times, and all else as remarks."""

from __future__ import annotations

import datetime
import re
from collections.abc import Sequence
from typing import Any

from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.records import (
    CrewMember,
    Meter,
    Position,
    RatingPart,
    Site,
    StageReading,
)
from bankside.sheets.answers import Answers
from bankside.sheets.group import Group
from bankside.sheets.preface import Preface
from bankside.sheets.row import SheetRow
from bankside.sheets.values import as_label, looks_numeric

__all__ = ["first_of", "header_of", "site_of"]


def first_of(rows: Sequence[SheetRow], name: str) -> Any:
    """Return the first value that any of the rows has in the named field, None without one."""
    return next((getattr(row, name) for row in rows if getattr(row, name) is not None), None)


def site_of(group: Group) -> Site:
    """Return the site of a gauging, with its position where the sheet gives one."""
    preface = group.preface
    lat = first_of(group.rows, "latitude") or _number(preface, "latitude")
    lon = first_of(group.rows, "longitude") or _number(preface, "longitude")
    label = as_label(preface.first("label"))
    position = None
    if lat is not None and lon is not None:
        position = Position(lon, lat, _number(preface, "accuracy"), label)
    return Site(group.site, group.stream, position)


def _number(preface: Preface, key: str) -> float | None:
    text = (as_label(preface.first(key)) or "").split(" ")[0]
    return float(text.replace(",", ".")) if looks_numeric(text) else None


_CREW_ROLES = {"crew": None, "operator": "rod", "recorder": "recorder", "leader": "leader"}


def header_of(preface: Preface, answers: Answers) -> tuple[dict[str, Any], list[str]]:
    """Return fields of the record told around the table, and every other line as a remark."""
    remarks = [text for text, _ in preface.texts]
    remarks.extend(filter(None, (as_label(v) for v in preface.values("remarks"))))
    faults: list[Fault] = []
    fields: dict[str, Any] = {"faults": faults}
    crew = [
        CrewMember(name.strip(), role)
        for key, role in _CREW_ROLES.items()
        for value in preface.values(key)
        for name in re.split(r"[,;/&]", as_label(value) or "")
        if name.strip()
    ]
    fields["crew"] = tuple(crew)
    fields["meter"] = _meter(preface, answers, faults)
    stage = []
    for value in preface.values("stage"):
        text = (as_label(value) or "").split(" ")[0].replace(",", ".")
        if looks_numeric(text):
            stage.append(StageReading(float(text)))
        else:
            remarks.append(f"stage: {as_label(value)}")
    fields["stage"] = tuple(stage)
    for key in ("started", "ended"):
        value = preface.first(key)
        moment = _moment(value)
        if moment is not None:
            fields[key] = moment
        elif value is not None:
            remarks.append(f"{key} {as_label(value)} (no time zone on the sheet)")
    fields["rule_set"] = as_label(preface.first("rule_set"))
    if preface.first("latitude") is None and preface.first("label") is not None:
        remarks.append(f"point {as_label(preface.first('label'))}")
    return fields, remarks


def _moment(value: object) -> datetime.datetime | None:
    """Return a written moment that carries its offset from UTC; None for any other."""
    if not isinstance(value, str):
        return None
    try:
        moment = datetime.datetime.fromisoformat(value.strip())
    except ValueError:
        return None
    return moment if moment.tzinfo is not None else None


def _meter(preface: Preface, answers: Answers, faults: list[Fault]) -> Meter | None:
    """Return the meter told around the table, with its rating or the one given as an answer."""
    kind, serial = as_label(preface.first("meter")), as_label(preface.first("serial"))
    written = answers.rating
    if not written:
        lines = [as_label(value) or "" for value in preface.values("rating")]
        written = tuple(part for line in lines for part in line.split(";"))
    parts = []
    for text in written:
        part = _rating_part(text)
        if part is None:
            faults.append(
                Fault(
                    f'found the rating "{text.strip()}"; "V = 0.51 N + 0.03" or "0.51,0.03" would '
                    "be right, with a third number for the rev/s up to which it holds"
                )
            )
        else:
            parts.append(part)
    if kind is None and serial is None and not parts:
        return None
    try:
        return Meter(kind, serial, tuple(parts))
    except InputRefused as refusal:
        faults.extend(refusal.faults)
        return None


_RATING = re.compile(
    r"(?:v\s*=\s*)?(?P<slope>[\d.]+)\s*\*?\s*[nr](?:ps)?\s*(?P<intercept>[+-]\s*[\d.]+)"
    r"(?:\s*(?:up to|to|<)\s*(?P<up_to>[\d.]+))?",
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
