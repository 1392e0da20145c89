"""All visits to one site in order of time, each beside the one before it."""

from __future__ import annotations

from collections.abc import Sequence

import attrs

from bankside.gauging.header_records import Units
from bankside.gauging.last_visit import Compared, compare_with_last_visit, similar_stage
from bankside.gauging.mean_stage import MeanStage, mean_stage
from bankside.survey.in_time import in_time
from bankside.survey.records import Survey, SurveySite
from bankside.survey.visits import Visit
from bankside.survey.words import day_words, sentence, visit_words

__all__ = ["SiteHistory", "TimedVisit", "histories_of", "history_of"]


@attrs.frozen
class TimedVisit:
    """A visit to a site beside the one before it.

    `previous` is the last one that is finished: half a section is no measure of the next one.
    `stage` is its mean stage as called. `compared` are its figures beside those of `previous`,
    empty for the first one and where a day is not written down. `similar_stage` says whether the
    level was about the same, None where no stage tells.
    """

    visit: Visit
    previous: Visit | None
    stage: MeanStage | None
    compared: tuple[Compared, ...]
    similar_stage: bool | None

    @property
    def odd(self) -> tuple[Compared, ...]:
        """The figures that differ so much that somebody should look."""
        return tuple(one for one in self.compared if one.odd)

    @property
    def words(self) -> str:
        """What is beside what, at which stage, and each figure in a sentence."""
        own = sentence(visit_words(self.visit))
        if self.visit.day is None:
            return f"{own} is held against no other: its place in time is not known."
        if self.previous is None:
            return f"{own} is the first one."
        level = {True: "a similar stage", False: "another stage", None: "a stage not known"}
        told = " ".join(f"{one.name.capitalize()}: {one.words}" for one in self.compared)
        return f"{own} beside that of {day_words(self.previous.day)}, at " + (
            f"{level[self.similar_stage]}. {told}"
        )


@attrs.frozen
class SiteHistory:
    """The visits to one site in order of time; those without a day come last."""

    site: SurveySite
    visits: tuple[TimedVisit, ...]


def histories_of(survey: Survey, visits: Sequence[Visit]) -> tuple[SiteHistory, ...]:
    """Return what was found at each site of a survey through time, in the order of its sites."""
    return tuple(history_of(site, visits) for site in survey.sites)


def history_of(
    site: SurveySite, visits: Sequence[Visit], units: Units | None = None
) -> SiteHistory:
    """Return what was found at one site through time; visits to other sites are passed over.

    units: those in which figures are held together, of each visit itself where none are given.
    """
    own = [visit for visit in visits if visit.site is not None and visit.site.id == site.id]
    return SiteHistory(site, _timed(own, units))


def _timed(visits: Sequence[Visit], units: Units | None) -> tuple[TimedVisit, ...]:
    previous: Visit | None = None
    timed = []
    for visit in in_time(visits):
        timed.append(_beside(visit, previous, units))
        previous = visit if visit.finished else previous
    return tuple(timed)


def _beside(visit: Visit, previous: Visit | None, units: Units | None) -> TimedVisit:
    stage = mean_stage(visit.gauging, visit.result)
    if previous is None or visit.day is None:
        return TimedVisit(visit, None, stage, (), None)
    pair = (visit.gauging, visit.result, previous.gauging, previous.result)
    compared = compare_with_last_visit(*pair, finished=visit.finished, units=units)
    return TimedVisit(visit, previous, stage, compared, similar_stage(*pair))
