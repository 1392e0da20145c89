"""Gain and loss between the gauged sites of each stream, tributaries and diversions counted in."""

from __future__ import annotations

import datetime
from collections.abc import Collection, Iterator, Sequence

import attrs

from bankside.survey.closure import Closure, Sides, closure_of
from bankside.survey.hydrographic_order import OrderedSite, hydrographic_order
from bankside.survey.inflows import between, diversion_ids
from bankside.survey.records import Survey
from bankside.survey.synoptic import Synoptic
from bankside.survey.visits import Visit
from bankside.survey.words import listed, site_words

__all__ = ["reaches_of"]


def reaches_of(
    survey: Survey,
    visits: Sequence[Visit],
    window_days: int = 0,
    disputed: Collection[str] = (),
) -> tuple[Closure, ...]:
    """Return the closure from each gauged site to the next one up its stream, day by day.

    The next one up is the nearest that was gauged within the window. Where a tributary enters in
    between, its gauged site that is nearest to its mouth counts, and what enters below that. A site
    at which water is taken out, as some balance says, counts as such. No reach is given that a
    balance of the survey covers, nor for sites whose place along the stream is not known. Visits
    with an id among `disputed` have repeats that disagree: nothing can be told with them.
    """
    return tuple(_reaches(survey, Synoptic.of(visits, window_days, disputed)))


def _reaches(survey: Survey, synoptic: Synoptic) -> Iterator[Closure]:
    order = hydrographic_order(survey)
    diversions = diversion_ids(survey)
    covered = {(up, b.below) for b in survey.balances for up in b.above}
    for stream in dict.fromkeys(ordered.site.stream for ordered in order.sites):
        main = [
            one
            for one in order.on(stream)
            if one.along.km is not None and one.site.id not in diversions
        ]
        for index, lower in enumerate(main[1:], 1):
            for day in synoptic.days_at(lower.site):
                upper, passed = _next_up(main[:index], day, synoptic)
                if (upper.site.id, lower.site.id) not in covered:
                    yield _reach(survey, (upper, lower), passed, day, synoptic)


def _next_up(
    above: Sequence[OrderedSite], day: datetime.date, synoptic: Synoptic
) -> tuple[OrderedSite, Sequence[OrderedSite]]:
    """Return the nearest site above that was gauged, and those in between; else the nearest."""
    for index in range(len(above) - 1, -1, -1):
        if synoptic.flow(above[index].site, day) is not None:
            return above[index], above[index + 1 :]
    return above[-1], ()


def _reach(
    survey: Survey,
    ends: tuple[OrderedSite, OrderedSite],
    passed: Sequence[OrderedSite],
    day: datetime.date,
    synoptic: Synoptic,
) -> Closure:
    upper, lower = ends
    stream, km = lower.site.stream, (lower.along.km or 0.0, upper.along.km or 0.0)
    inflows = between(survey, stream, km, day, synoptic)
    sides = Sides(
        above=(upper.site, *inflows.coming),
        below=lower.site,
        taken_out=inflows.taken_out,
        unknown=inflows.unknown,
    )
    name = f"{stream}, {upper.site.name} to {lower.site.name}"
    closure = closure_of(name, "reach", sides, day, synoptic)
    if not passed:
        return closure
    sites = listed([site_words(one.site) for one in passed])
    return attrs.evolve(closure, remarks=(*closure.remarks, f"Not gauged in between: {sites}."))
