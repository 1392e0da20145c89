"""All gaugings of a survey beside each other: what each site carried on or near a day."""

from __future__ import annotations

import datetime
from collections.abc import Collection, Mapping, Sequence

import attrs

from bankside.survey.records import SurveySite
from bankside.survey.site_flow import SiteFlow, flow_near, site_flows, why_no_flow
from bankside.survey.visits import Visit

__all__ = ["Synoptic"]


@attrs.frozen
class Synoptic:
    """The visits of a survey, and how many days apart gaugings may be to be held together."""

    visits: tuple[Visit, ...]
    window_days: int
    flows: tuple[SiteFlow, ...]
    _flows_at: Mapping[str, Sequence[SiteFlow]]

    @classmethod
    def of(
        cls, visits: Sequence[Visit], window_days: int = 0, disputed: Collection[str] = ()
    ) -> Synoptic:
        """Return the visits with what each site carried on each day, as `site_flows` has it."""
        flows = site_flows(visits, disputed)
        flows_at: dict[str, list[SiteFlow]] = {}
        for flow in flows:
            flows_at.setdefault(flow.site.id, []).append(flow)
        return cls(tuple(visits), window_days, flows, flows_at)

    def flow(self, site: SurveySite, day: datetime.date | None) -> SiteFlow | None:
        """Return what a site carried on a day or near it, None where that is not known."""
        if day is None:
            return None
        return flow_near(self._flows_at.get(site.id, ()), day, self.window_days)

    def days_at(self, site: SurveySite) -> tuple[datetime.date, ...]:
        """Return the days on which a site was gauged, whatever came of it."""
        days = {v.day for v in self.visits if v.site is not None and v.site.id == site.id}
        return tuple(sorted(day for day in days if day is not None))

    def why_not(self, site: SurveySite, day: datetime.date | None) -> str:
        """Return why a site tells no discharge near a day, as the end of a sentence."""
        return why_no_flow(self.visits, site, day)
