"""The tables of a survey for other programs: figures in SI, unrounded, a row a thing."""

from __future__ import annotations

import datetime
from collections.abc import Iterator

import attrs

from bankside.report.survey.material import Surveyed, SurveyMaterial
from bankside.report.survey.numbering import in_order, numbers_of
from bankside.survey.summary import SummaryRow, summary_of

__all__ = ["DataColumn", "DataTable", "Value", "gaugings_table", "sites_table"]

Value = str | float | int | bool | datetime.date | None
"""What a cell holds; None where something is not known."""


@attrs.frozen
class DataColumn:
    """A column: its name, with the unit at its end where it has one, and what it holds."""

    name: str
    about: str


@attrs.frozen
class DataTable:
    """A table with its columns, and a value in every row for each of them."""

    name: str
    about: str
    columns: tuple[DataColumn, ...]
    rows: tuple[tuple[Value, ...], ...]


_GAUGINGS = (
    DataColumn("note", "number of its note in the report"),
    DataColumn("gauging", "what tells the gauging from every other"),
    DataColumn("site", "id of the site, empty where it is at none of the survey"),
    DataColumn("stream", "name of the stream"),
    DataColumn("place", "name of the place on the stream"),
    DataColumn("file", "where it stands"),
    DataColumn("day", "day on which it was made"),
    DataColumn("started", "when it began, with its offset from UTC"),
    DataColumn("ended", "when it ended, with its offset from UTC"),
    DataColumn("crew", "who took part, parted by semicolons"),
    DataColumn("meter", "kind and serial number of the meter"),
    DataColumn("finished", "whether no readings are still to come"),
    DataColumn("verticals", "verticals with water"),
    DataColumn("width_m", "width of the water"),
    DataColumn("mean_depth_m", "area through width"),
    DataColumn("area_m2", "area of the section"),
    DataColumn("mean_velocity_ms", "discharge of the readings through area"),
    DataColumn("state", "how far it has come in the archive, empty for files"),
    DataColumn(
        "discharge_m3s",
        "discharge, as filed in an archive; empty where the gauging is unfinished or gives none",
    ),
    DataColumn("readings_m3s", "what the readings give now, which may differ from what was filed"),
    DataColumn("discharge_ft3s", "the same in cubic feet a second"),
    DataColumn(
        "standard_percent",
        "one standard uncertainty, in percent of the discharge; empty while a reading is in doubt",
    ),
    DataColumn(
        "expanded_percent",
        "half the interval that holds it about 19 times in 20, in percent of the discharge",
    ),
    DataColumn("uncertainty_by", "the method of that uncertainty"),
    DataColumn("quality", "how good the crew holds it to be"),
    DataColumn("borne_out", "the best word that its uncertainty bears out"),
    DataColumn("l_s_km2", "discharge for each square kilometre that drains to the site"),
    DataColumn("duplicates", "verdict on its repeats, empty where there are none"),
    DataColumn("open_findings", "findings that nobody answered, notes aside"),
    DataColumn("gravest", "how grave the gravest of them is"),
    DataColumn("why_none", "why there is no discharge to be held against others"),
)


def gaugings_table(material: SurveyMaterial) -> DataTable:
    """Return a row for each gauging, in the order of the report."""
    examined = material.examined
    summary = summary_of(examined.survey, examined.visits, examined.rules)
    by_id = {row.visit: row for row in summary.rows if row.visit is not None}
    numbers = numbers_of(material)
    rows = (_gauging(one, by_id[one.visit.id], numbers[one.visit.id]) for one in in_order(material))
    return DataTable("gaugings", "Each gauging and its discharge", _GAUGINGS, tuple(rows))


def _gauging(one: Surveyed, row: SummaryRow, number: int) -> tuple[Value, ...]:
    gauging = one.visit.gauging
    if not row.finished:
        row = attrs.evolve(
            row,
            discharge_m3s=None,
            discharge_ft3s=None,
            standard_percent=None,
            expanded_percent=None,
            uncertainty_by=None,
            borne_out=None,
            l_s_km2=None,
        )
    started, ended, result = gauging.started, gauging.ended, one.visit.result
    return (
        number,
        one.visit.id,
        row.site,
        row.stream,
        row.place,
        one.file or None,
        row.day,
        None if started is None else started.isoformat(),
        None if ended is None else ended.isoformat(),
        "; ".join(row.crew) or None,
        row.meter,
        row.finished,
        row.verticals,
        row.width_m,
        row.mean_depth_m,
        row.area_m2,
        row.mean_velocity_ms,
        one.visit.state or None,
        row.discharge_m3s,
        None if result is None or not row.finished else result.discharge_m3s,
        row.discharge_ft3s,
        row.standard_percent,
        row.expanded_percent,
        row.uncertainty_by,
        row.quality,
        row.borne_out,
        row.l_s_km2,
        row.duplicates,
        row.open_findings,
        row.gravest,
        one.visit.why_none or None,
    )


_SITES = (
    DataColumn("site", "id of the site"),
    DataColumn("stream", "name of the stream"),
    DataColumn("place", "name of the place on the stream"),
    DataColumn("along_km", "distance from the mouth of its stream, along it"),
    DataColumn("along_by", "whether that is given, or measured along the line of the stream"),
    DataColumn("drainage_area_km2", "area that drains to it"),
    DataColumn("longitude", "where the section is planned to be, WGS 84"),
    DataColumn("latitude", "where the section is planned to be, WGS 84"),
    DataColumn("gaugings_planned", "how many gaugings are planned"),
    DataColumn("gaugings", "how many were made"),
)


def sites_table(material: SurveyMaterial) -> DataTable:
    """Return a row for each site, as the water meets them."""
    return DataTable("sites", "Each site of the survey", _SITES, tuple(_sites(material)))


def _sites(material: SurveyMaterial) -> Iterator[tuple[Value, ...]]:
    visits = material.examined.visits
    for ordered in material.examined.order.sites:
        site, position = ordered.site, ordered.site.position
        yield (
            site.id,
            site.stream,
            site.name,
            ordered.along.km,
            ordered.along.by,
            site.drainage_area_km2,
            None if position is None else position.lon,
            None if position is None else position.lat,
            site.visits_planned,
            sum(1 for visit in visits if visit.site is not None and visit.site.id == site.id),
        )
