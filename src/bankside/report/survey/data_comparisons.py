"""What gaugings of a survey say beside one another, as tables for other programs."""

from __future__ import annotations

from collections.abc import Iterator

from bankside.report.survey.data_tables import (
    DataColumn,
    DataTable,
    Value,
    gaugings_table,
    sites_table,
)
from bankside.report.survey.exceptions_part import exceptions_of
from bankside.report.survey.material import SurveyMaterial
from bankside.report.survey.unit_part import units_in_order

__all__ = ["survey_tables"]


def survey_tables(material: SurveyMaterial) -> tuple[DataTable, ...]:
    """Return all tables of a survey."""
    return (
        gaugings_table(material),
        sites_table(material),
        DataTable("duplicates", "Pairs of gaugings of one flow", _PAIRS, tuple(_pairs(material))),
        DataTable(
            "balances", "Balances, and reaches between sites", _CLOSURES, tuple(_closures(material))
        ),
        DataTable(
            "unit_discharges",
            "Discharge for each area, by site and day",
            _UNITS,
            tuple(_units(material)),
        ),
        DataTable(
            "exceptions",
            "What did not go as planned, and what is open",
            _EXCEPTIONS,
            tuple((e.kind, e.where, e.what, e.grave) for e in exceptions_of(material)),
        ),
    )


_PAIRS = (
    DataColumn("site", "id of the site"),
    DataColumn("day", "day of the first one"),
    DataColumn("first", "the earlier gauging"),
    DataColumn("second", "the later gauging"),
    DataColumn("first_m3s", "discharge of the earlier one"),
    DataColumn("second_m3s", "discharge of the later one"),
    DataColumn("apart_percent", "difference in percent of their mean"),
    DataColumn("allowed_m3s", "what the stated uncertainties of both allow"),
    DataColumn("within_allowed", "whether the difference is no more than that"),
    DataColumn("same_crew", "whether the same people made both"),
    DataColumn("same_meter", "whether one meter made both"),
    DataColumn("stage_change_m", "mean stage of the later one less that of the earlier one"),
    DataColumn("verdict", "what all repeats of that flow come to"),
)


def _pairs(material: SurveyMaterial) -> Iterator[tuple[Value, ...]]:
    for group in material.examined.duplicates:
        for pair in group.pairs:
            site = pair.first.site
            yield (
                None if site is None else site.id,
                pair.first.day,
                pair.first.id,
                pair.second.id,
                pair.first.final_m3s,
                pair.second.final_m3s,
                pair.difference_percent,
                pair.allowed_m3s,
                pair.within_allowed,
                pair.same_crew,
                pair.same_meter,
                pair.stage_change_m,
                group.verdict,
            )


_CLOSURES = (
    DataColumn("kind", "balance: listed by the survey; reach: between neighbouring sites"),
    DataColumn("name", "what it is called"),
    DataColumn("day", "day of the gauging below"),
    DataColumn("above", "ids of the sites where water comes in, parted by semicolons"),
    DataColumn("taken_out", "ids of the sites where water is taken out"),
    DataColumn("below", "id of the site that it reaches"),
    DataColumn("incoming_m3s", "what comes in"),
    DataColumn("outgoing_m3s", "what goes on and is taken out"),
    DataColumn("difference_m3s", "what goes on less what comes in"),
    DataColumn("band_m3s", "two combined standard uncertainties of the difference"),
    DataColumn("difference_percent", "difference in percent of what comes in"),
    DataColumn("verdict", "gain, loss, no measurable change, or cannot be told"),
    DataColumn("land_km2", "area that drains in between, empty where an area is not known"),
    DataColumn("land_gives_m3s", "what that would give at the median yield of the other sites"),
    DataColumn("as_land_yields", "whether a gain is about as much as that, within its band"),
    DataColumn("why", "why it cannot be told, and what else is to be known"),
)


def _closures(material: SurveyMaterial) -> Iterator[tuple[Value, ...]]:
    for closure in (*material.examined.balances, *material.examined.reaches):
        told, sides, land = closure.difference_m3s is not None, closure.sides, closure.land
        yield (
            closure.kind,
            closure.name,
            closure.day,
            "; ".join(site.id for site in sides.above),
            "; ".join(site.id for site in sides.taken_out) or None,
            sides.below.id,
            closure.incoming_m3s if told else None,
            closure.outgoing_m3s if told else None,
            closure.difference_m3s,
            closure.band_m3s,
            closure.percent,
            closure.verdict,
            None if land is None else land.km2,
            None if land is None else land.gives_m3s,
            closure.as_land_yields if closure.verdict == "gain" else None,
            " ".join((*closure.reasons, *closure.remarks)) or None,
        )


_UNITS = (
    DataColumn("site", "id of the site"),
    DataColumn("day", "day of the gauging"),
    DataColumn("drainage_area_km2", "area that drains to it"),
    DataColumn("discharge_m3s", "discharge, the mean where it was gauged more than once"),
    DataColumn("l_s_km2", "discharge for each square kilometre"),
    DataColumn("ft3_s_mi2", "discharge for each square mile, in cubic feet a second"),
    DataColumn("others", "how many other sites were gauged near that day"),
    DataColumn("median_l_s_km2", "the median of theirs"),
    DataColumn("ratio", "what this site has over that median"),
    DataColumn("odd", "whether that is outside the limits"),
    DataColumn("disputed", "whether its duplicates disagree, so that their mean is no figure"),
)


def _units(material: SurveyMaterial) -> Iterator[tuple[Value, ...]]:
    for unit in units_in_order(material):
        yield (
            unit.site.id,
            unit.day,
            unit.site.drainage_area_km2,
            unit.flow.discharge_m3s,
            unit.l_s_km2,
            unit.ft3_s_mi2,
            unit.others,
            unit.median_l_s_km2,
            unit.ratio,
            unit.odd,
            unit.flow.disputed,
        )


_EXCEPTIONS = (
    DataColumn("what", "of which kind it is"),
    DataColumn("where", "which note, site, day or file it is about"),
    DataColumn("found", "what it is"),
    DataColumn("grave", "whether it keeps a figure of the report from being final"),
)
