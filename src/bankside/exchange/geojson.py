"""GeoJSON: the sites, streams and gaugings of a survey on a map, and sites and streams back.

Source: RFC 7946. Longitude comes first; a place that is not known is a geometry of null; the unit
of a number stands in its name. Equal input gives equal text.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from typing import Any

from bankside.exchange.data import SurveyData, gauging_keys
from bankside.gauging.records import Gauging, Position
from bankside.survey.records import Stream, SurveySite
from bankside.survey.visits import Visit

__all__ = ["geojson", "geojson_left_out"]

_Members = dict[str, Any]

_FIGURES = ("width_m", "area_m2", "mean_depth_m", "mean_velocity_ms")


def geojson(data: SurveyData) -> str:
    """Return a feature collection: a point for each site and gauging, a line for each stream."""
    survey = data.survey
    features: list[_Members] = []
    if survey is not None:
        features += [_stream(stream) for stream in survey.streams]
        features += [_site(site) for site in survey.sites]
    features += _gaugings(data)
    named = (
        "" if survey is None else f'"survey": {_line({"id": survey.id, "name": survey.name})},\n'
    )
    lines = ",\n".join(map(_line, features))
    return f'{{\n"type": "FeatureCollection",\n{named}"features": [\n{lines}\n]\n}}\n'


def geojson_left_out(data: SurveyData) -> tuple[str, ...]:
    """Return what GeoJSON does not hold of a survey, in sentences."""
    found = []
    survey = data.survey
    if data.gaugings:
        found.append(
            "GeoJSON holds of a gauging its place, its day and what is worked out from it, and no "
            "reading."
        )
    if survey is not None:
        told = (
            "basin",
            "organisation",
            "starts",
            "ends",
            "rule_set",
            "duplicates_percent",
            "days_apart",
        )
        there = [name for name in (*told, "balances", "remarks") if getattr(survey, name)]
        if there:
            found.append(f"GeoJSON does not hold of the survey: {', '.join(there)}.")
        points = [point for stream in survey.streams for point in stream.line]
        if any(point.label or point.accuracy_m is not None for point in points):
            found.append("GeoJSON does not hold the labels and accuracy of the points of streams.")
    return tuple(found)


def _line(value: object) -> str:
    """Return a value on one line: a course has more figures than anybody reads one by one."""
    return json.dumps(value, ensure_ascii=False, allow_nan=False)


def _feature(
    kind: str, id_: str, geometry: _Members | None, properties: Sequence[tuple[str, Any]]
) -> _Members:
    told = {name: value for name, value in properties if value not in (None, (), [])}
    return {
        "type": "Feature",
        "id": f"{kind} {id_}",
        "geometry": geometry,
        "properties": {"kind": kind, **told},
    }


def _point(position: Position | None) -> _Members | None:
    if position is None:
        return None
    return {"type": "Point", "coordinates": [float(position.lon), float(position.lat)]}


def _stream(stream: Stream) -> _Members:
    line = [[float(point.lon), float(point.lat)] for point in stream.line]
    return _feature(
        "stream",
        stream.name,
        {"type": "LineString", "coordinates": line} if line else None,
        [("name", stream.name), ("joins", stream.joins), ("joins_at_km", stream.joins_at_km)],
    )


def _site(site: SurveySite) -> _Members:
    position = site.position
    return _feature(
        "site",
        site.id,
        _point(position),
        [
            ("id", site.id),
            ("stream", site.stream),
            ("name", site.name),
            ("also", list(site.also)),
            ("label", site.label),
            ("position_label", position and position.label),
            ("position_accuracy_m", position and position.accuracy_m),
            ("along_km", site.along_km),
            ("drainage_area_km2", site.drainage_area_km2),
            ("visits_planned", site.visits_planned),
            ("remarks", site.remarks),
        ],
    )


def _gaugings(data: SurveyData) -> Iterator[_Members]:
    visits: Sequence[Visit | None] = data.visits or [None] * len(data.gaugings)
    keys = gauging_keys(data.gaugings)
    for key, gauging, visit in zip(keys, data.gaugings, visits, strict=True):
        yield _gauging(key, gauging, visit)


def _gauging(key: str, gauging: Gauging, visit: Visit | None) -> _Members:
    said = gauging.site
    site = None if visit is None else visit.site
    of_site = None if site is None else site.position
    position = said.position or of_site
    result = None if visit is None else visit.result
    budget = None if visit is None else visit.told_budget
    moments = [(name, getattr(gauging, name)) for name in ("started", "ended")]
    return _feature(
        "gauging",
        key,
        _point(position),
        [
            ("gauging", key),
            ("survey_site", site and site.id),
            ("stream", said.stream),
            ("name", said.name),
            ("position_of_site", True if position is not None and said.position is None else None),
            ("position_label", said.position and said.position.label),
            ("position_accuracy_m", said.position and said.position.accuracy_m),
            ("date", gauging.date and gauging.date.isoformat()),
            *((name, moment and moment.isoformat()) for name, moment in moments),
            ("discharge_m3s", result and result.discharge_m3s),
            ("uncertainty_percent", budget and budget.expanded_percent),
            *((name, result and getattr(result, name)) for name in _FIGURES),
            ("method", result and result.method),
            ("quality", gauging.quality),
            ("refused", None if visit is None else visit.refused or None),
        ],
    )
