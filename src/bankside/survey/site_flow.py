"""What a site carried on a day, how sure that is, and which part of it goes with the meter."""

from __future__ import annotations

import datetime
import math
import statistics
from collections.abc import Collection, Iterable, Sequence

import attrs

from bankside.survey.in_time import in_time
from bankside.survey.records import SurveySite
from bankside.survey.site_names import folded_name
from bankside.survey.visits import Visit

__all__ = ["SiteFlow", "flow_near", "site_flows", "why_no_flow"]

# What the budgets of one meter have in common: its rating, and what is common to all panels.
_SHARED = ("meter", "systematic")


@attrs.frozen
class SiteFlow:
    """The discharge of a site on a day, the mean where it was measured more than once.

    `standard_uncertainty_m3s` is None where no gauging states one, and 0 where there was no water.
    A mean of several is held to be no surer than one of them, and less sure where they are further
    apart than that (ours): the larger of the root mean square of what they state and of the
    standard deviation of their mean. `shared_m3s` is the part of it that every gauging with the
    same meter has in common, with the sign of the discharge; `meter` is its serial number, None
    where it is unknown or several were used. `disputed` says that its repeats disagree so much that
    neither is to be trusted: the mean is then no figure to rest anything on.
    """

    site: SurveySite
    day: datetime.date
    visits: tuple[Visit, ...]
    discharge_m3s: float
    standard_uncertainty_m3s: float | None
    shared_m3s: float
    meter: str | None
    disputed: bool = False


def site_flows(visits: Iterable[Visit], disputed: Collection[str] = ()) -> tuple[SiteFlow, ...]:
    """Return what each site carried on each day on which it was gauged, in order of time.

    Gaugings without a site, a day or a discharge, and those not finished, tell nothing here.
    disputed: the ids of visits whose repeats ask for one more measurement.
    """
    grouped: dict[tuple[str, datetime.date], list[Visit]] = {}
    for visit in in_time(visits):
        if visit.site is not None and visit.day is not None and visit.final_m3s is not None:
            grouped.setdefault((visit.site.id, visit.day), []).append(visit)
    return tuple(_flow(day, group, disputed) for (_, day), group in grouped.items())


def flow_near(flows: Iterable[SiteFlow], day: datetime.date, window_days: int) -> SiteFlow | None:
    """Return what a site carried nearest to a day, the earlier of two that are as near.

    flows: those of one site. None where it was not gauged within so many days before or after.
    """
    near = [flow for flow in flows if abs((flow.day - day).days) <= window_days]
    return min(near, key=lambda flow: (abs((flow.day - day).days), flow.day), default=None)


def why_no_flow(visits: Sequence[Visit], site: SurveySite, day: datetime.date | None) -> str:
    """Return why a site tells no discharge near a day, as the end of a sentence."""
    there = [v for v in in_time(visits) if v.site is not None and v.site.id == site.id]
    if not there:
        return "was not gauged"
    failed = next((v for v in there if v.final_m3s is None and day in (None, v.day)), None)
    if failed is not None:
        return f"was gauged and gives no discharge: {failed.why_none}"
    days = [v.day for v in there if v.day is not None and v.final_m3s is not None]
    if day is None or not days:
        return "was gauged on a day that is not written down"
    nearest = min(days, key=lambda other: (abs((other - day).days), other))
    apart = (nearest - day).days
    count = f"{abs(apart)} day{'' if abs(apart) == 1 else 's'}"
    return f"was gauged on {nearest.isoformat()}, {count} {'before' if apart < 0 else 'after'}"


def _flow(day: datetime.date, visits: Sequence[Visit], disputed: Collection[str]) -> SiteFlow:
    site = visits[0].site
    assert site is not None  # site_flows asks for it
    flows = [visit.final_m3s for visit in visits if visit.final_m3s is not None]
    mean = math.fsum(flows) / len(flows)
    meters = {_serial(visit) for visit in visits}
    return SiteFlow(
        site=site,
        day=day,
        visits=tuple(visits),
        discharge_m3s=mean,
        standard_uncertainty_m3s=_uncertainty(visits, flows),
        shared_m3s=mean * max(map(_shared_percent, visits)) / 100,
        meter=meters.pop() if len(meters) == 1 else None,
        disputed=any(visit.id in disputed for visit in visits),
    )


def _uncertainty(visits: Sequence[Visit], flows: Sequence[float]) -> float | None:
    stated = [u for visit in visits if (u := _stated(visit)) is not None]
    if not stated:
        return None
    typical = math.sqrt(math.fsum(u * u for u in stated) / len(stated))
    scatter = statistics.stdev(flows) / math.sqrt(len(flows)) if len(flows) > 1 else 0.0
    return max(typical, scatter)


def _stated(visit: Visit) -> float | None:
    """Return the standard uncertainty that a gauging states; that of no water is 0 (ours)."""
    if visit.result is not None and visit.result.area_m2 == 0:
        return 0.0
    return visit.standard_uncertainty_m3s


def _shared_percent(visit: Visit) -> float:
    if visit.budget is None:
        return 0.0
    return math.hypot(*(part.percent for part in visit.budget.parts if part.name in _SHARED))


def _serial(visit: Visit) -> str | None:
    meter = visit.gauging.meter
    return None if meter is None or meter.serial is None else folded_name(meter.serial)
