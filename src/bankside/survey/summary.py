"""The table of a season: a row for each visit and for each site without one, and what it comes to.

Figures are in SI and unrounded; how a discharge is to be shown stands beside them.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping, Sequence

import attrs

from bankside.gauging.budget import Budget
from bankside.gauging.checks.finding import SEVERITIES, Finding
from bankside.gauging.records import Meter, Quality, Severity
from bankside.gauging.rounding import to_figures
from bankside.gauging.rule_sets.rule_set import RuleSet
from bankside.gauging.units import cubic_metres_per_second_per
from bankside.survey.duplicate_share import DuplicateShare, duplicate_share
from bankside.survey.duplicates import Verdict, duplicates_of
from bankside.survey.hydrographic_order import hydrographic_order
from bankside.survey.in_time import in_time
from bankside.survey.records import Survey, SurveySite
from bankside.survey.unit_discharge import per_area
from bankside.survey.visits import Visit

__all__ = ["SeasonTotals", "Summary", "SummaryRow", "open_findings", "summary_of"]

# Figures to which a discharge is shown: British Columbia manual, 1998, F.3 (read).
_FIGURES = 3


@attrs.frozen
class SummaryRow:
    """A visit in the table of the season, or a site that has none.

    `site` is the id of the site, None for a visit to none of the survey; `stream` and `place` are
    then what the record says. `visit` is the id of the visit, None for a site without one.
    `finished` says whether no readings are still to come. `verticals` counts those with water.
    `shown_m3s` and `shown_ft3s` are the discharge to three figures. `quality` is the crew's word
    and `borne_out` the best that the uncertainty bears out. `duplicates` is the verdict on its
    repeats, None where there are none. `open_findings` counts the findings that nobody answered,
    notes aside, and `gravest` is how grave they are. What is not known is None.
    """

    site: str | None
    stream: str | None
    place: str | None
    visit: str | None = None
    day: datetime.date | None = None
    crew: tuple[str, ...] = ()
    meter: str | None = None
    verticals: int | None = None
    width_m: float | None = None
    mean_depth_m: float | None = None
    area_m2: float | None = None
    mean_velocity_ms: float | None = None
    discharge_m3s: float | None = None
    discharge_ft3s: float | None = None
    shown_m3s: str = ""
    shown_ft3s: str = ""
    refused: str = ""
    finished: bool = True
    standard_percent: float | None = None
    expanded_percent: float | None = None
    uncertainty_by: str | None = None
    quality: Quality | None = None
    borne_out: Quality | None = None
    l_s_km2: float | None = None
    ft3_s_mi2: float | None = None
    duplicates: Verdict | None = None
    open_findings: int = 0
    gravest: Severity | None = None


@attrs.frozen
class SeasonTotals:
    """What the season comes to.

    `sites` are those of the survey, `sites_planned` those at which gaugings are planned or nothing
    is said about it, `sites_visited` those with a gauging. `gaugings_planned` is None where no site
    says how many. `with_discharge` are the gaugings that give one, `without_site` those at no site
    of the survey. `exceptions` are the gaugings with findings that nobody answered, notes aside.
    """

    sites: int
    sites_planned: int
    sites_visited: int
    gaugings_planned: float | None
    gaugings: int
    with_discharge: int
    without_site: int
    exceptions: int
    share: DuplicateShare


@attrs.frozen
class Summary:
    """The table of a season, its totals, and what the order of its rows rests on."""

    rows: tuple[SummaryRow, ...]
    totals: SeasonTotals
    remarks: tuple[str, ...]


def summary_of(survey: Survey, visits: Sequence[Visit], rules: RuleSet) -> Summary:
    """Return the table of a season.

    Sites are in the order in which the water meets them, visits to one in order of time, visits to
    none of them last.
    """
    order = hydrographic_order(survey)
    verdict_of = {
        visit.id: duplicates.verdict
        for duplicates in duplicates_of(visits, rules)
        for visit in duplicates.visits
    }
    rows = [row for ordered in order.sites for row in _rows_of(ordered.site, visits, verdict_of)]
    rows += [_row(visit, verdict_of) for visit in in_time(visits) if visit.site is None]
    return Summary(tuple(rows), _totals(survey, visits), order.remarks)


def open_findings(visit: Visit) -> tuple[Finding, ...]:
    """Return the findings of a gauging that ask for an answer and have none."""
    return tuple(f for f in visit.findings if f.answer is None and f.severity != "note")


def _rows_of(
    site: SurveySite, visits: Sequence[Visit], verdict_of: Mapping[str, Verdict]
) -> Iterator[SummaryRow]:
    there = [v for v in in_time(visits) if v.site is not None and v.site.id == site.id]
    if not there:
        yield SummaryRow(site.id, site.stream, site.name)
    for visit in there:
        yield _row(visit, verdict_of)


def _row(visit: Visit, verdict_of: Mapping[str, Verdict]) -> SummaryRow:
    site, gauging = visit.site, visit.gauging
    waiting = open_findings(visit)
    row = SummaryRow(
        site=None if site is None else site.id,
        stream=gauging.site.stream if site is None else site.stream,
        place=gauging.site.name if site is None else site.name,
        visit=visit.id,
        day=visit.day,
        crew=tuple(member.name for member in gauging.crew),
        meter=_meter_words(gauging.meter),
        refused=visit.refused,
        finished=visit.finished,
        quality=gauging.quality,
        borne_out=visit.borne_out,
        duplicates=verdict_of.get(visit.id),
        open_findings=len(waiting),
        gravest=next((s for s in SEVERITIES if any(f.severity == s for f in waiting)), None),
    )
    row = _with_discharge(_with_section(row, visit), visit)
    return _with_uncertainty(row, visit.told_budget)


def _with_section(row: SummaryRow, visit: Visit) -> SummaryRow:
    result = visit.result
    if result is None:
        return row
    return attrs.evolve(
        row,
        verticals=sum(1 for vertical in result.verticals if vertical.depth_m > 0),
        width_m=result.width_m,
        mean_depth_m=result.mean_depth_m,
        area_m2=result.area_m2,
        mean_velocity_ms=result.mean_velocity_ms,
    )


def _with_discharge(row: SummaryRow, visit: Visit) -> SummaryRow:
    m3s, site = visit.discharge_m3s, visit.site
    if m3s is None:
        return row
    ft3s = m3s / cubic_metres_per_second_per("ft3/s")
    area = None if site is None else site.drainage_area_km2
    litres, feet = (None, None) if area is None else per_area(m3s, area)
    return attrs.evolve(
        row,
        discharge_m3s=m3s,
        discharge_ft3s=ft3s,
        shown_m3s=to_figures(m3s, _FIGURES),
        shown_ft3s=to_figures(ft3s, _FIGURES),
        l_s_km2=litres,
        ft3_s_mi2=feet,
    )


def _with_uncertainty(row: SummaryRow, budget: Budget | None) -> SummaryRow:
    if budget is None:
        return row
    return attrs.evolve(
        row,
        standard_percent=budget.standard_percent,
        expanded_percent=budget.expanded_percent,
        uncertainty_by=budget.method,
    )


def _meter_words(meter: Meter | None) -> str | None:
    if meter is None:
        return None
    return " ".join(part for part in (meter.kind, meter.serial) if part) or None


def _totals(survey: Survey, visits: Sequence[Visit]) -> SeasonTotals:
    planned = [site.visits_planned for site in survey.sites]
    said = [count for count in planned if count is not None]
    return SeasonTotals(
        sites=len(survey.sites),
        sites_planned=sum(1 for count in planned if count is None or count > 0),
        sites_visited=len({v.site.id for v in visits if v.site is not None}),
        gaugings_planned=sum(said) if said else None,
        gaugings=len(visits),
        with_discharge=sum(1 for visit in visits if visit.discharge_m3s is not None),
        without_site=sum(1 for visit in visits if visit.site is None),
        exceptions=sum(1 for visit in visits if open_findings(visit)),
        share=duplicate_share(survey, visits),
    )
