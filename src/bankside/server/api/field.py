"""What a device takes along to the stream: surveys, sites, and the last visit to each."""

from __future__ import annotations

import hashlib
from typing import Any

from bankside.archive.last_visits import LastVisit, last_visits
from bankside.archive.register import all_sites, all_surveys
from bankside.gauging.rule_sets.load import load_rule_set, shipped_names
from bankside.gauging.wire import to_document
from bankside.server.api.answers import Answer, json_text
from bankside.server.api.asked import Asked
from bankside.server.api.route import Route
from bankside.server.api.shapes import ID, NUMBER, TEXT, list_of, members, named, or_null
from bankside.survey.document import survey_to_document

__all__ = ["ROUTES"]


def field(asked: Asked) -> Answer:
    """Return what a device takes along, or that it has it already."""
    with asked.archive.reading() as connection:
        surveys = [survey_to_document(survey) for survey in all_surveys(connection)]
        visits = last_visits(connection)
        sites = [
            {
                "id": site.id,
                "stream": site.stream,
                "name": site.name,
                "last_visit": _visit(visits.get(site.id)),
            }
            for site in all_sites(connection)
        ]
    rule_sets = [{"name": name, "title": load_rule_set(name).title} for name in shipped_names()]
    content = json_text({"surveys": surveys, "sites": sites, "rule_sets": rule_sets})
    tag = f'"{hashlib.sha256(content).hexdigest()[:32]}"'
    headers = {"ETag": tag, "Cache-Control": "private, no-cache"}
    known = (one.strip().removeprefix("W/") for one in _asked_for(asked).split(","))
    if tag in known:
        return Answer(b"", status=304, headers=headers)
    return Answer(content, headers=headers)


def _asked_for(asked: Asked) -> str:
    return asked.headers.get("if-none-match", "")


def _visit(visit: LastVisit | None) -> dict[str, Any] | None:
    if visit is None:
        return None
    return {
        "id": visit.gauging,
        "day": visit.day,
        "discharge_m3s": visit.discharge_m3s,
        "record": to_document(visit.record),
    }


ROUTES = (
    Route(
        "GET",
        "field",
        "crew",
        "What a device takes along: surveys, and the last visit to each site.",
        field,
        members(
            surveys=list_of(named("Survey")),
            sites=list_of(
                members(
                    id=ID,
                    stream=TEXT,
                    name=TEXT,
                    last_visit=or_null(
                        members(id=ID, day=TEXT, discharge_m3s=NUMBER, record=named("Gauging"))
                    ),
                )
            ),
            rule_sets=list_of(members(name=TEXT, title=TEXT)),
        ),
        also={304: "The device has it already, by its `If-None-Match`."},
    ),
)
