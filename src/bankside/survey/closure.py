"""What goes on, less what comes in: whether water was gained or lost, or nobody can tell.

A change is claimed only where it is no less than two combined standard uncertainties. What is
smaller is inside the error of the measurements, and is reported as no measurable change.
"""

from __future__ import annotations

import datetime
import math
from collections.abc import Iterator, Sequence
from typing import Literal

import attrs

from bankside.kernel.totals import ROUNDING
from bankside.survey.closure_words import closure_words
from bankside.survey.land_between import LandBetween, land_between
from bankside.survey.propagation import Spread, Term, spread_of
from bankside.survey.records import SurveySite
from bankside.survey.site_flow import SiteFlow
from bankside.survey.synoptic import Synoptic
from bankside.survey.words import site_words

__all__ = ["Closure", "ClosureKind", "ClosureVerdict", "Sides", "closure_of"]

ClosureKind = Literal["balance", "reach"]
"""balance: listed by the survey; reach: between two gauged sites of one stream."""

ClosureVerdict = Literal["gain", "loss", "no measurable change", "cannot be told"]


@attrs.frozen
class Sides:
    """The sites of a closure: where water comes in, where it goes on, where some is taken out.

    `unknown` are sentences on what is not known about them, so that no change can be claimed.
    """

    above: tuple[SurveySite, ...]
    below: SurveySite
    taken_out: tuple[SurveySite, ...] = ()
    unknown: tuple[str, ...] = ()


@attrs.frozen
class Closure:
    """What goes on below, with what is taken out, less what comes in above.

    `day` is that of the gauging below, None where it was gauged on none. Flows that are not known
    are not among `above`, `taken_out` and `below`; then there is no difference. `percent` is the
    difference in percent of what comes in. `spread` is its combined standard uncertainty, None
    where a gauging states none. `land` is what drains in between and what it would give, None where
    an area is not known. `reasons` say why nothing can be told, `remarks` what else is to be
    known.
    """

    name: str
    kind: ClosureKind
    day: datetime.date | None
    sides: Sides
    above: tuple[SiteFlow, ...]
    taken_out: tuple[SiteFlow, ...]
    below: SiteFlow | None
    difference_m3s: float | None
    percent: float | None
    spread: Spread | None
    land: LandBetween | None
    reasons: tuple[str, ...]
    remarks: tuple[str, ...]

    @property
    def incoming_m3s(self) -> float:
        """What comes in above, as far as it is known."""
        return math.fsum(flow.discharge_m3s for flow in self.above)

    @property
    def outgoing_m3s(self) -> float:
        """What goes on below and is taken out, as far as it is known."""
        below = () if self.below is None else (self.below,)
        return math.fsum(flow.discharge_m3s for flow in (*below, *self.taken_out))

    @property
    def band_m3s(self) -> float | None:
        """Two combined standard uncertainties of the difference: it is told plus or minus these."""
        return None if self.spread is None else 2 * self.spread.deciding_m3s

    @property
    def verdict(self) -> ClosureVerdict:
        """What the difference comes to."""
        if self.difference_m3s is None or self.band_m3s is None or self.reasons:
            return "cannot be told"
        if abs(self.difference_m3s) < self.band_m3s or self.difference_m3s == 0:
            return "no measurable change"
        return "gain" if self.difference_m3s > 0 else "loss"

    @property
    def as_land_yields(self) -> bool:
        """Whether a gain is about what the land in between would give: within the band of it."""
        if self.verdict != "gain" or self.land is None or self.land.gives_m3s is None:
            return False
        assert self.difference_m3s is not None and self.band_m3s is not None  # of every gain
        return abs(self.difference_m3s - self.land.gives_m3s) < self.band_m3s

    @property
    def words(self) -> str:
        """What comes in and goes on, how sure the difference is, and what it comes to."""
        return closure_words(self)


def closure_of(
    name: str, kind: ClosureKind, sides: Sides, day: datetime.date | None, synoptic: Synoptic
) -> Closure:
    """Return a closure on the day of a gauging below, None for no such day."""
    above, out, below = (
        _flows(sites, day, synoptic) for sites in (sides.above, sides.taken_out, (sides.below,))
    )
    missing = tuple(_missing(sides, day, synoptic))
    terms = [*(Term(-1, flow) for flow in above), *(Term(1, flow) for flow in (*below, *out))]
    difference = percent = spread = None
    if not missing:
        difference = _difference(terms)
        incoming = math.fsum(flow.discharge_m3s for flow in above)
        percent = 100 * difference / abs(incoming) if incoming else None
        spread = spread_of(terms)
    return Closure(
        name=name,
        kind=kind,
        day=day,
        sides=sides,
        above=above,
        taken_out=out,
        below=below[0] if below else None,
        difference_m3s=difference,
        percent=percent,
        spread=spread,
        land=None if day is None else land_between(sides.above, sides.below, day, synoptic),
        reasons=(*missing, *sides.unknown, *_disputed(terms), *_unstated(terms)),
        remarks=tuple(_remarks(terms, day, spread)),
    )


def _difference(terms: Sequence[Term]) -> float:
    """Return the sum of terms, 0 where it is only what rounding leaves of it."""
    amounts = [term.sign * term.flow.discharge_m3s for term in terms]
    total = math.fsum(amounts)
    return 0.0 if abs(total) <= ROUNDING * math.fsum(map(abs, amounts)) else total


def _flows(
    sites: Sequence[SurveySite], day: datetime.date | None, synoptic: Synoptic
) -> tuple[SiteFlow, ...]:
    flows = (synoptic.flow(site, day) for site in sites)
    return tuple(flow for flow in flows if flow is not None)


def _missing(sides: Sides, day: datetime.date | None, synoptic: Synoptic) -> Iterator[str]:
    """Yield which sites tell no discharge, and why."""
    for site in (*sides.above, *sides.taken_out, sides.below):
        if synoptic.flow(site, day) is None and (day is not None or site is sides.below):
            yield f"{site_words(site)} {synoptic.why_not(site, day)}."


def _disputed(terms: Sequence[Term]) -> Iterator[str]:
    for term in terms:
        if term.flow.disputed:
            yield f"The duplicates of {site_words(term.flow.site)} disagree."


def _unstated(terms: Sequence[Term]) -> Iterator[str]:
    for term in terms:
        if term.flow.standard_uncertainty_m3s is None:
            yield f"The gauging at {site_words(term.flow.site)} states no uncertainty."


def _remarks(
    terms: Sequence[Term], day: datetime.date | None, spread: Spread | None
) -> Iterator[str]:
    for flow in (term.flow for term in terms):
        if len(flow.visits) > 1:
            yield f"{site_words(flow.site)} is the mean of {len(flow.visits)} gaugings."
        if flow.day != day:
            yield f"{site_words(flow.site)} was gauged on {flow.day.isoformat()}."
    if spread is not None and spread.shared_by:
        yield (
            "Several of the gaugings were made with one meter. The band counts what its "
            "calibration has in common once with its sign, and once as independent, and keeps "
            "the larger."
        )
