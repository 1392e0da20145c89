"""The map of a survey as content: which discharge stands for a site, and what is not on the map."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from bankside.gauging.rounding import to_figures
from bankside.note.content import Part, Picture
from bankside.report.survey.map_content import MapBy, MapSite, MapStream, SurveyMap
from bankside.report.survey.material import SurveyMaterial
from bankside.survey.duplicates import disputed_ids
from bankside.survey.records import SurveySite
from bankside.survey.site_flow import SiteFlow, site_flows
from bankside.survey.unit_discharge import per_area
from bankside.survey.words import listed

__all__ = ["MAP_KEY", "map_part", "survey_map"]

MAP_KEY: Final = "survey map"

_QUANTITIES: Final[Mapping[MapBy, tuple[str, str]]] = {
    "discharge": ("discharge", "m³/s"),
    "unit-discharge": ("discharge for each area", "L/s/km²"),
}


def survey_map(material: SurveyMaterial, by: MapBy) -> SurveyMap | None:
    """Return what the map shows, None where no site has a position.

    For a site stands the last day on which it was gauged, with the mean of that day; where its
    duplicates disagree, both figures and no mean.
    """
    last = _last_flows(material)
    sites = tuple(
        MapSite(site.label or site.id, place, *_value(site, last.get(site.id), by))
        for site in material.survey.sites
        if (place := _place(site, material)) is not None
    )
    if not sites:
        return None
    streams = tuple(
        MapStream(
            stream.name, tuple((p.lon, p.lat) for p in stream.line), trunk=stream.joins is None
        )
        for stream in material.survey.streams
        if stream.line
    )
    return SurveyMap(streams, sites, *_QUANTITIES[by])


def map_part(material: SurveyMaterial, shown: SurveyMap | None, by: MapBy) -> Part:
    """Return the map with what has to be known to read it."""
    if shown is None:
        return Part("Map", sentences=("No site has a position, so that there is no map.",))
    return Part(
        "Map",
        pictures=(Picture(MAP_KEY, _description(shown), _caption(by)),),
        below=tuple(_missing(material)),
    )


def _last_flows(material: SurveyMaterial) -> dict[str, SiteFlow]:
    disputed = disputed_ids(material.examined.duplicates)
    return {flow.site.id: flow for flow in site_flows(material.examined.visits, disputed)}


def _place(site: SurveySite, material: SurveyMaterial) -> tuple[float, float] | None:
    """Return where a site is: as planned, else where a crew says that it measured there."""
    positions = [
        one.visit.gauging.site.position for one in material.surveyed if one.visit.site == site
    ]
    found = next((p for p in (site.position, *positions) if p is not None), None)
    return None if found is None else (found.lon, found.lat)


def _value(site: SurveySite, flow: SiteFlow | None, by: MapBy) -> tuple[float | None, str]:
    if flow is None or (by == "unit-discharge" and site.drainage_area_km2 is None):
        return None, ""
    if flow.disputed:
        figures = (visit.final_m3s for visit in flow.visits)
        told = (to_figures(_quantity(m3s, site, by), 3) for m3s in figures if m3s is not None)
        return None, " or ".join(told)
    value = _quantity(flow.discharge_m3s, site, by)
    return value, to_figures(value, 3)


def _quantity(m3s: float, site: SurveySite, by: MapBy) -> float:
    if by == "discharge" or site.drainage_area_km2 is None:
        return m3s
    return per_area(m3s, site.drainage_area_km2)[0]


def _caption(by: MapBy) -> str:
    quantity, unit = _QUANTITIES[by]
    return (
        f"Under the label of a site stands its {quantity} in {unit} on the last day on which it "
        "was gauged, the mean where it was gauged more than once on that day. WGS 84; north is up, "
        "the scale is that of the middle of the map. Arrows show which way the water flows."
    )


def _description(shown: SurveyMap) -> str:
    streams = listed([stream.name for stream in shown.streams]) or "no streams"
    sites = "; ".join(
        f"{site.label} {site.words or 'no discharge'} at latitude {site.place[1]:.5f} and "
        f"longitude {site.place[0]:.5f}"
        for site in shown.sites
    )
    return f"Map with {streams}, a scale bar and north upwards. {sites}."


def _missing(material: SurveyMaterial) -> Iterator[str]:
    lost = [site.id for site in material.survey.sites if _place(site, material) is None]
    if lost:
        yield f"Not on the map, as no position is known: {listed(lost)}."
    disputed = [flow.site.id for flow in _last_flows(material).values() if flow.disputed]
    if disputed:
        yield (
            f"Duplicates disagree at {listed(sorted(disputed))}: each figure stands there, and no "
            "mean of them."
        )
    bare = [stream.name for stream in material.survey.streams if not stream.line]
    if bare:
        yield f"Without a course on the map: {listed(bare)}."
