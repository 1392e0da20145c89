"""The balances of a survey on every day on which the site below was gauged."""

from __future__ import annotations

import datetime
from collections.abc import Collection, Iterator, Sequence

from bankside.survey.closure import Closure, Sides, closure_of
from bankside.survey.records import Survey
from bankside.survey.synoptic import Synoptic
from bankside.survey.visits import Visit

__all__ = ["balances_of"]


def balances_of(
    survey: Survey,
    visits: Sequence[Visit],
    window_days: int = 0,
    disputed: Collection[str] = (),
) -> tuple[Closure, ...]:
    """Return every balance that a survey lists, once for each day of the site below.

    Gaugings may be `window_days` apart from it; of several the nearest counts. A balance whose site
    below was never gauged stands there once, without a day. Visits with an id among `disputed` have
    repeats that disagree: nothing can be told with them.
    """
    return tuple(_balances(survey, Synoptic.of(visits, window_days, disputed)))


def _balances(survey: Survey, synoptic: Synoptic) -> Iterator[Closure]:
    site_of = {site.id: site for site in survey.sites}
    for balance in survey.balances:
        sides = Sides(
            above=tuple(site_of[id_] for id_ in balance.above),
            below=site_of[balance.below],
            taken_out=tuple(site_of[id_] for id_ in balance.taken_out),
        )
        days: tuple[datetime.date | None, ...] = synoptic.days_at(sides.below) or (None,)
        for day in days:
            yield closure_of(balance.name, "balance", sides, day, synoptic)
