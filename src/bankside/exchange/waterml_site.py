"""Where a gauging was made, as a monitoring point of WaterML, and back.

Positions are in EPSG:4326, whose axes are latitude and longitude, in this order (OGC 07-036, 9.10).
"""

from __future__ import annotations

from typing import Any

from bankside.exchange.waterml_names import child, reference, tag, texts_in
from bankside.gauging.records import Site
from bankside.gauging.structure import JsonObject

__all__ = ["add_site", "site_members"]

_CRS = "http://www.opengis.net/def/crs/EPSG/0/4326"


def add_site(feature: Any, id_: str, site: Site) -> None:
    """Add the place of a gauging to its feature of interest."""
    point = child(feature, "wml2:MonitoringPoint", gml_id=f"{id_}-site")
    if site.id is not None:
        child(point, "gml:identifier", site.id, codeSpace="urn:bankside:site")
    if site.name is not None:
        child(point, "gml:name", site.name)
    if site.stream is not None:
        reference(point, "sam:sampledFeature", site.stream)
    else:
        child(point, "sam:sampledFeature", nilReason="missing")
    shape = child(point, "sams:shape")
    if site.position is None:
        shape.set("nilReason", "missing")
        return
    there = child(shape, "gml:Point", gml_id=f"{id_}-point", srsName=_CRS)
    position = site.position
    child(there, "gml:pos", f"{float(position.lat)!r} {float(position.lon)!r}")


def site_members(feature: Any) -> JsonObject:
    """Return the JSON object of the place that a feature of interest has, by value or by title."""
    found = JsonObject()
    point = None if feature is None else next(iter(feature), None)
    if point is None:
        title = None if feature is None else feature.get(tag("xlink:title"))
        return JsonObject(name=title) if title else found
    for name, path in (("id", "gml:identifier"), ("name", "gml:name")):
        texts = [text for text in texts_in(point, path) if text]
        if texts:
            found[name] = texts[0]
    stream = point.find(tag("sam:sampledFeature"))
    if stream is not None and stream.get(tag("xlink:title")):
        found["stream"] = stream.get(tag("xlink:title"))
    figures = " ".join(texts_in(point, "sams:shape/gml:Point/gml:pos")).split()
    if figures:
        found["position"] = JsonObject(lon=_degrees(figures[1:2]), lat=_degrees(figures[:1]))
    return found


def _degrees(figures: list[str]) -> float | str | None:
    """Return a figure as a number where it is one; the record says what is right where not."""
    try:
        return float(figures[0])
    except ValueError:
        return figures[0]
    except IndexError:
        return None
