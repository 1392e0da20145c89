"""Surveys at a desk: all of them, and one with what its visits say beside one another."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import Any

import attrs
from sqlalchemy import Connection

from bankside.archive.listing import found_by, overview, survey_counts, without_site
from bankside.archive.refresh import change_survey
from bankside.archive.survey_visits import SurveyVisits, survey_visits
from bankside.gauging.checked import Checked
from bankside.gauging.faults import Fault, InputRefused
from bankside.gauging.fields import Text, about
from bankside.gauging.structure import JsonObject
from bankside.server.api.asked import Asked
from bankside.server.api.kinds import Object
from bankside.server.api.refusals import not_found
from bankside.server.api.route import Route
from bankside.server.api.shapes import (
    COUNT,
    FLAG,
    ID,
    NUMBER,
    TEXT,
    list_of,
    map_of,
    members,
    named,
    or_null,
)
from bankside.server.desk.examined import DAYS, examined_of
from bankside.server.desk.rows import ROW, rows_as_told, sites_by_id
from bankside.survey.checks.finding import SurveyFinding
from bankside.survey.checks.run import check_survey
from bankside.survey.closure import Closure
from bankside.survey.document import survey_from_document, survey_to_document
from bankside.survey.duplicates import Duplicates
from bankside.survey.examined import ExaminedSurvey
from bankside.survey.visits import Visit

__all__ = ["ROUTES", "found_survey"]


@attrs.frozen
class SurveyPut(Checked):
    """A survey as it is to be from now on."""

    survey: Any = attrs.field(
        metadata=about(Object(named("Survey")), "its record, bankside.survey/1")
    )
    reason: str | None = attrs.field(default=None, metadata=about(Text(), "why it changed"))


def surveys(asked: Asked) -> dict[str, Any]:
    """Return all surveys."""
    with asked.archive.reading() as connection:
        found = survey_counts(connection)
        lost = len(without_site(connection))
    return {"surveys": [attrs.asdict(one) for one in found], "without_site": lost}


def survey(asked: Asked) -> dict[str, Any]:
    """Return a survey with everything that its visits say beside one another."""
    with asked.archive.reading() as connection:
        found = found_survey(connection, asked.path["id"])
        rows = rows_as_told(overview(connection, found.survey.id), sites_by_id(connection))
    examined = examined_of(found, asked.query)
    findings = check_survey(examined)
    visited = Counter(visit.site.id for visit in found.visits if visit.site is not None)
    return {
        "survey": survey_to_document(found.survey),
        "sites": [
            {
                "id": one.site.id,
                "stream": one.site.stream,
                "name": one.site.name,
                "mouths_below": one.mouths_below,
                "planned": one.site.visits_planned,
                "visited": visited[one.site.id],
            }
            for one in examined.order.sites
        ],
        "order_remarks": list(examined.order.remarks),
        "rows": rows,
        "findings": [_finding(finding) for finding in findings],
        "duplicates": {
            "share": attrs.asdict(examined.share),
            "groups": [_group(group) for group in examined.duplicates],
        },
        "balances": [_balance(one) for one in (*examined.balances, *examined.reaches)],
        "meters": _meters(found.visits),
        "counts": _counts(examined, rows, findings),
    }


def put(asked: Asked) -> dict[str, Any]:
    """Put down how a survey is now; gaugings find their sites by it."""
    said = asked.said(SurveyPut)
    assert isinstance(said.survey, JsonObject)  # by its kind
    try:
        record = survey_from_document(said.survey)
    except InputRefused as refused:
        raise InputRefused(fault.inside("survey") for fault in refused.faults) from None
    if record.id != asked.path["id"]:
        message = f'id must be that of the address, "{asked.path["id"]}" (got "{record.id}")'
        raise InputRefused([Fault(message, path="survey.id")])
    with asked.archive.writing() as connection:
        change_survey(connection, record, asked.you.name, said.reason)
    asked.office.background.wake()
    return {"survey": survey_to_document(record)}


def search(asked: Asked) -> dict[str, Any]:
    """Return the gaugings that a text finds, the latest first."""
    with asked.archive.reading() as connection:
        found = found_by(connection, asked.query.get("text", ""))
        return {"rows": rows_as_told(found, sites_by_id(connection))}


def lost(asked: Asked) -> dict[str, Any]:
    """Return the gaugings whose records name no site of a survey."""
    with asked.archive.reading() as connection:
        return {"rows": rows_as_told(without_site(connection), {})}


def found_survey(connection: Connection, id_: str) -> SurveyVisits:
    """Return a survey with its visits; a refusal where there is none of this id."""
    found = survey_visits(connection, id_)
    if found is None:
        raise not_found(f"There is no survey {id_[:64]} in this archive.")
    return found


def _finding(finding: SurveyFinding) -> dict[str, Any]:
    return {
        "severity": finding.severity,
        "check": finding.check,
        "found": finding.found,
        "advice": finding.advice,
        "gaugings": list(finding.visits),
        "sites": list(finding.sites),
    }


def _group(group: Duplicates) -> dict[str, Any]:
    return {
        "gaugings": [visit.id for visit in group.visits],
        "verdict": group.verdict,
        "spread_percent": group.spread_percent,
        "words": group.words,
        "advice": group.advice,
    }


def _balance(one: Closure) -> dict[str, Any]:
    return {
        "name": one.name,
        "day": None if one.day is None else one.day.isoformat(),
        "verdict": one.verdict,
        "difference_m3s": one.difference_m3s,
        "percent": one.percent,
        "band_m3s": one.band_m3s,
        "land_km2": None if one.land is None else one.land.km2,
        "land_gives_m3s": None if one.land is None else one.land.gives_m3s,
        "as_land_yields": one.as_land_yields,
        "words": one.words,
        "above": [site.id for site in one.sides.above],
        "taken_out": [site.id for site in one.sides.taken_out],
        "below": one.sides.below.id,
        "reasons": list(one.reasons),
        "remarks": list(one.remarks),
    }


def _meters(visits: Sequence[Visit]) -> list[dict[str, Any]]:
    """Return each meter with the gaugings made with it, those past its date and without proof."""
    found: dict[str, list[Visit]] = {}
    for visit in visits:
        meter = visit.gauging.meter
        found.setdefault("" if meter is None else meter.serial or "", []).append(visit)
    return [_meter(serial, used) for serial, used in sorted(found.items())]


def _meter(serial: str, used: Sequence[Visit]) -> dict[str, Any]:
    known = [visit.gauging.meter for visit in used if visit.gauging.meter is not None]
    due = max((m.calibration_due for m in known if m.calibration_due is not None), default=None)
    return {
        "serial": serial or None,
        "kind": next((meter.kind for meter in known if meter.kind is not None), None),
        "calibration_due": None if due is None else due.isoformat(),
        "gaugings": [visit.id for visit in used],
        "overdue": [visit.id for visit in used if _is_overdue(visit)],
        "unproven": [
            visit.id
            for visit in used
            if visit.gauging.meter is None or not visit.gauging.meter.checks
        ],
    }


def _is_overdue(visit: Visit) -> bool:
    meter = visit.gauging.meter
    due = None if meter is None else meter.calibration_due
    return due is not None and visit.day is not None and visit.day > due


def _counts(
    examined: ExaminedSurvey, rows: Sequence[dict[str, Any]], findings: Sequence[SurveyFinding]
) -> dict[str, Any]:
    visited = {visit.site.id for visit in examined.visits if visit.site is not None}
    return {
        "by_state": dict(Counter(row["state"] for row in rows)),
        "open": dict(Counter(finding.severity for finding in findings)),
        "sites": len(examined.survey.sites),
        "visited": len(visited),
    }


_COUNTS = map_of(COUNT)
_TEXT, _NUMBER, _IDS = or_null(TEXT), or_null(NUMBER), list_of(ID)

ROUTES = (
    Route(
        "GET",
        "surveys",
        "crew",
        "All surveys, the one that starts last first.",
        surveys,
        members(
            surveys=list_of(
                members(
                    id=ID,
                    name=TEXT,
                    starts=_TEXT,
                    ends=_TEXT,
                    sites=COUNT,
                    gaugings=COUNT,
                    by_state=_COUNTS,
                )
            ),
            without_site=COUNT,
        ),
    ),
    Route(
        "GET",
        "surveys/{id}",
        "crew",
        "A survey: its sites, gaugings, findings, duplicates, balances and meters.",
        survey,
        members(
            survey=named("Survey"),
            sites=list_of(
                members(
                    id=ID,
                    stream=TEXT,
                    name=TEXT,
                    mouths_below=COUNT,
                    planned=_NUMBER,
                    visited=COUNT,
                )
            ),
            order_remarks=list_of(TEXT),
            rows=list_of(ROW),
            findings=list_of(
                members(
                    severity=TEXT, check=TEXT, found=TEXT, advice=TEXT, gaugings=_IDS, sites=_IDS
                )
            ),
            duplicates=members(
                share=members(
                    visits=COUNT,
                    duplicated=COUNT,
                    percent=_NUMBER,
                    target_percent=_NUMBER,
                    missing=COUNT,
                    words=TEXT,
                ),
                groups=list_of(
                    members(
                        gaugings=_IDS, verdict=TEXT, spread_percent=_NUMBER, words=TEXT, advice=TEXT
                    )
                ),
            ),
            balances=list_of(
                members(
                    name=TEXT,
                    day=_TEXT,
                    verdict=TEXT,
                    difference_m3s=_NUMBER,
                    percent=_NUMBER,
                    band_m3s=_NUMBER,
                    land_km2=_NUMBER,
                    land_gives_m3s=_NUMBER,
                    as_land_yields=FLAG,
                    words=TEXT,
                    above=_IDS,
                    taken_out=_IDS,
                    below=ID,
                    reasons=list_of(TEXT),
                    remarks=list_of(TEXT),
                )
            ),
            meters=list_of(
                members(
                    serial=_TEXT,
                    kind=_TEXT,
                    calibration_due=_TEXT,
                    gaugings=_IDS,
                    overdue=_IDS,
                    unproven=_IDS,
                )
            ),
            counts=members(by_state=_COUNTS, open=_COUNTS, sites=COUNT, visited=COUNT),
        ),
        query=DAYS,
        fails=(404, 422),
    ),
    Route(
        "PUT",
        "surveys/{id}",
        "lead",
        "Put down how a survey is now.",
        put,
        members(survey=named("Survey")),
        takes=SurveyPut,
        fails=(422,),
    ),
    Route(
        "GET",
        "search",
        "crew",
        "The gaugings that a text finds, the latest first.",
        search,
        members(rows=list_of(ROW)),
        query={"text": "words of stream, site, crew, meter or remarks, or a day"},
    ),
    Route(
        "GET",
        "without-site",
        "crew",
        "The gaugings whose records name no site of a survey.",
        lost,
        members(rows=list_of(ROW)),
    ),
)
