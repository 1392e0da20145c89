"""Documents that a desk opens or prints: the survey's report, its map, a gauging's note."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from bankside.archive.listing import gauging_rows, record_in
from bankside.gauging.compute import compute
from bankside.gauging.rule_sets.choice import rules_of
from bankside.note.material import gather
from bankside.server.api.answers import Answer
from bankside.server.api.asked import Asked
from bankside.server.api.refusals import not_found
from bankside.server.api.route import Route
from bankside.server.api.shapes import ANY, TEXT, list_of, members
from bankside.server.desk.examined import DAYS, examined_of
from bankside.server.desk.surveys import found_survey
from bankside.survey.records import Stream, SurveySite
from bankside.survey.visits import Visit

__all__ = ["ROUTES"]

_PDF = "application/pdf"
_HTML = "text/html"
_XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
_LITRES = 1000.0


def report_pdf(asked: Asked) -> Answer:
    """Return the report of a survey as PDF."""
    from bankside.report.survey.documents import make_survey_report, survey_paper, survey_pdf

    material = _material(asked)
    document = survey_pdf(make_survey_report(material), survey_paper(material))
    return Answer(document, _PDF, headers=_named(asked, "pdf"))


def report_html(asked: Asked) -> Answer:
    """Return the report of a survey as a page."""
    from bankside.report.html_document import page_policy
    from bankside.report.survey.documents import make_survey_report, survey_html, survey_paper

    material = _material(asked)
    paper = survey_paper(material)
    page = survey_html(make_survey_report(material), paper)
    # The page's own policy, and what no page can say of itself: that no other one frames it.
    headers = {"Content-Security-Policy": f"{page_policy(paper)}; frame-ancestors 'none'"}
    return Answer(page.encode("utf-8"), f"{_HTML}; charset=utf-8", headers=headers)


def tables(asked: Asked) -> Answer:
    """Return the tables of a survey's report as a workbook."""
    from bankside.report.survey.data_comparisons import survey_tables
    from bankside.report.survey.table_files import table_files

    material = _material(asked)
    day = max((v.day for v in material.examined.visits if v.day is not None), default=None)
    return Answer(
        table_files(survey_tables(material), day)["survey.xlsx"],
        _XLSX,
        headers=_named(asked, "xlsx"),
    )


def note_pdf_of(asked: Asked) -> Answer:
    """Return the measurement note of a gauging as PDF."""
    from bankside.report.note_documents import make_note, note_pdf, usual_paper

    id_ = asked.path["id"]
    with asked.archive.reading() as connection:
        rows = gauging_rows(connection, [id_])
    record = record_in(rows[0]) if rows else None
    if record is None:
        raise not_found(f"There is no gauging {id_[:64]} with a record in this archive.")
    finished = bool(rows[0]["over"])
    material = gather(record, compute(record), rules_of(record)[0], finished=finished)
    note = note_pdf(make_note(material), usual_paper(record))
    return Answer(note, _PDF, headers=_named(asked, "pdf"))


def survey_map(asked: Asked) -> dict[str, Any]:
    """Return the streams and sites of a survey as GeoJSON, each site with its last discharge."""
    with asked.archive.reading() as connection:
        found = found_survey(connection, asked.path["id"])
    examined = examined_of(found, asked.query)
    features = [_stream(stream) for stream in found.survey.streams if stream.line]
    for one in examined.order.sites:
        features.append(_site(one.site, [v for v in examined.visits if v.site == one.site]))
    return {"type": "FeatureCollection", "features": features}


def _site(site: SurveySite, visits: Sequence[Visit]) -> dict[str, Any]:
    told = [visit for visit in visits if visit.final_m3s is not None]
    last = told[-1] if told else None
    found = (v.gauging.site.position for v in reversed(visits) if v.gauging.site.position)
    place = site.position or next(found, None)
    discharge = None if last is None else last.final_m3s
    return {
        "type": "Feature",
        "geometry": None
        if place is None
        else {"type": "Point", "coordinates": [place.lon, place.lat]},
        "properties": {
            "kind": "site",
            "id": site.id,
            "stream": site.stream,
            "name": site.name,
            "label": site.label or site.id,
            "visits": len(visits),
            "gauging": None if last is None else last.id,
            "day": None if last is None or last.day is None else last.day.isoformat(),
            "discharge_m3s": discharge,
            "unit_discharge_l_s_km2": _unit(site.drainage_area_km2, discharge),
        },
    }


def _unit(area_km2: float | None, discharge: float | None) -> float | None:
    return None if area_km2 is None or discharge is None else discharge * _LITRES / area_km2


def _stream(stream: Stream) -> dict[str, Any]:
    line: Sequence[Sequence[float]] = [[point.lon, point.lat] for point in stream.line]
    return {
        "type": "Feature",
        "geometry": {"type": "LineString", "coordinates": line},
        "properties": {"kind": "stream", "name": stream.name},
    }


def _material(asked: Asked) -> Any:
    from bankside.report.survey.material import LeftOut, material_of

    with asked.archive.reading() as connection:
        found = found_survey(connection, asked.path["id"])
    examined = examined_of(found, asked.query)
    left_out = [LeftOut("the archive", f"gauging {id_}", (why,)) for id_, why in found.left_out]
    return material_of(examined, examined.visits, found.rules, left_out=left_out)


def _named(asked: Asked, ending: str) -> dict[str, str]:
    return {"Content-Disposition": f'inline; filename="{asked.path["id"][:64]}.{ending}"'}


ROUTES = (
    Route(
        "GET",
        "surveys/{id}/map",
        "crew",
        "Streams and sites as GeoJSON, each site with its last discharge.",
        survey_map,
        members(type=TEXT, features=list_of(ANY)),
        query=DAYS,
        fails=(404, 422),
    ),
    Route(
        "GET",
        "surveys/{id}/report.pdf",
        "crew",
        "The report of a survey as PDF.",
        report_pdf,
        (_PDF,),
        query=DAYS,
        fails=(404, 422),
        draws=True,
    ),
    Route(
        "GET",
        "surveys/{id}/report.html",
        "crew",
        "The report of a survey as a page.",
        report_html,
        (_HTML,),
        query=DAYS,
        fails=(404, 422),
        draws=True,
    ),
    Route(
        "GET",
        "surveys/{id}/tables.xlsx",
        "crew",
        "The tables of a survey's report as a workbook.",
        tables,
        (_XLSX,),
        query=DAYS,
        fails=(404, 422),
        draws=True,
    ),
    Route(
        "GET",
        "gaugings/{id}/note.pdf",
        "crew",
        "The measurement note of a gauging.",
        note_pdf_of,
        (_PDF,),
        fails=(404, 422),
        draws=True,
    ),
)
