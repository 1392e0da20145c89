"""The survey as a record, and the waypoints of its sites."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from typing import Final
from xml.sax.saxutils import escape

from bankside.gauging.records import Position
from bankside.survey.records import Balance, Stream, Survey, SurveySite
from making.basin import SITES, STREAMS, InventedSite
from making.courses import course_of, place_of, to_lon_lat

__all__ = ["survey", "waypoints"]

_BALANCES: Final = (
    Balance("Teasel Beck into Alder Fork", ("AF-02", "TB-01"), "AF-03"),
    Balance("Tansy Run into Quill Brook", ("QB-01", "TR-01"), "QB-02"),
    Balance("Sorrel Burn past the springs", ("SB-02",), "SB-01"),
    Balance("Quill Brook past the mill leat", ("QB-02",), "QB-03", ("QL-01",)),
    Balance("Alder Fork into Mere Water", ("MW-05", "AF-01"), "MW-04"),
    Balance("Mere Water from Quill Brook to the gravel pit", ("MW-02",), "MW-01"),
)


def survey() -> Survey:
    """Return the survey with its streams, sites and balances."""
    return Survey(
        id="marrowmere-2026",
        name="Marrowmere basin, low water of summer 2026",
        basin="Marrowmere basin",
        organisation="Marrowmere Streams Trust",
        starts=datetime.date(2026, 7, 20),
        ends=datetime.date(2026, 7, 31),
        rule_set="common-practice",
        duplicates_percent=10,
        days_apart=1,
        streams=tuple(
            Stream(
                stream.name,
                stream.joins,
                stream.joins_at_km,
                tuple(_position(point) for point in course_of(stream.name)),
            )
            for stream in STREAMS
        ),
        sites=tuple(_site(site) for site in SITES.values()),
        balances=_BALANCES,
        remarks="Everything in this survey is invented: basin, streams, people and readings.",
    )


def _site(site: InventedSite) -> SurveySite:
    return SurveySite(
        id=site.id,
        stream=site.stream,
        name=site.name,
        also=site.also,
        label=site.id,
        position=_position(place_of(site)) if site.located else None,
        along_km=site.along_km,
        drainage_area_km2=site.area_km2,
        visits_planned=site.planned,
        remarks=site.remarks,
    )


def _position(point: tuple[float, float]) -> Position:
    lon, lat = to_lon_lat(point)
    return Position(lon, lat)


def waypoints() -> str:
    """Return the waypoints of a receiver as GPX 1.1, each named by the label of its site."""
    lines = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        '<gpx version="1.1" creator="Marrowmere Streams Trust (invented)" '
        'xmlns="http://www.topografix.com/GPX/1/1">',
        *_points(),
        "</gpx>",
    ]
    return "".join(f"{line}\n" for line in lines)


def _points() -> Iterator[str]:
    for site in SITES.values():
        if site.located:
            lon, lat = to_lon_lat(place_of(site))
            yield f'  <wpt lat="{lat:.5f}" lon="{lon:.5f}">'
            yield f"    <name>{escape(site.id)}</name>"
            yield f"    <desc>{escape(f'{site.stream}, {site.name}')}</desc>"
            yield "  </wpt>"
