"""Discharge for each square kilometre that drains to a site, beside that of the other sites.

In one basin on one day it is much alike; what is not, is a slip, a spring, a diversion, or an area
that is wrong. A discharge far from the others is a question and no verdict.
"""

from __future__ import annotations

import datetime
import statistics
from collections.abc import Collection, Sequence
from typing import Final

import attrs

from bankside.gauging.rounding import to_figures
from bankside.gauging.rule_sets.rule_set import RuleSet, Threshold
from bankside.gauging.units import cubic_metres_per_second_per
from bankside.kernel.limits import above, below
from bankside.survey.records import SurveySite
from bankside.survey.site_flow import SiteFlow
from bankside.survey.synoptic import Synoptic
from bankside.survey.visits import Visit
from bankside.survey.words import site_words

__all__ = ["KM2_PER_MI2", "UnitDischarge", "median_of_others", "per_area", "unit_discharges_of"]

KM2_PER_MI2: Final = 1.609344**2
"""An international mile is 5280 ft of 0.3048 m: 1609.344 m, exactly."""

# Ours, no source: one other site is no measure of a basin; with two the median is their mean.
_FEWEST_OTHERS = 2


@attrs.frozen
class UnitDischarge:
    """What drains from each square kilometre above a site on a day.

    `others` is how many other sites were gauged then, each once and those left out whose duplicates
    disagree, and `median_l_s_km2` the median of theirs. `ratio` is what this site has over it. Both
    are None with fewer than two others, and the ratio where the median is 0. `odd` says whether it
    is outside the limits, None where that cannot be told. `thresholds` are these limits, the lower
    one first.
    """

    site: SurveySite
    day: datetime.date
    flow: SiteFlow
    l_s_km2: float
    ft3_s_mi2: float
    others: int
    median_l_s_km2: float | None
    ratio: float | None
    odd: bool | None
    thresholds: tuple[Threshold, Threshold]

    @property
    def words(self) -> str:
        """What drains from each area, how that is beside the others, and whether to trust it."""
        return f"{self._told()} {self.remark}".strip()

    @property
    def remark(self) -> str:
        """That the duplicates behind the figure disagree, empty where they do not."""
        if not self.flow.disputed:
            return ""
        return "Its duplicates disagree: neither figure is to be trusted, nor their mean."

    def _told(self) -> str:
        own = (
            f"{site_words(self.site)}, {self.day.isoformat()}: "
            f"{to_figures(self.l_s_km2, 3)} L/s/km² ({to_figures(self.ft3_s_mi2, 3)} ft³/s/mi²)"
        )
        if self.ratio is None or self.median_l_s_km2 is None:
            return f"{own}; beside {self.others} other sites it cannot be judged."
        low, high = (threshold.words() for threshold in self.thresholds)
        told = (
            f"{own}, {to_figures(self.ratio, 2)} times the median of {self.others} other sites, "
            f"{to_figures(self.median_l_s_km2, 3)} L/s/km²"
        )
        side = "outside" if self.odd else "within"
        return f"{told}: {side} {low} to {high} times."


def per_area(m3s: float, km2: float) -> tuple[float, float]:
    """Return a discharge for its drainage area in L/s/km² and in ft³/s/mi²."""
    ft3s, mi2 = m3s / cubic_metres_per_second_per("ft3/s"), km2 / KM2_PER_MI2
    return 1000 * m3s / km2, ft3s / mi2


def unit_discharges_of(
    visits: Sequence[Visit],
    rules: RuleSet,
    window_days: int = 0,
    disputed: Collection[str] = (),
) -> tuple[UnitDischarge, ...]:
    """Return the unit discharge of each site with a drainage area on each day of a gauging.

    The others are the sites that were gauged at most `window_days` before or after, each with the
    gauging nearest to that day. disputed: the ids of visits whose repeats disagree.
    """
    synoptic = Synoptic.of(visits, window_days, disputed)
    return tuple(
        _beside(flow, synoptic, rules) for flow in synoptic.flows if flow.site.drainage_area_km2
    )


def median_of_others(
    site: SurveySite, day: datetime.date, synoptic: Synoptic
) -> tuple[int, float | None]:
    """Return how many other sites tell a unit discharge near a day, and its median in L/s/km².

    Each site counts once, and not at all where its duplicates disagree; of fewer than two others
    there is no median.
    """
    sites = {flow.site.id: flow.site for flow in synoptic.flows if flow.site.drainage_area_km2}
    nearby = [synoptic.flow(other, day) for id_, other in sites.items() if id_ != site.id]
    others = [_own(flow)[0] for flow in nearby if flow is not None and not flow.disputed]
    return len(others), statistics.median(others) if len(others) >= _FEWEST_OTHERS else None


def _beside(flow: SiteFlow, synoptic: Synoptic, rules: RuleSet) -> UnitDischarge:
    others, median = median_of_others(flow.site, flow.day, synoptic)
    litres, feet = _own(flow)
    ratio = litres / median if median else None
    low, high = rules["unit_discharge_low"], rules["unit_discharge_high"]
    return UnitDischarge(
        site=flow.site,
        day=flow.day,
        flow=flow,
        l_s_km2=litres,
        ft3_s_mi2=feet,
        others=others,
        median_l_s_km2=median,
        ratio=ratio,
        odd=None if ratio is None else below(ratio, low.si) or above(ratio, high.si),
        thresholds=(low, high),
    )


def _own(flow: SiteFlow) -> tuple[float, float]:
    return per_area(flow.discharge_m3s, flow.site.drainage_area_km2 or 1.0)
