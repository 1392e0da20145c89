"""What enters a stream between two sites, and what is taken out there, as far as it was gauged."""

from __future__ import annotations

import datetime
import math
from collections.abc import Iterator

import attrs

from bankside.survey.hydrographic_order import along, mouth
from bankside.survey.records import Stream, Survey, SurveySite
from bankside.survey.synoptic import Synoptic
from bankside.survey.words import site_words

__all__ = ["Inflows", "between", "diversion_ids"]


@attrs.frozen
class Inflows:
    """The sites whose discharge enters, those where it leaves, and sentences on what is unknown."""

    coming: tuple[SurveySite, ...] = ()
    taken_out: tuple[SurveySite, ...] = ()
    unknown: tuple[str, ...] = ()


def diversion_ids(survey: Survey) -> frozenset[str]:
    """Return the ids of the sites at which water is taken out, as some balance says."""
    return frozenset(id_ for balance in survey.balances for id_ in balance.taken_out)


def between(
    survey: Survey,
    stream: str,
    stretch_km: tuple[float, float],
    day: datetime.date,
    synoptic: Synoptic,
) -> Inflows:
    """Return what enters a stretch between two sites on a day, and what is taken out of it.

    stretch_km: how far the lower and the upper site are from the mouth of the stream. Of a
    tributary the gauged site counts that is nearest to its mouth, and with it what enters the
    tributary and what is taken out of it below that site.
    """
    stretch = _Stretch(stream, *stretch_km)
    parts = list(_OnDay(survey, day, synoptic, diversion_ids(survey)).within(stretch))
    return Inflows(
        tuple(site for part in parts for site in part.coming),
        tuple(site for part in parts for site in part.taken_out),
        tuple(sentence for part in parts for sentence in part.unknown),
    )


@attrs.frozen
class _Stretch:
    """A part of a stream, in km from its mouth; its ends are sites."""

    stream: str
    low: float
    high: float


@attrs.frozen
class _OnDay:
    survey: Survey
    day: datetime.date
    synoptic: Synoptic
    diversions: frozenset[str]

    def within(self, stretch: _Stretch) -> Iterator[Inflows]:
        """Yield what enters a stretch and what is taken out of it."""
        streams = {stream.name: stream for stream in self.survey.streams}
        for tributary in self.survey.streams:
            if tributary.joins == stretch.stream:
                km = mouth(tributary, streams[stretch.stream]).km
                yield from self._entering(tributary, km, stretch)
        for site in self.survey.sites:
            if site.stream == stretch.stream and site.id in self.diversions:
                yield from self._leaving(site, along(site, streams.get(site.stream)).km, stretch)

    def _entering(
        self, tributary: Stream, km: float | None, stretch: _Stretch
    ) -> Iterator[Inflows]:
        if km is None:
            yield _unknown(
                f"Where {tributary.name} enters {stretch.stream} is not known: in between?"
            )
        elif km in (stretch.low, stretch.high):
            yield _unknown(
                f"{tributary.name} enters {stretch.stream} at km {km:g}, where a site is: above it "
                "or below it?"
            )
        elif stretch.low < km < stretch.high:
            yield from self._carried_by(tributary)

    def _leaving(self, site: SurveySite, km: float | None, stretch: _Stretch) -> Iterator[Inflows]:
        if km is None or km in (stretch.low, stretch.high):
            yield _unknown(
                f"Whether water is taken out in between, at {site_words(site)}, is not known."
            )
        elif stretch.low < km < stretch.high:
            yield Inflows(taken_out=(site,))

    def _carried_by(self, tributary: Stream) -> Iterator[Inflows]:
        """Yield what a tributary brings: its gauged site nearest to its mouth and what is below."""
        sites = sorted(
            (
                (along(site, tributary).km, site)
                for site in self.survey.sites
                if site.stream == tributary.name and site.id not in self.diversions
            ),
            key=lambda one: (one[0] is None, one[0], one[1].id),
        )
        gauged = [(km, site) for km, site in sites if self.synoptic.flow(site, self.day)]
        if not gauged:
            yield _unknown(self._why_not(tributary, [site for _, site in sites]))
            return
        (km, site), lost = gauged[0], [site for km, site in gauged if km is None]
        yield Inflows(coming=(site,))
        if km is not None:
            yield from self.within(_Stretch(tributary.name, -math.inf, km))
        if lost and (len(gauged) > 1 or tributary.name in {s.joins for s in self.survey.streams}):
            yield _unknown(f"How far {site_words(lost[0])} is from the mouth is not known.")

    def _why_not(self, tributary: Stream, sites: list[SurveySite]) -> str:
        if not sites:
            return f"{tributary.name} enters in between and has no site."
        why = self.synoptic.why_not(sites[0], self.day)
        return f"{tributary.name} enters in between, and {site_words(sites[0])} {why}."


def _unknown(sentence: str) -> Inflows:
    return Inflows(unknown=(sentence,))
