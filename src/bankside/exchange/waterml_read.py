"""Gaugings out of WaterML 2.0 part 2: the readings that stand in arrays of verticals.

An array is one of verticals if it has fields for distance and depth, whoever wrote it; other fields
are known by the names that we write. What a document of ours has worked out is not read; the stage
and the discharge of others are kept as a reading and as filed.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any, get_args

import attrs

from bankside.exchange.data import ReadData, SurveyData
from bankside.exchange.ucum import unit_of_ucum
from bankside.exchange.waterml_arrays import Array, Cell, array_of
from bankside.exchange.waterml_faults import observations_in, waterml_faults
from bankside.exchange.waterml_names import name_of, tag, texts_in
from bankside.exchange.waterml_site import site_members
from bankside.exchange.waterml_tables import FILED, RATING, STAGES
from bankside.exchange.xml_text import line_of, parsed_xml
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.records import Gauging
from bankside.gauging.structure import JsonObject, structured
from bankside.gauging.units import DischargeUnit, LengthUnit, VelocityUnit

__all__ = ["WRITTEN_BY", "gaugings_of_waterml", "read_waterml"]

WRITTEN_BY = "Written by Bankside"
"""By what a document says that its results are worked out from the verticals in it."""

# A field of an array → the field of a vertical, or of a reading there, that it holds.
_OF_VERTICAL = {
    "distance": "tape",
    "depth": "depth",
    "edge": "edge",
    "bank": "bank",
    "dry": "dry",
    "angle": "angle",
    "angle_coefficient": "angle_coefficient",
    "wall_factor": "wall_factor",
    "time": "at",
}
_OF_READING = {
    "velocity": "value",
    "fraction": "fraction",
    "duration": "seconds",
    "revolutions": "counts",
    "rod_setting": "rod_setting",
}
_KNOWN = {"channel", *_OF_VERTICAL, *_OF_READING}
_LENGTHS, _VELOCITIES = get_args(LengthUnit), get_args(VelocityUnit)


def read_waterml(path: Path, name: str | None = None) -> ReadData:
    """Return the gaugings of a WaterML document, and what of it was not read.

    `name`, the file as people know it, goes into every fault. InputRefused with every fault, each
    with its element and line.
    """
    try:
        return gaugings_of_waterml(parsed_xml(path))
    except InputRefused as error:
        known = name or path.name
        raise InputRefused(attrs.evolve(fault, file=known) for fault in error.faults) from None


def gaugings_of_waterml(root: Any) -> ReadData:
    """Return the gaugings of a document that was parsed, as `read_waterml` does."""
    observations = observations_in(root)
    if not observations:
        message = f"found {name_of(root)} with no gauging observation; a document of WaterML 2.0 "
        raise InputRefused([Fault(f"{message}part 2 with one would be right")])
    faults = list(waterml_faults(root))
    if faults:
        raise InputRefused(faults)
    gaugings: list[Gauging] = []
    notes: list[str] = []
    written = root.find(tag("wml2:metadata"))
    ours = written is not None and written.get(tag("xlink:title")) == WRITTEN_BY
    for observation in observations:
        place = f"observation {observation.get(tag('gml:id'))} ({line_of(observation)})"
        try:
            members = _members(observation, place, notes)
            if not ours:
                members |= JsonObject(_results(observation, members, place, notes))
            gaugings.append(structured(members, Gauging))
        except InputRefused as error:
            faults += [_placed(fault, place) for fault in error.faults]
    if faults:
        raise InputRefused(faults)
    return ReadData(SurveyData(None, tuple(gaugings)), tuple(notes))


def _members(observation: Any, place: str, notes: list[str]) -> JsonObject:
    """Return the JSON object of one observation; InputRefused where it has no verticals."""
    arrays, values = _parameters(observation)
    verticals = next((a for a in arrays.values() if _is_section(a)), None)
    if verticals is None:
        message = "found no array of verticals with distance and depth: there is nothing to read"
        raise InputRefused([Fault(message)])
    strange = [f.name for f in verticals.fields if f.name not in _KNOWN]
    if strange:
        notes.append(f"{place}: the fields {', '.join(strange)} are not known, and were not read.")
    members = JsonObject(units=_units(verticals), channels=_channels(verticals))
    for key, path in (("id", "gml:identifier"), ("remarks", "gml:description")):
        for text in texts_in(observation, path)[:1]:
            members[key] = text
    site = site_members(observation.find(tag("om:featureOfInterest")))
    if site:
        members["site"] = site
    members |= _times(observation)
    meter = _meter(observation, arrays.get(RATING))
    if meter:
        members["meter"] = meter
    if STAGES in arrays:
        members["stage"] = [
            _object({"value": row.get("stage"), "at": row.get("time")})
            for row in arrays[STAGES].rows
        ]
    filed = _quantity(values[FILED].find(tag("swe:Quantity"))) if FILED in values else None
    if filed is not None:
        members["filed"] = _filed(filed)
    return members


def _parameters(observation: Any) -> tuple[dict[str, Array], dict[str, Any]]:
    """Return the arrays among the parameters of an observation, and its other values, by title."""
    arrays: dict[str, Array] = {}
    values: dict[str, Any] = {}
    path = "/".join(map(tag, ("om:parameter", "om:NamedValue")))
    for number, named in enumerate(observation.findall(path), 1):
        title, value = _named(named)
        key = title or f"parameter {number}"
        array = None if value is None else value.find(tag("swe:DataArray"))
        if array is not None:
            arrays[key] = array_of(array)
        elif value is not None:
            values[key] = value
    return arrays, values


def _named(value: Any) -> tuple[str | None, Any]:
    """Return the title and the value of an om:NamedValue, each None where it has none."""
    name = value.find(tag("om:name"))
    title = None if name is None else name.get(tag("xlink:title"))
    return title, value.find(tag("om:value"))


def _is_section(array: Array) -> bool:
    return {"distance", "depth"} <= {field.name for field in array.fields}


def _units(verticals: Array) -> JsonObject:
    length = _unit(verticals, "distance", _LENGTHS)
    depth = _unit(verticals, "depth", _LENGTHS)
    units = JsonObject(length=length)
    # Where no velocity was read, its unit says nothing; the record wants one that goes with length.
    units["velocity"] = (
        _unit(verticals, "velocity", _VELOCITIES)
        if any(field.name == "velocity" for field in verticals.fields)
        else ("ft/s" if length in ("ft", "in") else "m/s")
    )
    if depth != length:
        units["depth"] = depth
    return units


def _unit(array: Array, name: str, units: tuple[str, ...]) -> str:
    try:
        return unit_of_ucum(array.unit(name) or "none", units)
    except InputRefused as error:
        raise InputRefused(
            attrs.evolve(fault, path=f"field {name}") for fault in error.faults
        ) from None


def _channels(verticals: Array) -> list[object]:
    """Return channels of verticals: rows of one channel and distance side by side are one."""
    channels: dict[Cell, list[JsonObject]] = {}
    last: tuple[Cell, Cell] | None = None
    for row in verticals.rows:
        here = (row.get("channel"), row["distance"])
        made = channels.setdefault(here[0], [])
        if here != last:
            made.append(_object({key: row.get(name) for name, key in _OF_VERTICAL.items()}))
        reading = _object({key: row.get(name) for name, key in _OF_READING.items()})
        if reading:
            found = made[-1].setdefault("velocity", [])
            assert isinstance(found, list)
            found.append(reading)
        last = here
    return [JsonObject(verticals=made) for made in channels.values()]


def _object(values: Mapping[str, object]) -> JsonObject:
    return JsonObject((key, value) for key, value in values.items() if value is not None)


def _times(observation: Any) -> JsonObject:
    """Return start, end and day of an observation; its day is that of its start."""
    when = observation.find(tag("om:phenomenonTime"))
    times = JsonObject()
    for key, path in (
        ("started", "gml:TimePeriod/gml:beginPosition"),
        ("ended", "gml:TimePeriod/gml:endPosition"),
        ("started", "gml:TimeInstant/gml:timePosition"),
    ):
        for text in filter(None, map(str.strip, texts_in(when, path))):
            day = text[: len("2026-07-14")]
            if key == "started":
                times["date"] = day
            if text != day:
                times[key] = text
    return times


def _meter(observation: Any, rating: Array | None) -> JsonObject:
    meter = JsonObject()
    process = observation.find("/".join(map(tag, ("om:procedure", "wmlrgs:GaugingProcess"))))
    path = "/".join(map(tag, ("wml2:parameter", "om:NamedValue")))
    for named in process.findall(path) if process is not None else ():
        title, value = _named(named)
        key = {"meter": "kind", "serial": "serial"}.get(title or "")
        if key is not None and value is not None and value.text:
            meter[key] = value.text
    if rating is not None:
        meter["rating"] = [_object(row) for row in rating.rows]
    return meter


def _results(
    observation: Any, members: JsonObject, place: str, notes: list[str]
) -> Iterator[tuple[str, object]]:
    """Yield the stage and the discharge that somebody else worked out, where we have neither."""
    result = observation.find("/".join(map(tag, ("om:result", "wmlrgs:Gauging"))))
    stage, discharge = (_quantity(value.find(tag("swe:Quantity"))) for value in result)
    units = members["units"]
    assert isinstance(units, JsonObject)
    if stage is not None and "stage" not in members:
        figure, code = stage
        if unit_of_ucum(code, _LENGTHS) == units["length"]:
            yield "stage", [JsonObject(value=figure)]
        else:
            notes.append(
                f"{place}: the stage {figure!r} {code} was not read, as the tape is in "
                f"{units['length']} and a record has one unit for both."
            )
    if discharge is not None and "filed" not in members:
        yield "filed", _filed(discharge)


def _quantity(element: Any) -> tuple[float, str] | None:
    """Return figure and UCUM code of a quantity; None where there is none, or it says so itself."""
    if element is None:
        return None
    found, unit = texts_in(element, "swe:value"), element.find(tag("swe:uom"))
    if not found:
        message = f"found a {name_of(element)} without swe:value; a number would be right"
        raise InputRefused([Fault(message, path=line_of(element))])
    text = found[0].strip()
    if text in map(str.strip, texts_in(element, "swe:nilValues/swe:NilValues/swe:nilValue")):
        return None
    return float(text), (None if unit is None else unit.get("code")) or "none"


def _filed(discharge: tuple[float, str]) -> JsonObject:
    figure, code = discharge
    return JsonObject(discharge=figure, unit=unit_of_ucum(code, get_args(DischargeUnit)))


def _placed(fault: Fault, place: str) -> Fault:
    return attrs.evolve(fault, path=place if fault.path is None else f"{place}, {fault.path}")
