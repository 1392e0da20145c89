"""Sites, streams and named points out of GeoJSON.

A feature that says that it is a site or a stream is one; any other point with a name is a point
whose name may be the label of a gauging or a site.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Any

import attrs

from bankside.exchange.named_points import NamedPoint
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.fields import shown
from bankside.gauging.json_text import parsed
from bankside.gauging.records import Position
from bankside.gauging.structure import JsonObject, structured
from bankside.survey.records import Stream, Survey, SurveySite

__all__ = ["GeoJsonRead", "is_geojson", "read_geojson"]

_NAMES = ("label", "name", "title", "id")
_REMARKS = ("ele", "time", "desc", "cmt", "remarks")


@attrs.frozen
class GeoJsonRead:
    """What GeoJSON holds: the records of a survey, points with names, and what was not read.

    `survey` is None where the collection does not say which survey its sites are of.
    """

    sites: tuple[SurveySite, ...] = ()
    streams: tuple[Stream, ...] = ()
    points: tuple[NamedPoint, ...] = ()
    survey: Survey | None = None
    notes: tuple[str, ...] = ()


def is_geojson(document: object) -> bool:
    """Return whether what a JSON text spells is a collection of features."""
    return isinstance(document, dict) and document.get("type") == "FeatureCollection"


def read_geojson(text: str, file: str | None = None) -> GeoJsonRead:
    """Return what a feature collection holds; a gauging of ours in it is not read.

    `file`, a file name as people know it, goes into every fault. InputRefused with every fault,
    each with the index of its feature.
    """
    try:
        return _read(parsed(text))
    except InputRefused as error:
        raise InputRefused(attrs.evolve(fault, file=file) for fault in error.faults) from None


def _read(document: object) -> GeoJsonRead:
    if not isinstance(document, JsonObject) or not is_geojson(document):
        raise _refused("found no FeatureCollection, which GeoJSON with several features is")
    features = document.get("features")
    if not isinstance(features, list):
        raise _refused("found no list of features")
    made: dict[str, list[Any]] = {"site": [], "stream": [], "point": [], "gauging": []}
    places: dict[str, list[str]] = {kind: [] for kind in made}
    notes: list[str] = []
    faults: list[Fault] = []
    for number, feature in enumerate(features):
        place = f"features[{number}]"
        try:
            kind, found = _of_feature(feature, place)
        except InputRefused as error:
            faults += [_placed(fault, place) for fault in error.faults]
            continue
        if found is None:
            notes.append(f"{place} has no name and no place, and was not used.")
        else:
            made[kind].append(found)
            places[kind].append(place)
    if made["gauging"]:
        notes.append(f"{len(made['gauging'])} gaugings in it were not read: they hold no readings.")
    if faults:
        raise InputRefused(faults)
    sites, streams = tuple(made["site"]), tuple(made["stream"])
    survey = _survey(document.get("survey"), sites, streams, places)
    return GeoJsonRead(sites, streams, tuple(made["point"]), survey, tuple(notes))


def _survey(
    told: object,
    sites: tuple[SurveySite, ...],
    streams: tuple[Stream, ...],
    places: Mapping[str, Sequence[str]],
) -> Survey | None:
    if told is None:
        return None
    members = told if isinstance(told, JsonObject) else JsonObject()
    try:
        bare = structured(members, Survey)
    except InputRefused as error:
        raise InputRefused(_placed(fault, "survey") for fault in error.faults) from None
    try:
        return attrs.evolve(bare, sites=sites, streams=streams)
    except InputRefused as error:
        raise InputRefused(_by_feature(fault, places) for fault in error.faults) from None


def _by_feature(fault: Fault, places: Mapping[str, Sequence[str]]) -> Fault:
    """Return a fault between the records of a survey with the feature that it is about."""
    found = re.match(r"(site|stream)s\[(\d+)\](.*)", fault.path or "")
    if found is None:
        return fault
    return attrs.evolve(fault, path=f"{places[found[1]][int(found[2])]}{found[3]}")


def _of_feature(feature: object, place: str) -> tuple[str, object]:
    """Return the kind of a feature, and its record; None where it is of no use."""
    if not isinstance(feature, JsonObject) or feature.get("type") != "Feature":
        raise _refused(f"found {shown(feature)}; a Feature would be right")
    properties = feature.get("properties")
    told = properties if isinstance(properties, JsonObject) else JsonObject()
    geometry = feature.get("geometry")
    kind = told.get("kind")
    if kind == "gauging":
        return "gauging", feature
    if kind == "stream":
        return "stream", _stream(told, geometry)
    if kind == "site":
        return "site", _site(told, geometry)
    return "point", _named_point(feature, told, geometry, place)


def _stream(told: JsonObject, geometry: object) -> Stream:
    members = _members(told)
    if geometry is not None:
        line = _coordinates(geometry, "LineString")
        members["line"] = [_lon_lat(point) for point in line]
    return structured(members, Stream)


def _site(told: JsonObject, geometry: object) -> SurveySite:
    members = _members(told)
    position = _position(geometry)
    for name in ("label", "accuracy_m"):
        if f"position_{name}" in members:
            position = JsonObject() if position is None else position
            position[name] = members.pop(f"position_{name}")
    if position is not None:
        members["position"] = position
    return structured(members, SurveySite)


def _named_point(
    feature: JsonObject, told: JsonObject, geometry: object, place: str
) -> NamedPoint | None:
    name = next((told[key] for key in _NAMES if told.get(key)), feature.get("id"))
    if geometry is None or not isinstance(name, str) or not name.strip():
        return None
    position = _position(geometry)
    assert position is not None
    position["label"] = name.strip()
    remark = ", ".join(f"{key} {told[key]}" for key in _REMARKS if told.get(key))
    return NamedPoint(name.strip(), structured(position, Position), remark, place)


def _members(told: JsonObject) -> JsonObject:
    """Return the properties that are a record's; programs write null for what is missing."""
    members = JsonObject((k, v) for k, v in told.items() if k != "kind" and v is not None)
    members.repeated = told.repeated
    return members


def _position(geometry: object) -> JsonObject | None:
    if geometry is None:
        return None
    return _lon_lat(_coordinates(geometry, "Point"))


def _coordinates(geometry: object, kind: str) -> list[Any]:
    found = geometry.get("type") if isinstance(geometry, JsonObject) else None
    coordinates = geometry.get("coordinates") if isinstance(geometry, JsonObject) else None
    if found != kind or not isinstance(coordinates, list):
        raise _refused(f"found a geometry of {shown(found)}; a {kind} would be right", "geometry")
    return coordinates


def _lon_lat(point: object) -> JsonObject:
    """Return longitude and latitude, in this order; a height behind them is no place on a map."""
    if not isinstance(point, list) or len(point) not in (2, 3):
        message = f"found {shown(point)}; longitude and latitude would be right"
        raise _refused(message, "geometry")
    return JsonObject(lon=point[0], lat=point[1])


def _placed(fault: Fault, place: str) -> Fault:
    path = fault.path
    return attrs.evolve(fault, path=place if path is None else f"{place}.{path}")


def _refused(message: str, path: str | None = None) -> InputRefused:
    return InputRefused([Fault(message, path=path)])
