"""Sites and gaugings as the way points of a GPX file, for a receiver or a map.

Source: GPX 1.1 Schema Documentation, topografix.com/GPX/1/1 (order of elements in `wptType`, from
memory). Equal input gives equal bytes.
"""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from decimal import Decimal
from typing import Any

from lxml import etree

from bankside.exchange.data import SurveyData
from bankside.exchange.xml_text import require_xml_text, written_xml
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.records import Gauging, Position
from bankside.survey.records import SurveySite
from bankside.survey.visits import Visit
from bankside.survey.words import discharge_words

__all__ = ["CREATOR", "GAUGING", "NAMESPACE", "gpx", "gpx_left_out"]

NAMESPACE = "http://www.topografix.com/GPX/1/1"
CREATOR = "Bankside"
GAUGING = "gauging"
_NO_PLACE = (
    "found no position of any site or gauging, so that a GPX file would be empty; the points of a "
    "receiver, --positions FILE, would be right"
)
# The order in which the schema has the elements of a way point, as far as they are used here.
_ORDER = ("ele", "time", "name", "cmt", "desc", "type")


def gpx(data: SurveyData) -> bytes:
    """Return the sites and gaugings that have a position as the way points of a GPX file.

    InputRefused where none of them has a position, so that the file would be empty, or where a text
    has a sign that no XML can hold.
    """
    root = etree.Element(f"{{{NAMESPACE}}}gpx", nsmap={None: NAMESPACE})
    root.set("version", "1.1")
    root.set("creator", CREATOR)
    for site in data.survey.sites if data.survey is not None else ():
        if site.position is not None:
            _add(root, site.position, f"site {site.id}", _of_site(site, site.position))
    visits: Sequence[Visit | None] = data.visits or [None] * len(data.gaugings)
    names: set[str] = set()
    for number, (gauging, visit) in enumerate(zip(data.gaugings, visits, strict=True), 1):
        position = gauging.site.position
        if position is not None:
            name = _own_name(gauging, number, names)
            _add(root, position, f"gauging {name}", _of_gauging(name, gauging, position, visit))
    if not len(root):
        raise InputRefused([Fault(_NO_PLACE)])
    return written_xml(root)


def gpx_left_out(data: SurveyData) -> tuple[str, ...]:
    """Return what GPX does not hold of a survey, in sentences."""
    survey = data.survey
    sites = [s.id for s in survey.sites if s.position is None] if survey is not None else []
    away = sum(gauging.site.position is None for gauging in data.gaugings)
    found = []
    if sites:
        found.append(f"GPX holds no site without a position: {', '.join(sites)} are left out.")
    if away:
        found.append(f"GPX holds no gauging without a position: {away} are left out.")
    if data.gaugings:
        found.append("GPX holds of a gauging its place, start and discharge, and no reading.")
    if survey is not None:
        found.append(
            "GPX holds of a survey the places of its sites: no stream, no balance, no distance, no "
            "drainage area, no other name."
        )
    return tuple(found)


def _add(root: Any, position: Position, place: str, told: dict[str, str]) -> None:
    point = etree.SubElement(root, f"{{{NAMESPACE}}}wpt")
    # Never in powers of ten, which the schema's decimal does not have.
    point.set("lat", _decimal(position.lat))
    point.set("lon", _decimal(position.lon))
    for name in _ORDER:
        if told.get(name):
            element = etree.SubElement(point, f"{{{NAMESPACE}}}{name}")
            element.text = require_xml_text(told[name], place)


def _decimal(degrees: float) -> str:
    return format(Decimal(repr(degrees)), "f")


def _of_site(site: SurveySite, position: Position) -> dict[str, str]:
    return {
        "name": site.label or site.id,
        "cmt": _receiver(position, site.remarks),
        "desc": f"{site.stream}, {site.name}",
        "type": "site",
    }


def _own_name(gauging: Gauging, number: int, used: set[str]) -> str:
    """Return what a gauging is called on a receiver, where no two points may have one name."""
    position = gauging.site.position
    label = (position and position.label) or gauging.site.name or gauging.id or f"gauging {number}"
    name = f"{label} {gauging.date.isoformat()}" if gauging.date is not None else label
    if name in used:
        name = f"{name} ({number})"
    used.add(name)
    return name


def _of_gauging(
    name: str, gauging: Gauging, position: Position, visit: Visit | None
) -> dict[str, str]:
    day = gauging.date.isoformat() if gauging.date is not None else None
    m3s = None if visit is None else visit.discharge_m3s
    flow = None if m3s is None else discharge_words(m3s)
    return {
        "time": "" if gauging.started is None else _in_utc(gauging.started),
        "name": name,
        "cmt": _receiver(position, None),
        "desc": ", ".join(filter(None, (gauging.site.stream, gauging.site.name, day, flow))),
        "type": GAUGING,
    }


def _receiver(position: Position, remarks: str | None) -> str:
    accuracy = position.accuracy_m
    told = (
        position.label and f"label: {position.label}",
        None if accuracy is None else f"accuracy: {accuracy!r} m",
        remarks,
    )
    return "; ".join(filter(None, told))


def _in_utc(moment: datetime.datetime) -> str:
    return moment.astimezone(datetime.UTC).isoformat().replace("+00:00", "Z")
